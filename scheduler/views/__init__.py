"""Readers of a Plan: files, the terminal summary, tables, charts and the dashboard's pages."""
