"""The rig: machine, hoses, tips, injector, cleaner, tanks, ladders, bleach and crew."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from sightwash.basis import units
from sightwash.site.fields import (
    AirTemperature,
    Angle,
    Bore,
    CalendarDay,
    Count,
    EyeHeight,
    Flow,
    Gap,
    Height,
    Id,
    Number,
    Pressure,
    Projecting,
    Quantity,
    Record,
    SchemaVersion,
    Share,
    Speed,
    StrengthText,
    Text,
    Volume,
)
from sightwash.site.model import System

HoseLength = Annotated[float, Quantity(units.LENGTH, "1 ft", "1000 ft")]
CleanerDiameter = Annotated[float, Quantity(units.BORE, "8 in", "60 in")]
EdgeGap = Annotated[float, Quantity(units.BORE, "0 in", "6 in")]
SmallGap = Annotated[float, Quantity(units.BORE, "0 in", "12 in")]


@dataclass(frozen=True, slots=True)
class Machine(Record):
    """The pump: rated flow and pressure at full engine speed, where its unloader opens, how many run side by side."""

    flow: Flow
    pressure: Pressure
    unloader: Pressure | None = None
    engine_speed: Share = 1.0
    hot: bool = False
    name: Text | None = None
    count: Count = 1


@dataclass(frozen=True, slots=True)
class Hose(Record):
    """One hose run; runs are taken in series in the order written, machine end first."""

    id: Id
    length: HoseLength
    bore: Bore


@dataclass(frozen=True, slots=True)
class FieldTest(Record):
    """The highest wet mark seen with a tip: pressure at the gun, distance to the wall, head wind."""

    pressure: Pressure
    standoff: Gap
    highest_mark: Height
    head_wind: Speed = 0.0
    date: CalendarDay | None = None


@dataclass(frozen=True, slots=True)
class Tip(Record):
    """A tip on hand by its size number (gal/min at 4000 psi) and fan angle (0: plain jet)."""

    id: Id
    size: Number
    fan: Angle = 0.0
    use: Literal["rinse", "long throw", "soap", "trim", "cleaner"] = "rinse"
    count: Count = 1
    field_test: FieldTest | None = None


@dataclass(frozen=True, slots=True)
class Injector(Record):
    """A downstream injector by its bucket test: stock drawn while the nozzle gives the total flow."""

    draw: Flow
    total: Flow
    highest_pressure: Pressure | None = None


@dataclass(frozen=True, slots=True)
class SurfaceCleaner(Record):
    """A round surface cleaner: swept diameter and how far its shroud keeps it from a wall."""

    id: Id
    diameter: CleanerDiameter
    edge_gap: EdgeGap = 0.0254
    overlap: Share = 0.15


@dataclass(frozen=True, slots=True)
class Tank(Record):
    """A tank on the trailer and what is in it."""

    id: Id
    volume: Volume
    holds: Literal["water", "bleach", "mix", "recovered"] = "water"


@dataclass(frozen=True, slots=True)
class Ladder(Record):
    """A ladder by the height of the highest step a person may stand on."""

    id: Id
    step_height: Height
    kind: Literal["step", "extension", "platform"] = "step"


@dataclass(frozen=True, slots=True)
class StrengthReading(Record):
    """A test of the stock: what it read, when, how, and how far off such a test may be."""

    strength: StrengthText
    date: CalendarDay
    by: Literal["titration", "test kit", "test strip"] = "test kit"
    error: Share | None = None
    note: Text | None = None


@dataclass(frozen=True, slots=True)
class MonthTemperature(Record):
    """The usual lowest and highest temperature of a day of one month, 1 to 12, where the stock stands."""

    month: Count
    low: AirTemperature
    high: AirTemperature


@dataclass(frozen=True, slots=True)
class DayTemperature(Record):
    """The lowest and the highest temperature of one day where the stock stood; equal for a mean."""

    date: CalendarDay
    low: AirTemperature
    high: AirTemperature


@dataclass(frozen=True, slots=True)
class Bleach(Record):
    """Bleach on hand: its strength with its term, the date it was that strong, how it was kept, how it tested.

    A day takes its temperature from ``storage_days``, else ``storage_months``, else ``storage_temperature``.
    """

    strength: StrengthText
    dated: CalendarDay | None = None
    storage_temperature: AirTemperature | None = None
    storage_months: tuple[MonthTemperature, ...] = ()
    storage_days: tuple[DayTemperature, ...] = ()
    reading: StrengthReading | None = None
    specific_gravity: Number | None = None
    volume: Volume | None = None
    salty: bool = False


@dataclass(frozen=True, slots=True)
class Proportioner(Record):
    """A valve panel that blends stock and water: the most stock that it takes, its flow, the marks on its dial."""

    highest_share: Share
    flow: Flow | None = None
    marks: Count = 10


@dataclass(frozen=True, slots=True)
class Containment(Record):
    """What keeps wash water out of drains; ``recovered`` is the share of held water that comes into the tank."""

    berm: HoseLength | None = None
    drain_covers: Count = 0
    vacuum: Flow | None = None
    recovered: Share | None = None


@dataclass(frozen=True, slots=True)
class Crew(Record):
    """How many people, how high they can see and how high they hold the wand."""

    people: Count = 2
    eye_height: EyeHeight = 5.25 * 0.3048
    wand_height: Height = 4.5 * 0.3048
    longest_shift: Number = 10.0


@dataclass(frozen=True, slots=True)
class Rig(Record):
    """The whole rig."""

    kind: Literal["rig"]
    schema: SchemaVersion
    id: Id
    name: Text
    machine: Machine
    units: System = "us"
    hoses: tuple[Hose, ...] = ()
    tips: tuple[Tip, ...] = ()
    wand_length: Projecting = 4.0 * 0.3048
    injector: Injector | None = None
    proportioner: Proportioner | None = None
    containment: Containment | None = None
    surface_cleaners: tuple[SurfaceCleaner, ...] = ()
    trim_strip: SmallGap = 0.0254
    tanks: tuple[Tank, ...] = ()
    ladders: tuple[Ladder, ...] = ()
    bleach: Bleach | None = None
    crew: Crew = Crew()
    note: Text | None = None
