"""Our figures beside published ones, row by row: ``tests/outside_checks.csv`` and what writes and tests it.

``python -m tests.outside`` computes every row afresh and rewrites the file. Checks that are not one figure
against another (a refused misprint, a direction, a range) stand in ``tests/oracle/test_published_*.py``.
"""
