"""Properties that hold for every random kitchen."""
