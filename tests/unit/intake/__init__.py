"""Tests of reading scenario folders."""
