"""What a question's page holds beside the strip: figures, sections of sentences and tables, what must be decided."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final

from sightwash.office.questions.figures import Figure, Line
from sightwash.office.questions.strip import Marks

MANY: Final = 4
"""Columns that a phone still shows side by side [-]."""


@dataclass(frozen=True, slots=True)
class Section:
    """A titled part of a page: sentences, or a table with its heads; ``large`` is read from afar on the night.

    ``folded`` sections open on a tap, those ``folded`` with ``open_wide`` only on a phone; columns in ``numbers`` are
    set flush right.
    """

    title: str
    lines: tuple[Line, ...] = ()
    heads: tuple[str, ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()
    numbers: tuple[int, ...] = ()
    large: bool = False
    folded: bool = False
    open_wide: bool = False
    note: str = ""

    @property
    def width(self) -> str:
        """The class of the table: one of many columns becomes a list of cards on a phone."""
        return "many" if len(self.heads) > MANY else "few"

    @property
    def table(self) -> tuple[tuple[tuple[str, str], ...], ...]:
        """Each row with the head of each cell, where a phone needs them beside each other."""
        heads = self.heads if len(self.heads) > MANY else ("",) * len(self.heads)
        return tuple(tuple(zip(heads, row, strict=True)) for row in self.rows)


@dataclass(frozen=True, slots=True)
class Panel:
    """One question answered: ``decide`` comes first, then the figures, then the sections; ``marks`` go on the strip."""

    figures: tuple[Figure, ...]
    sections: tuple[Section, ...]
    decide: tuple[Line, ...] = ()
    caption: str = ""
    marks: Marks = field(default_factory=Marks)
