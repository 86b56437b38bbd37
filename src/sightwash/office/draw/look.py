"""What one eye sees of a property, as data for a screen: each wall's seen, hidden and missed parts, and the picture.

What does not change as the eye moves (walls, solids, what the crew sees) is worked out once for each text of a site.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any, Final

from shapely.geometry.base import BaseGeometry

from sightwash.basis.errors import OutOfRange
from sightwash.basis.units import AREA, FOOT, LENGTH, show
from sightwash.office.bridge.documents import document
from sightwash.office.draw.look_picture import eye_picture
from sightwash.planning.eye_view import EyeScene, Place, plan_eye_faces
from sightwash.planning.live import WallLook, covered_regions, crew_regions, looks_of, quick_part
from sightwash.planning.missed import MissedStrip, plan_missed
from sightwash.planning.regions import Region
from sightwash.planning.sight import eye_points, eyes_are_public, plan_sight
from sightwash.planning.standing import no_standing_area
from sightwash.site.model import Site
from sightwash.site.rig import Rig
from sightwash.site.shapes import PlacedWall, Solid, placed_walls, solids

FARTHEST: Final = 7000.0
"""An eye may be no farther than this from the site's zero point [m]."""
HIGHEST: Final = 40.0
LOWEST: Final = -150.0


@dataclass(frozen=True, slots=True, eq=False)
class Laid:
    """A site laid out for looking: walls, solids, what the crew sees of each wall; ``bare`` is it without fixtures.

    ``covered`` holds what something touches of each wall, and the rest of it.
    """

    site: Site
    walls: tuple[PlacedWall, ...]
    bodies: tuple[Solid, ...]
    crew: dict[str, Region]
    covered: dict[str, tuple[BaseGeometry, BaseGeometry]]
    bare: Site
    bare_walls: tuple[PlacedWall, ...]


@lru_cache(maxsize=32)
def laid_out(text: str) -> Laid:
    """Return a site's text laid out for looking, worked out once."""
    site = document(text, Site, "site")
    walls = placed_walls(site)
    bodies = solids(site, walls)
    bare = replace(site, walls=tuple(replace(wall, fixtures=()) for wall in site.walls))
    seen = tuple(placed for placed in placed_walls(bare) if placed.measured_place)
    crew, covered = crew_regions(site, walls, bodies), covered_regions(site, walls, bodies)
    return Laid(site, walls, bodies, crew, covered, bare, seen)


def eye_from(words: dict[str, str]) -> Place:
    """Return the place of an eye from an address's words; OutOfRange where it is none [m]."""
    found = []
    for key, low, high in (("x", -FARTHEST, FARTHEST), ("y", -FARTHEST, FARTHEST), ("z", LOWEST, HIGHEST)):
        typed = words.get(key, "")
        try:
            value = float(typed)
        except ValueError:
            raise OutOfRange(key, typed[:20] or "nothing", f"a number from {low:g} to {high:g} m") from None
        if not (math.isfinite(value) and low <= value <= high):
            raise OutOfRange(key, typed[:20], f"a number from {low:g} to {high:g} m")
        found.append(value)
    return found[0], found[1], found[2]


def frame(text: str, eye: Place, target: str | None = None) -> dict[str, Any]:
    """Return one frame: what is seen of every wall, and the picture turned to ``target`` or what looks largest."""
    laid = laid_out(text)
    placed = tuple(wall for wall in laid.walls if wall.measured_place)
    faces, ground = plan_eye_faces(laid.bare, laid.bare_walls, laid.bodies, eye, quick_part)
    looks = looks_of(placed, faces, laid.crew, laid.covered)
    scene, missed = EyeScene(eye, faces, ground, None, (), ()), {look.wall: look.missed for look in looks}
    units = laid.site.units
    return {
        "eye": [round(value, 3) for value in eye],
        "walls": [_wall(look, units) for look in looks],
        "view": eye_picture(scene, laid.bare_walls, missed, target),
        "words": _words(laid.site, placed, looks),
    }


def _wall(look: WallLook, units: str) -> dict[str, Any]:
    return {
        "id": look.wall,
        "seen": _rings(look.seen),
        "hidden": _rings(look.hidden),
        "missed": _rings(look.missed),
        "areas": [show(area, AREA, units) for area in (look.seen_area, look.hidden_area, look.missed_area)],
        "share": round(look.seen_area / look.area, 3) if look.area > 0.0 else 0.0,
    }


