"""The ground before the walls and what stands, grows, parks or runs on it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from sightwash.basis import units
from sightwash.site.fields import (
    Along,
    Bearing,
    Count,
    Flow,
    Gap,
    Height,
    Id,
    Level,
    Number,
    Point,
    Point3,
    Projecting,
    Quantity,
    Record,
    RunLength,
    Share,
    Slope,
    Text,
)
from sightwash.site.walls import Degree, SoilingKind

Outline = tuple[Point, ...]
GroundMaterial = Literal[
    "concrete", "sealed concrete", "stamped concrete", "pavers", "tile", "stone", "asphalt", "gravel", "soil", "grass",
]  # fmt: skip
LineWidth = Annotated[float, Quantity(units.BORE, "1 in", "36 in")]
LetterHeight = Annotated[float, Quantity(units.BORE, "1 in", "120 in")]
StallAngle = Annotated[float, Quantity(units.ANGLE, "20 deg", "90 deg")]
DENSE = 0.5
"""Density from which a hedge or a crown counts as opaque [-]; a judgement."""
GumDensity = Annotated[float, Quantity(units.DENSITY, "0 1/ft2", "20 1/ft2")]


@dataclass(frozen=True, slots=True)
class Fall(Record):
    """The slope of a surface and the compass bearing that water runs toward."""

    slope: Slope
    toward: Bearing


@dataclass(frozen=True, slots=True)
class GroundSoiling(Record):
    """Dirt of one kind and degree on a whole surface."""

    id: Id
    kind: SoilingKind
    degree: Degree = "moderate"


@dataclass(frozen=True, slots=True)
class Surface(Record):
    """A walk, a drive or a pad: by its ``outline``, or as a strip ``width`` wide ``along`` a wall."""

    id: Id
    use: Literal["walk", "drive", "stalls", "fire lane", "dumpster pad", "dock", "landing"] = "walk"
    outline: Outline = ()
    holes: tuple[Outline, ...] = ()
    along: Id | None = None
    left: Along | None = None
    length: RunLength | None = None
    width: Projecting | None = None
    level: Level = 0.0
    material: GroundMaterial | None = None
    fall: Fall | None = None
    soiling: tuple[GroundSoiling, ...] = ()
    wash: bool = True
    name: Text | None = None
    note: Text | None = None


@dataclass(frozen=True, slots=True)
class Post(Record):
    """A post, a bollard, a bench or a planter that stands on a surface."""

    id: Id
    at: Point
    size: Projecting
    height: Height = 1.0
    round: bool = True


@dataclass(frozen=True, slots=True)
class Gum(Record):
    """Gum on one surface, by count or by density; ``at`` marks single spots."""

    id: Id
    surface: Id
    count: Count | None = None
    density: GumDensity | None = None
    at: tuple[Point, ...] = ()


@dataclass(frozen=True, slots=True)
class Marking(Record):
    """A painted line, kerb, bar, arrow or word on the ground."""

    id: Id
    kind: Literal["line", "kerb", "stop bar", "arrow", "letters", "symbol"]
    path: tuple[Point, ...]
    width: LineWidth | None = None
    colour: Text | None = None
    state: Literal["good", "worn", "faded"] = "worn"
    fire_lane: bool = False
    text: Text | None = None
    letter_height: LetterHeight | None = None


@dataclass(frozen=True, slots=True)
class StallRow(Record):
    """A row of parking stalls: first corner, the way the row runs, how many and how large."""

    id: Id
    at: Point
    toward: Bearing
    count: Count
    width: Projecting
    length: Projecting
    angle: StallAngle = 90.0
    accessible: Count = 0
    van: Count = 0
    state: Literal["good", "worn", "faded"] = "worn"


@dataclass(frozen=True, slots=True)
class Planting(Record):
    """A bed, a lawn, a hedge or a tree.

    ``density`` is the share of leaf that a person sees in it; from one half up it counts as ``opaque``. A tree's
    crown begins ``clear_below`` above the ground, and a person sees past its stem.
    """

    id: Id
    outline: Outline
    kind: Literal["bed", "lawn", "hedge", "tree", "pots"] = "bed"
    height: Height = 0.0
    opaque: bool = True
    density: Share | None = None
    clear_below: Height = 0.0
    level: Level = 0.0
    delicate: bool = False

    @property
    def hides(self) -> bool:
        """Whether it counts as something that cannot be seen through."""
        return self.opaque if self.density is None else self.density >= DENSE


@dataclass(frozen=True, slots=True)
class Drain(Record):
    """A drain and where it leads."""

    id: Id
    at: Point
    leads_to: Literal["storm", "sanitary", "planting", "dry well", "unknown"] = "unknown"
    note: Text | None = None


@dataclass(frozen=True, slots=True)
class Tap(Record):
    """A water tap: whose it is and what it gives."""

    id: Id
    at: Point
    flow: Flow | None = None
    owner: Text | None = None
    backflow_preventer: bool | None = None


@dataclass(frozen=True, slots=True)
class ParkedArea(Record):
    """Ground where vehicles stand; ``height`` is the vehicles' height for what they hide."""

    id: Id
    outline: Outline
    height: Height = 1.5
    level: Level = 0.0
    present: bool = True


@dataclass(frozen=True, slots=True)
class Fence(Record):
    """A fence or a free-standing wall."""

    id: Id
    path: tuple[Point, ...]
    height: Height
    level: Level = 0.0
    opaque: bool = True


@dataclass(frozen=True, slots=True)
class Neighbour(Record):
    """Somebody else's ground or building that drift, noise or water must not reach."""

    id: Id
    outline: Outline
    what: Text
    height: Height = 0.0


@dataclass(frozen=True, slots=True)
class KeepOut(Record):
    """Ground where the crew may not stand, and why."""

    id: Id
    outline: Outline
    reason: Text


@dataclass(frozen=True, slots=True)
class OverheadLine(Record):
    """An overhead service line between two points; unknown voltage is taken as live and bare."""

    id: Id
    start: Point3
    end: Point3
    sag: Gap = 0.0
    kilovolts: Number | None = None
    note: Text | None = None


@dataclass(frozen=True, slots=True)
class RigPlace(Record):
    """Where the rig may stand."""

    id: Id
    at: Point
    note: Text | None = None
