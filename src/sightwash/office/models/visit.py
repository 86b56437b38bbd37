"""Visits to a property, the offers made for them, and the very papers of each offer."""

from __future__ import annotations

from typing import ClassVar

from django.db import models

from sightwash.office.models.property import Property
from sightwash.office.models.scope import FirmRecord


class Visit(FirmRecord):
    """A visit on a date, in stated conditions (a conditions document, canonical JSON)."""

    class State(models.TextChoices):
        """How far a visit has come, in the words of the trade."""

        PLANNED = "planned", "planned"
        OFFERED = "offered", "offered, not answered"
        AGREED = "agreed", "agreed"
        DECLINED = "declined", "declined"
        STOPPED = "stopped", "stopped by weather"
        DONE = "done", "done, not paid"
        PAID = "paid", "done and paid"

    firm_path = "property__firm"

    property = models.ForeignKey(Property, on_delete=models.CASCADE, related_name="visits")
    on = models.DateField()
    conditions = models.TextField()
    state = models.CharField(max_length=8, choices=State.choices, default=State.PLANNED)
    created = models.DateTimeField(auto_now_add=True)

    class Meta:
        """Latest first."""

        ordering: ClassVar[list[str]] = ["-on", "-pk"]

    def __str__(self) -> str:
        return f"{self.property} on {self.on}"


class Offer(FirmRecord):
    """An offer as it went out: inputs, plan and versions as they were; never solved again."""

    class Answer(models.TextChoices):
        """What the customer said."""

        NONE = "", "not answered"
        ACCEPTED = "accepted", "accepted"
        DECLINED = "declined", "declined"

    firm_path = "visit__property__firm"

    visit = models.ForeignKey(Visit, on_delete=models.CASCADE, related_name="offers")
    inputs = models.TextField()
    plan = models.TextField()
    versions = models.JSONField(default=dict)
    created = models.DateTimeField(auto_now_add=True)
    answered = models.DateTimeField(null=True, blank=True)
    answer = models.CharField(max_length=8, choices=Answer.choices, default=Answer.NONE, blank=True)

    class Meta:
        """Latest first."""

        ordering: ClassVar[list[str]] = ["-created", "-pk"]

    def __str__(self) -> str:
        return f"offer for {self.visit}"


class OfferPaper(FirmRecord):
    """One paper of an offer: its very bytes and their SHA-256."""

    firm_path = "offer__visit__property__firm"

    offer = models.ForeignKey(Offer, on_delete=models.CASCADE, related_name="papers")
    name = models.CharField(max_length=120)
    bytes = models.BinaryField()
    sha256 = models.CharField(max_length=64)

    class Meta:
        """One paper of a name for each offer."""

        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(fields=["offer", "name"], name="one_paper_of_a_name"),
        ]

    def __str__(self) -> str:
        return self.name
