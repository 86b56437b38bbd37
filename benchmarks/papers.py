"""Time of the full set of papers, warm: the demo, and a site of 42 walls (six copies of the demo side by side).

Every run has a job of its own, and between two runs the typesetter is given so much else to set that it forgets the run
before, so that no drawing, line or page of it is used again; warm are the program, the faces and the texts. The plan
is made beforehand; reading it back from ``plan.json`` is timed apart. The bars are 0.5 s for the demo and 3 s for a
site of forty walls, by the clock, with two processors free; the time of the processors is shown beside it.
Run: ``./run bench papers``.
"""

from __future__ import annotations

import json
import statistics
import sys
import tempfile
import time
from datetime import date, timedelta
from pathlib import Path

import typst

from sightwash.papers.job import new_job
from sightwash.papers.paper_list import papers
from sightwash.papers.plan_document import PlanDocument, output_text, plan_document, read_plan
from sightwash.planning.night import plan_night
from sightwash.planning.visit import plan_visit
from sightwash.site.conditions import Conditions
from sightwash.site.firm import Firm
from sightwash.site.model import Site
from sightwash.site.rates import Rates
from sightwash.site.rig import Rig
from sightwash.site.site_file import read_document

sys.path.insert(0, str(Path(__file__).parent))
from plan import DEMO, ON, side_by_side

COPIES = 6
RUNS = 5
PAPERS_KEPT = 16
DATED = date(2026, 7, 1)


def planned(copies: int) -> PlanDocument:
    """Return the plan of some copies of the demo, with its night where there is one copy alone."""
    kinds = ("site", "rig", "rates", "conditions")
    site, rig, rates, conditions = (read_document(DEMO / f"{kind}.yaml", kind) for kind in kinds)
    assert isinstance(site, Site)
    assert isinstance(rig, Rig)
    assert isinstance(rates, Rates)
    assert isinstance(conditions, Conditions)
    large = site if copies == 1 else side_by_side(site, copies)
    plan = plan_visit(large, rig, rates, conditions, ON)
    night = plan_night(large, rig, rates, conditions, plan) if copies == 1 else None
    return plan_document(plan, large, rig, rates, conditions, night)


def seconds(document: PlanDocument, firm: Firm, runs: int) -> tuple[list[float], list[float], int]:
    """Return how long each run takes to make the full set, its processor time, and the bytes of the last one."""
    found: list[float] = []
    worked: list[float] = []
    size = 0
    for run in range(runs + 1):
        forget_the_last()
        job = new_job(document, firm, dated=DATED + timedelta(days=run), number=f"2026-{run:03d}")
        start, busy = time.perf_counter(), time.process_time()
        made = papers(job)
        found.append(time.perf_counter() - start)
        worked.append(time.process_time() - busy)
        size = sum(len(content) for content in made.values())
    return found[1:], worked[1:], size


def forget_the_last() -> None:
    """Have the typesetter set other papers until nothing of the last run is left in its memory.

    It keeps what it has set for the ten papers after it.
    """
    for number in range(PAPERS_KEPT):
        typst.compile(f"#let number = {number}\nA page".encode())


def reading(document: PlanDocument) -> float:
    """Return how long it takes to read a plan back [s]."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "plan.json"
        path.write_text(output_text("plan", document), encoding="utf-8")
        read_plan(path)
        start = time.perf_counter()
        read_plan(path)
        return time.perf_counter() - start


def spoken(times: list[float]) -> str:
    """Return times as words."""
    return ", ".join(f"{each:.2f}" for each in times)


def main() -> None:
    """Measure both sites and print the verdict."""
    firm = read_document(DEMO / "firm.yaml", "firm")
    assert isinstance(firm, Firm)
    demo = planned(1)
    times, busy, size = seconds(demo, firm, RUNS)
    read = reading(demo)
    print(
        f"demo: {spoken(times)} s ({spoken(busy)} s of processor), {size / 1e6:.1f} MB; read in {read:.2f} s",
        flush=True,
    )
    large = planned(COPIES)
    long, much, bytes_of = seconds(large, firm, 2)
    walls = len(large.plan.walls)
    print(f"{walls} walls, no clock times: {spoken(long)} s ({spoken(much)} s of processor), {bytes_of / 1e6:.1f} MB")
    value = {
        "demo_seconds": round(statistics.median(times), 3),
        "forty_walls_seconds": round(statistics.median(long), 3),
        "demo_processor_seconds": round(statistics.median(busy), 3),
        "forty_walls_processor_seconds": round(statistics.median(much), 3),
        "plan_read_seconds": round(read, 3),
    }
    bar = {"demo_seconds": 0.5, "forty_walls_seconds": 3.0}
    print(json.dumps({"name": "papers", "value": value, "bar": bar, "holds": all(value[k] < bar[k] for k in bar)}))


if __name__ == "__main__":
    main()
