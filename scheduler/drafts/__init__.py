"""A scenario folder while it is edited: its tables, its faults, its steps back, and one act that saves it."""
