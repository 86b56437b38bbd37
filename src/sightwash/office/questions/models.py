"""What is kept beside properties, visits and offers: revisions of documents, agreements, records, the book, keys."""

from __future__ import annotations

from typing import ClassVar

from django.db import models

from sightwash.office.models import Firm, Offer, Person, Picture, Visit
from sightwash.office.models.scope import FirmRecord


class DocumentRevision(FirmRecord):
    """One revision of a document of the firm, as it was saved; none is ever changed or taken away."""

    firm = models.ForeignKey(Firm, on_delete=models.CASCADE, related_name="document_revisions")
    kind = models.CharField(max_length=8)
    revision = models.PositiveIntegerField()
    text = models.TextField()
    person = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, related_name="+")
    when = models.DateTimeField(auto_now_add=True)

    class Meta:
        """Latest first; one text for each revision."""

        ordering: ClassVar[list[str]] = ["kind", "-revision"]
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(fields=["firm", "kind", "revision"], name="one_text_a_revision"),
        ]

    def __str__(self) -> str:
        return f"{self.kind}, revision {self.revision}"


class Agreement(FirmRecord):
    """What a customer accepted of an offer: which option, at which price before tax, who said so."""

    firm_path = "offer__visit__property__firm"

    offer = models.OneToOneField(Offer, on_delete=models.CASCADE, related_name="agreement")
    option = models.CharField(max_length=60)
    words = models.CharField(max_length=400)
    visits_a_year = models.PositiveSmallIntegerField(default=1)
    price = models.DecimalField(max_digits=12, decimal_places=2)
    accepted_by = models.CharField(max_length=120)
    on = models.DateField()

    def __str__(self) -> str:
        return f"{self.option} of {self.offer}"


class WorkRecord(FirmRecord):
    """The record of what was done on a visit: a ``done`` document as JSON; ``revision`` counts its changes."""

    firm_path = "visit__property__firm"

    visit = models.OneToOneField(Visit, on_delete=models.CASCADE, related_name="work_record")
    text = models.TextField()
    revision = models.PositiveIntegerField(default=1)

    def __str__(self) -> str:
        return f"record of {self.visit}"


class EyePicture(FirmRecord):
    """A photograph from an eye point of a visit; before or after stands on the picture itself."""

    firm_path = "visit__property__firm"

    visit = models.ForeignKey(Visit, on_delete=models.CASCADE, related_name="eye_pictures")
    picture = models.OneToOneField(Picture, on_delete=models.CASCADE, related_name="eye_picture")
    eye = models.CharField(max_length=80)
    person = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, related_name="+")

    class Meta:
        """In the order of making."""

        ordering: ClassVar[list[str]] = ["pk"]

    def __str__(self) -> str:
        return f"{self.eye} of {self.visit}"


class FirmBook(FirmRecord):
    """The account book of a firm: its lines as text, each marked with the line before it."""

    firm = models.OneToOneField(Firm, on_delete=models.CASCADE, related_name="book")
    text = models.TextField()

    def __str__(self) -> str:
        return f"book of {self.firm}"


class Key(FirmRecord):
    """A key that lets a program act for a person; only its hash is kept."""

    firm_path = "person__firm"

    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="keys")
    name = models.CharField(max_length=80)
    token_hash = models.CharField(max_length=64, unique=True)
    made = models.DateTimeField(auto_now_add=True)
    used = models.DateTimeField(null=True)

    class Meta:
        """Latest first."""

        ordering: ClassVar[list[str]] = ["-made", "-pk"]

    def __str__(self) -> str:
        return self.name
