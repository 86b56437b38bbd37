"""Documents of the firm with their old revisions: each text is kept as it was saved."""

from __future__ import annotations

from django.db import transaction

from sightwash.office.firms import keep_document
from sightwash.office.models import Firm, FirmDocument, Person
from sightwash.office.questions.models import DocumentRevision


def save_document(person: Person, kind: str, text: str, base: int) -> bool:
    """Put a text in the place of revision ``base`` and keep both; False when somebody changed it meanwhile."""
    firm = person.firm
    with transaction.atomic():
        remember(firm, kind)
        if base == 0 and not FirmDocument.objects.of(firm).filter(kind=kind).exists():
            FirmDocument.objects.create(firm=firm, kind=kind, text=text)
        elif not keep_document(firm, kind, text, base):
            return False
        remember(firm, kind, person)
    return True


def remember(firm: Firm, kind: str, person: Person | None = None) -> None:
    """Keep the text that a document has now, unless this revision is kept already."""
    row = FirmDocument.objects.of(firm).filter(kind=kind).first()
    if row is not None:
        DocumentRevision.objects.get_or_create(
            firm=firm, kind=kind, revision=row.revision, defaults={"text": row.text, "person": person}
        )
