"""Checks against programs and tables from outside this project."""
