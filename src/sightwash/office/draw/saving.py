"""Doing an operation to a property, with its history: in one transaction, once for each token, never over another's.

The record of an operation is the operation's own tree with four more keys: ``back`` (what takes it back), ``token``
(made by the asker, so that sending again does nothing again), ``undoes`` (the revision that it takes back) and
``words``.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Final

from django.db import transaction

from sightwash.basis.errors import InputError, Problem
from sightwash.office.bridge.documents import document
from sightwash.office.models import Person, Property, SiteOperation
from sightwash.site.changes import apply, inverse, operation_words
from sightwash.site.conflicts import Recorded, refuse_conflict, standing
from sightwash.site.model import Site
from sightwash.site.operations import Operation, operation_from, operation_tree, refused
from sightwash.site.site_file import document_text
from sightwash.site.tree import LARGEST_DOCUMENT

EXTRA: Final = ("back", "token", "undoes", "words")
LONGEST_TOKEN: Final = 64
MOST_SEEN: Final = 500
REMEMBERED: Final = 40
"""How many of a person's own last operations a page can take back [-]."""


@dataclass(frozen=True, slots=True)
class Asked:
    """An operation as it was asked for: made against ``base``; ``seen`` are later revisions that the asker made."""

    operation: Operation
    base: int
    token: str
    undoes: int | None = None
    seen: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Done:
    """An operation that was done: the revision it led to, what takes it back, and what it was in words."""

    revision: int
    back: dict[str, Any]
    words: str


def asked_from(tree: Any) -> Asked:
    """Return what was asked for; InputError says what is wrong with it."""
    if not isinstance(tree, dict):
        raise refused("not-a-mapping", "nothing is asked for", "operation, base, token")
    token, seen = tree.get("token"), tree.get("seen", [])
    if not isinstance(token, str) or not 8 <= len(token) <= LONGEST_TOKEN:
        raise refused("bad-token", "the token is missing", f"8 to {LONGEST_TOKEN} characters", None, "token")
    if not isinstance(seen, list) or len(seen) > MOST_SEEN or not all(_is_revision(each) for each in seen):
        raise refused("not-a-list", "what was seen is no list of revisions", "revisions", None, "seen")
    for key in ("base", "undoes"):
        if not (_is_revision(tree.get(key)) or (key == "undoes" and tree.get(key) is None)):
            raise refused("not-a-revision", f"{key} is no revision", "a revision of the site", None, key)
    return Asked(operation_from(tree.get("operation")), tree["base"], token, tree.get("undoes"), tuple(seen))


def _is_revision(value: Any) -> bool:
    return isinstance(value, int) and not isinstance(value, bool) and 0 <= value < 2**31


def do_operation(record: Property, person: Person, asked: Asked) -> Done:
    """Do an operation to a property and keep it; the record is read again under a lock.

    Raises Conflict where a later operation of somebody else stands in the way, InputError where the site would be
    wrong.
    """
    with transaction.atomic():
        held = Property.objects.of(person.firm).select_for_update().get(pk=record.pk)
        before = held.operations.filter(operation__token=asked.token).first()
        if before is not None:
            return Done(before.revision, before.operation["back"], before.operation["words"])
        refuse_conflict(asked.operation, asked.base, _later(held, asked))
        return _kept(held, person, asked)


def _later(held: Property, asked: Asked) -> list[Recorded]:
    """Return the operations after the base that the asker did not make; refuses a base whose history is not known."""
    rows = list(held.operations.filter(revision__gt=asked.base).select_related("person"))
    if asked.base > held.revision or len(rows) != held.revision - asked.base:
        raise InputError(
            Problem("unknown-revision", f"the site is at revision {held.revision} by another way",
                    key="base", expected=str(held.revision), fix="read the site again, then repeat the change")
        )  # fmt: skip
    return [recorded(row) for row in rows if row.revision not in asked.seen]


def _kept(held: Property, person: Person, asked: Asked) -> Done:
    site = document(held.site, Site, "site")
    text = document_text(apply(site, asked.operation))
    if len(text.encode()) > LARGEST_DOCUMENT:
        raise refused("too-large", "the site would be too large", f"at most {LARGEST_DOCUMENT:,} bytes", "split it")
    done = Done(
        held.revision + 1, operation_tree(inverse(site, asked.operation)), operation_words(site, asked.operation)
    )
    extra = {"back": done.back, "token": asked.token, "undoes": asked.undoes, "words": done.words[:300]}
    held.site, held.revision = text, done.revision
    held.save(update_fields=["site", "revision"])
    tree = operation_tree(asked.operation) | extra
    SiteOperation.objects.create(property=held, revision=done.revision, person=person, operation=tree)
    if asked.undoes is not None:
        held.operations.filter(revision=asked.undoes).update(undone=True)
        redone = held.operations.filter(revision=asked.undoes).values_list("operation__undoes", flat=True).first()
        if isinstance(redone, int):
            held.operations.filter(revision=redone).update(undone=False)
    return done


def recorded(row: SiteOperation) -> Recorded:
    """Return a kept operation as the core knows it."""
    tree = {key: value for key, value in row.operation.items() if key not in EXTRA}
    who = row.person.name if row.person is not None else ""
    return Recorded(row.revision, operation_from(tree), who, row.operation.get("undoes"))


def own_operations(record: Property, person: Person) -> list[dict[str, Any]]:
    """Return a person's own last operations that still stand, oldest first, each with what takes it back."""
    rows = list(reversed(record.operations.order_by("-revision").select_related("person")[: 5 * REMEMBERED]))
    live = {each.revision for each in standing([recorded(row) for row in rows]) if each.undoes is None}
    own = [row for row in rows if row.revision in live and row.person_id == person.pk and "back" in row.operation]
    return [_own(row) for row in own[-REMEMBERED:]]


def _own(row: SiteOperation) -> dict[str, Any]:
    return {"revision": row.revision, "back": row.operation["back"], "words": row.operation["words"]}


def clash_words(clashes: Sequence[Any]) -> list[dict[str, Any]]:
    """Return both sides of each clash for a screen."""
    return [
        {
            "id": clash.id,
            "key": clash.key,
            "yours": None if clash.yours.gone else clash.yours.value,
            "yours_gone": clash.yours.gone,
            "theirs": None if clash.theirs.gone else clash.theirs.value,
            "theirs_gone": clash.theirs.gone,
            "revision": clash.revision,
            "person": clash.person,
        }
        for clash in clashes
    ]
