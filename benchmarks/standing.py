"""The standing plan of a 300 ft front with a canopy and 12 doors: proven least, against greedy and the LP bound.

Also the closed-form spot counts of a plain wall. Run: ``./run bench standing``.
"""

from __future__ import annotations

import json
import math
import time
from datetime import date
from pathlib import Path

import numpy as np

from sightwash.planning.methods import plan_methods
from sightwash.planning.missed import plan_missed
from sightwash.planning.sight import plan_sight
from sightwash.planning.standing import no_standing_area, plan_standing, standing_problem
from sightwash.planning.takeoff import plan_wall_takeoff
from sightwash.planning.visit import plan_visit
from sightwash.planning.weather import plan_air
from sightwash.science.set_cover import cheapest_cover, cover_bound, greedy_cover
from sightwash.site.conditions import Conditions
from sightwash.site.model import Site
from sightwash.site.rates import Rates
from sightwash.site.rig import Rig
from sightwash.site.shapes import placed_walls, solids
from sightwash.site.site_file import document_from, read_document
from sightwash.site.tree import parse

DEMO = Path(__file__).parents[1] / "examples" / "demo"
SECONDS, ON = 5.0, date(2026, 7, 11)
PLAIN = ((300, 25, 15, 8), (300, 20, 12, 10), (120, 25, 20, 4), (300, 30, 18, 7))


FRONT = """
kind: site
schema: 1
id: front-300
name: Front of 300 ft
walls:
  - id: front
    start: [0, 0]
    end: [300, 0]
    height: 20
    material: stucco
    soiling:
      - {id: top, kind: algae, degree: heavy, bottom: 17, top: 20}
      - {id: splash, kind: splash, degree: heavy, bottom: 10.5, top: 11.2}
    doors:
%s
    projections:
      - {id: canopy, kind: canopy, left: 0, width: 300, bottom: 10, height: 6 in, depth: 6}
%s
eyes:
  - {id: road, kind: road, path: [[-200, -250], [500, -250]], height: 3.5, speed: 40 mph}
"""
DOOR = "      - {id: door-%d, left: %d, width: 6, height: 7}"
SIGN = "      - {id: sign-%d, kind: blade sign, left: %d, width: 4 in, bottom: 12, height: 4, depth: 3, gap: 6 in}"


def front() -> Site:
    """Return a 300 ft by 20 ft front with a 6 ft canopy, 12 doors, a blade sign each 60 ft, a road 250 ft away."""
    doors = "\n".join(DOOR % (k, 8 + 24 * k) for k in range(12))
    signs = "\n".join(SIGN % (k, 30 + 60 * k) for k in range(5))
    site = document_from(parse(FRONT % (doors, signs), "front-300"))
    assert isinstance(site, Site)
    return site


def plain_counts() -> bool:
    """Return whether the covers of a plain wall are the closed form's: ceil(L / 2 sqrt(R^2 - D^2))."""
    right = True
    for length, reach, out, count in PLAIN:
        half = math.sqrt(reach**2 - out**2)
        places, cells = np.arange(0.0, length + 1.0), np.arange(float(length))
        inside = np.maximum(abs(cells[:, None] - places), abs(cells[:, None] + 1 - places)) <= half + 1e-9
        found = cheapest_cover(np.ones(len(places)), inside)
        print(f"plain wall {length} ft, reach {reach}, {out} out: {len(found.chosen)} spots, closed form {count}")
        right &= len(found.chosen) == count == math.ceil(length / (2 * half)) and found.gap == 0
    return right


def main() -> None:
    """Plan the front and print the figures and the verdict."""
    site = front()
    rig, rates, conditions = (read_document(DEMO / f"{k}.yaml", k) for k in ("rig", "rates", "conditions"))
    assert isinstance(rig, Rig)
    assert isinstance(rates, Rates)
    assert isinstance(conditions, Conditions)
    plan_visit(site, rig, rates, conditions, ON)
    placed = placed_walls(site)[0]
    bodies, forbidden, air = solids(site, (placed,)), no_standing_area(site), plan_air(conditions)
    sight = plan_sight(placed, bodies, site.eyes, site.crew_eye)
    methods = plan_methods(placed, plan_wall_takeoff(placed), rig, air)
    strips = plan_missed(placed, sight, site.eyes, site.crew_eye, rig, forbidden)
    given = (site, placed, methods, strips, rig, rates, air, bodies, forbidden, sight.views)
    start = time.perf_counter()
    plan = plan_standing(*given, most_nodes=50_000)
    taken = time.perf_counter() - start
    problem = standing_problem(*given)
    covers = problem.covers[problem.covered]
    greedy, bound = greedy_cover(problem.costs, covers).cost, cover_bound(problem.costs, covers)
    print(f"{len(problem.places)} places, {len(covers)} pieces: {len(plan.spots)} spots and {len(plan.looks)} looks")
    print(f"least {plan.seconds:.0f} s, gap {plan.gap:.2%}, {taken:.2f} s; greedy {greedy:.0f} s; bound {bound:.0f} s")
    value = {
        "seconds": round(taken, 3),
        "gap": plan.gap,
        "least": round(plan.seconds),
        "greedy": round(greedy),
        "lp_bound": round(bound),
        "greedy_over_least": round(greedy / plan.seconds, 3),
        "plain_counts": plain_counts(),
    }
    bar = {"seconds": SECONDS, "gap": 0.0, "plain_counts": True}
    holds = taken < SECONDS and plan.gap == 0.0 and bool(value["plain_counts"])
    print(json.dumps({"name": "standing", "value": value, "bar": bar, "holds": holds}))


if __name__ == "__main__":
    main()
