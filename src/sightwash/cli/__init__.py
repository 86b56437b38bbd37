"""Floor 5: the command line."""

from sightwash.cli.main import main

__all__ = ["main"]
