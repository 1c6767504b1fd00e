"""The farm in frozen dataclasses: no files, no physics, no solver."""
