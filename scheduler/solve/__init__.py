"""Solving: day timetables, ranked allocations, cuts between them, and the habit to beat."""
