"""``restore FILE --yes``: bring back what a backup holds, in the place of what is there."""

from __future__ import annotations

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError

from sightwash.office.backup import NoCopy, bring_back


class Command(BaseCommand):
    """Brings the copy back, then brings it up to date."""

    help = "Bring back a copy. What is there now is replaced: stop the office first."

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Take the file's name, and the word that what is there may go."""
        parser.add_argument("file", type=Path)
        parser.add_argument("--yes", action="store_true", help="replace what is there now")

    def handle(self, *_args: Any, **options: Any) -> None:
        """Bring the copy back."""
        if not options["yes"]:
            raise CommandError("this replaces all that the office holds now; say --yes if that is meant")
        try:
            bring_back(options["file"])
        except NoCopy as error:
            raise CommandError(str(error)) from None
        call_command("migrate", interactive=False, verbosity=0)
        self.stdout.write(f"Brought back from {options['file']}.")
