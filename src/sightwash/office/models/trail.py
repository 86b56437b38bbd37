"""The trail: who did what, and when. Lines are added and never changed."""

from __future__ import annotations

from typing import Any, ClassVar, NoReturn

from django.db import models

from sightwash.office.models.firm import Firm
from sightwash.office.models.people import Person
from sightwash.office.models.scope import FirmManager, FirmQuerySet, FirmRecord

UNCHANGING = "a line of the trail is never changed"


class _TrailQuerySet(FirmQuerySet["AuditLine"]):
    def update(self, **_kwargs: Any) -> NoReturn:
        """Refuse: lines are never changed."""
        raise TypeError(UNCHANGING)

    def delete(self) -> NoReturn:
        """Refuse: lines are never taken away."""
        raise TypeError(UNCHANGING)


class _TrailManager(FirmManager["AuditLine"]):
    def get_queryset(self) -> _TrailQuerySet:
        """Return all lines, to be narrowed by ``of``."""
        return _TrailQuerySet(self.model, using=self._db)


class AuditLine(FirmRecord):
    """One thing that somebody did. The person's name is kept in words too, should the person go."""

    firm = models.ForeignKey(Firm, on_delete=models.CASCADE, related_name="trail")
    person = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, related_name="+")
    who = models.CharField(max_length=120)
    when = models.DateTimeField(auto_now_add=True)
    what = models.CharField(max_length=80)
    on = models.CharField(max_length=200, blank=True)

    objects: ClassVar[_TrailManager] = _TrailManager()

    class Meta:
        """Latest first."""

        ordering: ClassVar[list[str]] = ["-when", "-pk"]

    def __str__(self) -> str:
        return f"{self.who}: {self.what}"

    def save(self, *args: Any, **kwargs: Any) -> None:
        """Add the line; refuse to change one."""
        if self.pk is not None:
            raise TypeError(UNCHANGING)
        super().save(*args, **kwargs)

    def delete(self, *_args: Any, **_kwargs: Any) -> NoReturn:
        """Refuse: lines are never taken away."""
        raise TypeError(UNCHANGING)
