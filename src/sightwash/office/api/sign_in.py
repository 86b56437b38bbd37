"""Who asks: a person who is signed in (with the page's own token for writes), or a program with a key."""

from __future__ import annotations

from datetime import timedelta
from typing import Any, cast

from django.http import HttpRequest
from django.utils import timezone
from ninja.errors import HttpError
from ninja.security import HttpBearer
from ninja.security.base import AuthBase
from ninja.utils import check_csrf

from sightwash.office.models import Person
from sightwash.office.questions.key_views import key_hash
from sightwash.office.questions.models import Key
from sightwash.office.settings import SESSION_COOKIE_NAME

NOTED_EVERY = timedelta(hours=1)
"""A key's use is noted this often, so that reading does not write each time."""
SAFE = ("GET", "HEAD", "OPTIONS")


class KeyAuth(HttpBearer):
    """A program with a key of a person."""

    def authenticate(self, request: HttpRequest, token: str) -> Person | None:
        """Return the person whose key it is."""
        key = (
            Key.objects.filter(token_hash=key_hash(token), person__is_active=True)
            .select_related("person__firm")
            .first()
        )
        if key is None:
            return None
        now = timezone.now()
        if key.used is None or now - key.used > NOTED_EVERY:
            Key.objects.filter(pk=key.pk).update(used=now)
        person = cast(Person, key.person)
        request.user = person
        return person


class SessionAuth(AuthBase):
    """A person who is signed in; a write needs the token of the page that it comes from."""

    openapi_type = "apiKey"
    openapi_in = "cookie"
    openapi_name = SESSION_COOKIE_NAME
    param_name = SESSION_COOKIE_NAME

    def __call__(self, request: HttpRequest) -> Any | None:
        """Return the person; a write that comes from elsewhere is refused."""
        if not request.user.is_authenticated:
            return None
        if request.method not in SAFE and check_csrf(request) is not None:
            raise HttpError(403, "the page's own token is missing; programs send a key")
        return request.user


def person_of(request: HttpRequest) -> Person:
    """Return who asks."""
    return cast(Person, request.user)


def planner_of(request: HttpRequest) -> Person:
    """Return who asks; the crew is refused."""
    person = person_of(request)
    if person.role == "crew":
        raise HttpError(403, "this is for planners and the owner")
    return person
