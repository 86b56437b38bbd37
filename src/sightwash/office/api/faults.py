"""Every fault as the one error document of the project."""

from __future__ import annotations

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from ninja import NinjaAPI
from ninja.errors import AuthenticationError, HttpError, ValidationError

from sightwash.basis.errors import InputError, NoFeasiblePlan
from sightwash.office.draw.saving import clash_words
from sightwash.site.conflicts import Conflict

_CODES = {401: "not-signed-in", 403: "forbidden", 404: "not-found", 409: "conflict", 422: "bad-input"}


def error_tree(*problems: dict[str, Any], **more: Any) -> dict[str, Any]:
    """Return an error document."""
    return {"schema_version": 1, "kind": "error", "errors": list(problems), **more}


def add_faults(api: NinjaAPI) -> None:
    """Make an API answer every fault in the same form."""

    def answer(request: HttpRequest, status: int, *problems: dict[str, Any], **more: Any) -> HttpResponse:
        return api.create_response(request, error_tree(*problems, **more), status=status)

    @api.exception_handler(AuthenticationError)
    def nobody(request: HttpRequest, _error: AuthenticationError) -> HttpResponse:
        return answer(request, 401, {"code": "not-signed-in", "message": "sign in, or send a key"})

    @api.exception_handler(HttpError)
    def refused(request: HttpRequest, error: HttpError) -> HttpResponse:
        code = _CODES.get(error.status_code, "bad-request")
        return answer(request, error.status_code, {"code": code, "message": str(error)})

    @api.exception_handler(Http404)
    def missing(request: HttpRequest, _error: Http404) -> HttpResponse:
        return answer(request, 404, {"code": "not-found", "message": "there is no such record"})

    @api.exception_handler(ValidationError)
    def invalid(request: HttpRequest, error: ValidationError) -> HttpResponse:
        problems = [
            {"code": str(each["type"]), "message": str(each["msg"]), "key": ".".join(map(str, each["loc"][1:])) or None}
            for each in error.errors
        ]
        return answer(request, 422, *problems)

    @api.exception_handler(Conflict)
    def conflict(request: HttpRequest, error: Conflict) -> HttpResponse:
        return answer(request, 409, *_problems(error), clashes=_both_sides(error))

    @api.exception_handler(InputError)
    def wrong(request: HttpRequest, error: InputError) -> HttpResponse:
        return answer(request, 422, *_problems(error))

    @api.exception_handler(NoFeasiblePlan)
    def impossible(request: HttpRequest, error: NoFeasiblePlan) -> HttpResponse:
        tried = [{"code": "tried", "message": each} for each in error.tried]
        return answer(request, 422, {"code": "no-plan", "message": error.message}, *tried)


def _problems(error: InputError) -> list[dict[str, Any]]:
    return [{key: value for key, value in each.as_dict().items() if key != "file"} for each in error.problems]


def _both_sides(error: Conflict) -> list[dict[str, Any]]:
    """Return each key that two people want, with what each wants of it."""
    return [
        {
            **{key: each[key] for key in ("id", "key", "revision", "person")},
            "yours": {"value": each["yours"], "gone": each["yours_gone"]},
            "theirs": {"value": each["theirs"], "gone": each["theirs_gone"]},
        }
        for each in clash_words(error.clashes)
    ]
