"""Tests of the physics: ranges, directions and errors."""
