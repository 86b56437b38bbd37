"""Speed of exact sight against ray casting, and of sight along a road.

    PYTHONPATH=src .venv-peers/bin/python benchmarks/sight.py

One run measures, on the same wall and the same 200 eyes:

  polygons   exact hidden polygons, no cells             bar: 100 times faster than trimesh over embreex
  cells      the full matrix of 1-inch cells from them    bar:  40 times faster than trimesh over embreex
  road       40 walls, 60 obstacles, a 1,000 ft road      bar: under 1 s, gap at most 0.1 % on every wall

The peers cast one ray for each eye and cell: trimesh with embreex (its own call), embreex bare, and Open3D's
RaycastingScene. They are general-purpose libraries in float32; a cell whose centre lies on a shadow's edge may differ.
Our times are the median of five runs after a cold one, which is printed too, taken before and after the peers, and
the slower counts; a peer runs once over all eyes after a warm-up on one. The last line is one JSON object.
"""

from __future__ import annotations

import importlib.metadata
import importlib.util
import json
import platform
import statistics
import time
from collections.abc import Callable
from typing import Any, NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from sightwash.science.facets import make_frame
from sightwash.science.pathsight import PathSight, path_sight
from sightwash.science.sight_cells import Grid, unseen_cells
from sightwash.science.visibility import hidden_shapes

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

FOOT = 0.3048
LENGTH, HEIGHT, CELL = 300.0, 24.0, 1 / 12
GRID = Grid(0.0, 0.0, CELL, 3600, 288)
SEED = 20240601
POLYGON_BAR, CELL_BAR, ROAD_BAR, GAP_BAR = 100.0, 40.0, 1.0, 0.001


class Part(NamedTuple):
    """One measured claim."""

    name: str
    value: float | None
    bar: float
    unit: str
    holds: bool


def solid(x0: float, x1: float, y0: float, y1: float, z0: float, z1: float) -> Floats:
    """Corners of a box; y runs out from the wall toward the viewers."""
    return np.array([(x, y, z) for x in (x0, x1) for y in (y0, y1) for z in (z0, z1)], float)


def wall_solids() -> list[Floats]:
    """Canopy 6 ft deep along the whole wall, three columns at its edge, three blade signs above it; feet."""
    canopy = solid(0, LENGTH, 0, 6, 10, 10.5)
    columns = [solid(x - 0.75, x + 0.75, 4.5, 6, 0, 10) for x in (60, 150, 240)]
    signs = [solid(x - 0.25, x + 0.25, 0.5, 3.5, 12, 16) for x in (30, 120, 210)]
    return [canopy, *columns, *signs]


def wall_eyes(count: int = 200) -> Floats:
    """Half in cars on the street, half on foot in the lot; feet."""
    random = np.random.default_rng(SEED)
    half = count // 2
    street = (random.uniform(-40, 340, half), random.uniform(60, 120, half), np.full(half, 3.5))
    rest = count - half
    walk = (random.uniform(-10, 310, rest), random.uniform(8, 45, rest), random.uniform(4.5, 5.6, rest))
    return np.vstack((np.column_stack(street), np.column_stack(walk)))


def timed(work: Callable[[], Any], repeats: int = 5) -> tuple[float, float, Any]:
    """Return (median of warm runs, cold run, result) in seconds."""
    start = time.perf_counter()
    result = work()
    cold = time.perf_counter() - start
    warm = []
    for _ in range(repeats):
        del result
        start = time.perf_counter()
        result = work()
        warm.append(time.perf_counter() - start)
    return statistics.median(warm), cold, result


def cast(shadowed: Callable[[Floats, Floats], Bools], eyes: Floats, ours: Bools) -> tuple[float, int, int]:
    """Time a peer over all eyes; return (seconds, hidden cells, cells that differ from ours)."""
    x = (np.arange(GRID.columns) + 0.5) * CELL
    z = (np.arange(GRID.rows) + 0.5) * CELL
    across, up = np.meshgrid(x, z, indexing="ij")
    targets = np.column_stack((across.ravel(), np.zeros(across.size), up.ravel()))
    shadowed(eyes[0], targets)
    seconds, hidden, differing = 0.0, 0, 0
    for eye, matrix in zip(eyes, ours, strict=True):
        start = time.perf_counter()
        found = shadowed(eye, targets)
        seconds += time.perf_counter() - start
        hidden += int(found.sum())
        differing += int((found.reshape(matrix.shape) != matrix).sum())
    return seconds, hidden, differing


