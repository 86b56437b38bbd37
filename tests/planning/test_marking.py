"""Marking take-off, accessible stalls and paint gates: the guide specification's figures and the public table."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from sightwash.basis.units import convert
from sightwash.planning.access import plan_access_check
from sightwash.planning.marking import plan_marking, row_of_stalls
from sightwash.planning.paint_gates import plan_paint_gates
from sightwash.planning.weather import plan_air

ROW = {"id": "row", "at": [0, 0], "toward": "90 deg", "count": 20, "width": 9, "length": 18, "state": "faded"}


def test_twenty_stalls_are_those_of_the_guide_specification(make):
    """UFGS-02763A, section 3 (published): 21 lines of 18 ft, 4 in wide, 105 ft2/gal: 378 ft, 1.20 gal, 7.2 lb beads."""
    plan = plan_marking(make("site", stalls=[ROW]), make("rates"))
    (row,) = plan.stalls
    assert convert(row.line.length, "m", "ft") == pytest.approx(378.0)
    assert convert(row.line.paint, "L", "gal") == pytest.approx(1.2, abs=0.005)
    assert convert(row.line.beads, "kg", "lb") == pytest.approx(7.2, abs=0.05)
    assert convert(row.row, "m", "ft") == pytest.approx(180.0)
    assert row.line.time == pytest.approx(378.0 / 2000.0 * 3600.0)


def test_angled_row_takes_what_a_city_prints(make):
    """Portsmouth VA, parking table (published): 45 degrees, 9 ft: curb 12.7 ft, depth 19.0 ft."""
    (row,) = plan_marking(make("site", stalls=[ROW | {"angle": "45 deg"}]), make("rates")).stalls
    assert convert(row.curb_each, "m", "ft") == pytest.approx(12.7, abs=0.05)
    assert convert(row.depth, "m", "ft") == pytest.approx(19.0, abs=0.1)


def test_stalls_of_a_row_that_was_paced_out():
    """Closed form: 9 ft each square to the aisle, 12.728 ft at 45 degrees."""
    assert row_of_stalls(convert(179, "ft", "m")) == 19
    assert row_of_stalls(convert(129, "ft", "m"), angle=45.0) == 10


def test_kerb_bar_arrow_and_words(make):
    """Closed forms in feet: 50 x 0.5 kerb; 12 x 2 bar in six runs of 4 in; an arrow of 8 ft; I in letters of 12 in."""
    marks = [
        {"id": "kerb", "kind": "kerb", "path": [[0, 0], [50, 0]], "width": "6 in", "fire_lane": True},
        {"id": "bar", "kind": "stop bar", "path": [[0, 5], [12, 5]], "width": "24 in"},
        {"id": "arrow", "kind": "arrow", "path": [[0, 9], [8, 9]], "width": "8 in"},
        {"id": "words", "kind": "letters", "path": [[0, 12], [4, 12]], "text": "I I", "letter_height": "12 in"},
        {"id": "wheel", "kind": "symbol", "path": [[0, 20], [4, 20]]},
    ]
    plan = plan_marking(make("site", markings=marks), make("rates"))
    area = {line.id: line.area and convert(line.area, "m2", "ft2") for line in plan.lines}
    assert area["kerb"] == pytest.approx(25.0)
    assert area["bar"] == pytest.approx(24.0)
    assert area["arrow"] == pytest.approx(0.65 * 8 * 8 / 12 + 0.35 * 8 * 2 / 2)
    assert area["words"] == pytest.approx(2 / 6)
    assert area["wheel"] is None
    times = {line.id: line.time for line in plan.lines}
    assert times["kerb"] == pytest.approx(50 / 200 * 3600)
    assert times["bar"] == pytest.approx(6 * 12 / 2000 * 3600)
    assert plan.lines[4].price is None
    assert any("measure" in note for note in plan.notes)
    assert any("fire marshal" in note for note in plan.notes)
    assert plan.paint == pytest.approx(sum(line.paint or 0.0 for line in plan.lines))


def test_words_with_a_sign_that_has_no_strokes_are_measured_first(make):
    marks = [{"id": "words", "kind": "letters", "path": [[0, 0], [4, 0]], "text": "ÑO"}]
    (line,) = plan_marking(make("site", markings=marks), make("rates")).lines
    assert line.area is None
    assert "measure" in line.words


@pytest.mark.parametrize(
    ("count", "accessible", "van", "short", "vans"),
    [(25, 1, 1, 0, 0), (26, 1, 1, 1, 0), (60, 1, 0, 2, 1), (550, 11, 1, 0, 1), (1001, 20, 4, 1, 0)],
)
def test_counts_against_the_public_table(make, count, accessible, van, short, vans):
    """2010 ADA Standards, 208.2 and 208.2.4 (published): 26 stalls ask for 2, 60 for 3, 550 for 11, 1001 for 21."""
    rows = [ROW | {"count": count, "accessible": accessible, "van": van}]
    check = plan_access_check(make("site", stalls=rows))
    assert (check.short, check.vans_short) == (short, vans)
    assert "not legal advice" in check.words
    assert ("looks short" in check.words) == bool(short or vans)


def test_short_by_one_in_words_and_what_to_measure(make):
    """Section 502 (published): 96 in car stalls, 132 in van stalls or 96 in beside an aisle of 96 in."""
    check = plan_access_check(make("site", stalls=[ROW | {"count": 26, "accessible": 1, "van": 1, "width": 7.5}]))
    assert check.words.startswith("looks short by one: ask the owner and the local authority")
    asked = " ".join(check.questions)
    assert "90 in look narrower than the table's 96 in" in asked
    assert "aisle of 96 in" in asked
    wide = plan_access_check(make("site", stalls=[ROW | {"count": 26, "accessible": 2, "van": 1, "width": 11}]))
    assert "aisle of 96 in" not in " ".join(wide.questions)
    assert plan_access_check(make("site")) is None


def test_gates_of_the_demo_night(demo):
    """UFGS-02763A, section 3 (published): air and pavement from 40 to 95 F, dry and clean, 30 days old."""
    conditions = demo["conditions"]
    dry = datetime(2026, 7, 12, 9, 30, tzinfo=UTC)
    plan = plan_paint_gates(plan_air(conditions), conditions.weather, dry)
    states = {gate.id: gate.state for gate in plan.gates}
    assert plan.may_paint
    assert states["air temperature"] == "open"
    assert states["surface temperature"] == states["dry surface"] == states["age"] == "measure"
    assert "Sun 09:30" in plan.gates[0].words
    hot = replace(conditions, weather=replace(conditions.weather, air_temperature=convert(97, "F", "degC")))
    assert not plan_paint_gates(plan_air(hot), hot.weather, dry).may_paint
    wet = replace(conditions, weather=replace(conditions.weather, rain_chance=0.5))
    shut = plan_paint_gates(plan_air(wet), wet.weather, dry)
    assert "rain" in shut.words
    unknown = replace(conditions, weather=type(conditions.weather)())
    states = {gate.id: gate.state for gate in plan_paint_gates(plan_air(unknown), unknown.weather, None).gates}
    assert set(states.values()) == {"measure"}


def test_paint_is_planned_after_the_slow_end_of_drying(make, demo):
    """The gates' earliest moment is said with the marks; without one, and behind a shut gate, that is said instead."""
    conditions = demo["conditions"]
    dry = datetime(2026, 7, 12, 7, 40)
    site = make("site", stalls=[ROW])

    def first(weather, when):
        gates = plan_paint_gates(plan_air(conditions), weather, when)
        return plan_marking(site, make("rates"), gates).notes[0]

    clear = replace(conditions.weather, rain_chance=0.0)
    assert "not before Sun 07:40" in first(clear, dry)
    assert "look again next day" in first(clear, None)
    assert "no paint: rain" in first(replace(clear, rain_chance=0.6), dry)
    assert not any("not before" in note for note in plan_marking(site, make("rates")).notes)
