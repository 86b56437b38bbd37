"""Split and path of a car park with 5,000 corners on its outline and 200 obstacles, and how both grow.

    PYTHONPATH=src .venv/bin/python benchmarks/ground.py        or  ./run bench ground

The car park is made here from a fixed seed: kerbs that bend and are measured to a centimetre or so, posts, bollards and
planters; no third-party map is in the repository. Each size is split into reached, trim and left over for a 20 in
cleaner with a 1 in shroud gap, and a path is laid over the reached part. The peer is a general-purpose geometry library
(shapely, GEOS): erosion and dilation by ``buffer`` with as many chords; it lays no path. What a check of the path at
random points says is printed too. The verdict is on the harder case: 5,000 corners on the outline alone, those of the
obstacles not counted. Times are processor time of the one thread that works, so that a busy machine shows
less in them; median of three runs after a cold one. The last line is one JSON object; exit 0.
"""

from __future__ import annotations

import json
import math
import platform
import statistics
import time
from collections.abc import Callable
from typing import Any

import numpy as np
import shapely
import shapely.affinity

from sightwash.science.coverage import ReachSplit, reach_split
from sightwash.science.ground_time import overlapped_path
from sightwash.science.passes import shortest_path
from sightwash.science.sweep import LaidPath, head_ground, lay_path

SEED = 20240601
BAR = 2.0
RADIUS, GAP, OVERLAP = 0.254, 0.0254, 0.12
SIZES = (625, 1250, 2500, 5000)
CORNERS_OF_A_POST = 16
EXTRA_OUTLINE = 5000


def car_park(corners: int, obstacles: int, on_outline: int | None = None) -> shapely.Polygon:
    """Return a car park of about so many corners in all, or with so many on its outline alone."""
    random = np.random.default_rng(SEED)
    scale = math.sqrt(obstacles / 200.0)
    wide, deep = 120.0 * scale, 80.0 * scale
    things = _obstacles(random, obstacles, wide, deep)
    inner = sum(len(thing.exterior.coords) - 1 for thing in things)
    count = on_outline or corners - inner
    along = np.linspace(0.0, 2.0 * (wide + deep), count, endpoint=False)
    x = np.clip(along, 0, wide) - np.clip(along - wide - deep, 0, wide)
    y = np.clip(along - wide, 0, deep) - np.clip(along - 2 * wide - deep, 0, deep)
    rough = random.normal(0.0, 0.01, (2, count))
    outline = np.column_stack([x + 0.4 * np.sin(y / 9.0) + rough[0], y + 0.3 * np.sin(x / 14.0) + rough[1]])
    return shapely.Polygon(outline, [thing.exterior.coords for thing in things])


