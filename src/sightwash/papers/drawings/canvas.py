"""An SVG canvas: shapes, lines, text and numbers, written the same way every time."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Final
from xml.etree import ElementTree
from xml.etree.ElementTree import Element, SubElement

from sightwash.papers.drawings.lettering import SMALL, plain_words, writable
from sightwash.planning.regions import Region, Ring

INK: Final = "#000000"
GREY: Final = "#6b6b6b"
LIGHT: Final = "#b4b4b4"
PALE: Final = "#ececec"
PAPER: Final = "#ffffff"
ACCENT: Final = "#a4260e"
"""For what needs a decision, and for nothing else."""
FACE: Final = "Liberation Sans, Arimo, DejaVu Sans, sans-serif"

HALO: Final = {"stroke": PAPER, "stroke-width": "2.2", "stroke-linejoin": "round", "paint-order": "stroke"}
"""What keeps words clear of what lies behind them."""
MANY: Final = 24
TELLING: Final = 0.06
"""Corners of a ring of more than MANY that lie nearer together than this are one [pt]."""
Point = tuple[float, float]
Place = Callable[[float, float], Point]


@dataclass(frozen=True, slots=True)
class Pen:
    """How a line is drawn: its width [pt], its ink, its dashes."""

    width: float
    ink: str = INK
    dash: str = ""


HAIR: Final = Pen(0.35, GREY)
THIN: Final = Pen(0.5)
MEDIUM: Final = Pen(0.9)
HEAVY: Final = Pen(1.5)


def number(value: float) -> str:
    """Return a coordinate as text, to a thousandth of a point.

    >>> number(12.34567), number(-0.0001), number(3.0)
    ('12.346', '0', '3')
    """
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


class Canvas:
    """One drawing: its size, its title and description for those who cannot see it, its patterns."""

    def __init__(self, width: float, height: float, title: str, description: str) -> None:
        size = {"width": f"{number(width)}pt", "height": f"{number(height)}pt"}
        self.root = Element(
            "svg",
            {"xmlns": "http://www.w3.org/2000/svg", **size, "viewBox": f"0 0 {number(width)} {number(height)}"},
            role="img",
        )
        self.root.set("font-family", FACE)
        self.width, self.height = width, height
        SubElement(self.root, "title").text = plain_words(title)
        SubElement(self.root, "desc").text = plain_words(description)
        self.definitions = SubElement(self.root, "defs")
        SubElement(
            self.root, "rect", {"class": "paper", "width": number(width), "height": number(height), "fill": PAPER}
        )

    def text(self) -> str:
        """Return the drawing as SVG text."""
        return ElementTree.tostring(self.root, encoding="unicode", short_empty_elements=True) + "\n"


def group(parent: Element, kind: str, title: str = "", **data: str) -> Element:
    """Return a new group: its class, what it is in words, and what it stands for as ``data-`` keys."""
    made = SubElement(parent, "g", {"class": kind, **{f"data-{key}": plain_words(data[key]) for key in data}})
    if title:
        SubElement(made, "title").text = plain_words(title)
    return made


def _style(element: Element, pen: Pen | None, fill: str) -> Element:
    element.set("fill", fill)
    if pen is not None:
        element.set("stroke", pen.ink)
        element.set("stroke-width", number(pen.width))
        if pen.dash:
            element.set("stroke-dasharray", pen.dash)
    return element


def path_data(points: Iterable[Point], closed: bool) -> str:
    """Return path data through points."""
    body = "L".join(f"{number(x)} {number(y)}" for x, y in points)
    return f"M{body}Z" if closed else f"M{body}"


def line(
    parent: Element, points: Sequence[Point], pen: Pen = THIN, closed: bool = False, fill: str = "none"
) -> Element:
    """Draw a line through points."""
    return _style(SubElement(parent, "path", {"d": path_data(points, closed)}), pen, fill)


def box(
    parent: Element, corner: Point, width: float, height: float, pen: Pen | None = THIN, fill: str = "none"
) -> Element:
    """Draw an upright box from its upper left corner."""
    x, y = corner
    size = {"x": number(x), "y": number(y), "width": number(width), "height": number(height)}
    return _style(SubElement(parent, "rect", size), pen, fill)


def disc(parent: Element, centre: Point, radius: float, pen: Pen | None = THIN, fill: str = PAPER) -> Element:
    """Draw a circle."""
    places = {"cx": number(centre[0]), "cy": number(centre[1]), "r": number(radius)}
    return _style(SubElement(parent, "circle", places), pen, fill)


def _thinned(ring: Ring, place: Place) -> list[Point]:
    """Return a ring on paper without the corners of arcs that no printer could tell apart."""
    points = [place(x, y) for x, y in ring]
    if len(points) <= MANY:
        return points
    kept = points[:1]
    for point in points[1:]:
        if abs(point[0] - kept[-1][0]) + abs(point[1] - kept[-1][1]) >= TELLING:
            kept.append(point)
    return kept


def shape(
    parent: Element, region: Region, place: Place, pen: Pen | None = None, fill: str = "none", **data: str
) -> Element | None:
    """Draw a region through ``place``, holes left open; None where there is nothing to draw."""
    if not region:
        return None
    data_text = "".join(path_data(_thinned(ring, place), True) for rings in region for ring in rings)
    keys = {f"data-{key}": plain_words(data[key]) for key in data}
    element = SubElement(parent, "path", {"d": data_text, "fill-rule": "evenodd", **keys})
    return _style(element, pen, fill)


def write(
    parent: Element,
    at: Point,
    words: str,
    size: float = SMALL,
    anchor: str = "start",
    *,
    bold: bool = False,
    ink: str = INK,
    turn: float = 0.0,
    halo: bool = False,
) -> Element:
    """Write words with their baseline at a point; ``halo`` keeps what lies behind from touching them."""
    element = SubElement(parent, "text", {"x": number(at[0]), "y": number(at[1]), "font-size": number(size)})
    if anchor != "start":
        element.set("text-anchor", anchor)
    if bold:
        element.set("font-weight", "bold")
    if turn:
        element.set("transform", f"rotate({number(turn)} {number(at[0])} {number(at[1])})")
    element.set("fill", ink)
    if halo:
        for key, value in HALO.items():
            element.set(key, value)
    element.text = writable(words)
    return element


def clip(canvas: Canvas, name: str, corner: Point, width: float, height: float) -> str:
    """Return the reference of a new box that things are cut off at; its name begins with ``name``."""
    own = f"{name}-{len(canvas.definitions)}"
    found = SubElement(canvas.definitions, "clipPath", {"id": own})
    size = {"x": number(corner[0]), "y": number(corner[1]), "width": number(width), "height": number(height)}
    SubElement(found, "rect", size)
    return f"url(#{own})"
