"""The manager that every record of a firm is found through: ``Property.objects.of(firm)``."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, ClassVar, TypeVar

from django.db import models

if TYPE_CHECKING:
    from sightwash.office.models.firm import Firm

Kept = TypeVar("Kept", bound=models.Model)


class FirmQuerySet(models.QuerySet[Kept]):
    """Records that belong to firms; ``firm_path`` of the model says by which way."""

    def of(self, firm: Firm) -> FirmQuerySet[Kept]:
        """Return the records of one firm only."""
        path: str = getattr(self.model, "firm_path", "firm")
        return self.filter(**{path: firm})


class FirmManager(models.Manager[Kept]):
    """Finds records by firm."""

    def get_queryset(self) -> FirmQuerySet[Kept]:
        """Return all records, to be narrowed by ``of``."""
        return FirmQuerySet(self.model, using=self._db)

    def of(self, firm: Firm) -> FirmQuerySet[Kept]:
        """Return the records of one firm only."""
        return self.get_queryset().of(firm)


class FirmRecord(models.Model):
    """A record that belongs to a firm, straight or by way of another record (``firm_path``)."""

    firm_path: ClassVar[str] = "firm"
    objects: ClassVar[FirmManager[Any]] = FirmManager()

    class Meta:
        """Holds no table of its own."""

        abstract = True
