"""Answers of the draw pages in JSON, and the reading of what was sent."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, JsonResponse

from sightwash.basis.errors import InputError
from sightwash.office.draw.saving import clash_words
from sightwash.site.conflicts import Conflict
from sightwash.site.operations import refused
from sightwash.site.tree import parse

LARGEST_BODY = 2_000_000


def sent_tree(request: HttpRequest) -> Any:
    """Return the JSON that was sent as a plain tree; InputError if it is none."""
    if len(request.body) > LARGEST_BODY:
        raise refused("too-large", "too much was sent at once", "at most 2 MB", "send less")
    try:
        text = request.body.decode("utf-8")
    except UnicodeDecodeError:
        raise refused("not-utf-8", "what was sent is not UTF-8", "JSON in UTF-8") from None
    if not text.lstrip().startswith("{"):
        raise refused("not-json", "what was sent is no JSON object", "one JSON object")
    return parse(text, "what was sent").tree


def refusal(error: InputError) -> JsonResponse:
    """Return what is wrong: 409 with both sides of a conflict, else 422 with each problem and its key."""
    shown = ("code", "message", "key", "expected", "fix")
    problems = [{name: getattr(each, name) for name in shown} for each in error.problems]
    body: dict[str, Any] = {"schema_version": 1, "kind": "error", "errors": problems}
    if isinstance(error, Conflict):
        return JsonResponse({**body, "clashes": clash_words(error.clashes)}, status=409)
    status = 409 if any(each.code == "unknown-revision" for each in error.problems) else 422
    return JsonResponse(body, status=status)