def meshes(solids: list[Floats]) -> Any:
    """All solids as one triangle mesh."""
    import trimesh

    return trimesh.util.concatenate([trimesh.PointCloud(corners).convex_hull for corners in solids])


def trimesh_peer(solids: list[Floats]) -> Callable[[Floats, Floats], Bools]:
    from trimesh.ray.ray_pyembree import RayMeshIntersector

    caster = RayMeshIntersector(meshes(solids))
    return lambda eye, targets: caster.intersects_any(np.broadcast_to(eye, targets.shape), targets - eye)


def embreex_peer(solids: list[Floats]) -> Callable[[Floats, Floats], Bools]:
    from embreex import rtcore_scene
    from embreex.mesh_construction import TriangleMesh

    scene = rtcore_scene.EmbreeScene()
    TriangleMesh(scene, meshes(solids).triangles.astype(np.float32))

    def shadowed(eye: Floats, targets: Floats) -> Bools:
        origins = np.repeat(eye.astype(np.float32)[None], len(targets), axis=0)
        rays = (targets - eye).astype(np.float32)
        return np.asarray(scene.run(origins, rays, query="OCCLUDED")) >= 0

    return shadowed


def open3d_peer(solids: list[Floats]) -> Callable[[Floats, Floats], Bools]:
    import open3d

    mesh = meshes(solids)
    tensor = open3d.core.Tensor
    triangles = open3d.t.geometry.TriangleMesh(
        tensor(mesh.vertices.astype(np.float32)), tensor(mesh.faces.astype(np.int32))
    )
    scene = open3d.t.geometry.RaycastingScene()
    scene.add_triangles(triangles)

    def shadowed(eye: Floats, targets: Floats) -> Bools:
        rays = np.empty((len(targets), 6), np.float32)
        rays[:, :3], rays[:, 3:] = eye, targets - eye
        return np.asarray(scene.test_occlusions(tensor.from_numpy(rays), tnear=0.0, tfar=0.9999999).numpy())

    return shadowed


PEERS: dict[str, tuple[tuple[str, ...], Callable[[list[Floats]], Callable[[Floats, Floats], Bools]]]] = {
    "trimesh over embreex": (("trimesh", "embreex"), trimesh_peer),
    "embreex bare": (("trimesh", "embreex"), embreex_peer),
    "Open3D": (("trimesh", "open3d"), open3d_peer),
}


def peer_seconds(solids: list[Floats], eyes: Floats, ours: Bools) -> dict[str, float]:
    """Time every peer that is installed; say which is not."""
    found = {}
    for name, (packages, build) in PEERS.items():
        missing = [package for package in packages if importlib.util.find_spec(package) is None]
        if missing:
            print(f"peer missing: {name} ({', '.join(missing)} not installed; see requirements-peers.in)")
            continue
        versions = ", ".join(f"{package} {importlib.metadata.version(package)}" for package in packages)
        seconds, hidden, differing = cast(build(solids), eyes, ours)
        print(f"{name} ({versions}): {seconds:.2f} s, {hidden:,} hidden cells, {differing} differ from ours")
        found[name] = seconds
    return found


def wall_parts() -> list[Part]:
    """Measure polygons and cells against the peers."""
    solids, eyes = wall_solids(), wall_eyes()
    outline, frame = shapely.box(0, 0, LENGTH, HEIGHT), make_frame((0, 0, 0), (1, 0, 0))
    towards = np.array((1.0, -1.0, 1.0))  # the frame of a wall along +x looks toward -y
    world_solids, world_eyes = [corners * towards for corners in solids], eyes * towards

    def exact() -> Any:
        return hidden_shapes(outline, frame, world_solids, world_eyes)

    def matrix() -> Any:
        return unseen_cells(frame, world_solids, world_eyes, GRID)

    polygons, cold, shapes = timed(exact)
    area = float(shapely.area(shapes).mean()) + LENGTH * 0.5
    print(f"exact polygons: {polygons:.4f} s (cold {cold:.4f} s), mean not seen {area:.4f} ft2 with 150 ft2 covered")
    cells, cold, ours = timed(matrix)
    print(f"full matrix: {cells:.4f} s (cold {cold:.4f} s), {int(ours.sum(dtype=np.int64)):,} of {ours.size:,} cells")
    peers = peer_seconds(solids, eyes, ours)
    polygons, cells = max(polygons, timed(exact)[0]), max(cells, timed(matrix)[0])
    print(f"again after the peers; the slower counts: exact polygons {polygons:.4f} s, full matrix {cells:.4f} s")
    for name, seconds in peers.items():
        print(f"  against {name}: polygons {seconds / polygons:.0f} times, cells {seconds / cells:.1f} times faster")
    base = peers.get("trimesh over embreex")
    return [
        faster("polygons", base, polygons, POLYGON_BAR),
        faster("cells", base, cells, CELL_BAR),
    ]


