"""The register of sources as a page: every source by its mark, and the sums that rest on weak ones."""

from __future__ import annotations

from collections.abc import Iterator

from sightwash.basis.sources import STATUSES, Source, register
from sightwash.planning.tailgate import sums

WEAK = frozenset({"common practice, no source", "from memory"})


def source_list() -> str:
    """Return every source of the register, grouped by its mark."""
    return "\n".join(_lines())


def _lines() -> Iterator[str]:
    known = sorted(register().values(), key=lambda source: source.id)
    yield f"{len(known)} sources."
    for status in STATUSES:
        group = [source for source in known if source.status == status]
        if group:
            yield from ("", f"## {status.capitalize()} ({len(group)})", "", "| id | source | note |", "|---|---|---|")
            yield from (f"| `{source.id}` | {cell(_citation(source))} | {cell(source.note)} |" for source in group)


def _citation(source: Source) -> str:
    return source.citation.removesuffix(f" [{source.status}]")


def weak_sums() -> str:
    """Return the sums whose every source is a memory or a practice without a source."""
    rows = []
    for wanted in sums().values():
        statuses = {register()[name].status for name in wanted.doc.sources}
        if statuses and statuses <= WEAK:
            rows.append(f"| `{wanted.name}` | {cell(wanted.doc.summary)} | {', '.join(sorted(statuses))} |")
    return "\n".join(("| sum | what it is | its sources |", "|---|---|---|", *rows))


def cell(text: str) -> str:
    """Return text as it may stand in a cell of a table.

    >>> cell("a | b")
    'a \\\\| b'
    """
    return " ".join(text.split()).replace("|", "\\|")
