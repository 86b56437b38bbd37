"""A small chart of the drying clock: for each wall and hour how long a section may be treated before the rinse.

::

    wall      |  21:30  22     23     00
    Row,front |  |##|   |##|   |  |   ----     a bar's height is the section, full height the whole wall
    (160 ft)  |  160    160    40     -        a stop bar marks an hour to avoid
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final
from xml.etree.ElementTree import Element, SubElement

from sightwash.papers.drawings.canvas import (
    ACCENT,
    GREY,
    HAIR,
    INK,
    PALE,
    PAPER,
    THIN,
    Canvas,
    Pen,
    box,
    group,
    line,
    number,
    write,
)
from sightwash.papers.drawings.lettering import HEADING, PLAIN, SMALL, apart, fitted, length_words, wrapped
from sightwash.planning.drying_clock import DryingClock
from sightwash.planning.wall_clock import LIT_ENOUGH, WallClock, WallHour
from sightwash.planning.work_hours import WorkHour
from sightwash.site.model import Site

NAMES: Final = 112.0
CELL: Final = 30.0
BAR: Final = 24.0
ROW: Final = 40.0
HEAD: Final = 30.0
PANEL_HEAD: Final = 30.0
PANEL_FOOT: Final = 40.0
FOOT: Final = 40.0
STOP: Final = Pen(2.6, INK)
_TILE: Final = 4.0


@dataclass(frozen=True, slots=True)
class _Panel:
    """One clock on the chart: its title and where it begins."""

    clock: DryingClock
    title: str
    top: float


def drying_chart(site: Site, clocks: Sequence[tuple[str, DryingClock]]) -> str:
    """Return one panel a clock, each with its title, below one another, as SVG text in black and white."""
    panels: list[_Panel] = []
    top = HEAD
    for title, clock in clocks:
        panels.append(_Panel(clock, title, top))
        top += PANEL_HEAD + ROW * max(len(clock.walls), 1) + PANEL_FOOT
    widest = max((len(clock.hours) for _, clock in clocks), default=1)
    width = max(NAMES + CELL * widest + 12.0, 400.0)
    names = {wall.id: wall.name or wall.id for wall in site.walls}
    canvas = Canvas(width, top + FOOT, f"{site.name}: sections by the hour", _description(panels, names, site.units))
    _sun_hatch(canvas)
    head = group(canvas.root, "head")
    title = fitted(f"{site.name}: longest section to treat", width - 8.0, HEADING)
    write(head, (4.0, 13.0), apart(title), HEADING, bold=True)
    write(head, (4.0, 24.0), "before the rinse must begin, each wall by the hour", PLAIN, ink=GREY)
    for panel in panels:
        _draw_panel(canvas, panel, names, site.units)
    _legend(canvas, top, site.units)
    return canvas.text()


def _sun_hatch(canvas: Canvas) -> None:
    """Define upright lines, which stand for sun on the wall."""
    size = number(_TILE)
    keys = {"id": "drying-sun", "patternUnits": "userSpaceOnUse", "width": size, "height": size}
    tile = SubElement(canvas.definitions, "pattern", keys)
    SubElement(tile, "rect", {"width": size, "height": size, "fill": PAPER})
    SubElement(tile, "path", {"d": f"M2 0V{size}", "stroke": INK, "stroke-width": "0.9", "fill": "none"})


def _fill(hour: WallHour, dark: bool) -> str:
    if dark:
        return PALE
    return "url(#drying-sun)" if hour.lit >= LIT_ENOUGH else PAPER


def _draw_panel(canvas: Canvas, panel: _Panel, names: dict[str, str], units: str) -> None:
    made = group(canvas.root, "panel", panel.title)
    verdict = panel.clock.verdict
    write(made, (4.0, panel.top + 10.0), fitted(panel.title, NAMES + 190.0, PLAIN), PLAIN, bold=True)
    words = fitted(verdict.words, canvas.width - 8.0, SMALL)
    write(made, (4.0, panel.top + 19.0), words, SMALL, ink=INK if verdict.go else ACCENT)
    bottom = panel.top + PANEL_HEAD
    for wall in panel.clock.walls:
        _draw_row(made, wall, panel.clock.hours, bottom, names.get(wall.wall, wall.wall), units)
        bottom += ROW
    if not panel.clock.walls:
        write(made, (NAMES, bottom + 12.0), "no wall is treated", SMALL, ink=GREY)
        bottom += ROW
    for index, hour in enumerate(panel.clock.hours):
        x = NAMES + CELL * (index + 0.5)
        write(made, (x, bottom + 9.0), f"{hour.start:%H:%M}", SMALL, "middle", ink=GREY)
    order = "; ".join(f"{turn.starts:%H:%M} {names.get(turn.wall, turn.wall)}" for turn in panel.clock.order)
    for row, words in enumerate(wrapped(f"Order: {order}" if order else "", canvas.width - 8.0, SMALL, 2)):
        write(made, (4.0, bottom + 20.0 + 9.0 * row), apart(words), SMALL)


def _draw_row(parent: Element, wall: WallClock, hours: Sequence[WorkHour], top: float, name: str, units: str) -> None:
    made = group(parent, "row", name, wall=wall.wall)
    write(made, (4.0, top + 14.0), apart(fitted(name, NAMES - 10.0, PLAIN)), PLAIN)
    write(made, (4.0, top + 24.0), f"{length_words(wall.length, units)}, faces {wall.bearing:.0f}°", SMALL, ink=GREY)
    base = top + BAR + 4.0
    for index, (hour, work) in enumerate(zip(wall.hours, hours, strict=True)):
        left = NAMES + CELL * index
        cell = group(made, "hour", hour.words, start=f"{hour.start:%H:%M}", section=f"{hour.section:.3f}")
        height = BAR * min(hour.section / wall.length, 1.0)
        if height > 0.05:
            box(cell, (left + 5.0, base - height), CELL - 10.0, height, THIN, _fill(hour, work.dark))
        if hour.avoid:
            line(cell, [(left + 4.0, base - 0.7), (left + CELL - 4.0, base - 0.7)], STOP)
        line(cell, [(left, base), (left + CELL, base)], HAIR)
        words = _section_words(hour.section, units)
        write(cell, (left + CELL / 2, base + 8.0), words, SMALL, "middle", bold=hour.avoid)


def _section_words(section: float, units: str) -> str:
    """Return a section in whole feet or metres; a dash where nothing can be treated."""
    value = section / 0.3048 if units == "us" else section
    return f"{value:.0f}" if value >= 0.5 else "-"


def _legend(canvas: Canvas, top: float, units: str) -> None:
    made = group(canvas.root, "legend", "legend")
    line(made, [(4.0, top + 2.0), (canvas.width - 4.0, top + 2.0)], HAIR)
    entries = ((PAPER, "shade"), ("url(#drying-sun)", "sun on it"), (PALE, "dark"))
    x = 4.0
    for fill, words in entries:
        box(made, (x, top + 9.0), 14.0, 9.0, THIN, fill)
        write(made, (x + 18.0, top + 16.5), words, SMALL)
        x += 74.0
    line(made, [(x, top + 14.0), (x + 20.0, top + 14.0)], STOP)
    write(made, (x + 24.0, top + 16.5), "hour to avoid", SMALL)
    unit = "feet" if units == "us" else "metres"
    words = f"full height: the whole wall; figures: {unit} of wall, at the careful end of a band of half either way"
    write(made, (4.0, top + 30.0), words, SMALL, ink=GREY)


def _description(panels: Sequence[_Panel], names: dict[str, str], units: str) -> str:
    words = []
    for panel in panels:
        words.append(f"{panel.title}: {panel.clock.verdict.words}.")
        for wall in panel.clock.walls:
            hours = ", ".join(f"{hour.start:%H:%M} {_section_words(hour.section, units)}" for hour in wall.hours)
            words.append(f"{names.get(wall.wall, wall.wall)}: {hours}.")
    return " ".join(words)
