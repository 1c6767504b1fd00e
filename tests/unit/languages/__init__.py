"""Tests of texts in the reader's language."""
