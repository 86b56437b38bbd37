"""Parts of a property that can be asked about: walls, patches, what stands out of a wall, ground; their names."""

from __future__ import annotations

import re
from collections.abc import Callable

from sightwash.planning.visit import VisitPlan
from sightwash.site.element_tree import element_lists
from sightwash.site.model import Site


def part_names(site: Site, plan: VisitPlan) -> dict[str, str]:
    """Return the words for every wall, patch, face of what stands out, and surface of the ground, by id."""
    found = {wall.id: wall.name or wall.id for wall in site.walls}
    for takeoff in plan.walls:
        wall = found.get(takeoff.wall, takeoff.wall)
        for patch in takeoff.patches:
            what = f"{patch.soiling}, {patch.degree}" if patch.given else "the rest of the wall"
            found[patch.id] = f"{wall}: {what}"
        for face in takeoff.faces:
            found[face.id] = f"{wall}: {face.kind}, {face.face}"
    found |= {surface.surface: surface.name or surface.surface for surface in plan.ground}
    return found


def tapped_parts(site: Site, plan: VisitPlan) -> dict[str, str]:
    """Return the parts that a page lists and the strip opens: every wall, patch and surface of the plan."""
    names = part_names(site, plan)
    wanted = {takeoff.wall for takeoff in plan.walls} | {surface.surface for surface in plan.ground}
    wanted |= {patch.id for takeoff in plan.walls for patch in takeoff.patches}
    return {part: words for part, words in names.items() if part in wanted}


def carrier_of(plan: VisitPlan, part: str) -> str:
    """Return the wall or the surface that a part belongs to; the part itself where it is one."""
    for takeoff in plan.walls:
        inside = (*(patch.id for patch in takeoff.patches), *(face.id for face in takeoff.faces))
        if part in inside:
            return takeoff.wall
    return part


def names_for_ids(site: Site) -> Callable[[str], str]:
    """Return what puts the names that people gave in the place of ids in a sentence."""
    elements = (element for name in element_lists(Site) for element in getattr(site, name))
    names = {element.id: element.name for element in elements if getattr(element, "name", None)}
    if not names:
        return str
    ids = "|".join(re.escape(each) for each in sorted(names, key=len, reverse=True))
    whole = re.compile(rf"(?<![\w-])(?:{ids})(?![\w-])")
    return lambda words: whole.sub(lambda found: names[found[0]], words)
