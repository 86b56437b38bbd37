"""Drawings as SVG, to scale, readable in black and white."""
