"""Timelines: the demo, proven best, and three buildings over two nights.

The demo's two nights hold the work; in one night they do not, and then everything is timed: the proof by counting, the
search for what to relax, and the best timeline under the rules that are left. The solver is imported before the clock
starts; its own import is timed apart. Bars: demo proven in under 5 s; three buildings in two nights in under 30 s.
Run: ``./run bench timeline``.
"""

from __future__ import annotations

import importlib
import json
import time
from datetime import date
from pathlib import Path

from sightwash.planning.timeline import Timeline, plan_timeline
from sightwash.planning.visit import plan_visit
from sightwash.site.conditions import Conditions
from sightwash.site.model import Site
from sightwash.site.rates import Rates
from sightwash.site.rig import Rig
from sightwash.site.site_file import document_from, read_document
from sightwash.site.tree import parse

DEMO = Path(__file__).parents[1] / "examples" / "demo"
ON = date(2026, 7, 11)
BUILDING = """
  - {{id: b{k}, outline: [[{x}, 0], [{r}, 0], [{r}, 50], [{x}, 50]], height: 16}}
"""
WALLS = """
  - id: front-{k}
    building: b{k}
    start: [{x}, 0]
    end: [{r}, 0]
    height: 16
    material: stucco
    soiling:
      - {{id: cap-{k}, kind: algae, degree: heavy, bottom: 13, top: 16}}
      - {{id: film-{k}, kind: algae, degree: light, bottom: 0, top: 9}}
    openings:
      - {{id: glass-{k}, kind: glass, left: 5, width: 30, bottom: 2, height: 6}}
    doors:
      - {{id: door-{k}, left: 40, width: 6, height: 7, threshold: 1 in, hours: {{open: "08:00", close: "{close}"}}}}
    projections:
      - {{id: canopy-{k}, kind: canopy, left: 0, width: {w}, bottom: 10, height: 6 in, depth: 5, material: stucco}}
  - {{id: east-{k}, building: b{k}, start: [{r}, 0], end: [{r}, 50], height: 16, material: painted block}}
  - {{id: west-{k}, building: b{k}, start: [{x}, 50], end: [{x}, 0], height: 16, material: painted block}}
"""
WALK = """
  - {{id: walk-{k}, along: front-{k}, width: 9, material: concrete}}
"""
TAP = """
taps:
  - {id: tap, at: [100, 60], flow: 7 gal/min}
"""
CLOSES = ("21:00", "18:00", "20:00")
NIGHT = """
kind: conditions
schema: 1
id: two-nights
start: "19:30"
end: "05:00"
weather: {air_temperature: 74 F, humidity: 60 %, wind_speed: 4 mph}
"""


def three_buildings() -> Site:
    """Return an invented site of three rows of shops."""
    rows = [{"k": k, "x": k * 120, "r": k * 120 + 90, "w": 90, "close": CLOSES[k]} for k in range(3)]
    parts = [
        "kind: site\nschema: 1\nid: three\nname: Three rows\nbuildings:",
        *(BUILDING.format(**row) for row in rows),
    ]
    parts += ["walls:", *(WALLS.format(**row) for row in rows), "surfaces:", *(WALK.format(**row) for row in rows), TAP]
    site = document_from(parse("\n".join(part.strip("\n") for part in parts), "three.yaml"), "site")
    assert isinstance(site, Site)
    return site


def timed(site: Site, rig: Rig, rates: Rates, conditions: Conditions, nights: int) -> tuple[Timeline, float]:
    """Return a timeline and the seconds that it took, the plan of the visit apart."""
    plan = plan_visit(site, rig, rates, conditions, ON)
    start = time.perf_counter()
    found = plan_timeline(
        site,
        rig,
        rates,
        conditions,
        ON,
        plan.methods,
        plan.ground,
        plan.standing,
        plan.hours,
        plan.water,
        nights=nights,
    )
    return found, time.perf_counter() - start


def report(name: str, found: Timeline, seconds: float) -> None:
    """Print one timeline in two lines."""
    gap = "none" if found.gap is None else f"{found.gap:.2%}"
    print(f"{name}: {seconds:.2f} s, {len(found.nights)} nights, ends {found.finish}, gap {gap}, proven {found.proven}")
    print(f"  {'the stated rules hold' if found.holds else '; '.join(found.asks) or '; '.join(found.reasons)}")


def main() -> None:
    """Time both and print the verdict."""
    site, rig, rates, conditions = (
        read_document(DEMO / f"{kind}.yaml", kind) for kind in ("site", "rig", "rates", "conditions")
    )
    assert isinstance(site, Site)
    assert isinstance(rig, Rig)
    assert isinstance(rates, Rates)
    assert isinstance(conditions, Conditions)
    start = time.perf_counter()
    importlib.import_module("ortools.sat.python.cp_model")
    print(f"solver imported in {time.perf_counter() - start:.2f} s")
    demo, demo_seconds = timed(site, rig, rates, conditions, conditions.nights)
    report("demo", demo, demo_seconds)
    short, short_seconds = timed(site, rig, rates, conditions, 1)
    report("demo in one night, which does not hold it", short, short_seconds)
    night = document_from(parse(NIGHT, "night.yaml"), "conditions")
    assert isinstance(night, Conditions)
    three, three_seconds = timed(three_buildings(), rig, rates, night, 2)
    report("three buildings", three, three_seconds)
    value = {
        "demo_seconds": round(demo_seconds, 2),
        "demo_proven": demo.proven,
        "one_night_seconds": round(short_seconds, 2),
        "three_seconds": round(three_seconds, 2),
        "three_nights": len(three.nights),
        "three_gap": None if three.gap is None else round(three.gap, 4),
    }
    bar = {"demo_seconds": 5, "demo_proven": True, "three_seconds": 30, "three_nights": 2}
    proven = demo.proven and demo.holds
    holds = demo_seconds < 5 and proven and three_seconds < 30 and len(three.nights) == 2
    print(json.dumps({"name": "timeline", "value": value, "bar": bar, "holds": holds}))


if __name__ == "__main__":
    main()
