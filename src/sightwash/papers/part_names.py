"""Names of parts of a site as a person reads them, by id."""

from __future__ import annotations

from sightwash.planning.visit import VisitPlan
from sightwash.site.model import Site


def part_names(site: Site) -> dict[str, str]:
    """Return the name of every wall, surface and eye of a site; the id where it has none."""
    named = [(each.id, each.name) for each in site.walls]
    named += [(each.id, each.name) for each in site.surfaces]
    named += [(each.id, each.name) for each in site.eyes]
    return {name: words or name for name, words in named}


def target_names(site: Site, plan: VisitPlan) -> dict[str, str]:
    """Return for every soiled patch or face that is washed the wall that it is on and its own id in words."""
    names = part_names(site)
    return {m.target: f"{names.get(m.wall, m.wall)}: {m.target.replace('-', ' ')}" for m in plan.methods}
