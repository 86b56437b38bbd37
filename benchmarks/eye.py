"""Time of one frame while an eye is dragged over the demo site.

    PYTHONPATH=src .venv/bin/python benchmarks/eye.py

An eye goes round the property, low and high, near and far, and between a column and the wall, and at every place:

  walls   ``look_from``: seen, hidden, covered and missed parts of every wall      bar: under 100 ms a frame
  view    ``plan_eye_scene``: the seen polygon of every facet, for the picture     bar: under 100 ms a frame

Both are warm: the crew's own sight does not change as the eye moves and is worked out once, its time is printed; a
frame without it is measured too. What counts is the slowest frame's time on the processor, which is its time by the
clock where nothing else runs; the clock's is printed beside it. Each frame is the quicker of two runs. The last line is
one JSON object.
"""

from __future__ import annotations

import json
import math
import platform
import statistics
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np
import shapely

from sightwash.planning.eye_view import Place, plan_eye_scene
from sightwash.planning.live import crew_regions, look_from
from sightwash.site.shapes import placed_walls, solids
from sightwash.site.site_file import read_site

DEMO = Path(__file__).parents[1] / "examples" / "demo" / "site.yaml"
FOOT = 0.3048
BAR = 100.0


def dragged_eyes() -> list[Place]:
    """Return places in feet turned to metres: three rings round the lot, the road, the walk, and tight corners."""
    rings = ((60.0, 3.5), (150.0, 5.25), (300.0, 40.0))
    around = [
        (100 + 1.6 * reach * math.cos(turn), 25 + reach * math.sin(turn), height)
        for reach, height in rings
        for turn in np.linspace(0.0, 2 * math.pi, 16, endpoint=False).tolist()
    ]
    road = [(x, -300.0, 3.5) for x in range(-250, 420, 60)]
    walk = [(x, -7.5, 5.25) for x in range(5, 160, 15)]
    tight = [(31.5, -4.0, 5.25), (31.5, -4.9, 5.0), (80.0, -3.0, 12.0), (46.2, -5.0, 14.0), (80.0, 30.0, 26.0)]
    return [(x * FOOT, y * FOOT, z * FOOT) for x, y, z in (*around, *road, *walk, *tight)]


def frame_times(work: Callable[[Place], object], eyes: list[Place]) -> tuple[list[float], list[float]]:
    """Return the time of each frame in ms on the processor and by the clock, after a cold run at the first eye."""
    work(eyes[0])
    busy, clock = [], []
    for eye in eyes:
        runs = []
        for _ in range(2):
            start = time.process_time(), time.perf_counter()
            work(eye)
            runs.append((time.process_time() - start[0], time.perf_counter() - start[1]))
        busy.append(1000.0 * min(run[0] for run in runs))
        clock.append(1000.0 * min(run[1] for run in runs))
    return busy, clock


def main() -> None:
    site = read_site(DEMO)
    walls = placed_walls(site)
    bodies = solids(site, walls)
    eyes = dragged_eyes()
    start = time.perf_counter()
    crew = crew_regions(site, walls, bodies)
    machine = f"{platform.machine()}, Python {platform.python_version()}"
    print(f"{machine}, numpy {np.__version__}, shapely {shapely.__version__}")
    print(
        f"{len(walls)} walls, {len(bodies)} solids, {len(eyes)} eyes; the crew's sight, once: "
        f"{1000 * (time.perf_counter() - start):.1f} ms"
    )
    worst = {}
    for name, work in (
        ("walls", lambda eye: look_from(site, walls, bodies, eye, crew)),
        ("walls, crew anew", lambda eye: look_from(site, walls, bodies, eye)),
        ("view", lambda eye: plan_eye_scene(site, walls, bodies, eye)),
    ):
        busy, clock = frame_times(work, eyes if "anew" not in name else eyes[::8])
        worst[name] = max(busy)
        print(
            f"{name}: median {statistics.median(busy):.1f} ms, slowest {max(busy):.1f} ms; by the clock "
            f"{statistics.median(clock):.1f} and {max(clock):.1f} ms"
        )
    value = {name: round(worst[name], 1) for name in ("walls", "view")}
    print(json.dumps({"name": "eye", "value": value, "bar": BAR, "unit": "ms", "holds": max(value.values()) < BAR}))


if __name__ == "__main__":
    main()
