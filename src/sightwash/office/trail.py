"""Writing the trail."""

from __future__ import annotations

from sightwash.office.models import AuditLine, Person


def note(person: Person, what: str, on: str = "") -> None:
    """Add a line to the trail of the person's firm; call it in the transaction of what was done."""
    AuditLine.objects.create(firm=person.firm, person=person, who=person.name, what=what, on=on[:200])
