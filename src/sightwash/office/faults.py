"""The pages for what is not there and for what went wrong."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render

from sightwash.office.access import wants_json


def _answer(request: HttpRequest, status: int, code: str, title: str, words: str) -> HttpResponse:
    if wants_json(request):
        errors = [{"code": code, "message": words}]
        return JsonResponse({"schema_version": 1, "kind": "error", "errors": errors}, status=status)
    return render(request, "office/fault.html", {"title": title, "words": words}, status=status)


def not_found(request: HttpRequest, exception: Exception) -> HttpResponse:
    """Answer 404."""
    del exception
    return _answer(request, 404, "not-found", "Not here", "There is no such page, or it is not your firm's.")


def bad_request(request: HttpRequest, exception: Exception) -> HttpResponse:
    """Answer 400."""
    del exception
    return _answer(request, 400, "bad-request", "Not understood", "The request was too large or not well formed.")


def our_fault(request: HttpRequest) -> HttpResponse:
    """Answer 500; the log holds what happened."""
    words = "Something failed on our side. Nothing that was saved before is lost. Try once more."
    return _answer(request, 500, "our-fault", "Our fault", words)
