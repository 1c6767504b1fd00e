"""The law of preserves as data, and the questions a cook asks of it; imports nothing else of ours."""
