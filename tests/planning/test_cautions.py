"""Cautions: each fact that can hurt somebody raises its own, and none stands without its fact.

Which fact calls for which caution is set down here by hand from the sources that the cautions name (29 CFR 1910.333 for
overhead lines, 49 CFR 173.6 for carriage, the rest common practice, no source): an own list, not read from the table.
"""

from __future__ import annotations

import csv
import json
from importlib import resources
from typing import Any

import pytest

from sightwash.basis.sources import register
from sightwash.planning import cautions
from sightwash.planning.visit import VisitPlan

QUIET: dict[str, dict[str, Any]] = {
    "site": {
        "walls": [{"id": "front", "start": [0, 0], "end": [60, 0], "height": 8, "material": "brick"}],
        "eyes": [{"id": "lot", "kind": "walk", "path": [[30, -40]]}],
    },
    "rig": {},
    "rates": {},
    "conditions": {
        "start": "10:00",
        "end": "11:00",
        "weather": {"air_temperature": "70 F", "humidity": "50 %", "wind_speed": "2 mph"},
    },
}
BLEACH = {"strength": "12.5 trade %", "dated": "2026-07-01"}
TIPS = [{"id": "soap", "size": 40, "fan": 25, "use": "soap"}, {"id": "throw", "size": 40, "use": "soap"}]
SQUARE = [[70, 0], [80, 0], [80, 10], [70, 10]]


def wall(**more: Any) -> dict[str, Any]:
    return {"walls": [{**QUIET["site"]["walls"][0], **more}]}


def weather(**more: Any) -> dict[str, Any]:
    return {"weather": {**QUIET["conditions"]["weather"], **more}}


def fixture(kind: str) -> dict[str, Any]:
    return {"site": wall(fixtures=[{"id": "thing", "kind": kind, "left": 5, "height": 7, "isolated_by": "the owner"}])}


def surface(**more: Any) -> dict[str, Any]:
    return {"site": {"surfaces": [{"id": "pad", "outline": SQUARE, **more}]}}


def drain(leads_to: str) -> dict[str, Any]:
    return {"site": {"drains": [{"id": "grate", "at": [20, -20], "leads_to": leads_to}]}}


BLEACHED = {"bleach-skin", "never-mix", "bleach-air", "claims"}
CANOPY = {
    "id": "canopy", "kind": "canopy", "left": 0, "width": 60, "bottom": 9, "height": "6 in", "depth": 6,
}  # fmt: skip
LADDER = {
    "site": {**wall(height=16, projections=[CANOPY]), "keep_outs": [
        {"id": "yard", "outline": [[-500, -600], [600, -600], [600, -10], [-500, -10]], "reason": "fenced"}]},
    "rig": {"ladders": [{"id": "tall", "step_height": 12}]},
}  # fmt: skip
LINE = {"id": "drop", "start": [0, -9, 20], "end": [60, -9, 20]}
RAISED: list[tuple[str, dict[str, Any], set[str]]] = [
    ("overhead line", {"site": {"overhead_lines": [LINE]}}, {"power-line"}),
    ("weatherhead", fixture("weatherhead"), {"power-line"}),
    ("luminaire", fixture("luminaire"), {"live-circuits", "fixtures"}),
    ("outlet", fixture("outlet"), {"live-circuits", "fixtures"}),
    ("lit sign", fixture("lit sign"), {"live-circuits", "fixtures"}),
    ("sign transformer", fixture("sign transformer"), {"live-circuits", "fixtures"}),
    ("air intake", fixture("intake"), {"intake"}),
    ("storm drain", drain("storm"), {"storm-drain"}),
    ("drain that leads nobody knows where", drain("unknown"), {"storm-drain"}),
    ("sanitary drain", drain("sanitary"), set()),
    ("ground with no agreed place for water", surface(), {"no-discharge", "wet-walk"}),
    ("ground that is not washed", surface(wash=False), set()),
    ("drive", surface(use="drive", wash=False), {"traffic"}),
    ("stalls", surface(use="stalls", wash=False), {"traffic"}),
    ("fire lane", surface(use="fire lane", wash=False), {"traffic"}),
    ("old paint that flakes", {"site": wall(paint={"state": "flaking", "before_1978": True})}, {"paint-1978"}),
    ("old paint that is sound", {"site": wall(paint={"state": "sound", "before_1978": True})}, {"paint-1978"}),
    ("paint of unknown age that chalks", {"site": wall(paint={"state": "chalking"})}, {"paint-1978"}),
    ("new paint that chalks", {"site": wall(paint={"state": "chalking", "before_1978": False})}, set()),
    ("asbestos", {"site": wall(material="suspect asbestos cement")}, {"asbestos"}),
    ("frost before it is dry", {"conditions": weather(coldest_before_dry="30 F")}, {"freeze"}),
    ("frost now", {"conditions": weather(air_temperature="25 F", coldest_before_dry="40 F")}, {"freeze"}),
    ("a mild night", {"conditions": weather(coldest_before_dry="45 F")}, set()),
    ("night", {"conditions": {"start": "22:00"}}, {"night"}),
    ("wind", {"conditions": weather(wind_speed="9 mph")}, {"wind"}),
    ("planting", {"site": {"planting": [{"id": "bed", "outline": SQUARE}]}}, {"plants"}),
    ("door", {"site": wall(doors=[{"id": "door", "left": 5, "width": 3, "height": 7}])}, {"doors"}),
    ("bleach", {"rig": {"bleach": BLEACH}}, BLEACHED),
    ("ladder", LADDER, {"ladder"}),
    ("a jet thrown up", {"site": wall(height=16), "rig": {"tips": TIPS}}, {"upward"}),
]  # fmt: skip
ALWAYS = {"jet", "codes"}


