"""Time and peak memory of ``plan_visit`` for 1, 2, 5, 10 and 20 copies of the demo side by side.

Every copy brings its own walls, ground and eyes. The growth exponent is the slope of log time over log
copies; the bar is 1.2, and the demo alone, warm, under 0.5 s by the clock; the processor's own time stands beside it,
for on a busy machine the clock counts what others do. Run: ``./run bench plan``.
"""

from __future__ import annotations

import json
import math
import resource
import statistics
import subprocess
import sys
import time
from dataclasses import fields, is_dataclass, replace
from datetime import date
from pathlib import Path
from typing import Any

from sightwash.planning.visit import plan_visit
from sightwash.site.conditions import Conditions
from sightwash.site.model import Site
from sightwash.site.rates import Rates
from sightwash.site.rig import Rig
from sightwash.site.site_file import read_document

DEMO = Path(__file__).parents[1] / "examples" / "demo"
ON = date(2026, 7, 11)
COPIES = (1, 2, 5, 10, 20)
APART = 700 * 0.3048  # each copy keeps its own 680 ft of road
POINTS = ("start", "end", "at", "outline", "path", "holes")
NAMES = ("id", "building", "along", "surface")


def moved(item: Any, dx: float, suffix: str) -> Any:
    """Return an element moved along x, its ids and references made its own."""
    changes: dict[str, Any] = {}
    for field in fields(item):
        value = getattr(item, field.name)
        if field.name in NAMES and isinstance(value, str):
            changes[field.name] = value + suffix
        elif field.name in POINTS and value:
            changes[field.name] = shifted(value, dx)
        elif isinstance(value, tuple) and value and is_dataclass(value[0]):
            changes[field.name] = tuple(moved(part, dx, suffix) for part in value)
    return replace(item, **changes)


def shifted(value: Any, dx: float) -> Any:
    """Return a point, a path or rings moved along x."""
    if isinstance(value[0], tuple):
        return tuple(shifted(part, dx) for part in value)
    return (value[0] + dx, *value[1:])


def side_by_side(site: Site, copies: int) -> Site:
    """Return a site of several copies of one."""
    changes: dict[str, Any] = {}
    for field in fields(site):
        value = getattr(site, field.name)
        if isinstance(value, tuple) and value and is_dataclass(value[0]) and hasattr(value[0], "id"):
            changes[field.name] = tuple(moved(part, k * APART, f"-{k}") for k in range(copies) for part in value)
    return replace(site, **changes)


def measure(copies: int, runs: int) -> None:
    """Print seconds and peak memory of one size, in a process of its own."""
    site, rig, rates, conditions = (
        read_document(DEMO / f"{k}.yaml", k) for k in ("site", "rig", "rates", "conditions")
    )
    assert isinstance(site, Site)
    assert isinstance(rig, Rig)
    assert isinstance(rates, Rates)
    assert isinstance(conditions, Conditions)
    large = side_by_side(site, copies)
    plan_visit(large if copies < 5 else site, rig, rates, conditions, ON)
    times, worked = [], []
    for _ in range(runs):
        start, begun = time.perf_counter(), time.process_time()
        plan_visit(large, rig, rates, conditions, ON)
        times.append(time.perf_counter() - start)
        worked.append(time.process_time() - begun)
    found = {"seconds": statistics.median(times), "processor": statistics.median(worked)}
    print(json.dumps({**found, "mib": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024}))


def main() -> None:
    """Measure every size and print the table and the verdict."""
    found = []
    for copies in COPIES:
        out = subprocess.run([sys.executable, __file__, str(copies)], check=True, capture_output=True, text=True).stdout
        found.append(json.loads(out.splitlines()[-1]))
        row = found[-1]
        taken = f"{row['seconds']:7.2f} s, of the processor {row['processor']:7.2f} s"
        print(f"{copies:3} copies: {taken}, peak {row['mib']:6.0f} MiB", flush=True)
    slope = statistics.linear_regression([math.log(c) for c in COPIES], [math.log(f["seconds"]) for f in found]).slope
    warm = found[0]["seconds"]
    print(f"growth exponent {slope:.2f} (bar 1.2); demo warm {warm:.2f} s (bar 0.5)")
    value = {
        "growth_exponent": round(slope, 3),
        "demo_seconds": round(warm, 3),
        "demo_processor_seconds": round(found[0]["processor"], 3),
        "seconds": [round(f["seconds"], 3) for f in found],
        "peak_mib": [round(f["mib"]) for f in found],
    }
    bar = {"growth_exponent": 1.2, "demo_seconds": 0.5}
    print(json.dumps({"name": "plan", "value": value, "bar": bar, "holds": slope <= 1.2 and warm < 0.5}))


if __name__ == "__main__":
    if len(sys.argv) > 1:
        measure(int(sys.argv[1]), 9 if int(sys.argv[1]) < 5 else 1)
    else:
        main()