def _rings(region: Region) -> list[list[float]]:
    """Return a region's rings, each as one flat list of numbers to the centimetre."""
    return [[round(value, 2) for corner in ring for value in corner]
            for rings in region for ring in rings]  # fmt: skip


def _words(site: Site, walls: tuple[PlacedWall, ...], looks: tuple[WallLook, ...]) -> str:
    """Return what the eye sees in a sentence."""
    names = {placed.wall.id: placed.wall.name or placed.wall.id for placed in walls if placed.wall.excluded is None}
    seen = [look for look in looks if look.wall in names and look.seen_area > 0.005 * look.area]
    if not seen:
        return "No wall that is washed is seen from here."
    best = max(seen, key=lambda look: look.seen_area)
    missed = sum(look.missed_area for look in seen)
    total = sum(look.seen_area for look in seen)
    words = f"{show(total, AREA, site.units)} of wall seen, most of it on {names[best.wall]}"
    if missed > 0.005 * total:
        return f"{words}; {show(missed, AREA, site.units)} of that the crew does not see from where it works."
    return f"{words}; the crew sees all of that too."


@lru_cache(maxsize=32)
def missed_strips(text: str, rig_text: str) -> tuple[MissedStrip, ...]:
    """Return the missed strips of a site with their remedies, those that people notice most first."""
    laid = laid_out(text)
    site, rig = laid.site, document(rig_text, Rig)
    forbidden = no_standing_area(site)
    found: list[MissedStrip] = []
    for placed in laid.walls:
        if placed.wall.excluded is None:
            sight = plan_sight(placed, laid.bodies, site.eyes, site.crew_eye)
            found += plan_missed(placed, sight, site.eyes, site.crew_eye, rig, forbidden, site.units)
    return tuple(sorted(found, key=lambda strip: -strip.score))


def strip_lines(text: str, rig_text: str) -> list[dict[str, Any]]:
    """Return the missed strips for a screen: letter, where, how much, who sees it, what to do."""
    site = laid_out(text).site
    names = {wall.id: wall.name or wall.id for wall in site.walls}
    eyes = {eye.id: eye.name or eye.id for eye in site.eyes}
    return [
        {
            "letter": _letter(number),
            "id": strip.id,
            "wall": strip.wall,
            "name": names[strip.wall],
            "rings": _rings(strip.region),
            "middle": [round((strip.left + strip.right) / 2, 2), round((strip.bottom + strip.top) / 2, 2)],
            "area": show(strip.area, AREA, site.units),
            "where": f"{show(strip.left, LENGTH, site.units)} to {show(strip.right, LENGTH, site.units)} along, "
            f"{show(strip.bottom, LENGTH, site.units)} to {show(strip.top, LENGTH, site.units)} up",
            "seen_by": [eyes.get(eye, eye) for eye in strip.seen_by],
            "remedies": [
                {"words": each.words, "allowed": each.allowed, "at": [round(value, 2) for value in each.place]}
                for each in strip.remedies
            ],
            "why": strip.why.rule,
            "sources": list(strip.why.sources),
        }
        for number, strip in enumerate(missed_strips(text, rig_text))
    ]


def _letter(number: int) -> str:
    rest, last = divmod(number, 26)
    return (_letter(rest - 1) if rest else "") + chr(ord("A") + last)


def first_eye(site: Site) -> dict[str, Any]:
    """Return where the page's eye begins: the middle of the first public eye's path, or before the first wall."""
    for eye in site.eyes:
        if eye.kind != "crew":
            points = eye_points(eye)
            middle = (points[0] + points[-1]) / 2 if len(points) < 3 else points[len(points) // 2]
            return {"x": round(float(middle[0]), 2), "y": round(float(middle[1]), 2), "z": round(float(middle[2]), 2)}
    walls = [placed for placed in placed_walls(site) if placed.measured_place]
    if walls:
        x, y, z = (float(value) for value in walls[0].point(walls[0].length / 2, 60.0 * FOOT, 5.25 * FOOT))
        return {"x": round(x, 2), "y": round(y, 2), "z": round(z, 2)}
    return {"x": 0.0, "y": -20.0, "z": 1.6}


def has_public_eye(site: Site) -> bool:
    """Whether anybody but the crew is known to look."""
    return eyes_are_public(site.eyes)
