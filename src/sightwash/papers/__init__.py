"""Floor 4: bytes out. Formats and totals, never decides."""
