"""Operations on a site: done and taken back, refused when broken, in conflict when two people want the same key.

Closed form: an operation followed by its inverse is nothing, so the document's text is the same, byte for byte.
The moved places are worked out here by hand (1 ft = 0.3048 m, NIST SP 811, 2008, B.8: published); lengths in words are
read by pint (independent program).
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sightwash.basis.errors import InputError
from sightwash.site.changes import apply, inverse, operation_words
from sightwash.site.conflicts import Conflict, Recorded, refuse_conflict, standing
from sightwash.site.element_tree import elements
from sightwash.site.moves import length_text
from sightwash.site.operations import Add, Change, Move, Operation, Remove, Together, operation_from, operation_tree
from sightwash.site.site_file import document_text, plain, read_site

DEMO = Path(__file__).parent.parent.parent / "examples" / "demo" / "site.yaml"
SITE = read_site(DEMO)
TEXT = document_text(SITE)
REGISTRY = pint.UnitRegistry()
FOUND = list(elements(plain(SITE)))
IDS = [str(found.node["id"]) for found in FOUND]
KEYS = sorted({key for found in FOUND for key in found.node} | {"paint.state", "hours.open", "fall.slope", "note"})

lengths = st.sampled_from(["0", "3 ft", "-2 ft", "1 ft 6 in", "4 in", "0.37 m", "-1/2 in", "7", 2, 0.25])
values = st.one_of(
    st.none(), lengths, st.sampled_from(["algae", "heavy", "sound", "22:00", True, [], [["0", "0"]], {}])
)
ids = st.sampled_from(IDS)
NEW: list[tuple[str, str | None, dict[str, Any]]] = [
    ("drains", None, {"id": "new-drain", "at": ["3 ft", "-20 ft"], "leads_to": "storm"}),
    ("walls", None, {"id": "new-wall", "length": "12 ft 6 in", "height": "10 ft"}),
    ("openings", "row-back", {"id": "new-vent", "kind": "vent", "left": 2, "width": "1 ft", "bottom": 1, "height": 1}),
    ("soiling", "front-walk", {"id": "new-oil", "kind": "oil"}),
    ("gum", None, {"id": "new-gum", "surface": "pad-walk", "at": [["200 ft", "0"]]}),
]
additions = st.builds(
    lambda new, at: Add(new[0], dict(new[2]), new[1], at), st.sampled_from(NEW), st.none() | st.integers(0, 30)
)
changes = st.builds(Change, st.none() | ids, st.dictionaries(st.sampled_from(KEYS), values, min_size=1, max_size=3))
moves = st.builds(lambda id, x, y: Move(id, (x, y)), ids, lengths, lengths)
single: st.SearchStrategy[Operation] = st.one_of(additions, changes, moves, st.builds(Remove, ids))
operations = st.one_of(single, st.builds(lambda each: Together(tuple(each)), st.lists(single, min_size=1, max_size=4)))


@settings(max_examples=250, deadline=None)
@given(operations)
def test_what_is_taken_back_leaves_the_same_text(operation: Operation) -> None:
    assert operation_from(json.loads(json.dumps(operation_tree(operation)))) == operation
    try:
        changed = apply(SITE, operation)
    except InputError:
        assert document_text(SITE) == TEXT
        return
    back = inverse(SITE, operation)
    assert document_text(apply(changed, back)) == TEXT
    assert document_text(apply(SITE, inverse(changed, back))) == document_text(changed)
    assert operation_words(SITE, operation)


@pytest.mark.parametrize("id", IDS)
def test_every_element_can_be_taken_out_and_put_back_in_its_place(id: str) -> None:
    gone = {"row-front": ("front-walk", "walk-gum"), "front-walk": ("walk-gum",)}.get(id, ())
    walls = [str(found.node["id"]) for found in FOUND if found.node.get("building") == id]
    more = [each for wall in walls for each in {"row-front": ("walk-gum", "front-walk")}.get(wall, ())]
    everything = Together(tuple(Remove(each) for each in (*more, *reversed(gone), *walls, id)))
    changed = apply(SITE, everything)
    assert id not in {found.node["id"] for found in elements(plain(changed))}
    assert document_text(apply(changed, inverse(SITE, everything))) == TEXT


def test_typed_lengths_stay_as_typed() -> None:
    changed = apply(SITE, Change("row-east", {"height": "19 ft 6 in"}))
    wall = next(wall for wall in changed.walls if wall.id == "row-east")
    assert wall.height == pytest.approx(19.5 * 0.3048)
    assert '"height": "19 ft 6 in"' in document_text(changed)


def test_a_moved_building_takes_its_walls_along() -> None:
    changed = apply(SITE, Move("pad", ("3 ft", "-1 ft 6 in")))
    before = {wall.id: wall for wall in SITE.walls}
    for wall in changed.walls:
        old = before[wall.id]
        shift = (3 * 0.3048, -1.5 * 0.3048) if old.building == "pad" else (0.0, 0.0)
        assert wall.start is not None
        assert old.start is not None
        assert wall.start == pytest.approx((old.start[0] + shift[0], old.start[1] + shift[1]))


def test_a_door_moves_along_its_wall() -> None:
    changed = apply(SITE, Move("door-2", ("-2 ft", "6 in")))
    door = next(door for door in changed.walls[0].doors if door.id == "door-2")
    assert (door.left, door.bottom) == pytest.approx((53 * 0.3048, 0.1524))


@pytest.mark.parametrize(
    ("operation", "key", "code"),
    [
        (Change("row-east", {"height": "21 lb"}), "row-east.height", "wrong-unit"),
        (Change("row-east", {"height": "200 ft"}), "row-east.height", "out-of-range"),
        (Change("row-east", {"hight": "20 ft"}), "row-east.hight", "unknown-key"),
        (Change("door-1", {"left": "300 ft"}), "door-1.left", "outside-wall"),
        (Change("row-eats", {"height": "20 ft"}), "id", "unknown-id"),
        (Change("row-east", {"id": "other"}), "id", "fixed-key"),
        (Change(None, {"units": "metric"}), "units", "fixed-key"),
        (Change("row-front", {"openings": []}), "openings", "list-of-elements"),
        (Change("row-east", {"paint": {}, "paint.state": "sound"}), "paint.state", "doubled-key"),
        (Remove("row-front"), "front-walk.along", "dangling-reference"),
        (Move("front-walk", ("1 ft", "0")), "id", "no-place"),
        (Move("row-east", ("1 ft", "two")), "by", "not-a-quantity"),
        (Add("doors", {"id": "x"}, "pad"), "to", "unknown-list"),
        (Add("drains", {"id": "lot-inlet", "at": [0, 0]}), "lot-inlet.id", "doubled-id"),
        (Add("drains", {"id": "x"}), "x.at", "missing-key"),
    ],
)
def test_a_broken_value_is_refused_with_its_key(operation: Operation, key: str, code: str) -> None:
    with pytest.raises(InputError) as caught:
        apply(SITE, operation)
    assert (key, code) in [(problem.key, problem.code) for problem in caught.value.problems]
    assert all(problem.expected and problem.line is None for problem in caught.value.problems)


@pytest.mark.parametrize(
    "tree",
    [
        None, [], {}, {"do": "drop"}, {"do": "change"}, {"do": "change", "id": "a", "keys": {}},
        {"do": "change", "id": 3, "keys": {"a": 1}}, {"do": "move", "id": "a", "by": ["1 ft"]},
        {"do": "move", "id": "a", "by": [True, 0]}, {"do": "remove", "id": "a", "why": "x"},
        {"do": "add", "to": "walls", "element": []}, {"do": "add", "to": "walls", "element": {"id": "a"}, "at": -1},
        {"do": "together", "operations": []},
        {"do": "together", "operations": [{"do": "together", "operations": [{"do": "remove", "id": "a"}]}]},
    ],
)  # fmt: skip
def test_what_is_no_operation_is_refused(tree: Any) -> None:
    with pytest.raises(InputError):
        operation_from(tree)


def history(*operations: Operation) -> list[Recorded]:
    return [Recorded(number, each, "Ada") for number, each in enumerate(operations, 2)]


@pytest.mark.parametrize(
    ("mine", "theirs", "clashes"),
    [
        (Change("a", {"height": "20 ft"}), Change("a", {"height": "21 ft"}), True),
        (Change("a", {"height": "20 ft"}), Change("a", {"height": "20 ft"}), False),
        (Change("a", {"height": "20 ft"}), Change("a", {"material": "brick"}), False),
        (Change("a", {"height": "20 ft"}), Change("b", {"height": "21 ft"}), False),
        (Change("a", {"paint.state": "sound"}), Change("a", {"paint": None}), True),
        (Change("a", {"paint.state": "sound"}), Change("a", {"paint.age": "1 year"}), False),
        (Change("a", {"height": "20 ft"}), Remove("a"), True),
        (Remove("a"), Change("a", {"height": "20 ft"}), True),
        (Move("a", (1, 0)), Change("a", {"left": "2 ft"}), True),
        (Move("a", (1, 0)), Change("a", {"material": "brick"}), False),
        (Add("drains", {"id": "d"}), Add("drains", {"id": "d"}), True),
        (Add("drains", {"id": "d"}), Add("drains", {"id": "e"}), False),
        (Together((Remove("b"), Change("a", {"height": 1}))), Change("a", {"height": 2}), True),
        (Change(None, {"name": "x"}), Change(None, {"name": "y"}), True),
    ],
)
def test_only_the_same_key_of_the_same_element_is_a_conflict(mine: Operation, theirs: Operation, clashes: bool) -> None:
    if not clashes:
        refuse_conflict(mine, 1, history(theirs))
        return
    with pytest.raises(Conflict) as caught:
        refuse_conflict(mine, 1, history(theirs))
    clash = caught.value.clashes[0]
    assert (clash.person, clash.revision) == ("Ada", 2)
    refuse_conflict(mine, 2, history(theirs))


def test_both_sides_are_shown() -> None:
    with pytest.raises(Conflict) as caught:
        refuse_conflict(Change("a", {"height": "20 ft"}), 1, history(Change("a", {"height": "21 ft"})))
    assert "Ada made it 21 ft at revision 2; you make it 20 ft" in str(caught.value)


def test_what_was_taken_back_is_in_nobodys_way() -> None:
    done = [
        Recorded(2, Change("a", {"height": "12 ft"})),
        Recorded(3, Change("a", {"height": "14 ft"})),
        Recorded(4, Change("a", {"height": "12 ft"}), undoes=3),
    ]
    assert [each.revision for each in standing(done)] == [2]
    refuse_conflict(Change("a", {"height": "10 ft"}), 2, done)
    redone = [*done, Recorded(5, Change("a", {"height": "14 ft"}), undoes=4)]
    assert [each.revision for each in standing(redone)] == [2, 3]
    with pytest.raises(Conflict):
        refuse_conflict(Change("a", {"height": "10 ft"}), 2, redone)


@given(st.floats(-2000, 2000), st.sampled_from(["us", "metric"]))
def test_a_length_is_written_so_that_it_reads_back(metres: float, system: str) -> None:
    words = length_text(metres, system)
    sign = -1 if words.startswith("-") else 1
    parts = words.lstrip("-").split()
    total = sum(
        REGISTRY.Quantity(float(size), {"in": "inch", "ft": "foot", "m": "metre"}[unit]).to("metre").magnitude
        for size, unit in zip(parts[::2], parts[1::2], strict=True)
    )
    assert sign * total == pytest.approx(metres, abs=2e-9)
