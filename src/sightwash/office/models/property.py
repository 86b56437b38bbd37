"""Properties, each with its measured site, the operations that made it so, and its pictures."""

from __future__ import annotations

from typing import ClassVar

from django.db import models

from sightwash.office.models.firm import Firm
from sightwash.office.models.people import Person
from sightwash.office.models.scope import FirmRecord


class Property(FirmRecord):
    """A place that is washed. ``site`` is its site document, canonical JSON; ``revision`` counts its changes."""

    firm = models.ForeignKey(Firm, on_delete=models.CASCADE, related_name="properties")
    name = models.CharField(max_length=120)
    address = models.CharField(max_length=200, blank=True)
    site = models.TextField()
    revision = models.PositiveIntegerField(default=1)
    created = models.DateTimeField(auto_now_add=True)
    next_due = models.DateField(null=True, blank=True)
    archived = models.BooleanField(default=False)

    class Meta:
        """Listed by name."""

        ordering: ClassVar[list[str]] = ["name", "pk"]
        indexes: ClassVar[list[models.Index]] = [models.Index(fields=["firm", "archived", "name"])]

    def __str__(self) -> str:
        return self.name


class SiteOperation(FirmRecord):
    """One change of a site: the operation that led to ``revision``, by whom and when, and whether undone."""

    firm_path = "property__firm"

    property = models.ForeignKey(Property, on_delete=models.CASCADE, related_name="operations")
    revision = models.PositiveIntegerField()
    person = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, related_name="+")
    when = models.DateTimeField(auto_now_add=True)
    operation = models.JSONField()
    undone = models.BooleanField(default=False)

    class Meta:
        """In order of the revisions; one operation leads to each."""

        ordering: ClassVar[list[str]] = ["property", "revision"]
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(fields=["property", "revision"], name="one_operation_a_revision"),
        ]

    def __str__(self) -> str:
        return f"revision {self.revision} of {self.property}"


class Picture(FirmRecord):
    """A picture as we wrote it again from what was uploaded; nothing of the uploaded file itself is kept."""

    class Kind(models.TextChoices):
        """What a picture is for."""

        PLAN = "plan", "plan to draw over"
        BEFORE = "before", "before"
        AFTER = "after", "after"
        NOTE = "note", "note"

    firm = models.ForeignKey(Firm, on_delete=models.CASCADE, related_name="pictures")
    property = models.ForeignKey(Property, on_delete=models.CASCADE, related_name="pictures")
    bytes = models.BinaryField()
    media_type = models.CharField(max_length=40, default="image/jpeg")
    width = models.PositiveIntegerField(default=0)
    height = models.PositiveIntegerField(default=0)
    kind = models.CharField(max_length=8, choices=Kind.choices)
    place = models.JSONField(null=True, default=None)
    """Where a plan to draw over lies: its lower left corner, metres a pixel and its size; nothing until it is known."""
    made = models.DateTimeField(auto_now_add=True)

    def __str__(self) -> str:
        return f"picture of {self.property}"
