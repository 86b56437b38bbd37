"""A small world for tests of the office: two firms, their people, one firm's property with a visit."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from functools import cache
from pathlib import Path

from sightwash.office.bridge.documents import canonical
from sightwash.office.firms import new_firm
from sightwash.office.models import Firm, FirmDocument, Invitation, Person, Property, Visit
from sightwash.office.people.invitations import new_invitation
from sightwash.site.conditions import Conditions
from sightwash.site.model import Site
from sightwash.site.rates import Rates
from sightwash.site.rig import Rig

DEMO = Path(__file__).resolve().parents[2] / "examples" / "demo"
PASSWORD = "gutters-before-glass"
SECRETS = ("Larkspur", "larkspur")
"""Words that only people of the first firm may ever see."""


@dataclass(frozen=True)
class World:
    """The first firm with its people and records, and the second firm's people (``stranger_...``)."""

    firm: Firm
    owner: Person
    planner: Person
    crew: Person
    other_firm: Firm
    stranger_owner: Person
    stranger_planner: Person
    stranger_crew: Person
    larkspur: Property
    visit: Visit
    token: str
    invitation: Invitation

    def person(self, role: str, stranger: bool = False) -> Person:
        """Return the first firm's person of a role, or the second firm's."""
        found = getattr(self, f"stranger_{role}" if stranger else role)
        assert isinstance(found, Person)
        return found


@cache
def demo_text(kind: str) -> str:
    """Return a document of the example property as canonical JSON, read once."""
    kinds = {"site": Site, "rig": Rig, "rates": Rates, "conditions": Conditions}
    return canonical((DEMO / f"{kind}.yaml").read_text(encoding="utf-8"), kinds[kind])


def make_world() -> World:
    """Fill the database."""
    firms = [new_firm(name) for name in ("Alder Wash", "Birch Rinse")]
    people = [
        Person.objects.create_person(firm, f"{role}@{firm.name[:5].lower()}.example", f"{role} {place}", PASSWORD, role)
        for firm, place in zip(firms, ("one", "two"), strict=True)
        for role in ("owner", "planner", "crew")
    ]
    for kind in ("rig", "rates"):
        FirmDocument.objects.of(firms[0]).filter(kind=kind).update(text=demo_text(kind))
    larkspur = Property.objects.create(
        firm=firms[0], name="Larkspur Corner shops", address="1200 Larkspur Road (invented)", site=demo_text("site")
    )
    visit = Visit.objects.create(property=larkspur, on=date(2026, 7, 11), conditions=demo_text("conditions"))
    token = new_invitation(firms[0], "cal@example.org", "crew", people[0])
    invitation = Invitation.objects.of(firms[0]).get()
    return World(firms[0], *people[:3], firms[1], *people[3:], larkspur, visit, token, invitation)
