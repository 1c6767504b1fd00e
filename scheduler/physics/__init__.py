"""The kitchen's physics: pure functions of numbers, each with units, valid range and source."""
