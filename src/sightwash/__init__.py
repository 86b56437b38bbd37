"""Sightwash: plan the outside washing of low commercial buildings."""

__version__ = "0.1.0"
