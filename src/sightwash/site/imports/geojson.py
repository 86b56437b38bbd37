"""A building footprint in GeoJSON (RFC 7946) as a starting site.

Bare GeoJSON is in degrees on WGS 84, longitude first; any other system must be named. Lengths and
bearings of the site are those on the WGS 84 ellipsoid at the building, whatever the file's own map
does to them. What the file does not say (heights, time zone, doors) stays a gap.

References
----------
rfc-7946
karney-2011-transverse-mercator
storey-height
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Final

import numpy as np

from sightwash.basis.errors import InputError, Problem
from sightwash.site.imports.facts import STOREY_HEIGHT, plain_name
from sightwash.site.imports.footprint import Footprint, building_trees, edges, overlaps, wall_trees
from sightwash.site.imports.frame import WGS84, Frame, Points, coordinate_system, frame_about, outside_area, to_degrees
from sightwash.site.imports.polygons import Polygon, PolygonReader
from sightwash.site.imports.rings import clean_ring, shape_fault
from sightwash.site.model import Site
from sightwash.site.site_file import document_from
from sightwash.site.tree import KeyPath, Parsed, Tree, key_text, parse
from sightwash.site.wall_checks import Finding

LARGEST_TEXT: Final = 20_000_000
LARGEST_WITH_PLACES: Final = 500_000
MOST_PROBLEMS: Final = 50
FARTHEST_NORTH: Final = 75.0


def site_from_geojson(
    text: str, file: str, crs: str | None = None, units: str = "us", storey_height: float = STOREY_HEIGHT
) -> Site:
    """Return a starting site from a GeoJSON text.

    ``crs`` names the coordinate system where it is not WGS 84 degrees; ``units`` is the site's own
    system; ``storey_height`` [m] turns a count of storeys into a height that is marked as a guess.
    Raises InputError with everything that is wrong.
    """
    parsed = _parsed(text, file)
    system = coordinate_system(WGS84 if crs is None else crs, file)
    reader = PolygonReader(crs is not None, storey_height, units)
    reader.read(parsed.tree, ())
    _stop_at(reader.findings, parsed)
    points = np.array([position for polygon in reader.polygons for ring in polygon.rings for position in ring])
    degrees = to_degrees(points, system, file)
    outside = outside_area(points, degrees, system)
    _stop_at(_misplaced(reader.polygons, outside, degrees, crs), parsed)
    frame = frame_about(degrees, file)
    footprints, findings = _footprints(reader.polygons, frame.metres(degrees))
    _stop_at(findings or list(overlaps(footprints)), parsed)
    guessed = any(polygon.facts.guessed for polygon in reader.polygons)
    tree = _site_tree(parsed, frame, footprints, units, _remark(file, crs, points, footprints, guessed))
    site = document_from(Parsed(file, tree, dict), "site")
    assert isinstance(site, Site)
    return site


def _parsed(text: str, file: str) -> Parsed:
    """Return the text's tree; places are looked up only in a text that is quickly read twice."""
    body = text.removeprefix("\ufeff")
    if len(body) > LARGEST_TEXT or len(body.encode("utf-8", "replace")) > LARGEST_TEXT:
        raise InputError(
            Problem(
                "too-large", f"the file holds more than {LARGEST_TEXT:,} bytes", file, expected="one property",
                fix="cut the file down to one property",
            )
        )  # fmt: skip
    if not body.lstrip().startswith("{"):
        code, message = ("not-json", "this is not a JSON object") if body.strip() else ("empty", "the file is empty")
        raise InputError(Problem(code, message, file, 1, 1, None, "a GeoJSON object", "export it as GeoJSON"))
    parsed = parse(body, file)
    return parsed if len(body) <= LARGEST_WITH_PLACES else Parsed(file, parsed.tree, dict)


def _stop_at(findings: list[Finding], parsed: Parsed) -> None:
    """Raise everything found so far, with its place in the file."""
    if findings:
        raise InputError([_problem(finding, parsed) for finding in findings[:MOST_PROBLEMS]])


def _problem(finding: Finding, parsed: Parsed) -> Problem:
    line, column = parsed.place(finding.path) or (None, None)
    key = key_text(finding.path)
    return Problem(finding.code, finding.message, parsed.file, line, column, key, finding.expected, finding.fix)


