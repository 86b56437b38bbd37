"""The pages of the questions part; see pages.py for how to add one."""

from __future__ import annotations

from typing import Any

from questions_world import key_of, made_invoice, made_offer, made_photograph, warm
from row import EVERYONE, OWNER, PLANNERS, Row
from world import World


def larkspur(w: World) -> dict[str, Any]:
    return {"pk": w.larkspur.pk}


def number(w: World) -> dict[str, Any]:
    return {"number": w.larkspur.pk}


def visit(w: World) -> dict[str, Any]:
    return {"pk": w.visit.pk}


def sheet_visit(w: World) -> dict[str, Any]:
    warm(w)
    return visit(w)


def offer(w: World) -> dict[str, Any]:
    return {"pk": made_offer(w).pk}


def operation(_w: World) -> dict[str, Any]:
    return {"base": 1, "token": "a-token-of-a-test", "operation": {"do": "change", "keys": {"name": "Another name"}}}


def offering(w: World) -> dict[str, Any]:
    warm(w)
    return {"customer": "A customer"}


PAGES: list[Row] = [
    Row("who-reaches-it", roles=EVERYONE, where=larkspur),
    Row("with-what", roles=EVERYONE, where=larkspur),
    Row("how-long", roles=EVERYONE, where=larkspur),
    Row("how-long-night", roles=EVERYONE, where=larkspur),
    Row("what-does-it-cost", roles=PLANNERS, where=larkspur),
    Row("cost-options", roles=PLANNERS, where=larkspur),
    Row("is-it-done", roles=EVERYONE, where=larkspur),
    Row("part", roles=EVERYONE, where=larkspur, send=lambda _w: {"part": "row-front"}),
    Row("wall", roles=EVERYONE, where=larkspur, send=lambda _w: {"part": "front-film"}),
    Row("assumptions", roles=PLANNERS, where=larkspur),
    Row("assumptions", "post", PLANNERS, larkspur, lambda _w: {"people": "3", "rig_revision": "1"}, good=302),
    Row("visits", roles=EVERYONE, where=larkspur),
    Row("visits", "post", PLANNERS, larkspur, lambda _w: {"on": "2027-01-11", "nights": "1"}, good=302),
    Row("visit", roles=EVERYONE, where=visit),
    Row("visit-step", "post", EVERYONE, visit, lambda _w: {"to": "stopped"}, good=302),
    Row("visit-next", "post", PLANNERS, visit, lambda _w: {"next_due": "2027-01-11"}, good=302),
    Row("visit-account", "post", PLANNERS, visit, lambda w: made_offer(w, agreed=True) and {"do": "invoice"}, good=302),
    Row("visit-invoice", roles=PLANNERS, where=lambda w: {**visit(w), "number": made_invoice(w)}),
    Row("visit-crew-sheet", roles=EVERYONE, where=sheet_visit),
    Row("visit-offer", roles=PLANNERS, where=visit),
    Row("visit-offer", "post", PLANNERS, visit, offering, good=302),
    Row("record", "post", EVERYONE, lambda w: {**visit(w), "what": "words"}, lambda _w: {"note": "Done."}, good=302),
    Row("photograph", roles=EVERYONE, where=lambda w: {"pk": made_photograph(w).pk}),
    Row("offer", roles=PLANNERS, where=offer),
    Row("offer-answer", "post", PLANNERS, offer, lambda _w: {"answer": "declined"}, good=302),
    Row("offer-paper", roles=EVERYONE, where=lambda w: {**offer(w), "name": "crew-sheet.pdf"}),
    Row("keys", roles=PLANNERS),
    Row("keys", "post", PLANNERS, send=lambda _w: {"name": "books"}),
    Row("key-end", "post", PLANNERS, lambda w: {"pk": key_of(w.planner).pk}, good=302),
    Row("texts", roles=PLANNERS),
    Row("texts", "post", OWNER, send=lambda _w: {"text": "## scope\nOurs.\n", "revision": "0"}, good=302),
    Row("revisions", roles=PLANNERS, where=lambda _w: {"kind": "rig"}, own_records=False),
]
API: list[Row] = [
    Row("api:properties", roles=EVERYONE, json=True),
    Row("api:property", roles=EVERYONE, where=number, json=True),
    Row("api:site", roles=EVERYONE, where=number, json=True),
    Row("api:operations", "post", PLANNERS, number, operation, json=True),
    Row("api:plan", "post", PLANNERS, number, lambda _w: {"on": "2026-07-11"}, json=True),
    Row("api:schema", roles=EVERYONE, where=lambda _w: {"name": "site"}, json=True, own_records=False),
    Row("api:openapi-json"),
    Row("api:api-root", good=404),
]
QUESTIONS: list[Row] = [*PAGES, *API]
