"""A small commented starting site from a few measurements: enough for a first price."""

from __future__ import annotations

import json
import re

from sightwash.site.site_file import document_from
from sightwash.site.tree import parse

_LINE_ENDS = {code: f"\\u{code:04x}" for code in (0x85, 0x2028, 0x2029)}
"""Characters that YAML takes as the end of a line, even between quotation marks."""
_TEMPLATE = """\
# A starting site for {plain}. Bare numbers are in {unit} (units: {units}).
# `sightwash check FILE` lists what is still missing and what it changes.
kind: site
schema: 1
id: {id}
name: {name}
units: {units}

# place: {{time_zone: America/Chicago, latitude: 38.7, longitude: -91.4, north: 0 deg}}

walls:
  - id: front
    name: Front
    length: {length}
    height: {height}
    # material: stucco            # what the wall is made of: without it the gentlest method is planned
    # soiling: [{{id: top-streaks, kind: algae, degree: heavy, bottom: 15 ft}}]
    # doors: [{{id: door-1, left: 10 ft, width: 6 ft, height: 7 ft, threshold: 0.5 in}}]
    # projections: [{{id: canopy, kind: canopy, left: 0, width: 40 ft, bottom: 10 ft, height: 6 in, depth: 6 ft}}]

surfaces:
  - id: front-walk
    name: Walk before the front
    along: front
    width: {walk}
    # material: concrete

# eyes: [{{id: road, kind: road, path: [[-100 ft, -150 ft], [200 ft, -150 ft]], height: 3 ft 6 in, speed: 35 mph}}]
# drains: [{{id: inlet, at: [20 ft, -30 ft], leads_to: unknown}}]
"""


def starting_site(name: str, length: str, height: str, walk: str, units: str) -> str:
    """Return a commented YAML site; raises InputError when a measurement cannot be right."""
    site_id = re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")[:60] or "new-site"
    quoted = [json.dumps(text, ensure_ascii=False).translate(_LINE_ENDS) for text in (name, length, height, walk)]
    text = _TEMPLATE.format(
        plain=" ".join(name.split()),
        unit="feet" if units == "us" else "metres",
        units=units,
        id='"null"' if site_id == "null" else site_id,
        name=quoted[0],
        length=quoted[1],
        height=quoted[2],
        walk=quoted[3],
    )
    document_from(parse(text, "new site"), "site")
    return text
