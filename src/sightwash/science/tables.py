"""Tables of published figures that come with the package, one CSV file each."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib import resources
from types import MappingProxyType


@dataclass(frozen=True, slots=True)
class Figure:
    """One published figure: its value in the inner unit, where it holds, where it comes from."""

    id: str
    name: str
    value: float
    unit: str
    range: str
    source: str
    status: str


def table_rows(table: str) -> tuple[dict[str, str], ...]:
    """Rows of a table of the package as they stand in the file.

    Parameters
    ----------
    table : str
        File name without its ending [-]

    Returns
    -------
    tuple of dict
        One mapping of column to text for each row [-]

    Notes
    -----
    Range: tables in the package's data folder.

    References
    ----------
    own-table

    Examples
    --------
    >>> table_rows("neutralisers")[0]["id"]
    'sulfur-dioxide'
    """
    text = resources.files("sightwash").joinpath("data", f"{table}.csv").read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))


@cache
def figures(table: str) -> MappingProxyType[str, Figure]:
    """Published figures of one table by id.

    Parameters
    ----------
    table : str
        ``discharge_criteria``, ``chlorine_limits``, ``plant_tolerance``, ``hypochlorite_hazard_classes``,
        ``carriage_limits`` or ``bleach_specific_gravity`` [-]

    Returns
    -------
    mapping of str to Figure
        Every row of the table by its id [-]

    Notes
    -----
    Range: tables with the columns ``id,name,value,unit,range,source,status``.

    References
    ----------
    own-table

    Examples
    --------
    >>> figures("discharge_criteria")["fresh-acute"].value
    0.019
    """
    found: dict[str, Figure] = {}
    for row in table_rows(table):
        found[row["id"]] = Figure(
            row["id"], row["name"], float(row["value"]), row["unit"], row["range"], row["source"], row["status"]
        )
    return MappingProxyType(found)
