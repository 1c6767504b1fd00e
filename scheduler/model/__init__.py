"""The constraint models: the allocation over days and the timetable of one day."""
