"""Repeat visits: what has grown back after some months, as a site that can be planned like any other."""

from __future__ import annotations

import csv
from dataclasses import dataclass, replace
from functools import cache
from importlib import resources
from typing import Final, get_args

from sightwash.basis.errors import InputError, Problem
from sightwash.science.regrowth import regrown_share
from sightwash.site.ground import Gum
from sightwash.site.model import Site
from sightwash.site.walls import Degree, Wall

LOADS: Final[dict[str, float]] = {"light": 1.0 / 3.0, "moderate": 2.0 / 3.0, "heavy": 1.0}
"""How much dirt each degree stands for, as a share of the heaviest [-]; a judgement."""


@dataclass(frozen=True, slots=True)
class Regrowth:
    """How soon one kind of dirt is back: months until 63 % of it, the shape of its return, in words."""

    soiling: str
    months: float
    shape: float
    words: str
    source: str


@cache
def regrowths() -> dict[str, Regrowth]:
    """Return the regrowth of every kind of dirt; judgements, the user's to replace."""
    text = resources.files("sightwash").joinpath("data", "regrowth.csv").read_text(encoding="utf-8")
    return {
        row["soiling"]: Regrowth(row["soiling"], float(row["months"]), float(row["shape"]), row["words"], row["source"])
        for row in csv.DictReader(text.splitlines())
    }


def grown_back(soiling: str, months: float) -> float:
    """Return the share of what was found at first that is back after some months."""
    if not months > 0:
        words = f"{months:g} months between two visits"
        raise InputError(Problem("no-interval", words, key="months", expected="above 0", fix="write `6`"))
    row = regrowths()[soiling]
    return regrown_share(months, row.months, row.shape)


def degree_after(soiling: str, degree: Degree, months: float) -> Degree:
    """Return the degree of dirt of a kind that was found, washed off and left to grow for some months.

    >>> degree_after("algae", "heavy", 6.0), degree_after("splash", "heavy", 6.0), degree_after("algae", "heavy", 36.0)
    ('light', 'moderate', 'heavy')
    """
    load = LOADS[degree] * grown_back(soiling, months)
    degrees: tuple[Degree, ...] = get_args(Degree)
    return next((each for each in degrees if load <= LOADS[each] + 1e-9), degree)


def repeat_site(site: Site, months: float) -> Site:
    """Return a site as it will be some months after a thorough visit: less dirt, less gum, the rest as it is."""
    return replace(
        site,
        walls=tuple(_wall(wall, months) for wall in site.walls),
        gum=tuple(_gum(gum, months) for gum in site.gum),
    )


def _wall(wall: Wall, months: float) -> Wall:
    soiling = tuple(replace(each, degree=degree_after(each.kind, each.degree, months)) for each in wall.soiling)
    items = tuple(
        each if each.soiling is None else replace(each, soiling=degree_after("algae", each.soiling, months))
        for each in wall.projections
    )
    return replace(wall, soiling=soiling, projections=items)


def _gum(gum: Gum, months: float) -> Gum:
    """Return gum thinned out; spots that were marked are gone and only their share comes back."""
    back = grown_back("gum", months)
    marked = round(len(gum.at) * back)
    count = None if gum.count is None else round(gum.count * back)
    density = None if gum.density is None else gum.density * back
    return replace(gum, count=count, density=density, at=gum.at[:marked])
