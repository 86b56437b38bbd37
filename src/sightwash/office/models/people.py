"""People who sign in, and invitations for those who will."""

from __future__ import annotations

from typing import Any, ClassVar

from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.db import models

from sightwash.office.models.firm import Firm
from sightwash.office.models.scope import FirmQuerySet, FirmRecord


class Role(models.TextChoices):
    """What a person may do: all; plan and offer; see the work and tick it off."""

    OWNER = "owner", "owner"
    PLANNER = "planner", "planner"
    CREW = "crew", "crew"


class PersonManager(BaseUserManager["Person"]):
    """Makes people and finds them by e-mail, in whatever case it is typed."""

    def create_person(self, firm: Firm, email: str, name: str, password: str | None, role: str) -> Person:
        """Return a new person of a firm."""
        person = Person(firm=firm, email=email.strip().lower(), name=name, role=role)
        person.set_password(password)
        person.save(using=self._db)
        return person

    def get_by_natural_key(self, username: str | None) -> Person:
        """Return the person who signs in with an e-mail."""
        return self.get(email=(username or "").strip().lower())

    def of(self, firm: Firm) -> models.QuerySet[Person]:
        """Return the people of one firm only."""
        return FirmQuerySet[Person](self.model, using=self._db).of(firm)


class Person(AbstractBaseUser):
    """Somebody of one firm who signs in by e-mail."""

    firm_path: ClassVar[str] = "firm"
    Role = Role

    firm = models.ForeignKey(Firm, on_delete=models.CASCADE, related_name="people")
    email = models.EmailField(unique=True)
    name = models.CharField(max_length=120)
    role = models.CharField(max_length=8, choices=Role.choices, default=Role.CREW)
    is_active = models.BooleanField(default=True)
    joined = models.DateTimeField(auto_now_add=True)

    objects: ClassVar[PersonManager] = PersonManager()
    USERNAME_FIELD = "email"
    EMAIL_FIELD = "email"
    REQUIRED_FIELDS: ClassVar[list[str]] = ["name"]

    def __str__(self) -> str:
        return self.name

    def save(self, *args: Any, **kwargs: Any) -> None:
        """Keep the e-mail in small letters, so that no two people differ by case alone."""
        self.email = self.email.strip().lower()
        super().save(*args, **kwargs)


class Invitation(FirmRecord):
    """A link that makes one person of a firm; only its hash is kept."""

    firm = models.ForeignKey(Firm, on_delete=models.CASCADE, related_name="invitations")
    email = models.EmailField()
    role = models.CharField(max_length=8, choices=Role.choices, default=Role.CREW)
    token_hash = models.CharField(max_length=64, unique=True)
    made_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, related_name="+")
    made = models.DateTimeField(auto_now_add=True)
    ends = models.DateTimeField()
    used = models.DateTimeField(null=True)

    def __str__(self) -> str:
        return f"invitation for {self.email}"
