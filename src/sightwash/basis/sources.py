"""The register of sources: where every formula, figure and rule comes from.

Rows live in ``data/sources/*.csv`` with the columns ``id,status,title,body,year,where,note``.
``status`` is one of STATUSES.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Final

STATUSES: Final = (
    "published",
    "worked example",
    "independent program",
    "closed form",
    "measured",
    "common practice, no source",
    "from memory",
    "user",
)


@dataclass(frozen=True, slots=True)
class Source:
    """One place that something comes from; ``where`` is a table, section or address."""

    id: str
    status: str
    title: str
    body: str
    year: str
    where: str
    note: str

    @property
    def citation(self) -> str:
        """The source in one line, for a paper or a screen."""
        parts = [part for part in (self.body, self.title, self.year, self.where) if part]
        mark = "" if self.status == "published" else f" [{self.status}]"
        return ", ".join(parts) + mark


@dataclass(frozen=True, slots=True)
class Why:
    """Why a planned line is as it is: the rule in words and the ids of its sources."""

    rule: str
    sources: tuple[str, ...] = ()


@cache
def register() -> dict[str, Source]:
    """Return every known source by id; a doubled id or an unknown status is a defect of ours."""
    found: dict[str, Source] = {}
    folder = resources.files("sightwash").joinpath("data", "sources")
    for file in sorted(folder.iterdir(), key=lambda entry: entry.name):
        if not file.name.endswith(".csv"):
            continue
        for row in csv.DictReader(file.read_text(encoding="utf-8").splitlines()):
            if row["id"] in found or row["status"] not in STATUSES:
                raise ValueError(f"{file.name}: bad row {row['id']!r} (doubled id or unknown status)")
            found[row["id"]] = Source(**row)
    return found


def source(source_id: str) -> Source:
    """Return one source by id; KeyError means a rule names a source that nobody wrote down."""
    return register()[source_id]
