"""The one place of the office that calls the core."""
