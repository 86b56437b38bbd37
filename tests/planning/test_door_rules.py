"""Rules at doors and fixtures: shares by integrating the jet's spread, hours minute by minute, no jet on a fixture.

Share of an oblique round jet by azimuth: sin^3 p / (2 pi (1 - cos p cos t)^2), which keeps mass and momentum along the
floor (closed form; D. Hasson and R. E. Peck, AIChE Journal 1964, citation from memory), integrated by scipy.quad.
Never square to a door: common practice, no source. No direct jet whatever the rating: the jets of IEC 60529 push 1.4
and 22.6 N, a washer 51 N and more (published test, computed).
"""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from sightwash.planning.door_rules import DoorRule, FixtureRule, plan_door_rules, plan_fixture_rules
from sightwash.site.shapes import placed_walls


def door_rule(make: Any, night: dict[str, Any] | None = None, **door: Any) -> DoorRule:
    """Return the rule of one door, 3 ft wide unless said otherwise."""
    entry = {"id": "door", "left": 10, "width": 3, "height": 7, **door}
    site = make("site", walls=[{"id": "front", "start": [0, 0], "end": [40, 0], "height": 16, "doors": [entry]}])
    (rule,) = plan_door_rules(placed_walls(site), make("conditions", **(night or {})))
    return rule


def fixture_rule(make: Any, **fixture: Any) -> FixtureRule:
    entry = {"id": "it", "left": 10, "height": 9, **fixture}
    site = make("site", walls=[{"id": "front", "start": [0, 0], "end": [40, 0], "height": 16, "fixtures": [entry]}])
    (rule,) = plan_fixture_rules(placed_walls(site))
    return rule


def share(bearing: float, width: float, out: float = 4.0, p: float = 45.0) -> float:
    """Share of a jet's water that runs at an opening, by quadrature of its density over the opening's azimuths."""
    e, half = math.cos(math.radians(p)), math.degrees(math.atan2(width / 2, out))
    low, high = (math.radians(side - bearing) for side in (-half, half))
    return float(
        quad(lambda t: math.sin(math.radians(p)) ** 3 / (2 * math.pi * (1 - e * math.cos(t)) ** 2), low, high)[0]
    )


def test_shares_at_a_3_ft_door_from_4_ft(make: Any) -> None:
    """Tilt 45 degrees: 0.4281 at it, 0.0431 along it, 0.0141 away, worked apart; as ratios 0.1007 and 0.0330."""
    assert [round(share(bearing, 3.0), 4) for bearing in (0, 90, 180)] == [0.4281, 0.0431, 0.0141]
    rule = door_rule(make)
    assert rule.along_against_square == pytest.approx(0.0431 / 0.4281, rel=2e-3)
    assert rule.away_against_square == pytest.approx(0.0141 / 0.4281, rel=5e-3)


@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(width=st.integers(24, 240))
def test_never_square_and_the_first_bearing_sends_a_tenth(make: Any, width: int) -> None:
    rule, feet = door_rule(make, width=f"{width} in"), width / 12
    assert "never square" in rule.words
    square = share(0, feet)
    if rule.first_bearing is None or rule.last_bearing is None:
        assert share(180, feet) > 0.1 * square
        assert "by hand" in rule.words
        return
    assert rule.first_bearing > 45.0
    assert rule.first_bearing + rule.last_bearing == pytest.approx(360.0)
    assert share(rule.first_bearing, feet) == pytest.approx(0.1 * square, rel=1e-3)
    for bearing in (rule.first_bearing + 5, 180.0, rule.last_bearing - 5):
        if rule.first_bearing < bearing < rule.last_bearing:
            assert share(bearing, feet) <= 0.1 * square
    assert share(rule.first_bearing - 5, feet) > 0.1 * square


@pytest.mark.parametrize(
    ("threshold", "flush"), [(None, True), ("0 in", True), ("0.25 in", True), ("0.3 in", False), ("0.5 in", False)]
)
def test_a_flush_or_unknown_threshold_takes_a_barrier(make: Any, threshold: str | None, flush: bool) -> None:
    rule = door_rule(make, **({"threshold": threshold} if threshold else {}))
    assert rule.flush is flush
    assert ("lay a barrier" in rule.words) is flush


