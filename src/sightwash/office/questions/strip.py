"""The strip on a page: the unrolled wall with one question's layer on it, each part a link to its six answers."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Final
from xml.etree import ElementTree
from xml.etree.ElementTree import Element, SubElement

from django.utils.safestring import SafeString, mark_safe

from sightwash.papers.drawings.canvas import PAPER, Pen, disc, number, write
from sightwash.papers.drawings.canvas import box as plate
from sightwash.papers.drawings.lettering import text_width

XMLNS: Final = ' xmlns="http://www.w3.org/2000/svg"'
ALL_BUT_REACH: Final = frozenset({"spot", "look", "leader", "legend", "gum", "fixture", "notes"})
BARE_WALLS: Final = ALL_BUT_REACH | {"sight"}
LEFT_OUT: Final[Mapping[str, frozenset[str]]] = {
    "who-reaches-it": frozenset(),
    "with-what": BARE_WALLS,
    "how-long": BARE_WALLS,
    "what-does-it-cost": BARE_WALLS,
    "is-it-done": ALL_BUT_REACH,
}
"""Classes of the drawing that a question leaves out."""
_OPENED: Final = ("soiling", "ground-surface", "ground-cleaner")
MARK: Final = 11.0
FOOT: Final = 6.0
_NUMBER: Final = re.compile(r"-?\d+(?:\.\d+)?")

Href = Callable[[str], str]


@dataclass(frozen=True, slots=True)
class Marks:
    """What a question writes on the strip, by id: words on a plate on a wall or the ground, numbers on patches."""

    on_parts: Mapping[str, str] = field(default_factory=dict)
    on_patches: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class _Box:
    """Where something lies on the drawing."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def middle(self) -> tuple[float, float]:
        """The middle."""
        return (self.left + self.right) / 2, (self.top + self.bottom) / 2


def strip_svg(
    drawing: str, question: str, names: Mapping[str, str], href: Href, marks: Marks | None = None
) -> SafeString:
    """Return a drawing of the strip for a question; ``names`` are the parts that can be opened, with their words."""
    root = ElementTree.fromstring(drawing.replace(XMLNS, "", 1))
    _leave_out(root, LEFT_OUT[question])
    _bare(root)
    layer = Element("g", {"class": "marks"})
    asked = marks or Marks()
    seen: set[str] = set()
    for parent in list(root.iter()):
        for place, child in enumerate(list(parent)):
            kind = child.get("class")
            part = child.get("data-patch" if kind == "soiling" else "data-id") if kind in _OPENED else None
            if part is not None and part in names:
                parent.remove(child)
                parent.insert(place, _linked([child], part, names, href))
                words = asked.on_patches if kind == "soiling" else asked.on_parts
                _mark(layer, child, part, words, seen, in_disc=kind == "soiling")
        if parent.get("class") == "wall":
            _open_wall(parent, layer, names, href, asked, seen)
    root.append(layer)
    return mark_safe(ElementTree.tostring(root, encoding="unicode"))


def _open_wall(
    wall: Element, layer: Element, names: Mapping[str, str], href: Href, marks: Marks, seen: set[str]
) -> None:
    part = wall.get("data-wall") or ""
    outline = next((child for child in wall if child.tag == "path"), None)
    if outline is None or part not in names:
        return
    place = list(wall).index(outline)
    wall.remove(outline)
    wall.insert(place, _linked([outline], part, names, href))
    _mark(layer, outline, part, marks.on_parts, seen, in_disc=False)


def _linked(children: list[Element], part: str, names: Mapping[str, str], href: Href) -> Element:
    link = Element("a", {"href": href(part), "class": "part", "data-part": part, "aria-label": names[part]})
    link.extend(children)
    return link


def _mark(
    layer: Element, shape: Element, part: str, words: Mapping[str, str], seen: set[str], *, in_disc: bool
) -> None:
    text = words.get(part)
    box = _bounds(shape)
    if text is None or box is None or part in seen:
        return
    seen.add(part)
    x, y = box.middle
    if in_disc:
        made = SubElement(layer, "g", {"class": "mark"})
        disc(made, (x, y), MARK * 0.62, Pen(0.9), PAPER)
        write(made, (x, y + MARK * 0.32), text, MARK * 0.85, "middle", bold=True)
    else:
        made = SubElement(layer, "g", {"class": "mark"})
        width = text_width(text, MARK) * 1.07 + 6.0
        plate(made, (x - width / 2, y - MARK * 0.62), width, MARK * 1.24, Pen(0.4), PAPER)
        write(made, (x, y + MARK * 0.36), text, MARK, "middle", bold=True)


def _bounds(element: Element) -> _Box | None:
    """Return the bounds of all paths of an element; they are made of straight lines alone."""
    points = [float(found) for path in element.iter("path") for found in _NUMBER.findall(path.get("d", ""))]
    if not points:
        return None
    return _Box(min(points[::2]), min(points[1::2]), max(points[::2]), max(points[1::2]))


def _leave_out(root: Element, classes: frozenset[str]) -> None:
    """Take out what a question does not show, and cut off what is empty then at the foot."""
    for parent in list(root.iter()):
        for child in list(parent):
            name = child.get("class", "")
            if name in classes or (name == "label" and classes and child.get("data-wall") is None):
                if name == "legend":
                    _cut_off(root, child)
                parent.remove(child)


def _cut_off(root: Element, legend: Element) -> None:
    box = _bounds(legend)
    paper = root.find("rect")
    if box is not None and paper is not None:
        height = box.top - FOOT
        root.set("viewBox", f"0 0 {paper.get('width')} {number(height)}")
        paper.set("height", number(height))


def _bare(root: Element) -> None:
    """Take out sizes, the drawing's own heading and hover titles; the page says all that beside the drawing."""
    for key in ("width", "height", "role"):
        root.attrib.pop(key, None)
    words = root.findtext("title") or "the unrolled wall"
    root.set("role", "group")
    root.set("aria-label", words)
    root.set("font-family", "inherit")
    for parent in list(root.iter()):
        for child in list(parent):
            heading = child.tag == "text" and (parent.get("class") == "head" or "sheet" in (child.text or ""))
            if child.tag in ("title", "desc") or (heading and parent.get("class") in ("head", "scale-bar")):
                parent.remove(child)
