"""Where words go: the nearest free place, the same one every time, never over other words."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from typing import Final, NamedTuple

from sightwash.papers.drawings.canvas import Point
from sightwash.papers.drawings.lettering import LINE, text_width

LEADER: Final = 9.0
"""A label farther than this from what it names is tied to it by a line [pt]."""
GAP: Final = 1.2
"""Least clear distance between two labels [pt]."""
SQUARE: Final = 48.0
"""Side of the squares by which boxes are found again [pt]."""
_SIDES: Final = (
    (1.0, 0.0), (-1.0, 0.0), (0.0, -1.0), (0.0, 1.0), (0.7, -0.7), (0.7, 0.7), (-0.7, -0.7), (-0.7, 0.7),
    (0.35, 1.0), (-0.35, 1.0), (0.35, -1.0), (-0.35, -1.0), (1.0, 0.35), (1.0, -0.35), (-1.0, 0.35), (-1.0, -0.35),
)  # fmt: skip
_RINGS: Final = (0.0, 5.0, 10.0, 16.0, 23.0, 31.0, 40.0, 50.0, 62.0, 76.0, 92.0, 110.0)


class Box(NamedTuple):
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

    @property
    def ring(self) -> list[Point]:
        """The corners, the first one again at the end."""
        a, b = (self.left, self.top), (self.right, self.bottom)
        return [a, (b[0], a[1]), b, (a[0], b[1]), a]

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


class Boxes:
    """Boxes that are asked for by place: the page is cut into squares, each with the boxes that reach into it."""

    def __init__(self) -> None:
        self._all: list[Box] = []
        self._squares: dict[tuple[int, int], list[Box]] = {}

    def __iter__(self) -> Iterator[Box]:
        return iter(self._all)

    def append(self, box: Box) -> None:
        """Add a box."""
        self._all.append(box)
        for square in _squares(box, 0.0):
            self._squares.setdefault(square, []).append(box)

    def extend(self, boxes: Iterable[Box]) -> None:
        """Add boxes."""
        for box in boxes:
            self.append(box)

    def near(self, place: Box) -> Iterator[Box]:
        """Yield the boxes that share a square with a place; some of them more than once."""
        for square in _squares(place, 0.0):
            yield from self._squares.get(square, ())

    def touch(self, place: Box, gap: float = 0.0) -> bool:
        """Whether any of the boxes comes nearer to a place than a gap."""
        left, top, right, bottom = place.left - gap, place.top - gap, place.right + gap, place.bottom + gap
        for square in _squares(place, gap):
            for other in self._squares.get(square, ()):
                if left < other.right and other.left < right and top < other.bottom and other.top < bottom:
                    return True
        return False


def _squares(box: Box, gap: float) -> Iterator[tuple[int, int]]:
    """Yield the squares of the page into which a box reaches with a gap around it."""
    first, last = int((box.left - gap) // SQUARE), int((box.right + gap) // SQUARE)
    low, high = int((box.top - gap) // SQUARE), int((box.bottom + gap) // SQUARE)
    return ((column, row) for column in range(first, last + 1) for row in range(low, high + 1))


class Labels:
    """What is already taken on a page, and the places that are still free."""

    def __init__(self, bounds: Box) -> None:
        self.bounds = bounds
        self.taken = Boxes()
        self.lines = Boxes()

    def keep_clear(self, *boxes: Box) -> None:
        """Take places that no words may cover."""
        self.taken.extend(boxes)

    def avoid_line(self, points: Sequence[Point]) -> None:
        """Note a line that words should not cross where there is another place."""
        for a, b in pairwise(points):
            straight = a[0] == b[0] or a[1] == b[1]
            steps = 1 if straight else max(math.ceil(math.dist(a, b) / 6.0), 1)
            ends = [
                (a[0] + step / steps * (b[0] - a[0]), a[1] + step / steps * (b[1] - a[1])) for step in range(steps + 1)
            ]
            self.lines.extend(box_around(pair) for pair in pairwise(ends))

    def is_free(self, place: Box) -> bool:
        """Whether a place lies on the page and touches nothing that is taken."""
        return place.within(self.bounds) and not self.taken.touch(place, GAP)

    def first_free(self, places: Iterable[Box], target: Point | None = None, clear: bool = False) -> Box | None:
        """Take and return the first free place where neither words nor leader cross anything.

        Else the first free one, or None where that is not enough (``clear``).
        """
        second: Box | None = None
        for place in places:
            if not self.is_free(place):
                continue
            if not self.lines.touch(place) and not self._leader_crosses(place, target):
                self.taken.append(place)
                return place
            second = second or place
        if second is None or clear:
            return None
        self.taken.append(second)
        return second

    def _leader_crosses(self, place: Box, target: Point | None) -> bool:
        """Whether the line that would tie a place to its target runs over something else."""
        if target is None or math.dist(place.nearest(target), target) <= LEADER:
            return False
        near = place.nearest(target)
        return any(
            _cuts(near, target, other)
            for other in self.taken.near(box_around((near, target)))
            if not (other.left <= target[0] <= other.right and other.top <= target[1] <= other.bottom)
        )


def _cuts(a: Point, b: Point, box: Box) -> bool:
    """Whether a straight line from ``a`` to ``b`` enters a box."""
    enter, leave = 0.0, 1.0
    for start, end, low, high in ((a[0], b[0], box.left, box.right), (a[1], b[1], box.top, box.bottom)):
        if start == end:
            if not low < start < high:
                return False
            continue
        first, last = sorted(((low - start) / (end - start), (high - start) / (end - start)))
        enter, leave = max(enter, first), min(leave, last)
    return enter < leave


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
        yield centred((start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])), width, height)


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


def box_around(points: Iterable[Point]) -> Box:
    """Return the smallest upright box around points."""
    corners = list(points)
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    return Box(min(xs), min(ys), max(xs), max(ys))


def centred(middle: Point, width: float, height: float) -> Box:
    """Return a box around its middle."""
    x, y = middle
    return Box(x - width / 2, y - height / 2, x + width / 2, y + height / 2)
