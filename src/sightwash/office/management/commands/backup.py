"""``backup FILE``: a copy of everything in one file."""

from __future__ import annotations

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from sightwash.office.backup import NoCopy, write_copy


class Command(BaseCommand):
    """Writes the copy; the office may stay open meanwhile."""

    help = "Copy everything the office keeps into one file."

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Take the file's name."""
        parser.add_argument("file", type=Path)

    def handle(self, *_args: Any, **options: Any) -> None:
        """Write the copy."""
        try:
            write_copy(options["file"])
        except NoCopy as error:
            raise CommandError(str(error)) from None
        self.stdout.write(f"Copied to {options['file']}. It holds everything: keep it where only you can read it.")
