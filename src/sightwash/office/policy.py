"""What a page may load, and how much may be sent.

A page loads our own files only, and inline script or style only with the page's own nonce (W3C, Content Security Policy
Level 3). What says that it is larger than the limit is answered 413 before any of it is read.
"""

from __future__ import annotations

import secrets
from collections.abc import Callable
from typing import Final

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.utils.functional import SimpleLazyObject

POLICY: Final = (
    "default-src 'self'; script-src 'self'{nonce}; style-src 'self'{nonce}; img-src 'self' data: blob:; "
    "object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"
)
PERMISSIONS: Final = "camera=(self), geolocation=(self), microphone=(), payment=(), usb=()"

Answer = Callable[[HttpRequest], HttpResponseBase]


class _Nonce:
    """A value made only when a template asks for it."""

    def __init__(self) -> None:
        self.value = ""

    def __call__(self) -> str:
        """Return the page's nonce."""
        self.value = self.value or secrets.token_urlsafe(16)
        return self.value


def content_policy(answer: Answer) -> Answer:
    """Return the middleware that states the policy on every answer."""

    def with_policy(request: HttpRequest) -> HttpResponseBase:
        nonce = _Nonce()
        request.nonce = SimpleLazyObject(nonce)  # type: ignore[attr-defined]
        response = answer(request)
        allowed = f" 'nonce-{nonce.value}'" if nonce.value else ""
        response.headers.setdefault("Content-Security-Policy", POLICY.format(nonce=allowed))
        response.headers.setdefault("Permissions-Policy", PERMISSIONS)
        return response

    return with_policy


def size_limit(answer: Answer) -> Answer:
    """Return the middleware that refuses what is too large to be read."""

    def within_limit(request: HttpRequest) -> HttpResponseBase:
        size = request.META.get("CONTENT_LENGTH") or "0"
        if not size.isdecimal() or int(size) > settings.LARGEST_UPLOAD:
            most = settings.LARGEST_UPLOAD // 1_000_000
            words = f"What was sent is too large: at most {most} MB. Nothing of it was kept.\n"
            return HttpResponse(words, content_type="text/plain; charset=utf-8", status=413)
        return answer(request)

    return within_limit
