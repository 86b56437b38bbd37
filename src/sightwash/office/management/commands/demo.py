"""``demo``: fill an empty office with an invented firm and its properties, and say how to sign in."""

from __future__ import annotations

import secrets
from argparse import ArgumentParser
from datetime import date, timedelta
from pathlib import Path
from typing import Any, Final

from django.core.management.base import BaseCommand, CommandError
from django.db import transaction
from django.utils import timezone

from sightwash.office.bridge.documents import canonical_kind, starting_text
from sightwash.office.bridge.starting import site_of_walls, typed_walls
from sightwash.office.firms import new_firm
from sightwash.office.models import Firm, FirmDocument, Person, Property, Visit
from sightwash.office.trail import note

EXAMPLE: Final = Path(__file__).resolve().parents[5] / "examples" / "demo"
EMAIL: Final = "owner@two-rivers.example"
FIRM: Final = "Two Rivers Exterior Washing"
OTHERS: Final = (
    ("Damson Court", "14 Damson Lane (invented)", "Front 120 ft x 18 ft", -9, Visit.State.OFFERED, None),
    ("Quince Row", "3 to 11 Quince Street (invented)", "Front 96 ft x 15 ft; East end 44 ft x 15 ft", -20, "done", 160),
    (
        "Tern Street units",
        "200 Tern Street (invented)",
        "Front 210 ft x 22 ft; Dock side 210 ft x 22 ft",
        -3,
        "stopped",
        None,
    ),
    ("Hazel Yard", "5 Hazel Yard (invented)", "Front 60 ft x 12 ft", -190, "paid", -6),
)


class Command(BaseCommand):
    """Fills the office once; each run gives the sign-in a new password and shows it."""

    help = "Fill an empty office with the example property, and show one sign-in."

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Take the folder of the example."""
        parser.add_argument("--example", type=Path, default=EXAMPLE, help="folder with site, rig, rates, conditions")

    def handle(self, *_args: Any, **options: Any) -> None:
        """Fill what is empty; refuse an office that others use."""
        password = secrets.token_urlsafe(9)
        with transaction.atomic():
            owner = Person.objects.filter(email=EMAIL).first()
            if owner is None:
                if Firm.objects.exists():
                    raise CommandError("this office is in use; the demo needs one of its own (set SIGHTWASH_HOME)")
                owner = _filled(options["example"], timezone.localdate())
            owner.set_password(password)
            owner.save(update_fields=["password"])
        self.stdout.write(f"Sign in with {owner.email} and {password}")


def _filled(example: Path, today: date) -> Person:
    """Return the owner of a new firm with its documents, its properties and their visits."""
    try:
        texts = {
            path.stem: canonical_kind(path.read_text(encoding="utf-8"), path.stem) for path in example.glob("*.yaml")
        }
        site = texts["site"]
    except (OSError, KeyError):
        raise CommandError(f"there is no example in {example}; give its folder with --example") from None
    firm = new_firm(FIRM)
    owner = Person.objects.create_person(firm, EMAIL, "Rowan Adeyemi", None, Person.Role.OWNER)
    for kind in FirmDocument.Kind.values:
        if kind in texts:
            FirmDocument.objects.of(firm).filter(kind=kind).update(text=texts[kind])
    larkspur = Property.objects.create(
        firm=firm, name="Larkspur Corner shops", address="1200 Larkspur Road (invented)", site=site
    )
    Visit.objects.create(property=larkspur, on=date(2026, 7, 11), conditions=texts["conditions"])
    for name, address, walls, days, state, due in OTHERS:
        _other(firm, name, address, walls, today + timedelta(days), state, today + timedelta(due) if due else None)
    note(owner, "filled the office with the example")
    return owner


def _other(firm: Firm, name: str, address: str, walls: str, on: date, state: str, due: date | None) -> None:
    site = site_of_walls(name, "us", typed_walls(walls), "8 ft")
    record = Property.objects.create(firm=firm, name=name, address=address, site=site, next_due=due)
    Visit.objects.create(property=record, on=on, conditions=starting_text("conditions"), state=state)