def faster(name: str, peer: float | None, ours: float, bar: float) -> Part:
    """How many times faster than the peer, if it could be measured."""
    value = None if peer is None else round(peer / ours, 1)
    return Part(name, value, bar, "times faster", value is not None and value >= bar)


def retail_site() -> tuple[list[tuple[shapely.Polygon, Any]], list[Floats], Floats]:
    """Ten small shops on a 1,000 ft road: walls, solids and the drivers' eyes; feet turned to metres."""
    solids, walls = [], []
    for k in range(10):
        x, y, high = 10 + 100.0 * k, 60 + 15.0 * (k % 3), 16 + 2.0 * (k % 4)
        solids.append(solid(x, x + 80, y, y + 60, 0, high))
        solids.append(solid(x, x + 80, y - 6, y, 10, 10.5))
        solids += [solid(x + c - 0.75, x + c + 0.75, y - 6, y - 4.5, 0, 10) for c in (20, 60)]
        solids.append(solid(x + 39.75, x + 40.25, y - 3.5, y - 0.5, 12, 16))
        solids.append(solid(x - 4, x + 30, y - 40, y - 36, 0, 4.5))
        corners = np.array([(x, y), (x + 80, y), (x + 80, y + 60), (x, y + 60)]) * FOOT
        for start, end in zip(corners, np.roll(corners, -1, axis=0), strict=True):
            outline = shapely.box(0, 0, float(np.linalg.norm(end - start)), high * FOOT)
            walls.append((outline, make_frame((*start, 0), (*(end - start), 0))))
    road = np.array([(0, 0, 3.5), (300, -8, 3.5), (700, -8, 3.5), (1000, 5, 3.5)]) * FOOT
    return walls, [corners * FOOT for corners in solids], road


def road_part() -> Part:
    """Measure the union of sight along a road over a whole site."""
    walls, solids, road = retail_site()

    def every_wall() -> list[PathSight]:
        return [path_sight(wall, frame, solids, road) for wall, frame in walls]

    seconds, cold, found = timed(every_wall)
    before = time.process_time()
    every_wall()
    busy = time.process_time() - before
    sights: list[PathSight] = found
    gaps = [sight.gap_area / wall.area for sight, (wall, _) in zip(sights, walls, strict=True)]
    seen = sum(not sight.outside.is_empty for sight in sights)
    print(
        f"road: {len(walls)} walls, {len(solids)} obstacles: {seconds:.3f} s (cold {cold:.3f} s, "
        f"processor alone {busy:.3f} s); {seen} walls seen, "
        f"{sum(sight.proven for sight in sights)} proven, widest gap {100 * max(gaps):.4f} % of a wall, "
        f"{sum(len(sight.eyes) for sight in sights)} sampled eyes"
    )
    return Part("road", round(seconds, 3), ROAD_BAR, "s", seconds < ROAD_BAR and max(gaps) <= GAP_BAR)


def main() -> None:
    machine = f"{platform.machine()}, Python {platform.python_version()}"
    print(f"{machine}, numpy {np.__version__}, shapely {shapely.__version__}")
    parts = [*wall_parts(), road_part()]
    for part in parts:
        print(f"{part.name}: {part.value} {part.unit}, bar {part.bar:g}: {'holds' if part.holds else 'does not hold'}")
    print(
        json.dumps(
            {
                "name": "sight",
                "value": {part.name: part.value for part in parts},
                "bar": {part.name: part.bar for part in parts},
                "unit": {part.name: part.unit for part in parts},
                "holds": all(part.holds for part in parts),
            }
        )
    )


if __name__ == "__main__":
    main()
