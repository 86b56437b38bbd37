"""Every paper by name: what makes it, and the file that it becomes."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from concurrent.futures import ThreadPoolExecutor
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


LONGEST: Final = "crew-sheet"
PAPERS: Final = (
    Paper("agreement", "agreement.pdf", agreement),
    Paper("crew-sheet", "crew-sheet.pdf", crew_pages),
    Paper("mix-ticket", "mix-ticket.pdf", mix_ticket),
    Paper("load-list", "load-list.pdf", load_list),
    Paper("tenant-notice", "tenant-notice.pdf", tenant_notice),
    Paper("wash-water-sheet", "wash-water-sheet.pdf", wash_water_sheet),
    Paper("damage-record", "damage-record.pdf", damage_record),
)


def papers(job: Job, only: Iterable[str] = (), workers: int = 3) -> dict[str, bytes]:
    """Return the papers of a job by file name: all of them, or those named; InputError for an unknown name.

    While the typesetter sets one paper another is drawn, the longest first; the bytes are the same for any number of
    workers.
    """
    wanted = tuple(only)
    known = {paper.name: paper for paper in PAPERS}
    for name in wanted:
        if name not in known:
            raise unknown_paper(name, tuple(known))
    chosen = [paper for paper in PAPERS if not wanted or paper.name in wanted]
    with ThreadPoolExecutor(max(workers, 1)) as pool:
        found = {paper.name: pool.submit(_made, paper, job) for paper in sorted(chosen, key=_turn)}
    return {paper.file: found[paper.name].result() for paper in chosen}


def _made(paper: Paper, job: Job) -> bytes:
    with job.turn:
        return paper.make(job)


def _turn(paper: Paper) -> bool:
    """Return what puts the longest paper before the others."""
    return paper.name != LONGEST
