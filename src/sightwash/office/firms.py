"""Making a firm, with the documents that it begins with."""

from __future__ import annotations

from django.db import transaction

from sightwash.office.bridge.documents import starting_text, with_values
from sightwash.office.models import Firm, FirmDocument


@transaction.atomic
def new_firm(name: str) -> Firm:
    """Return a new firm with starting documents: invented figures, each to be replaced."""
    firm = Firm.objects.create(name=name)
    for kind in FirmDocument.Kind.values:
        text = starting_text(kind)
        if kind == FirmDocument.Kind.FIRM:
            text = with_values(text, kind, {"name": name})
        FirmDocument.objects.create(firm=firm, kind=kind, text=text)
    return firm


def keep_document(firm: Firm, kind: str, text: str, revision: int) -> bool:
    """Put a document in the place of the one with this revision; False when somebody changed that meanwhile."""
    known = FirmDocument.objects.of(firm).filter(kind=kind, revision=revision)
    return bool(known.update(text=text, revision=revision + 1))
