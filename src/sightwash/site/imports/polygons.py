"""The polygons of a GeoJSON tree, each with the place where it stands and what is said of it.

Everything that is wrong is gathered, with its key path, before anything is refused.

References
----------
rfc-7946
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import Final

from sightwash.site.imports.facts import Facts, facts
from sightwash.site.tree import KeyPath, Tree
from sightwash.site.wall_checks import Finding

Position = tuple[float, float]
MOST_BUILDINGS: Final = 500
MOST_CORNERS: Final = 5000
LARGEST_NUMBER: Final = 1e9

_OTHER_SHAPES: Final = ("Point", "MultiPoint", "LineString", "MultiLineString")
_DEGREES: Final = re.compile(r"(urn:ogc:def:crs:)?(OGC:([\d.]*:)?CRS84|EPSG:([\d.]*:)?4326)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Polygon:
    """One polygon: its closed rings as the file has them, and where its list of rings stands."""

    path: KeyPath
    rings: tuple[tuple[Position, ...], ...]
    facts: Facts

    def corner_paths(self) -> Iterator[KeyPath]:
        """Yield the key path of every position, in order."""
        for index, ring in enumerate(self.rings):
            yield from ((*self.path, index, number) for number in range(len(ring)))


@dataclass(slots=True)
class PolygonReader:
    """Walks a tree and gathers its polygons and findings; ``system_named`` overrides a ``crs`` member."""

    system_named: bool
    storey_height: float
    units: str
    polygons: list[Polygon] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    corners: int = 0

    def read(self, node: Tree, path: KeyPath) -> None:
        """Gather the polygons of a whole document."""
        self._object(node, path, Facts())
        if not self.polygons and not self.findings:
            self._wrong("empty", "holds no building", path, "one Polygon or more")
        if len(self.polygons) > MOST_BUILDINGS or self.corners > MOST_CORNERS:
            self.findings = [
                Finding(
                    "too-many", f"holds too much (buildings: {len(self.polygons):,}, corners: {self.corners:,})", path,
                    f"at most {MOST_BUILDINGS} buildings and {MOST_CORNERS:,} corners",
                    "cut the file down to one property",
                )
            ]  # fmt: skip

    def _wrong(self, code: str, message: str, path: KeyPath, expected: str, fix: str | None = None) -> None:
        self.findings.append(Finding(code, message, path, expected, fix))

    def _object(self, node: Tree, path: KeyPath, known: Facts) -> None:
        if not isinstance(node, dict):
            self._wrong("wrong-type", f"{_short(node)} is not a GeoJSON object", path, "an object with a `type`")
            return
        self._check_system(node, path)
        kind = node.get("type")
        if kind == "FeatureCollection":
            for item, place in self._items(node, "features", path):
                self._feature(item, place)
        elif kind == "Feature":
            self._feature(node, path)
        elif kind == "GeometryCollection":
            for item, place in self._items(node, "geometries", path):
                self._object(item, place, known)
        elif kind == "MultiPolygon":
            for item, place in self._items(node, "coordinates", path):
                self._polygon(item, place, known)
        elif kind == "Polygon":
            self._polygon(node.get("coordinates"), (*path, "coordinates"), known)
        elif kind in _OTHER_SHAPES:
            self._wrong("wrong-geometry", f"a {kind} is no footprint", path, "Polygon or MultiPolygon",
                        "take points and lines out of the file")  # fmt: skip
        else:
            self._wrong("wrong-type", f"the type {_short(kind)} is not known here", (*path, "type"),
                        "FeatureCollection, Feature, Polygon, MultiPolygon or GeometryCollection")  # fmt: skip

    def _items(self, node: dict[str, Tree], key: str, path: KeyPath) -> list[tuple[Tree, KeyPath]]:
        items = node.get(key)
        if not isinstance(items, list) or not items:
            self._wrong("empty", f"`{key}` holds nothing", (*path, key), "a list that is not empty")
            return []
        return [(item, (*path, key, index)) for index, item in enumerate(items)]

    def _feature(self, node: Tree, path: KeyPath) -> None:
        if not isinstance(node, dict) or node.get("type") != "Feature":
            self._wrong("wrong-type", f"{_short(node)} is not a Feature", path, "an object with `type` Feature")
            return
        self._check_system(node, path)
        properties = {} if node.get("properties") is None else node["properties"]
        if not isinstance(properties, dict):
            self._wrong("wrong-type", "the properties are not an object", (*path, "properties"), "an object or null")
            return
        if node.get("geometry") is None:
            self._wrong("empty", "the feature has no geometry", path, "a Polygon", "take the feature out")
            return
        known, wrong = facts(properties, (*path, "properties"), self.storey_height, self.units)
        self.findings.extend(wrong)
        geometry = node["geometry"]
        if isinstance(geometry, dict) and geometry.get("type") in ("Feature", "FeatureCollection"):
            self._wrong(
                "wrong-geometry", "a feature stands where a geometry is wanted", (*path, "geometry"), "a Polygon"
            )
            return
        before = len(self.polygons)
        self._object(geometry, (*path, "geometry"), known)
        self._number_parts(before)

    def _number_parts(self, before: int) -> None:
        """Give the parts of one named feature names of their own."""
        parts = self.polygons[before:]
        if len(parts) > 1 and parts[0].facts.name is not None:
            self.polygons[before:] = [
                replace(part, facts=replace(part.facts, name=f"{part.facts.name}, part {number}"))
                for number, part in enumerate(parts, 1)
            ]

    def _check_system(self, node: dict[str, Tree], path: KeyPath) -> None:
        """Refuse a ``crs`` member that names another system than WGS 84, unless the person named one."""
        if "crs" not in node or self.system_named:
            return
        member = node["crs"]
        inner = member.get("properties") if isinstance(member, dict) else None
        name = inner.get("name") if isinstance(inner, dict) else None
        if isinstance(name, str) and _DEGREES.fullmatch(re.sub(r"::+", ":", name)):
            return
        said = f"the file says that its system is {_short(name)}" if name else "the file leaves its system open"
        self._wrong("other-crs", said, (*path, "crs"), "WGS 84 degrees, or a system named on the command line",
                    "add `--crs` with the code of the system, such as `--crs EPSG:2278`")  # fmt: skip

    def _polygon(self, node: Tree, path: KeyPath, known: Facts) -> None:
        if not isinstance(node, list) or not node:
            self._wrong("empty", "the polygon has no ring", path, "a list of rings")
            return
        rings = [self._ring(ring, (*path, index)) for index, ring in enumerate(node)]
        self.polygons.append(Polygon(path, tuple(ring for ring in rings if ring), known))

    def _ring(self, node: Tree, path: KeyPath) -> tuple[Position, ...]:
        if not isinstance(node, list) or len(node) < 4:
            self._wrong("too-few-corners", "the ring has fewer than 4 positions", path, "3 corners, the first repeated")
            return ()
        self.corners += len(node)
        if self.corners > MOST_CORNERS:
            return ()
        ring = []
        for index, item in enumerate(node):
            position = _position(item)
            if position is None:
                self._wrong("bad-position", f"{_short(item)} is no position", (*path, index), "[longitude, latitude]")
                return ()
            ring.append(position)
        if ring[0] != ring[-1]:
            self._wrong("unclosed-ring", "the last position is not the first", path, "a closed ring",
                        "repeat the first position at the end")  # fmt: skip
        return tuple(ring)


def _position(item: Tree) -> Position | None:
    """Return the first two numbers of a position; None where it is none. A third, the height, is not used."""
    if not isinstance(item, list) or len(item) < 2:
        return None
    if not all(isinstance(value, (int, float)) and not isinstance(value, bool) for value in item):
        return None
    east, north = (value if isinstance(value, (int, float)) else 0.0 for value in item[:2])
    return (float(east), float(north)) if abs(east) < LARGEST_NUMBER and abs(north) < LARGEST_NUMBER else None


def _short(value: Tree) -> str:
    text = repr(value)
    return text if len(text) <= 40 else f"{text[:37]}..."
