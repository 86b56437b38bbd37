"""``new_firm``: another firm in the same office, and the link by which its owner joins."""

from __future__ import annotations

from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.core.validators import validate_email
from django.db import transaction
from django.urls import reverse

from sightwash.office import firms
from sightwash.office.models import Person
from sightwash.office.people.invitations import new_invitation


class Command(BaseCommand):
    """Makes a firm and an invitation for its owner."""

    help = "Make a firm and show the link by which its owner joins."

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Take the firm's name and its owner's e-mail."""
        parser.add_argument("name")
        parser.add_argument("owner_email")

    @transaction.atomic
    def handle(self, *_args: Any, **options: Any) -> None:
        """Make both, or neither."""
        validate_email(options["owner_email"])
        if Person.objects.filter(email=options["owner_email"].strip().lower()).exists():
            raise CommandError("somebody signs in with this e-mail already")
        firm = firms.new_firm(options["name"])
        token = new_invitation(firm, options["owner_email"], Person.Role.OWNER, None)
        self.stdout.write(f"The owner joins, within a week, at {reverse('join', args=[token])}")
