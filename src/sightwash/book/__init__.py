"""The book: what repeats. Finished visits and what they teach (floor 3)."""
