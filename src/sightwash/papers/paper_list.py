"""Every paper by name: what makes it, and the file that it becomes."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Final

from sightwash.papers.agreement import agreement
from sightwash.papers.crew_pages import crew_pages
from sightwash.papers.damage_record import damage_record
from sightwash.papers.job import Job, unknown_paper
from sightwash.papers.load_list import load_list
from sightwash.papers.mix_ticket import mix_ticket
from sightwash.papers.tenant_notice import tenant_notice
from sightwash.papers.wash_water_sheet import wash_water_sheet


@dataclass(frozen=True, slots=True)
class Paper:
    """One paper: its name on the command line, its file, what makes its bytes."""

    name: str
    file: str
    make: Callable[[Job], bytes]


PAPERS: Final = (
    Paper("agreement", "agreement.pdf", agreement),
    Paper("crew-sheet", "crew-sheet.pdf", crew_pages),
    Paper("mix-ticket", "mix-ticket.pdf", mix_ticket),
    Paper("load-list", "load-list.pdf", load_list),
    Paper("tenant-notice", "tenant-notice.pdf", tenant_notice),
    Paper("wash-water-sheet", "wash-water-sheet.pdf", wash_water_sheet),
    Paper("damage-record", "damage-record.pdf", damage_record),
)


def papers(job: Job, only: Iterable[str] = ()) -> dict[str, bytes]:
    """Return the papers of a job by file name: all of them, or those named; InputError for an unknown name."""
    wanted = tuple(only)
    known = {paper.name: paper for paper in PAPERS}
    for name in wanted:
        if name not in known:
            raise unknown_paper(name, tuple(known))
    return {paper.file: paper.make(job) for paper in PAPERS if not wanted or paper.name in wanted}
