"""Who looks at the property, and from where."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sightwash.site.fields import Angle, EyeHeight, Id, Level, Number, Point, Record, Speed, Text


@dataclass(frozen=True, slots=True)
class Eye(Record):
    """One place, or one path, that somebody looks from.

    ``path`` holds one point for a standing eye and two or more for a road or a walk; ``levels`` gives the
    ground elevation at each point. A ``crew`` eye is one that the crew declares to look from.
    """

    id: Id
    kind: Literal["road", "parking row", "walk", "entrance", "window", "crew"]
    path: tuple[Point, ...]
    height: EyeHeight | None = None
    levels: tuple[Level, ...] = ()
    speed: Speed | None = None
    cone: Angle | None = None
    per_day: Number | None = None
    name: Text | None = None


@dataclass(frozen=True, slots=True)
class CrewEye(Record):
    """The eye of a crew member at work: its height and how far out from the wall it walks."""

    height: EyeHeight = 5.25 * 0.3048
    standoff: EyeHeight = 12.0 * 0.3048