def plan_with(make: Any, facts: dict[str, Any]) -> VisitPlan:
    documents = {kind: {**base, **facts.get(kind, {})} for kind, base in QUIET.items()}
    plan: VisitPlan = make.visit(**documents)
    return plan


def raised(plan: VisitPlan) -> set[str]:
    return {caution.id for caution in plan.cautions if not caution.id.startswith("gap-")}


def test_a_quiet_place_raises_none(make: Any) -> None:
    assert raised(plan_with(make, {})) == ALWAYS


@pytest.mark.parametrize(("facts", "expected"), [case[1:] for case in RAISED], ids=[case[0] for case in RAISED])
def test_each_fact_raises_its_own(make: Any, facts: dict[str, Any], expected: set[str]) -> None:
    assert raised(plan_with(make, facts)) == ALWAYS | expected


def test_an_agreed_place_for_the_water_lifts_the_stop(make: Any) -> None:
    facts = surface()
    facts["site"]["local"] = {"discharge": "to the clean-out, agreed in writing"}
    assert raised(plan_with(make, facts)) == ALWAYS | {"wet-walk"}


def test_much_bleach_on_the_road(make: Any) -> None:
    """More than 8 gal: 3 % over 15,000 ft2 of block at 80 ft2 a gallon, twice, from 12.5 %, is far above it."""
    heavy = wall(
        material="block", end=[900, 0], height=16, soiling=[{"id": "growth", "kind": "algae", "degree": "heavy"}]
    )
    plan = plan_with(make, {"site": heavy, "rig": {"bleach": BLEACH}})
    assert plan.mixes.stock > 8 * 3.785411784
    assert "carriage" in raised(plan)
    small = plan_with(make, {"rig": {"bleach": BLEACH}})
    assert small.mixes.stock < 8 * 3.785411784
    assert "carriage" not in raised(small)


def test_a_jet_that_pushes_hard(make: Any) -> None:
    """40 gal/min through size 40 at 3000 psi: 0.0526 x 34.6 x sqrt(3000) = 100 lbf, far above 150 N (rule of thumb)."""
    machine = {"flow": "40 gal/min", "pressure": "3500 psi"}
    rig = {
        "machine": machine, "surface_cleaners": [{"id": "head", "diameter": "30 in"}],
        "tips": [{"id": "bar", "size": 40, "use": "cleaner"}],
        "hoses": [{"id": "reel", "length": "50 ft", "bore": "1 in"}],
    }  # fmt: skip
    facts = {"rig": rig, **surface(material="concrete")}
    assert "recoil" in raised(plan_with(make, facts))


def test_what_stops_the_work_stands_first(demo_plan: VisitPlan) -> None:
    stops = [caution.stop for caution in demo_plan.cautions]
    assert stops == sorted(stops, reverse=True)
    assert any(stops)
    assert not all(stops)
    stopping = {caution.id for caution in demo_plan.cautions if caution.stop}
    assert {"power-line", "live-circuits", "storm-drain"} <= stopping


def test_stops_go_first_however_the_table_is_sorted(
    demo: Any, demo_plan: VisitPlan, monkeypatch: pytest.MonkeyPatch
) -> None:
    rules = cautions._rules()
    monkeypatch.setattr(cautions, "_rules", lambda: rules[::-1])
    tips = (*demo_plan.water.tips, *(m.rinse for m in demo_plan.methods if m.rinse is not None))
    found = cautions.plan_cautions(
        demo["site"], demo["conditions"], demo_plan.air, demo_plan.mixes, tips, demo_plan.standing, demo_plan.gaps
    )
    stops = [caution.stop for caution in found]
    assert stops == sorted(stops, reverse=True)
    assert stops[0]
    assert not stops[-1]


def test_every_safety_gap_is_a_caution(make: Any) -> None:
    plan = make.visit()
    gaps = {f"gap-{gap.key}" for gap in plan.gaps if gap.safety}
    assert gaps
    assert gaps == {caution.id for caution in plan.cautions if caution.id.startswith("gap-")}


def test_every_caution_names_a_known_source_and_what_it_is_about(demo_plan: VisitPlan) -> None:
    for caution in demo_plan.cautions:
        assert caution.words
        assert caution.about
        assert caution.sources
        assert set(caution.sources) <= set(register())


def test_every_rule_of_the_table_can_be_raised(make: Any) -> None:
    """No row of the table is dead: each is raised by one of the facts above."""
    text = resources.files("sightwash").joinpath("data", "cautions.csv").read_text(encoding="utf-8")
    rows = list(csv.DictReader(text.splitlines()))
    covered = ALWAYS | {"carriage", "recoil"}.union(*(expected for _, _, expected in RAISED))
    assert {row["id"] for row in rows} == covered
    assert all(set(row["sources"].split()) <= set(register()) for row in rows)
    json.dumps(rows)
    assert make
