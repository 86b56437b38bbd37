"""Where words go: the nearest free place, the same one every time, never over other words."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from sightwash.papers.drawings.canvas import Point
from sightwash.papers.drawings.lettering import LINE, text_width

GAP: Final = 1.2
"""Least clear distance between two labels [pt]."""
_SIDES: Final = ((1.0, 0.0), (-1.0, 0.0), (0.0, -1.0), (0.0, 1.0), (0.7, -0.7), (0.7, 0.7), (-0.7, -0.7), (-0.7, 0.7))
_RINGS: Final = (0.0, 6.0, 13.0, 21.0, 30.0, 42.0, 56.0, 74.0, 96.0)


@dataclass(frozen=True, slots=True)
class Box:
    """An upright box on the page [pt]; y runs down."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def width(self) -> float:
        """How wide the box is."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """How high the box is."""
        return self.bottom - self.top

    @property
    def middle(self) -> Point:
        """The centre."""
        return (self.left + self.right) / 2, (self.top + self.bottom) / 2

    def overlaps(self, other: Box, gap: float = 0.0) -> bool:
        """Whether two boxes come nearer than a gap."""
        return (
            self.left < other.right + gap
            and other.left < self.right + gap
            and self.top < other.bottom + gap
            and other.top < self.bottom + gap
        )

    def within(self, other: Box) -> bool:
        """Whether the box lies inside another."""
        return (
            other.left <= self.left
            and self.right <= other.right
            and other.top <= self.top
            and self.bottom <= other.bottom
        )

    def nearest(self, point: Point) -> Point:
        """The point of the box nearest to a point."""
        return min(max(point[0], self.left), self.right), min(max(point[1], self.top), self.bottom)


class Labels:
    """What is already taken on a page, and the places that are still free."""

    def __init__(self, bounds: Box) -> None:
        self.bounds = bounds
        self.taken: list[Box] = []
        self.lines: list[Box] = []

    def keep_clear(self, *boxes: Box) -> None:
        """Take places that no words may cover."""
        self.taken += boxes

    def avoid(self, *boxes: Box) -> None:
        """Note lines that words should not cross where there is another place."""
        self.lines += boxes

    def is_free(self, place: Box) -> bool:
        """Whether a place lies on the page and touches nothing that is taken."""
        return place.within(self.bounds) and not any(place.overlaps(other, GAP) for other in self.taken)

    def first_free(self, places: Iterable[Box]) -> Box | None:
        """Take and return the first free place that crosses no line, else the first free one, else None."""
        crossed: Box | None = None
        for place in places:
            if not self.is_free(place):
                continue
            if not any(place.overlaps(other) for other in self.lines):
                self.taken.append(place)
                return place
            crossed = crossed or place
        if crossed is not None:
            self.taken.append(crossed)
        return crossed


def text_box(lines: Iterable[str], size: float) -> tuple[float, float]:
    """Return the width and height of lines of text [pt]."""
    rows = list(lines)
    return max((text_width(row, size) for row in rows), default=0.0), len(rows) * size * LINE


def around(anchor: Point, width: float, height: float, clear: float = 4.0, rings: int = len(_RINGS)) -> Iterator[Box]:
    """Yield boxes beside, above and below a point, near ones first."""
    x, y = anchor
    for ring in _RINGS[:rings]:
        for across, down in _SIDES:
            middle_x = x + across * (clear + ring + width / 2)
            middle_y = y + down * (clear + ring + height / 2)
            yield centred((middle_x, middle_y), width, height)


def along(start: Point, end: Point, width: float, height: float, steps: int = 9) -> Iterator[Box]:
    """Yield boxes centred on a line, from its middle outwards."""
    for step in sorted(range(1, steps + 1), key=lambda k: (abs(k - (steps + 1) / 2), k)):
        share = step / (steps + 1)
        yield centred(
            (start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])), width, height
        )


def within_box(area: Box, width: float, height: float, columns: int = 9, rows: int = 5) -> Iterator[Box]:
    """Yield boxes inside an area that is large enough, from its middle outwards."""
    spare_x, spare_y = area.width - width, area.height - height
    if spare_x < 0.0 or spare_y < 0.0:
        return
    x, y = area.middle
    shares = [
        ((column / (columns - 1) - 0.5) * spare_x, (row / (rows - 1) - 0.5) * spare_y)
        for column in range(columns)
        for row in range(rows)
    ]
    for across, down in sorted(shares, key=lambda share: (round(math.hypot(*share), 6), share)):
        yield centred((x + across, y + down), width, height)


def centred(middle: Point, width: float, height: float) -> Box:
    """Return a box around its middle."""
    x, y = middle
    return Box(x - width / 2, y - height / 2, x + width / 2, y + height / 2)
