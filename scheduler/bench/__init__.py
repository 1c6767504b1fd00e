"""Benchmarks: farms of known sizes, how the search went on them, and what a machine handles in a minute."""
