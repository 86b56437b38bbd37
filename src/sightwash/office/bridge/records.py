"""Records of visits: what was really done, checked against the plan by the core, each change under a lock."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

from django.db import transaction

from sightwash.basis.errors import InputError, Problem
from sightwash.book.done_record import DoneRecord, PlannedIds, done_from
from sightwash.office.models import Person, Visit
from sightwash.office.questions.models import WorkRecord
from sightwash.planning.visit import VisitPlan
from sightwash.site.model import Site
from sightwash.site.tree import Parsed

Tree = dict[str, Any]
FILE = "the record"


def planned_ids(site: Site, plan: VisitPlan) -> PlannedIds:
    """Return the ids that a record of a plan may name."""
    walls = [takeoff.wall for takeoff in plan.walls if takeoff.excluded is None]
    ground = [surface.surface for surface in plan.ground if surface.washed]
    misses = [strip.id for strip in plan.missed]
    return PlannedIds(site.id, (*walls, *ground), tuple(misses), tuple(eye.id for eye in site.eyes))


def new_tree(visit: Visit, site: Site, person: Person) -> Tree:
    """Return the record of a visit of which nothing is written yet."""
    return {
        "kind": "done", "schema": 1, "site": site.id, "on": visit.on.isoformat(), "units": site.units,
        "crew": [person.name],
    }  # fmt: skip


def record_tree(visit: Visit) -> tuple[Tree, int]:
    """Return what is written down of a visit, and the revision of it; an empty tree and 0 where nothing is."""
    row = WorkRecord.objects.filter(visit=visit).first()
    return ({}, 0) if row is None else (json.loads(row.text), row.revision)


def read_record(tree: Tree, ids: PlannedIds) -> DoneRecord | None:
    """Return a record as the core reads it; None where nothing is written, or the plan has moved on."""
    if not tree:
        return None
    try:
        return done_from(Parsed(FILE, tree, dict), ids)
    except InputError:
        return None


def change_record(
    visit: Visit, person: Person, site: Site, ids: PlannedIds, change: Callable[[Tree], None], base: int | None = None
) -> int:
    """Change the record of a visit and return its revision; InputError where it would be wrong.

    With ``base``, a record that somebody else changed meanwhile is refused.
    """
    with transaction.atomic():
        Visit.objects.select_for_update().get(pk=visit.pk)
        row = WorkRecord.objects.filter(visit=visit).first()
        tree = new_tree(visit, site, person) if row is None else json.loads(row.text)
        revision = 0 if row is None else row.revision
        if base is not None and base != revision:
            message = "somebody else changed the record meanwhile"
            raise InputError(Problem("changed-meanwhile", message, fix="look at it again, then repeat"))
        change(tree)
        if person.name not in tree["crew"]:
            tree["crew"].append(person.name)
        done_from(Parsed(FILE, tree, dict), ids)
        text = json.dumps(tree, ensure_ascii=False)
        if row is None:
            WorkRecord.objects.create(visit=visit, text=text)
        else:
            row.text, row.revision = text, revision + 1
            row.save(update_fields=["text", "revision"])
    return revision + 1


def set_parts(tree: Tree, given: dict[str, tuple[str, str]]) -> None:
    """Write how each part was done and what is said of it; an empty word takes a part out."""
    parts = [
        {"part": part, "how": how, **({"note": said} if said else {})} for part, (how, said) in given.items() if how
    ]
    _put(tree, "parts", parts)


def set_miss(tree: Tree, miss: Tree) -> None:
    """Write that somebody looked at a missed strip; the last look at it counts."""
    others = [each for each in tree.get("misses", []) if each.get("miss") != miss["miss"]]
    _put(tree, "misses", [*others, miss])


def add_reading(tree: Tree, reading: Tree) -> None:
    """Write a chlorine reading."""
    _put(tree, "chlorine", [*tree.get("chlorine", []), reading])


def add_photograph(tree: Tree, photograph: Tree) -> None:
    """Write that a photograph was taken."""
    _put(tree, "photographs", [*tree.get("photographs", []), photograph])


def set_keys(tree: Tree, keys: Tree) -> None:
    """Write single keys; an empty value takes a key out."""
    for key, value in keys.items():
        _put(tree, key, value)


def _put(tree: Tree, key: str, value: Any) -> None:
    if value in ("", [], None):
        tree.pop(key, None)
    else:
        tree[key] = value
