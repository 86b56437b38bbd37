"""A site: the measured place, as a person notes it on a walk. Inner units (see ``basis.units``).

Site axes: x, y in the plan (right-handed), z up; ``place.north`` is the compass bearing of +y.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated, Literal

from sightwash.basis import units
from sightwash.site.eyes import CrewEye, Eye
from sightwash.site.fields import Bearing, ClockTime, Id, Level, Quantity, Record, SchemaVersion, Text, WallHeight
from sightwash.site.ground import (
    Drain,
    Fence,
    Gum,
    KeepOut,
    Marking,
    Neighbour,
    Outline,
    OverheadLine,
    ParkedArea,
    Planting,
    Post,
    RigPlace,
    StallRow,
    Surface,
    Tap,
)
from sightwash.site.walls import Wall

System = Literal["us", "metric"]
Latitude = Annotated[float, Quantity(units.ANGLE, "-75 deg", "75 deg")]
Longitude = Annotated[float, Quantity(units.ANGLE, "-180 deg", "180 deg")]
Elevation = Annotated[float, Quantity(units.LENGTH, "-1400 ft", "16000 ft")]


@dataclass(frozen=True, slots=True)
class Place(Record):
    """Where on earth the site lies and how its axes are turned."""

    time_zone: Text | None = None
    latitude: Latitude | None = None
    longitude: Longitude | None = None
    elevation: Elevation = 0.0
    north: Bearing = 0.0
    address: Text | None = None


@dataclass(frozen=True, slots=True)
class QuietHours(Record):
    """Hours in which local rules want quiet, local clock; ``leave``: who allowed the machine in them, in writing."""

    start: ClockTime
    end: ClockTime
    leave: Text | None = None


@dataclass(frozen=True, slots=True)
class LocalTexts(Record):
    """Local rules in the user's own words; the tool never supplies them."""

    discharge: Text | None = None
    fire_lane: Text | None = None
    noise: Text | None = None
    access: Text | None = None


@dataclass(frozen=True, slots=True)
class Building(Record):
    """A building as a solid: its outline counter-clockwise, its courtyards, its height."""

    id: Id
    outline: Outline
    height: WallHeight | None = None
    holes: tuple[Outline, ...] = ()
    level: Level = 0.0
    name: Text | None = None


@dataclass(frozen=True, slots=True)
class Contact(Record):
    """Somebody to reach on the night."""

    name: Text
    role: Text | None = None
    phone: Text | None = None


@dataclass(frozen=True, slots=True)
class Site(Record):
    """The whole property."""

    kind: Literal["site"]
    schema: SchemaVersion
    id: Id
    name: Text
    units: System = "us"
    place: Place = Place()
    crew_eye: CrewEye = field(default_factory=CrewEye)
    quiet_hours: QuietHours | None = None
    local: LocalTexts = LocalTexts()
    contacts: tuple[Contact, ...] = ()
    buildings: tuple[Building, ...] = ()
    walls: tuple[Wall, ...] = ()
    surfaces: tuple[Surface, ...] = ()
    posts: tuple[Post, ...] = ()
    gum: tuple[Gum, ...] = ()
    markings: tuple[Marking, ...] = ()
    stalls: tuple[StallRow, ...] = ()
    planting: tuple[Planting, ...] = ()
    drains: tuple[Drain, ...] = ()
    taps: tuple[Tap, ...] = ()
    parked: tuple[ParkedArea, ...] = ()
    fences: tuple[Fence, ...] = ()
    neighbours: tuple[Neighbour, ...] = ()
    keep_outs: tuple[KeepOut, ...] = ()
    overhead_lines: tuple[OverheadLine, ...] = ()
    rig_places: tuple[RigPlace, ...] = ()
    eyes: tuple[Eye, ...] = ()
    note: Text | None = None
