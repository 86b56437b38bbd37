"""Who may open a page: the decorators that every view carries, and the way to a firm's own records.

``@page("owner", "planner")`` asks for a signed-in person of one of these roles; ``post=`` says who may also POST;
``@open_page`` lets anyone in.
An anonymous person is sent to the sign-in page, a program is answered 401 in JSON and never sent elsewhere.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any, Concatenate, Final, ParamSpec, TypeVar, cast
from urllib.parse import urlencode

from django.db import models
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseNotAllowed, HttpResponseRedirect, JsonResponse
from django.http.response import HttpResponseBase
from django.shortcuts import render
from django.urls import reverse

from sightwash.office.models import Person
from sightwash.office.models.people import Role

EVERYONE: Final = ("owner", "planner", "crew")
OF_ONE_PERSON: Final = "private, no-cache"
"""A page of one firm's is kept by no one between, and asked for again after sign-out."""

Given = ParamSpec("Given")
Record = TypeVar("Record", bound=models.Model)


class PersonRequest(HttpRequest):
    """A request of somebody who is signed in; what a view behind ``page`` is given."""

    user: Person
    htmx: Any
    nonce: Any


View = Callable[Concatenate[PersonRequest, Given], HttpResponseBase]
AnyView = Callable[Concatenate[HttpRequest, Given], HttpResponseBase]


def page(*readers: str, post: tuple[str, ...] = ()) -> Callable[[View[Given]], AnyView[Given]]:
    """Return the decorator of a view: ``readers`` are the roles that may GET it, ``post`` those that may POST to it.

    ``@page("owner", "crew")`` is only looked at, ``@page("owner", "crew", post=("owner",))`` is changed by owners,
    ``@page(post=("owner",))`` is for changes alone. A method that nobody may use is answered 405.
    """
    if (set(readers) | set(post)) - set(Role.values) or not (readers or post):
        raise ValueError(f"roles of a page are some of {', '.join(Role.values)}")
    roles_of = {"GET": readers, "HEAD": readers, "POST": post}

    def guarded(view: View[Given]) -> AnyView[Given]:
        @wraps(view)
        def answer(request: HttpRequest, /, *args: Given.args, **kwargs: Given.kwargs) -> HttpResponseBase:
            roles = roles_of.get(request.method or "", ())
            if not roles:
                return HttpResponseNotAllowed([method for method, allowed in roles_of.items() if allowed])
            refusal = refusal_for(request, roles)
            shown = view(cast(PersonRequest, request), *args, **kwargs) if refusal is None else refusal
            shown.headers.setdefault("Cache-Control", OF_ONE_PERSON)
            return shown

        answer.roles_of = {method.lower(): roles for method, roles in roles_of.items()}  # type: ignore[attr-defined]
        return answer

    return guarded


def open_page(view: AnyView[Given]) -> AnyView[Given]:
    """Mark a view that anyone may open."""
    view.roles_of = {}  # type: ignore[attr-defined]
    return view


def wants_json(request: HttpRequest) -> bool:
    """Return whether a program asks: by the API's address, by what it sends or by what it accepts."""
    if request.path.startswith("/api/") or request.content_type == "application/json":
        return True
    accepted = request.headers.get("Accept", "")
    return "application/json" in accepted and "text/html" not in accepted


def refusal_for(request: HttpRequest, roles: tuple[str, ...]) -> HttpResponse | None:
    """Return the answer to somebody who may not open a page of these roles; None where they may."""
    if not request.user.is_authenticated:
        return _sign_in_first(request)
    if request.user.role not in roles:
        return _forbidden(request, "Your role does not open this page. Ask the owner of the firm.")
    return None


def _sign_in_first(request: HttpRequest) -> HttpResponse:
    if wants_json(request):
        return JsonResponse(_words("not-signed-in", "sign in first"), status=401)
    there = reverse("sign-in")
    if request.headers.get("HX-Request"):
        return HttpResponse(status=401, headers={"HX-Redirect": there})
    if request.method in ("GET", "HEAD"):
        there += "?" + urlencode({"next": request.get_full_path()})
    return HttpResponseRedirect(there)


def _forbidden(request: HttpRequest, words: str) -> HttpResponse:
    if wants_json(request):
        return JsonResponse(_words("forbidden", words), status=403)
    return render(request, "office/refused.html", {"words": words}, status=403)


def _words(code: str, message: str) -> dict[str, Any]:
    return {"schema_version": 1, "kind": "error", "errors": [{"code": code, "message": message}]}


def csrf_refused(request: HttpRequest, reason: str = "") -> HttpResponse:
    """Answer a write without the page's own token; to a program that is not signed in this is 401."""
    if wants_json(request) and not request.user.is_authenticated:
        return _sign_in_first(request)
    del reason
    return _forbidden(request, "The page was open for too long, or cookies are off. Open it again and repeat.")


def firm_object_or_404(request: HttpRequest, model: type[Record], pk: int) -> Record:
    """Return a record of the person's own firm; another firm's is answered like one that does not exist."""
    person = cast(Person, request.user)
    found = cast("Record | None", model._default_manager.of(person.firm).filter(pk=pk).first())  # type: ignore[attr-defined]
    if found is None:
        raise Http404
    return found