def _obstacles(random: np.random.Generator, count: int, wide: float, deep: float) -> list[shapely.Polygon]:
    """Return posts, bollards and planters that do not touch: three round ones to one planter."""
    found: list[shapely.Polygon] = []
    while len(found) < count:
        x, y = random.uniform((2.0, 2.0), (wide - 2.0, deep - 2.0))
        if random.integers(4) == 0:
            planter = shapely.box(x - 2.5, y - 1.0, x + 2.5, y + 1.0)
            thing = shapely.affinity.rotate(planter, 90.0 * float(random.integers(2)))
        else:
            thing = shapely.Point(x, y).buffer(random.uniform(0.08, 0.4), quad_segs=CORNERS_OF_A_POST // 4)
        clear = shapely.box(0.7, 0.7, wide - 0.7, deep - 0.7).contains(thing)
        if clear and all(thing.distance(other) > 0.1 for other in found):
            found.append(thing)
    return found


def peer_split(ground: shapely.Polygon) -> tuple[Any, Any, Any]:
    """Return the same three parts by the general library's buffers."""
    bare = ground.buffer(-RADIUS, quad_segs=48).buffer(RADIUS, quad_segs=48).intersection(ground)
    kept = ground.buffer(-RADIUS - GAP, quad_segs=48).buffer(RADIUS, quad_segs=48).intersection(ground)
    return kept, bare.difference(kept), ground.difference(bare)


def path_of(ground: shapely.Polygon, split: ReachSplit) -> LaidPath:
    """Return the path over what the cleaner reaches."""
    return lay_path(head_ground(ground, RADIUS, GAP), split.reached, RADIUS, 90.0, OVERLAP)


def timed(work: Callable[[], Any], repeats: int = 3) -> tuple[float, Any]:
    """Return the median time of runs after a cold one, and the result."""
    result = work()
    times = []
    for _ in range(repeats):
        start = time.process_time()
        result = work()
        times.append(time.process_time() - start)
    return statistics.median(times), result


def unswept_share(split: ReachSplit, path: LaidPath, points: int = 40_000) -> float:
    """Return the share of random points, 4 mm inside what is claimed, that lie outside the swept ground."""
    claimed = split.reached.difference(path.missed).buffer(-0.004)
    random = np.random.default_rng(SEED)
    low_x, low_y, high_x, high_y = claimed.bounds
    places = random.uniform((low_x, low_y), (high_x, high_y), (points, 2))
    shapely.prepare(claimed)
    places = places[shapely.contains_xy(claimed, *places.T)]
    lines = [line for line, kind in zip(path.lines, path.kinds, strict=True) if kind != "carry"]
    ends = np.vstack([np.hstack([c[:-1], c[1:]]) for c in (np.asarray(line.coords) for line in lines)])
    tree = shapely.STRtree(np.asarray(shapely.linestrings(ends.reshape(-1, 2, 2))))
    near = tree.query(np.asarray(shapely.points(places)), predicate="dwithin", distance=RADIUS + 1e-6)[0]
    return 1.0 - len(np.unique(near)) / len(places)


def measured(name: str, ground: shapely.Polygon) -> tuple[int, float]:
    """Print one row and return the ground's corners and the time of split and path."""
    corners = int(shapely.get_num_coordinates(ground)) - 1 - len(ground.interiors)
    split_time, split = timed(lambda: reach_split(ground, RADIUS, GAP))
    path_time, path = timed(lambda: path_of(ground, split))
    peer_time, peer = timed(lambda: peer_split(ground), 1)
    apart = max(float(one.symmetric_difference(other).area) for one, other in zip(split, peer, strict=True))
    bound = shortest_path(split.reached.area, 2.0 * RADIUS)
    aim = overlapped_path(split.reached.area, 2.0 * RADIUS, 1.0 - path.pitch / (2.0 * RADIUS))
    print(
        f"{name:<22}{corners:>8,}{len(ground.interiors):>6}{ground.area:>9,.0f}{split_time:>9.3f}{path_time:>9.3f}"
        f"{split_time + path_time:>9.3f}{peer_time:>9.3f}{apart:>11.4f}{path.length / bound:>9.2f}"
        f"{path.length / aim:>8.2f}{path.missed.area:>9.3f}{unswept_share(split, path):>10.5f}"
    )
    return corners, split_time + path_time


def main() -> None:
    """Measure every size, then the verdict."""
    print(f"Python {platform.python_version()}, shapely {shapely.__version__}, GEOS {shapely.geos_version_string}\n")
    print(
        f"{'car park':<22}{'corners':>8}{'posts':>6}{'m2':>9}{'split s':>9}{'path s':>9}{'both s':>9}{'peer s':>9}"
        f"{'apart m2':>11}{'x bound':>9}{'x aim':>8}{'left m2':>9}{'unswept':>10}"
    )
    rows = [measured(f"{size:,} corners", car_park(size, size // 25)) for size in SIZES]
    hardest = measured("outline of 5,000", car_park(0, 200, EXTRA_OUTLINE))
    logs = np.log(np.array(rows, dtype=float))
    growth = float(np.polyfit(logs[:, 0], logs[:, 1], 1)[0])
    value = max(rows[-1][1], hardest[1])
    print(f"\ngrowth: time goes with corners to the power of {growth:.2f}")
    print(
        "peer s: the split alone by the library's buffers, which round concave kerbs; apart: largest part's difference"
    )
    print("x bound: length of the path over the least that any path needs; x aim: over that with the overlap as laid")
    verdict = {"name": "ground", "value": round(value, 3), "bar": BAR, "holds": value < BAR, "unit": "s"}
    print(json.dumps(verdict | {"growth": round(growth, 2)}))


if __name__ == "__main__":
    main()
