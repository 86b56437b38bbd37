"""The tables that decisions rest on: materials, soiling, starting production rates.

Each row carries the id of its source; a value that a table does not hold takes the worst row.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib import resources

from sightwash.basis.units import PSI, convert

UNKNOWN_WALL = "eifs"
UNKNOWN_GROUND = "sealed concrete"
PERCENT = 10_000.0
"""One trade percent of available chlorine [mg/L]."""


@dataclass(frozen=True, slots=True)
class WallMaterialRow:
    """What a wall material bears and drinks; pressures [Pa], strengths [mg/L], coverage [m2/L]."""

    material: str
    highest_pressure: float
    highest_strength: float
    coverage: float
    sun_absorptance: float
    porous: bool
    bleach: bool
    advice: str
    pressure_source: str
    strength_source: str


@dataclass(frozen=True, slots=True)
class GroundMaterialRow:
    """What a ground material bears; pressure [Pa]."""

    material: str
    highest_pressure: float
    bleach: bool
    advice: str
    source: str


@dataclass(frozen=True, slots=True)
class SoilingRow:
    """The usual answer to one kind of soiling; strengths by degree [mg/L]."""

    soiling: str
    agent: str
    strengths: dict[str, float]
    heavy_passes: int
    power_rinse: tuple[str, ...]
    words: str
    watch: str
    source: str


@dataclass(frozen=True, slots=True)
class StartingRate:
    """A starting production rate, the user's to replace: low, usual, high in ``unit`` a worker."""

    work: str
    low: float
    usual: float
    high: float
    unit: str
    words: str
    source: str


def _rows(name: str) -> list[dict[str, str]]:
    text = resources.files("sightwash").joinpath("data", name).read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


@cache
def wall_materials() -> dict[str, WallMaterialRow]:
    """Return every wall material by name."""
    return {
        row["material"]: WallMaterialRow(
            row["material"],
            float(row["highest_psi"]) * PSI,
            float(row["highest_percent"]) * PERCENT,
            convert(float(row["square_feet_a_gallon"]), "ft2/gal", "m2/L"),
            float(row["sun_absorptance"]),
            row["porous"] == "yes",
            row["bleach"] == "yes",
            row["advice"],
            row["pressure_source"],
            row["strength_source"],
        )
        for row in _rows("wall_materials.csv")
    }


@cache
def ground_materials() -> dict[str, GroundMaterialRow]:
    """Return every ground material by name."""
    return {
        row["material"]: GroundMaterialRow(
            row["material"], float(row["highest_psi"]) * PSI, row["bleach"] == "yes", row["advice"], row["source"]
        )
        for row in _rows("ground_materials.csv")
    }


@cache
def soilings() -> dict[str, SoilingRow]:
    """Return the usual answer to every kind of soiling."""
    return {
        row["soiling"]: SoilingRow(
            row["soiling"],
            row["agent"],
            {degree: float(row[f"{degree}_percent"]) * PERCENT for degree in ("light", "moderate", "heavy")},
            int(row["heavy_passes"]),
            {"yes": ("moderate", "heavy"), "heavy": ("heavy",), "no": ()}[row["power_rinse"]],
            row["words"],
            row["watch"],
            row["source"],
        )
        for row in _rows("soiling_methods.csv")
    }


@cache
def starting_rates() -> dict[str, StartingRate]:
    """Return the starting production rates by work."""
    return {
        row["work"]: StartingRate(
            row["work"],
            float(row["low"]),
            float(row["usual"]),
            float(row["high"]),
            row["unit"],
            row["words"],
            row["source"],
        )
        for row in _rows("production_rates.csv")
    }