def _misplaced(
    polygons: list[Polygon], outside: np.typing.NDArray[np.bool_], degrees: Points, crs: str | None
) -> list[Finding]:
    """Return the first corner of each building that lies where the system, or this tool, does not reach."""
    paths: list[KeyPath] = [path for polygon in polygons for path in polygon.corner_paths()]
    first: dict[KeyPath, Finding] = {}
    polar = ~outside & (np.abs(np.where(outside, 0.0, degrees[:, 1])) > FARTHEST_NORTH)
    for index in np.flatnonzero(outside | polar).tolist():
        path = paths[index]
        if polar[index]:
            finding = Finding("too-far-north", f"lies at latitude {degrees[index, 1]:.1f}", path, "-75 to 75 degrees")
        elif crs is None:
            finding = Finding(
                "outside-crs", "is no longitude and latitude", path, "longitude -180 to 180, latitude -90 to 90",
                "if these are metres or feet on a map, name its system, such as `--crs EPSG:2278`",
            )  # fmt: skip
        else:
            finding = Finding(
                "outside-crs", f"lies where {crs} is not used", path, "coordinates of that system, east before north",
                "name the system that the file's maker used",
            )  # fmt: skip
        first.setdefault(path[:-2], finding)
    return list(first.values())


def _footprints(polygons: list[Polygon], metres: Points) -> tuple[tuple[Footprint, ...], list[Finding]]:
    footprints: list[Footprint] = []
    findings: list[Finding] = []
    done = 0
    for polygon in polygons:
        rings = []
        for ring in polygon.rings:
            rings.append(metres[done : done + len(ring) - 1])
            done += len(ring)
        wrong = shape_fault(polygon.path, rings)
        clean = tuple(clean_ring(ring, clockwise=bool(index)) for index, ring in enumerate(rings)) if not wrong else ()
        wrong = wrong or shape_fault(polygon.path, clean)
        if wrong:
            findings.append(wrong)
            continue
        facts = polygon.facts
        footprints.append(Footprint(polygon.path, clean, facts.name, facts.height, facts.metres_high, facts.note))
    return tuple(footprints), findings


def _remark(file: str, crs: str | None, points: Points, footprints: tuple[Footprint, ...], guessed: bool) -> str:
    """Return what the import did, for the site's note."""
    corners = sum(len(ring) for footprint in footprints for ring in footprint.rings)
    rings = sum(len(footprint.rings) for footprint in footprints)
    walls = len(edges(footprints))
    parts = [
        f"Imported from {plain_name(Path(file).name)}, coordinates in {crs or 'WGS 84 degrees'}.",
        f"Buildings: {len(footprints)}; walls: {walls}; needless corners dropped: {len(points) - rings - corners}.",
        "Lengths and bearings are those on the WGS 84 ellipsoid.",
    ]
    if walls < corners:
        parts.append(f"Edges shorter than 5 cm, which carry no wall: {corners - walls}.")
    if guessed:
        parts.append("Some heights are guessed from a count of storeys: see the walls' notes.")
    if any(footprint.height is None for footprint in footprints):
        parts.append("Heights that the file does not give are left open.")
    return " ".join(parts)


def _site_tree(
    parsed: Parsed, frame: Frame, footprints: tuple[Footprint, ...], units: str, remark: str
) -> dict[str, Tree]:
    stem = Path(parsed.file).stem
    own = parsed.tree.get("name") if isinstance(parsed.tree, dict) else None
    name = footprints[0].name if len(footprints) == 1 else None
    return {
        "kind": "site",
        "schema": 1,
        "id": re.sub(r"[^a-z0-9]+", "-", stem.lower()).strip("-")[:64].strip("-") or "site",
        "name": name or plain_name(own) or plain_name(stem) or "Imported site",
        "units": units,
        "place": {
            "latitude": f"{frame.latitude:.6f} deg",
            "longitude": f"{frame.longitude:.6f} deg",
            "north": "0 deg",
        },
        "buildings": building_trees(footprints),
        "walls": wall_trees(footprints, units),
        "note": remark,
    }