def minutes(start: str, end: str) -> set[int]:
    """Minutes of a window, walked one by one round the clock."""
    at, stop = (int(text[:2]) * 60 + int(text[3:]) for text in (start, end))
    found = {at}
    at = (at + 1) % 1440
    while at != stop:
        found.add(at)
        at = (at + 1) % 1440
    return found


CLOCK = st.builds(lambda h, m: f"{h:02}:{m:02}", st.integers(0, 23), st.integers(0, 59))


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(CLOCK, CLOCK, CLOCK, CLOCK)
def test_in_use_where_hours_meet_the_night(make: Any, opens: str, closes: str, start: str, end: str) -> None:
    if start == end:
        return
    rule = door_rule(make, {"start": start, "end": end}, hours={"open": opens, "close": closes})
    assert rule.in_use == bool(minutes(opens, closes) & minutes(start, end))
    assert ("one person minds it" in rule.words) is rule.in_use


@pytest.mark.parametrize(
    ("hours", "night", "used"),
    [
        (("09:00", "21:40"), ("21:30", "05:00"), True),
        (("09:00", "21:30"), ("21:30", "05:00"), False),
        (("18:00", "02:00"), ("01:50", "05:00"), True),
        (("05:00", "09:00"), ("21:30", "05:10"), True),
        (("09:00", "09:10"), ("21:30", "05:00"), False),
    ],
)
def test_hours_that_cross_midnight_and_short_ones(
    make: Any, hours: tuple[str, str], night: tuple[str, str], used: bool
) -> None:
    rule = door_rule(
        make, dict(zip(("start", "end"), night, strict=True)), hours=dict(zip(("open", "close"), hours, strict=True))
    )
    assert rule.in_use is used


def test_what_is_not_known_counts_as_in_use(make: Any) -> None:
    assert door_rule(make).in_use
    assert door_rule(make, hours={"open": "09:00", "close": "10:00"}).in_use
    assert not door_rule(make, tenant="(empty)").in_use


KINDS = (
    "luminaire", "outlet", "camera", "vent", "intake", "lit sign", "sign transformer", "weatherhead", "meter",
    "speaker", "gas riser", "hose tap", "alarm",
)  # fmt: skip


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("rating", [None, "IP65", "IPX9", "wet", "outdoor"])
@pytest.mark.parametrize("isolated_by", [None, "an electrician"])
def test_no_fixture_gets_a_direct_jet(make: Any, kind: str, rating: str | None, isolated_by: str | None) -> None:
    given_facts = {"rating": rating, "isolated_by": isolated_by}
    rule = fixture_rule(make, kind=kind, **{key: value for key, value in given_facts.items() if value})
    assert "no direct jet" in rule.words
    electric = kind not in ("vent", "intake", "meter", "gas riser", "hose tap")
    assert rule.live is (electric and isolated_by is None)


def test_what_else_each_kind_asks_for(make: Any) -> None:
    assert "close and cover" in fixture_rule(make, kind="intake").words
    assert "10 ft" in fixture_rule(make, kind="weatherhead").words
    assert "by hand" in fixture_rule(make, kind="gas riser").words
    assert "taken as live" in fixture_rule(make, kind="lit sign").words
    assert "locked and tested" in fixture_rule(make, kind="lit sign", isolated_by="an electrician").words
    assert "rating unknown" in fixture_rule(make, kind="luminaire").words


def test_walls_left_out_have_no_rules(make: Any) -> None:
    door, lamp = (
        {"id": "d", "left": 1, "width": 3, "height": 7},
        {"id": "l", "kind": "luminaire", "left": 8, "height": 9},
    )
    wall = {"id": "back", "start": [0, 0], "end": [40, 0], "height": 16, "doors": [door], "fixtures": [lamp]}
    for excluded, count in ((None, 1), ("not now", 0)):
        walls = placed_walls(make("site", walls=[{**wall, **({"excluded": excluded} if excluded else {})}]))
        assert len(plan_door_rules(walls, make("conditions"))) == count
        assert len(plan_fixture_rules(walls)) == count
