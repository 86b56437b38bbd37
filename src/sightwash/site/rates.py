"""Rates: what an hour, a gallon and a mile cost, how fast the crew works, and how the price is made.

Production rates ship only as a start, marked as the user's to replace (``data/production_rates.csv``).
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Annotated, Literal

from sightwash.basis import units
from sightwash.site.fields import Id, Money, Number, Quantity, Record, SchemaVersion, Share, Text, WorkingTime
from sightwash.site.model import System

RateUnit = Literal["ft2/h", "m2/h", "ft/h", "m/h", "1/h", "min"]
Markup = Annotated[float, Quantity(units.RATIO, "0 %", "300 %")]
Margin = Annotated[float, Quantity(units.RATIO, "0 %", "90 %")]


@dataclass(frozen=True, slots=True)
class ProductionRate(Record):
    """How fast one worker does one work: low, usual, high, in the stated unit (``min``: minutes each).

    With ``surface`` it holds on that material only, with ``soiling`` too only for that soiling on it.
    """

    work: Id
    low: Number
    usual: Number
    high: Number
    unit: RateUnit
    surface: Text | None = None
    soiling: Text | None = None


@dataclass(frozen=True, slots=True)
class Labour(Record):
    """Wage an hour, and the payroll burden on it as a share."""

    wage: Money
    burden: Markup = 0.0


@dataclass(frozen=True, slots=True)
class Materials(Record):
    """What is bought: money a gallon, or a pound for the neutraliser."""

    bleach: Money | None = None
    surfactant: Money | None = None
    neutraliser: Money | None = None
    marking_paint: Money | None = None
    water: Money = Decimal(0)


@dataclass(frozen=True, slots=True)
class Tax(Record):
    """A tax on the price."""

    name: Text
    rate: Share


@dataclass(frozen=True, slots=True)
class Travel(Record):
    """The drive: miles out and back, money a mile, and the time it takes in all."""

    miles: Number = 0.0
    a_mile: Money = Decimal(0)
    time: WorkingTime = 0.0


@dataclass(frozen=True, slots=True)
class Rates(Record):
    """All rates of the firm.

    ``access`` is what ladders, lifts and their hire cost a visit, ``disposal`` what containing and taking away the
    wash water costs.
    """

    kind: Literal["rates"]
    schema: SchemaVersion
    id: Id
    name: Text
    labour: Labour
    units: System = "us"
    currency: Text = "USD"
    machine_hour: Money = Decimal(0)
    materials: Materials = Materials()
    travel: Travel = Travel()
    overhead: Markup = 0.0
    margin: Margin = 0.3
    contingency: Share = 0.0
    access: Money = Decimal(0)
    disposal: Money = Decimal(0)
    minimum_charge: Money = Decimal(0)
    rounding: Money = Decimal(5)
    taxes: tuple[Tax, ...] = ()
    production: tuple[ProductionRate, ...] = ()
    note: Text | None = None
