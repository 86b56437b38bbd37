"""Floor 2: the measured place: its model, its file, its checks, its imports."""
