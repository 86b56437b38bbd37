"""Floor 1: pure functions. Numbers and shapely shapes in, numbers out; SI inside."""
