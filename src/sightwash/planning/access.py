"""Accessible stalls against the public table, as a question to the owner and the local authority, never advice."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sightwash.basis.sources import Why
from sightwash.basis.units import INCH
from sightwash.science.accessible_stalls import accessible_stalls, van_stalls
from sightwash.science.tables import table_rows
from sightwash.site.ground import StallRow
from sightwash.site.model import Site

ASK = "ask the owner and the local authority; this is a count against a public table, not legal advice"


@dataclass(frozen=True, slots=True)
class AccessCheck:
    """Stalls seen, accessible and for vans, against the table; ``short`` and ``vans_short`` are never below zero."""

    stalls: int
    accessible: int
    vans: int
    table: int
    table_vans: int
    short: int
    vans_short: int
    words: str
    questions: tuple[str, ...]
    local: str | None
    why: Why


def plan_access_check(site: Site) -> AccessCheck | None:
    """Return the count of accessible stalls against the table; None where no stall is noted."""
    stalls = sum(row.count for row in site.stalls)
    if stalls == 0:
        return None
    accessible = sum(row.accessible for row in site.stalls)
    vans = sum(row.van for row in site.stalls)
    table = accessible_stalls(stalls)
    table_vans = van_stalls(table)
    short, vans_short = max(table - accessible, 0), max(table_vans - vans, 0)
    return AccessCheck(
        stalls, accessible, vans, table, table_vans, short, vans_short,
        _words(short, vans_short), tuple(_questions(site)), site.local.access,
        Why(
            "counts as noted on the walk, taken as one parking facility; state and local codes may ask for more",
            ("ada-2010-208", "access-board-parking", "ada-2010-502"),
        ),
    )  # fmt: skip


def _words(short: int, vans_short: int) -> str:
    said = []
    if short:
        said.append(f"looks short by {_number(short)}")
    if vans_short:
        said.append(f"looks short by {_number(vans_short)} for vans")
    if not said:
        return f"the counts are those of the table or above; {ASK}"
    return f"{', '.join(said)}: {ASK}"


def _number(count: int) -> str:
    words = ("", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
    return words[count] if count < len(words) else str(count)


def _questions(site: Site) -> Iterator[str]:
    """Yield what has to be measured or asked about the accessible stalls that are there."""
    inches = [row for row in table_rows("accessible_dimensions") if row["unit"] == "in"]
    least = {row["name"]: float(row["value"]) * INCH for row in inches}
    for row in site.stalls:
        if row.accessible:
            yield from _row_questions(row, least)
    if len(site.stalls) > 1:
        yield "the table counts by parking facility: are all these rows one lot?"


def _row_questions(row: StallRow, least: dict[str, float]) -> Iterator[str]:
    width = float(row.width)
    if width < least["car stall width"] - 1e-9:
        yield f"{row.id}: stalls of {width / INCH:.0f} in look narrower than the table's 96 in: measure, {ASK}"
    if row.van and width < least["van stall width"] - 1e-9:
        yield f"{row.id}: a van stall of {width / INCH:.0f} in needs an aisle of 96 in beside it: measure the aisle"
    yield f"{row.id}: measure the aisles (60 in at least, the full length, marked) between the middles of the lines"
    yield f"{row.id}: slope 1:48 at most each way, sign 60 in up, 98 in clear for vans: look, do not judge"
