"""Answers that are no pages of their own: a refusal in words, a file to keep."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import render

from sightwash.office.access import PersonRequest


def refused(request: PersonRequest, words: str, status: int) -> HttpResponse:
    """Return the page that says why something was not done."""
    return render(request, "office/questions/refused.html", {"words": words}, status=status)


def pdf(content: bytes, name: str) -> HttpResponse:
    """Return a PDF to keep under a safe file name."""
    headers = {"Content-Disposition": f'attachment; filename="{name}"', "X-Content-Type-Options": "nosniff"}
    return HttpResponse(content, content_type="application/pdf", headers=headers)
