"""Addresses of the API."""

from __future__ import annotations

from typing import NoReturn

from django.http import Http404, HttpRequest
from django.urls import URLPattern, URLResolver, path
from django.views.decorators.http import require_safe

from sightwash.office.api.routes import api


@require_safe
def root(request: HttpRequest) -> NoReturn:
    """Answer 404: the API begins here, and its schema stands at ``openapi.json``."""
    del request
    raise Http404


patterns, application, namespace = api.urls
routes = [
    path("", root, name=each.name) if isinstance(each, URLPattern) and each.name == "api-root" else each
    for each in patterns
]
urlpatterns: list[URLPattern | URLResolver] = [path("", (routes, application, namespace))]
