"""Invitations: a link for one person, good for a week, of which only the hash is kept."""

from __future__ import annotations

import hashlib
import secrets
from datetime import timedelta
from typing import Final

from django.utils import timezone

from sightwash.office.models import Firm, Invitation, Person

GOOD_FOR: Final = timedelta(days=7)


def token_hash(token: str) -> str:
    """Return what is kept of a token."""
    return hashlib.sha256(token.encode()).hexdigest()


def new_invitation(firm: Firm, email: str, role: str, made_by: Person | None) -> str:
    """Keep a new invitation and return its token; earlier ones for the same person end."""
    token = secrets.token_urlsafe(32)
    now = timezone.now()
    email = email.strip().lower()
    Invitation.objects.of(firm).filter(email=email, used=None).update(ends=now)
    Invitation.objects.create(
        firm=firm, email=email, role=role, token_hash=token_hash(token), made_by=made_by, ends=now + GOOD_FOR
    )
    return token


def open_invitation(token: str) -> Invitation | None:
    """Return the invitation that a link stands for; None when it is used, ended or was never made."""
    found = Invitation.objects.select_related("firm").filter(token_hash=token_hash(token), used=None)
    invitation: Invitation | None = found.filter(ends__gt=timezone.now()).first()
    return invitation
