"""A wall run and everything that is on it or stands proud of it.

Along-wall ``left`` runs left to right as seen from outside; heights are above the ground at the
wall's left end (a level line, also where the ground along the wall rises or falls).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sightwash.site.fields import (
    Age,
    Along,
    ClockTime,
    Count,
    DoorHeight,
    DoorWidth,
    Gap,
    Height,
    Id,
    Level,
    OpeningSize,
    Point,
    Projecting,
    Record,
    RunLength,
    Text,
    Thickness,
    WallHeight,
    Width,
)

WallMaterial = Literal[
    "stucco", "eifs", "brick", "painted brick", "block", "painted block", "concrete", "stone", "tile", "wood",
    "fibre cement", "vinyl", "painted metal", "bare metal", "glass", "fabric", "suspect asbestos cement",
]  # fmt: skip
SoilingKind = Literal[
    "algae", "soot", "splash", "webs", "droppings", "rust", "efflorescence", "oil", "grime", "oxidation", "gum",
]  # fmt: skip
Degree = Literal["light", "moderate", "heavy"]
PaintState = Literal["sound", "chalking", "flaking", "unknown"]


@dataclass(frozen=True, slots=True)
class Paint(Record):
    """The coating of a wall: how old, in what state, and whether it is known to be from after 1978."""

    state: PaintState = "unknown"
    age: Age | None = None
    before_1978: bool | None = None
    note: Text | None = None


@dataclass(frozen=True, slots=True)
class Soiling(Record):
    """Dirt of one kind and degree on a band or patch; bounds that are left out reach the wall's edge."""

    id: Id
    kind: SoilingKind
    degree: Degree = "moderate"
    left: Along | None = None
    width: RunLength | None = None
    bottom: Height | None = None
    top: Height | None = None
    note: Text | None = None


@dataclass(frozen=True, slots=True)
class Opening(Record):
    """Glass, a vent or another opening: not washed as wall, and water must be kept from its edges."""

    id: Id
    kind: Literal["glass", "vent", "louvre", "grille"]
    left: Along
    width: OpeningSize
    bottom: Height
    height: OpeningSize
    note: Text | None = None


@dataclass(frozen=True, slots=True)
class OpenHours(Record):
    """Opening hours of a shop, local clock; a pair that crosses midnight is allowed."""

    open: ClockTime
    close: ClockTime


@dataclass(frozen=True, slots=True)
class Door(Record):
    """A door: its place, its threshold and when people use it."""

    id: Id
    left: Along
    width: DoorWidth
    height: DoorHeight
    bottom: Height = 0.0
    threshold: Gap | None = None
    swing: Literal["out", "in", "slide", "roll"] | None = None
    hours: OpenHours | None = None
    tenant: Text | None = None
    service: bool = False
    note: Text | None = None


@dataclass(frozen=True, slots=True)
class Projection(Record):
    """What stands proud of the wall: a canopy, an awning, a ledge, a cap, a sign, a column, a pipe.

    ``depth`` is measured from its own inner face; ``gap`` is the clear distance from the wall to that
    face (0: it touches). ``outer_drop`` is how far the outer top edge lies below the inner top edge.
    """

    id: Id
    kind: Literal["canopy", "awning", "ledge", "cap", "blade sign", "flat sign", "column", "pipe", "gutter", "other"]
    left: Along
    width: Width
    bottom: Height
    height: Thickness
    depth: Projecting
    gap: Gap = 0.0
    outer_drop: Gap = 0.0
    material: WallMaterial | None = None
    soiling: Degree | None = None
    note: Text | None = None


@dataclass(frozen=True, slots=True)
class Fixture(Record):
    """A luminaire, an outlet, an intake or another thing that water must spare."""

    id: Id
    kind: Literal[
        "luminaire", "outlet", "camera", "vent", "intake", "lit sign", "sign transformer", "weatherhead", "meter",
        "speaker", "gas riser", "hose tap", "alarm",
    ]  # fmt: skip
    left: Along
    height: Height
    out: Gap = 0.0
    count: Count = 1
    spacing: Along | None = None
    rating: Text | None = None
    isolated_by: Text | None = None
    circuit: Text | None = None
    note: Text | None = None


@dataclass(frozen=True, slots=True)
class ProfilePoint(Record):
    """One corner of a stepped or sloped top edge."""

    left: Along
    height: Height


@dataclass(frozen=True, slots=True)
class Wall(Record):
    """One straight run of wall.

    With ``start`` and ``end`` it has its place in the plan; with only a ``length`` it is drawn in a row.
    ``base`` is the ground elevation at both ends; ``profile`` replaces ``height`` for a stepped top.
    """

    id: Id
    name: Text | None = None
    building: Id | None = None
    start: Point | None = None
    end: Point | None = None
    length: RunLength | None = None
    base: tuple[Level, Level] = (0.0, 0.0)
    height: WallHeight | None = None
    profile: tuple[ProfilePoint, ...] = ()
    material: WallMaterial | None = None
    paint: Paint | None = None
    excluded: Text | None = None
    soiling: tuple[Soiling, ...] = ()
    openings: tuple[Opening, ...] = ()
    doors: tuple[Door, ...] = ()
    projections: tuple[Projection, ...] = ()
    fixtures: tuple[Fixture, ...] = ()
    note: Text | None = None
