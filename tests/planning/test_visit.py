"""A whole visit: every line with its why, every source known, gaps and limits, the same plan each time.

The rules are the project's own (``docs/floors.md``, ``docs/smallest.md``); sums are worked by hand beside each check.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from datetime import date, datetime, time
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sightwash.basis.errors import InputError, NoFeasiblePlan
from sightwash.basis.sources import Why, register
from sightwash.planning.visit import VisitPlan, plan_visit
from sightwash.site.site_file import document_from
from sightwash.site.starting_site import starting_site
from sightwash.site.tree import parse

FOOT = 0.3048


def walked(value: Any, path: str = "plan") -> Iterator[tuple[str, Any]]:
    """Yield every record of a plan with the way to it."""
    if is_dataclass(value):
        yield path, value
        for field in fields(value):
            yield from walked(getattr(value, field.name), f"{path}.{field.name}")
    elif isinstance(value, tuple):
        for number, item in enumerate(value):
            yield from walked(item, f"{path}[{number}]")


def reasons(record: Any) -> list[tuple[str, tuple[str, ...]]] | None:
    """Return the reasons that a record carries and their sources; None if its kind carries none."""
    if "why" not in {field.name for field in fields(record)}:
        return None
    if isinstance(record.why, str):
        return [(record.why, record.sources)]
    whys = [record.why] if isinstance(record.why, Why) else record.why
    return [(why.rule, why.sources) for why in whys]


def test_every_planned_line_says_why(demo_plan: VisitPlan) -> None:
    kinds = set()
    for path, record in walked(demo_plan):
        whys = reasons(record)
        if whys is None:
            continue
        kinds.add(type(record).__name__)
        assert whys, path
        for rule, sources in whys:
            assert rule.strip(), path
            assert sources, path
    assert kinds >= {
        "WallSight", "MissedStrip", "WallPatch", "ProjectionFace", "GroundPart", "GumWork", "BleachToday",
        "SurfaceMethod", "TipPoint", "Standing", "StandingSpot", "Mix", "Task", "Hours", "WaterUse", "WaterPlan",
        "CostLine", "Price", "AddOn", "Exclusion", "DoorRule", "FixtureRule", "Drift",
    }  # fmt: skip


def test_every_source_is_in_the_register(demo_plan: VisitPlan) -> None:
    known = set(register())
    named = {
        source
        for _, record in walked(demo_plan)
        for source in getattr(record, "sources", ())
        if isinstance(source, str)
    }
    assert len(named) > 20
    assert named <= known


PLAIN = (str, int, float, bool, Decimal, date, time, datetime, type(None))


def leaves(value: Any, path: str) -> Iterator[tuple[str, Any]]:
    if isinstance(value, tuple):
        for number, item in enumerate(value):
            yield from leaves(item, f"{path}[{number}]")
    elif not is_dataclass(value):
        yield path, value


def test_a_plan_is_plain_data(make: Any, demo_plan: VisitPlan) -> None:
    """No array, list or number of another library's own kind; a float's subclass is a float."""
    for plan in (demo_plan, make.visit()):
        for path, record in walked(plan):
            for field in fields(record):
                for place, value in leaves(getattr(record, field.name), f"{path}.{field.name}"):
                    assert isinstance(value, PLAIN), f"{place} is a {type(value)}"


def smallest(units: str = "us", length: str = "120 ft", height: str = "18 ft", walk: str = "8 ft") -> Any:
    return document_from(parse(starting_site("Seven Elms", length, height, walk, units), "new.yaml"), "site")


def test_the_smallest_site_gets_a_price(make: Any) -> None:
    """120 ft of front 18 ft high and a walk of 8 ft: 2160 and 960 ft2, and a list of what is not known."""
    plan = plan_visit(smallest(), make("rig"), make("rates"), make("conditions"), date(2026, 7, 11))
    assert plan.price.price > Decimal(0)
    (wall,), (walk,) = plan.walls, plan.ground
    assert wall.net / FOOT**2 == pytest.approx(2160)
    assert walk.area / FOOT**2 == pytest.approx(960)
    keys = {gap.key for gap in plan.gaps}
    assert {"place.latitude", "walls[0].material", "walls[0].start", "surfaces[0].material", "eyes"} <= keys
    assert {"hoses", "tips", "bleach", "production", "weather", "start"} <= keys
    for gap in plan.gaps:
        assert gap.changes
        assert gap.taken
    assert {part.amount for part in plan.price.scope} != {Decimal(0)}


def test_the_same_place_in_feet_and_in_metres(make: Any) -> None:
    """120 ft is 36.576 m, 18 ft is 5.4864 m, 8 ft is 2.4384 m."""
    us = plan_visit(smallest(), make("rig"), make("rates"), make("conditions"), date(2026, 7, 11))
    metric = plan_visit(
        smallest("metric", "36.576", "5.4864", "2.4384"), make("rig"), make("rates"), make("conditions"), us.on
    )
    assert metric.price.price == us.price.price
    assert metric.hours.labour_mean == pytest.approx(us.hours.labour_mean, rel=1e-9)
    assert metric.water.total == pytest.approx(us.water.total, rel=1e-9)


@pytest.mark.parametrize(
    "site", [{"walls": []}, {"walls": [{"id": "front"}]}, {"walls": [], "surfaces": [{"id": "pad"}]}]
)
def test_nothing_to_plan_says_what_was_tried(make: Any, site: dict[str, Any]) -> None:
    with pytest.raises(NoFeasiblePlan) as caught:
        make.visit(site=site)
    assert caught.value.tried
    assert all(word in str(caught.value) for word in caught.value.tried)


def test_ground_alone_is_enough(make: Any) -> None:
    pad = {"id": "pad", "outline": [[0, 0], [20, 0], [20, 10], [0, 10]], "material": "concrete"}
    plan = make.visit(site={"walls": [], "surfaces": [pad]})
    assert [part.part for part in plan.price.scope] == ["pad"]
    assert plan.sight == ()


def test_the_same_inputs_give_the_same_plan(make: Any) -> None:
    canopy = {"id": "canopy", "kind": "canopy", "left": 0, "width": 60, "bottom": 9, "height": 0.5, "depth": 6}
    site = {
        "walls": [{"id": "front", "start": [0, 0], "end": [60, 0], "height": 16, "projections": [canopy]}],
        "eyes": [{"id": "road", "kind": "road", "path": [[-50, -90], [110, -90]], "speed": "30 mph"}],
    }
    assert make.visit(site=site) == make.visit(site=site)


def test_the_effort_changes_no_figure_that_is_exact(demo: dict[str, Any], demo_plan: VisitPlan) -> None:
    proven = plan_visit(*demo.values(), demo_plan.on, "proven")
    assert proven.walls == demo_plan.walls
    assert proven.ground == demo_plan.ground
    assert proven.mixes == demo_plan.mixes
    for quick, thorough in zip(demo_plan.standing, proven.standing, strict=True):
        assert thorough.seconds <= quick.seconds + 1e-6
        assert thorough.bound >= quick.bound - 1e-6
        assert thorough.bound <= thorough.seconds + 1e-6


def test_water_adds_up(demo_plan: VisitPlan) -> None:
    """What the tasks use and what the mixes take is the total; the tap's 8 gal/min beat the machine's 5.5: no stop."""
    water = demo_plan.water
    assert sum(use.volume for use in water.uses) + water.mix_water == pytest.approx(water.total)
    assert water.mix_water == pytest.approx(sum(mix.water for mix in demo_plan.mixes.mixes))
    assert water.carried / 3.785411784 == pytest.approx(325)
    assert water.refills == 0
    assert max(use.flow for use in water.uses) / 3.785411784 * 60 < 8
    chlorine = sum(mix.stock * mix.stock_strength for mix in demo_plan.mixes.mixes) * 1e-6
    assert water.chlorine == pytest.approx(chlorine, rel=1e-9)
    assert all("cover it" in words for words in water.drains if "storm" in words)


def test_no_hypochlorite_without_bleach(make: Any) -> None:
    plan = make.visit()
    assert plan.bleach is None
    assert plan.mixes.mixes == ()
    assert plan.mixes.cannot
    assert plan.water.neutraliser_mass == 0.0


WEATHERS = {
    "air_temperature": ["-40 F", "20 F", "70 F", "140 F"], "humidity": ["0 %", "55 %", "100 %"],
    "wind_speed": ["0 mph", "4 mph", "85 mph"], "wind_from": ["-360 deg", "90 deg"],
    "coldest_before_dry": ["-40 F", "50 F"],
}  # fmt: skip
MACHINES = {
    "flow": ["0.05 gal/min", "5.5 gal/min", "60 gal/min"], "pressure": ["5 psi", "3500 psi", "10000 psi"],
    "engine_speed": ["20 %", "50 %", "100 %"],
}  # fmt: skip


def some_of(table: dict[str, list[str]]) -> st.SearchStrategy[dict[str, str]]:
    return st.fixed_dictionaries({}, optional={key: st.sampled_from(values) for key, values in table.items()})


@settings(max_examples=25)
@given(
    weather=some_of(WEATHERS),
    machine=some_of(MACHINES),
    hose=st.tuples(st.sampled_from(["1 ft", "1000 ft"]), st.sampled_from(["1/16 in", "3/8 in", "4 in"])),
    tips=st.lists(st.tuples(st.sampled_from([0.5, 4, 40, 100]), st.sampled_from([0, 25, 120])), max_size=2),
    strength=st.sampled_from(["0.001 trade %", "1 g/L", "12.5 trade %", "199 g/L"]),
    stored=st.sampled_from(["-22 F", "70 F", "140 F"]),
    head=st.sampled_from(["8 in", "20 in", "60 in"]),
    wall=st.tuples(st.sampled_from(["3 ft", "16 ft", "120 ft"]), st.sampled_from(["1 ft", "60 ft", "600 ft"])),
    hours=st.sampled_from([("00:00", "00:30"), ("12:30", "14:00"), ("23:59", "01:00")]),
)
def test_whatever_may_be_written_is_planned(make: Any, **v: Any) -> None:
    """The ends of every range that the reader allows: a plan comes out, with money and times that are finite."""
    height, length = v["wall"]
    wall = {"id": "front", "start": [0, 0], "end": [length, 0], "height": height, "material": "stucco"}
    plan = make.visit(
        site={"walls": [wall], "surfaces": [{"id": "walk", "along": "front", "width": 8, "material": "concrete"}]},
        rig={
            "machine": {"flow": "5.5 gal/min", "pressure": "3500 psi", **v["machine"]},
            "hoses": [{"id": "reel", "length": v["hose"][0], "bore": v["hose"][1]}],
            "tips": [{"id": f"tip-{k}", "size": size, "fan": fan} for k, (size, fan) in enumerate(v["tips"])],
            "bleach": {"strength": v["strength"], "dated": "2026-01-11", "storage_temperature": v["stored"]},
            "surface_cleaners": [{"id": "head", "diameter": v["head"]}],
        },
        conditions={"start": v["hours"][0], "end": v["hours"][1], "weather": v["weather"]},
    )
    for path, record in walked(plan):
        for field in fields(record):
            value = getattr(record, field.name)
            assert not isinstance(value, float) or abs(value) < 1e15, f"{path}.{field.name} is {value}"
    assert plan.price.price >= 0


def test_a_document_that_contradicts_the_day_is_refused(make: Any) -> None:
    with pytest.raises(InputError):
        make.visit(rig={"bleach": {"strength": "12.5 trade %", "dated": "2027-01-01"}})
