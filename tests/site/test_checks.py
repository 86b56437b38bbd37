"""What the checks of a site must and must not find.

Checked against: closed forms of plane geometry (a convex outline with two neighbouring corners swapped crosses
itself; corners sorted by angle do not; a counter-clockwise outline has its outside on the right of each edge)
and shapely for the top edge of a wall (independent program). The mistakes one by one are in
``test_broken_documents.py``.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Any

import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st

from sightwash.basis.errors import InputError
from sightwash.site.checks import check_ring, check_site, identified
from sightwash.site.model import Building, Site
from sightwash.site.shapes import placed_walls
from sightwash.site.site_file import document_from
from sightwash.site.tree import parse
from sightwash.site.wall_checks import check_wall, highest_top, top_at
from sightwash.site.walls import Door, Fixture, Opening, ProfilePoint, Projection, Soiling, Wall

HEAD = "kind: site\nschema: 1\nid: a\nname: A\n"


def codes(text: str) -> list[str]:
    try:
        document_from(parse(HEAD + text, "text"))
    except InputError as error:
        return [problem.code for problem in error.problems]
    return []


def wall_codes(**parts: Any) -> list[str]:
    return [finding.code for finding in check_wall(Wall(id="w", **parts), ("walls", 0))]


SQUARE = "buildings: [{id: b, outline: [[0, 0], [40, 0], [40, 40], [0, 40]]"


@pytest.mark.parametrize("text", [
    "",
    "walls: [{id: w}]\n",
    "walls: [{id: w, length: 40, height: 12}]\nsurfaces: [{id: s, width: 6}]\n",
    SQUARE + "}]\n",
    "buildings: [{id: b, outline: [[0, 0], [0, 40], [40, 40], [40, 0]]}]\n",  # clockwise
    "buildings: [{id: b, outline: [[0, 0], [40, 0], [40, 40], [0, 40], [0, 0]]}]\n",  # closed by hand
    SQUARE + ", holes: [[[10, 10], [20, 10], [20, 20]], [[30, 30], [35, 30], [35, 35]]]}]\n",
    SQUARE + "}]\nwalls: [{id: w, building: b, start: [10, 0], end: [30, 0], height: 9}]\n",  # part of an edge
    SQUARE + "}]\nwalls: [{id: w, building: b, start: [40, 0], end: [40, 40], height: 9}]\n",
    SQUARE + "}]\nwalls: [{id: w, building: b, start: [0, -1], end: [40, 1], height: 9}]\n",  # measured a foot off
    SQUARE + ", holes: [[[10, 10], [30, 10], [30, 30], [10, 30]]]}]\n"
    "walls: [{id: w, building: b, start: [30, 10], end: [10, 10], height: 9}]\n"  # faces the courtyard
    "gum: [{id: g, surface: s, at: [[20, 20]]}]\nsurfaces: [{id: s, outline: [[12, 12], [28, 12], [28, 28]]}]\n"
    "eyes: [{id: e, kind: walk, path: [[20, 20]]}]\n",
    SQUARE + "}]\neyes: [{id: e, kind: window, path: [[20, 20]]}]\n",
    SQUARE + "}]\neyes: [{id: e, kind: entrance, path: [[20, 0]]}]\n",  # on the doorstep
    "quiet_hours: {start: 22:00, end: 06:00}\n",
    "stalls: [{id: s, at: [0, 0], toward: 0, count: 9, width: 9, length: 18, accessible: 2, van: 2}]\n",
    "place: {time_zone: UTC, latitude: -33, longitude: 151, elevation: -1000, north: -90}\n",
    "place: {time_zone: America/Argentina/Buenos_Aires}\n",
])  # fmt: skip
def test_what_is_right_or_only_missing_is_not_an_error(text: str) -> None:
    assert codes(text) == []


def test_a_projection_may_hang_over_a_walls_end_and_start_beyond_its_middle() -> None:
    canopy = Projection("c", "canopy", left=8.0, width=30.0, bottom=3.0, height=0.2, depth=1.5)
    assert wall_codes(length=10.0, height=4.0, projections=(canopy,)) == []


@pytest.mark.parametrize("kind", ["cap", "blade sign", "flat sign", "column", "pipe", "gutter"])
def test_what_may_stand_above_the_top_edge(kind: Any) -> None:
    thing = Projection("p", kind, left=1.0, width=1.0, bottom=3.8, height=1.0, depth=0.3)
    assert wall_codes(length=10.0, height=4.0, projections=(thing,)) == []
    high = Projection("p", kind, left=1.0, width=1.0, bottom=5.2, height=1.0, depth=0.3)
    assert wall_codes(length=10.0, height=4.0, projections=(high,)) == ["above-wall"]


STEPPED = (
    ProfilePoint(0.0, 6.0), ProfilePoint(4.0, 6.0), ProfilePoint(4.0, 8.0), ProfilePoint(7.0, 8.0),
    ProfilePoint(7.0, 6.0), ProfilePoint(10.0, 6.0),
)  # fmt: skip


def test_things_just_under_a_raised_part_fit_it() -> None:
    """The step at either end of the raised part belongs to its neighbour, too, but not to what hangs between."""
    glass = Opening("g", "glass", left=4.0, width=3.0, bottom=2.0, height=6.0)
    assert wall_codes(length=10.0, profile=STEPPED, openings=(glass,)) == []
    wide = Opening("g", "glass", left=3.9, width=3.0, bottom=2.0, height=6.0)
    assert wall_codes(length=10.0, profile=STEPPED, openings=(wide,)) == ["above-wall"]
    band = Soiling("s", "algae", bottom=6.5)
    assert wall_codes(length=10.0, profile=STEPPED, soiling=(band,)) == []
    low = Soiling("s", "algae", left=0.0, width=4.0, bottom=6.5)
    assert wall_codes(length=10.0, profile=STEPPED, soiling=(low,)) == ["no-height"]
    light = Fixture("f", "luminaire", left=5.0, height=8.8)
    assert wall_codes(length=10.0, profile=STEPPED, fixtures=(light,)) == []
    row = Fixture("f", "luminaire", left=5.0, height=8.8, count=2, spacing=4.0)
    assert wall_codes(length=10.0, profile=STEPPED, fixtures=(row,)) == ["above-wall"]


def test_doors_side_by_side_or_one_above_the_other_do_not_overlap() -> None:
    beside = (Door("a", 2.0, 1.0, 2.1), Door("b", 3.0, 1.0, 2.1))
    above = (Door("a", 2.0, 1.0, 2.1), Door("b", 2.5, 1.0, 2.1, bottom=3.0))
    assert wall_codes(length=10.0, height=6.0, doors=beside) == []
    assert wall_codes(length=10.0, height=6.0, doors=above) == []
    assert wall_codes(length=10.0, height=6.0, doors=(*beside, Door("c", 2.2, 1.0, 2.1))) == ["doors-overlap"] * 2


@pytest.mark.parametrize(("base", "expected"), [
    ((0.0, 3.9), []), ((0.0, 4.0), ["ground-above-wall"]), ((0.0, -5.0), []), ((0.0, -5.1), ["ground-steep"]),
    ((300.0, 300.0), []), ((2.0, 0.0), []),
])  # fmt: skip
def test_the_ground_stays_below_the_top(base: tuple[float, float], expected: list[str]) -> None:
    assert wall_codes(length=10.0, height=4.0, base=base) == expected


@pytest.mark.parametrize(("lefts", "heights", "expected"), [
    ((0, 10), (4, 6), []),
    ((0, 5, 5, 5, 10), (4, 4, 5, 6, 6), []),  # two steps up at one place
    ((0, 5, 5, 5, 10), (4, 4, 6, 5, 5), ["profile-spike"]),
    ((0, 0, 10), (4, 5, 5), []),
    ((0, 0, 10), (5, 4, 4), ["profile-spike"]),
    ((0, 10, 10), (4, 4, 5), ["profile-spike"]),
    ((0, 10, 10), (4, 5, 4), []),
    ((2, 8), (4, 6), []),  # runs on flat to both ends
    ((5,), (4,), ["profile-order"]),
    ((5, 4), (4, 4), ["profile-order"]),
])  # fmt: skip
def test_profiles(lefts: tuple[float, ...], heights: tuple[float, ...], expected: list[str]) -> None:
    profile = tuple(ProfilePoint(float(left), float(height)) for left, height in zip(lefts, heights, strict=True))
    assert wall_codes(length=10.0, profile=profile) == expected
    if not expected:
        (placed,) = placed_walls(Site("site", 1, "a", "A", walls=(Wall("w", length=10.0, profile=profile),)))
        assert placed.outline.is_valid


heights = st.floats(1.0, 9.0)


@given(st.lists(st.tuples(st.floats(0.3, 3.0), heights), min_size=2, max_size=7), st.floats(0, 1), st.floats(0.05, 1))
def test_lowest_and_highest_top_agree_with_the_outline_cut_by_shapely(
    steps: list[tuple[float, float]], start: float, share: float
) -> None:
    profile: list[ProfilePoint] = []
    for (left, height), (_, next_height) in pairwise((*steps, steps[0])):
        at = (profile[-1].left if profile else 0.0) + left
        profile += [ProfilePoint(at, height), ProfilePoint(at, next_height)]
    length = float(profile[-1].left) + 1.0
    wall = Wall("w", length=length, profile=tuple(profile))
    (placed,) = placed_walls(Site("site", 1, "a", "A", walls=(wall,)))
    left = start * length * 0.9
    right = left + share * (length - left)
    cuts = [left, right, *(p.left + nudge for p in profile for nudge in (-1e-4, 1e-4))]
    tops = [
        placed.outline.intersection(shapely.LineString([(s, -1.0), (s, 99.0)])).bounds[3]
        for s in cuts
        if left + 2e-5 <= s <= right - 2e-5 or s in (left, right)
    ]
    lowest, highest = top_at(wall, left, right), highest_top(wall, left, right)
    assert lowest is not None
    assert highest is not None
    assert lowest <= min(tops) + 1e-2
    assert highest >= max(tops) - 1e-2
    assert any(abs(lowest - p.height) < 1e-2 for p in profile) or lowest == pytest.approx(min(tops), abs=1e-2)


angles = st.lists(st.integers(0, 359), min_size=4, max_size=9, unique=True)


def around(degrees: list[int], radii: list[float]) -> tuple[tuple[float, float], ...]:
    return tuple(
        (radius * math.cos(math.radians(angle)), radius * math.sin(math.radians(angle)))
        for angle, radius in zip(sorted(degrees), radii, strict=False)
    )


@given(angles, st.lists(st.floats(5.0, 60.0), min_size=9, max_size=9))
def test_corners_sorted_by_angle_never_cross(degrees: list[int], radii: list[float]) -> None:
    spread = sorted(degrees)
    assume(max(b - a for a, b in pairwise((*spread, spread[0] + 360))) < 180)
    assert not list(check_ring(around(degrees, radii), ()))


@given(angles, st.integers(0, 7), st.floats(5.0, 60.0))
def test_two_swapped_corners_of_a_convex_outline_always_cross(degrees: list[int], first: int, radius: float) -> None:
    ring = list(around(degrees, [radius] * 9))
    first %= len(ring) - 1
    ring[first], ring[first + 1] = ring[first + 1], ring[first]
    assert [finding.code for finding in check_ring(tuple(ring), ())] == ["self-crossing"]


@given(angles, st.floats(20.0, 60.0), st.booleans())
def test_a_wall_runs_with_its_outside_on_the_right(degrees: list[int], radius: float, backwards: bool) -> None:
    spread = sorted(degrees)
    gaps = [b - a for a, b in pairwise((*spread, spread[0] + 360))]
    assume(min(gaps) >= 8 and max(gaps) <= 150)
    ring = around(degrees, [radius] * 9)
    edges = [(b, a) if backwards else (a, b) for a, b in pairwise((*ring, ring[0]))]
    walls = tuple(Wall(f"w-{n}", building="b", start=a, end=b, height=4.0) for n, (a, b) in enumerate(edges))
    for outline in (ring, ring[::-1]):
        site = Site("site", 1, "a", "A", buildings=(Building("b", outline),), walls=walls)
        expected = ["wall-wrong-way"] * len(walls) if backwards else []
        assert [finding.code for finding in check_site(site)] == expected


def test_every_element_with_an_id_is_found() -> None:
    text = HEAD + (
        "walls: [{id: w, doors: [{id: d, left: 1, width: 3, height: 7}], soiling: [{id: s, kind: algae}]}]\n"
        "surfaces: [{id: g, soiling: [{id: h, kind: oil}]}]\n"
    )
    site = document_from(parse(text, "text"))
    assert [(item.id, path) for path, item in identified(site, ())] == [
        ("w", ("walls", 0)),
        ("s", ("walls", 0, "soiling", 0)),
        ("d", ("walls", 0, "doors", 0)),
        ("g", ("surfaces", 0)),
        ("h", ("surfaces", 0, "soiling", 0)),
    ]


def test_a_site_may_share_its_own_id_with_an_element() -> None:
    assert codes("walls: [{id: a}]\n") == []


def test_an_id_that_stands_three_times_is_named_twice() -> None:
    assert codes("walls: [{id: w}, {id: w}]\ntaps: [{id: w, at: [0, 0]}]\n") == ["doubled-id"] * 2


@pytest.mark.parametrize(
    ("typed", "meant"), [("America/chicago", "America/Chicago"), ("Europe/Pariss", "Europe/Paris")]
)
def test_a_mistyped_time_zone_gets_the_one_that_was_meant(typed: str, meant: str) -> None:
    with pytest.raises(InputError, match=f"write `{meant}`"):
        document_from(parse(HEAD + f"place: {{time_zone: {typed}}}\n", "text"))
