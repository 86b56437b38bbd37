"""A firm, and the documents that it plans with: its rig, its rates, its own particulars."""

from __future__ import annotations

from typing import ClassVar

from django.db import models

from sightwash.office.models.scope import FirmRecord


class Firm(models.Model):
    """One contractor; nothing of it is seen by another."""

    name = models.CharField(max_length=120)
    created = models.DateTimeField(auto_now_add=True)

    def __str__(self) -> str:
        return self.name


class FirmDocument(FirmRecord):
    """A document of the firm as canonical JSON text; ``revision`` counts its changes from 1."""

    class Kind(models.TextChoices):
        """What a document holds."""

        RIG = "rig", "rig"
        RATES = "rates", "rates"
        FIRM = "firm", "firm"

    firm = models.ForeignKey(Firm, on_delete=models.CASCADE, related_name="documents")
    kind = models.CharField(max_length=8, choices=Kind.choices)
    text = models.TextField()
    revision = models.PositiveIntegerField(default=1)

    class Meta:
        """One document of a kind for each firm."""

        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(fields=["firm", "kind"], name="one_document_of_a_kind"),
        ]

    def __str__(self) -> str:
        return f"{self.kind} of {self.firm}"
