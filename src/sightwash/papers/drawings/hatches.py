"""Hatches that carry meaning in black and white, and the legend that names those in use."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final
from xml.etree.ElementTree import Element, SubElement

from sightwash.papers.drawings.canvas import GREY, INK, LIGHT, PAPER, Canvas, Pen, number


@dataclass(frozen=True, slots=True)
class Hatch:
    """A tile that repeats: its size, its lines and dots, their pen."""

    size: float
    strokes: str
    pen: Pen
    dots: tuple[tuple[float, float, float], ...] = ()
    ground: str = ""


_DIAGONAL: Final = "M-1 {a}L{a} -1M0 {s}L{s} 0M{b} {c}L{c} {b}"


def _diagonal(size: float) -> str:
    """Return strokes that run on from tile to tile."""
    values = {"a": 1.0, "s": size, "b": size - 1.0, "c": size + 1.0}
    return _DIAGONAL.format(**{key: number(value) for key, value in values.items()})


def _crossed(size: float) -> str:
    return f"M0 0L{number(size)} {number(size)}M0 {number(size)}L{number(size)} 0"


HATCHES: Final[dict[str, Hatch]] = {
    "missed": Hatch(4.6, _diagonal(4.6), Pen(1.25, INK)),
    "hidden": Hatch(4.4, "", Pen(0.0, INK), ((1.1, 1.1, 0.55), (3.3, 3.3, 0.55))),
    "cleaner": Hatch(4.5, "M2.25 0V4.5", Pen(0.35, LIGHT)),
    "sector": Hatch(3.0, _diagonal(3.0), Pen(0.4, GREY), ground=PAPER),
    "hand": Hatch(4.0, _crossed(4.0), Pen(0.45, INK)),
    "soiling-light": Hatch(9.0, "M0.5 4.5H3.5", Pen(0.5, LIGHT)),
    "soiling-moderate": Hatch(6.0, "M0.5 1.5H3M3.5 4.5H6", Pen(0.5, LIGHT)),
    "soiling-heavy": Hatch(4.0, "M0 1H2.5M2 3H4", Pen(0.6, "#9a9a9a")),
    "planting": Hatch(9.0, "M1.5 2.5L3 5L4.5 2.5M6 7L7.2 9L8.4 7", Pen(0.45, GREY)),
    "cut": Hatch(3.4, _crossed(3.4).split("M0 3.4")[0], Pen(0.4, INK), ground=PAPER),
}


class Hatching:
    """The hatches of one drawing; one that is used is defined once, under the drawing's own prefix."""

    def __init__(self, canvas: Canvas, prefix: str) -> None:
        self._canvas = canvas
        self._prefix = prefix
        self.used: list[str] = []

    def fill(self, name: str) -> str:
        """Return what fills a shape with a hatch."""
        if name not in self.used:
            self.used.append(name)
            self._define(name, HATCHES[name])
        return f"url(#{self._prefix}-{name})"

    def _define(self, name: str, hatch: Hatch) -> None:
        size = number(hatch.size)
        tile = SubElement(
            self._canvas.definitions,
            "pattern",
            {"id": f"{self._prefix}-{name}", "patternUnits": "userSpaceOnUse", "width": size, "height": size},
        )
        _draw_tile(tile, hatch)


def _draw_tile(tile: Element, hatch: Hatch) -> None:
    if hatch.ground:
        size = number(hatch.size)
        SubElement(tile, "rect", {"width": size, "height": size, "fill": hatch.ground})
    if hatch.strokes:
        width = number(hatch.pen.width)
        SubElement(tile, "path", {"d": hatch.strokes, "stroke": hatch.pen.ink, "stroke-width": width, "fill": "none"})
    for x, y, radius in hatch.dots:
        SubElement(tile, "circle", {"cx": number(x), "cy": number(y), "r": number(radius), "fill": hatch.pen.ink})
