"""How one side of the building fills its page: the drawing at its own size, so that its words stay readable.

The words stand below the drawing or beside it, whichever leaves the drawing larger. Where neither leaves it large
enough the drawing has a page with the ways of washing, and what finds no room there stands on the next.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil
from typing import Final, TypeAlias

from sightwash.papers.drawings.elevation import Room
from sightwash.papers.drawings.lettering import text_width
from sightwash.papers.drawings.scale import PAGE
from sightwash.papers.job import Job
from sightwash.site.firm import PaperSize

Part: TypeAlias = "dict[str, str | list[str] | list[list[str]]]"
"""A title with a list below it, or the table of standing spots."""

PAGES: Final[dict[PaperSize, Room]] = {"letter": (720.0, 508.0), "a4": (769.0, 491.0)}
"""What a page on its side holds below the heading of a side: width and height [pt]."""
GROUND_HEIGHTS: Final[dict[PaperSize, float]] = {paper: room[1] for paper, room in PAGES.items()}
SHARES: Final = (0.64, 0.6, 0.55, 0.48)
"""Widths of a drawing with words beside it, as shares of the page [-]."""
ENOUGH: Final = 0.55
"""A drawing with its words is large enough from this share of the scale that it would have alone [-]."""
TEXT: Final = 10.0
LINE: Final = 12.3
GUTTER: Final = 16.0
BELOW: Final = 10.0
"""Clear distance between a drawing and what stands below it [pt]."""
_METHOD_WIDTHS: Final = (0.0, 66.0, 36.0, 52.0, 92.0, 92.0, 92.0, 64.0)
_METHOD_LINE: Final = 12.2


@dataclass(frozen=True, slots=True)
class SidePage:
    """A drawing as bytes, its size on paper [pt], and the columns of words beside or below it and on the next page."""

    drawing: bytes
    width: float
    height: float
    beside: bool
    here: tuple[tuple[Part, ...], ...]
    next_page: tuple[tuple[Part, ...], ...]


def laid_out(job: Job, wall: str, name: str, methods: Sequence[Sequence[str]], parts: Sequence[Part]) -> SidePage:
    """Return the page of a side: its drawing as large as the words leave it."""
    width, height = PAGES[job.paper]
    height -= 26.0 * (ceil(text_width(name, 20.0) / width) - 1)
    room = height - methods_height(methods, width)
    ready = job.drawings.elevation(wall)
    alone = ready.scale((PAGE[0], room))
    found = [(ready.scale(tried).points, -index, tried, beside)
             for index, (tried, beside) in enumerate(_rooms(width, room, parts)) if ready.holds(tried)]  # fmt: skip
    points, _, chosen, beside = max(found, default=(0.0, 0, (PAGE[0], room), False), key=lambda each: each[:2])
    together = points >= ENOUGH * alone.points
    if not together:
        chosen, beside = (PAGE[0], room), False
    drawing = job.drawings.wall(wall, chosen)
    own = min(job.drawings.height(drawing), max(chosen[1], 120.0))
    if beside:
        return SidePage(drawing, chosen[0], own, True, (tuple(parts),), ())
    count = len(parts) if together else _fitting(parts, (width - GUTTER) / 2, room - own - BELOW)
    here, later = (balanced(some, (width - GUTTER) / 2)[1] for some in (parts[:count], parts[count:]))
    return SidePage(drawing, chosen[0], own, False, here, later)


def _rooms(width: float, height: float, parts: Sequence[Part]) -> Iterator[tuple[Room, bool]]:
    """Yield the rooms that the words leave for a drawing, and whether the words stand beside it."""
    for share in SHARES:
        across = min(share * width, PAGE[0])
        if sum(_part_height(part, width - across - GUTTER) for part in parts) <= height - BELOW:
            yield (across, height - BELOW), True
    yield (PAGE[0], height - BELOW - balanced(parts, (width - GUTTER) / 2)[0]), False


def _fitting(parts: Sequence[Part], width: float, height: float) -> int:
    """Return how many of the parts find room in two columns."""
    return max(count for count in range(len(parts) + 1) if balanced(parts[:count], width)[0] <= max(height, 0.0))


def balanced(parts: Sequence[Part], width: float) -> tuple[float, tuple[tuple[Part, ...], ...]]:
    """Return parts in two columns in their order, the higher one as low as it can be, and its height [pt]."""
    if not parts:
        return 0.0, ()
    heights = [_part_height(part, width) for part in parts]
    split = min(range(1, len(parts) + 1), key=lambda k: max(sum(heights[:k]), sum(heights[k:])))
    return max(sum(heights[:split]), sum(heights[split:])), (tuple(parts[:split]), tuple(parts[split:]))


def _part_height(part: Part, width: float) -> float:
    """Return about how high a part stands in a column [pt]."""
    rows = part.get("rows")
    if rows:
        return 14.6 * len(rows) + 40.0
    return 27.0 + sum(LINE * lines_of(str(item), width - 12.0, TEXT) for item in part["items"])


def lines_of(words: str, width: float, size: float) -> int:
    """Return about how many lines some words take in a column."""
    return sum(max(ceil(text_width(line, size) / width), 1) for line in words.split("\n"))


def method_widths(rows: Sequence[Sequence[str]]) -> list[int]:
    """Return which columns of the ways of washing hold anything."""
    return [column for column in range(len(_METHOD_WIDTHS)) if any(row[column] for row in rows)]


def methods_height(rows: Sequence[Sequence[str]], width: float) -> float:
    """Return about how high the table of the ways of washing stands [pt]."""
    if not rows:
        return 0.0
    columns = method_widths(rows)
    widths = [_METHOD_WIDTHS[column] for column in columns]
    widths[0] = width - sum(widths)
    lines = [max(lines_of(row[c], w - 8.0, TEXT) for c, w in zip(columns, widths, strict=True)) for row in rows]
    return 40.0 + sum(2.4 + _METHOD_LINE * count for count in lines)


def method_table(
    heads: Sequence[str], rows: Sequence[Sequence[str]]
) -> dict[str, list[str] | list[float] | list[list[str]]]:
    """Return the table of the ways of washing without the columns that hold nothing; width 0 takes what is left."""
    columns = method_widths(rows)
    return {
        "heads": [heads[column] for column in columns],
        "widths": [_METHOD_WIDTHS[column] for column in columns],
        "rows": [[row[column] for column in columns] for row in rows],
    }
