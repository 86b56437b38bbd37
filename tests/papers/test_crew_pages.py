"""The crew sheet: stop-points first, every figure the plan's, one page a side, in English and Spanish.

Text is read from the PDF by ``pypdf`` (independent program).
"""

from __future__ import annotations

import io
import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pypdf
import pytest

from sightwash.basis.units import LENGTH, PRESSURE, VOLUME, show
from sightwash.papers import crew_pages as crew
from sightwash.papers.clock_list import merged
from sightwash.papers.crew_pages import crew_book, crew_pages, sides_in_order
from sightwash.papers.job import Job, new_job
from sightwash.papers.phrases import PhraseBook
from sightwash.papers.plan_document import PlanDocument
from sightwash.site.firm import Firm

Holds = Callable[[bytes, str], bool]
Pages = Callable[[bytes], tuple[str, ...]]
PlanOf = Callable[..., PlanDocument]


@pytest.fixture(scope="module")
def demo_job(demo_document: PlanDocument, demo_firm: Firm) -> Job:
    return new_job(demo_document, demo_firm)


@pytest.fixture(scope="module")
def demo_sheet(demo_job: Job) -> bytes:
    return crew_pages(demo_job)


def test_stop_points_stand_first(demo_job: Job, demo_sheet: bytes, pages: Pages) -> None:
    first = pages(demo_sheet)[0]
    stops = [caution for caution in demo_job.plan.cautions if caution.stop]
    assert 0 < len(stops) <= 5
    places = [first.index(stop.words[:40]) for stop in stops]
    assert places == sorted(places)
    assert max(places) < first.index("People and phones")
    for contact in demo_job.site.contacts:
        assert contact.phone is not None
        assert contact.phone in first
    assert str(demo_job.firm.night_phone) in first


def test_never_more_than_five_stop_points_on_top(demo_document: PlanDocument, pages: Pages) -> None:
    plan = demo_document.plan
    many = tuple(replace(each, stop=True) for each in plan.cautions)
    first = pages(crew_pages(new_job(replace(demo_document, plan=replace(plan, cautions=many)))))[0]
    assert many[4].words[:40] in first
    assert many[5].words[:40] not in first


def test_every_standing_spot_and_pressure_is_the_plans(demo_job: Job, demo_sheet: bytes, holds: Holds) -> None:
    units = demo_job.plan.units
    for standing in demo_job.plan.standing:
        for spot in standing.spots:
            row = "".join(show(value, LENGTH, units) for value in (spot.s, spot.out))
            assert holds(demo_sheet, row), spot.id
            assert holds(demo_sheet, show(spot.needed, LENGTH, units))
    for method in demo_job.plan.methods:
        assert holds(demo_sheet, show(method.highest_pressure, PRESSURE, units))
        for tip in (method.treat, method.rinse, method.power_rinse):
            if tip is not None:
                assert holds(demo_sheet, f"{tip.tip}{show(tip.tip_pressure, PRESSURE, units)}")


def test_mixes_are_the_tickets(demo_job: Job, demo_sheet: bytes, holds: Holds) -> None:
    for ticket in demo_job.plan.tickets.tickets:
        assert holds(demo_sheet, f"{ticket.strength / 10000:.2f} %")
        assert holds(demo_sheet, show(ticket.volume, VOLUME, demo_job.plan.units))
        way = next(way for way in ticket.ways if way.by == ticket.chosen)
        for pour in (*way.each, *way.last):
            assert holds(demo_sheet, f"{pour.order}{pour.what}{pour.words}")


def test_doors_gum_water_and_cautions_with_their_sources(demo_job: Job, demo_sheet: bytes, holds: Holds) -> None:
    for spot in demo_job.plan.gum_spots:
        assert holds(demo_sheet, spot.words)
    for measure in demo_job.plan.wash_water.measures:
        assert holds(demo_sheet, measure.words)
    for caution in demo_job.plan.cautions:
        assert holds(demo_sheet, caution.words)
        for source in caution.sources:
            assert holds(demo_sheet, demo_job.document.sources[source])


def test_each_side_begins_a_page(demo_job: Job, demo_sheet: bytes, pages: Pages) -> None:
    text = pages(demo_sheet)
    sides = sides_in_order(demo_job)
    assert [wall.id for wall in sides if wall.excluded] == []
    for wall in sides:
        assert sum(page.startswith(f"Side: {wall.name}") for page in text) == 1


def test_the_order_of_work_has_the_clock_times_of_the_timeline(night_document: PlanDocument, holds: Holds) -> None:
    job = new_job(night_document)
    sheet = crew_pages(job)
    assert job.night is not None
    timeline = job.night.timeline
    assert timeline.entries
    for person in range(1, timeline.people + 1):
        for entry in merged([each for each in timeline.entries if each.person == person]):
            assert holds(sheet, f"{entry.start:%H:%M}–{entry.end:%H:%M}{entry.words}")
    for night in timeline.nights:
        assert holds(sheet, f"on site {night.arrives:%H:%M} to {night.ends:%H:%M}, home {night.home:%H:%M}")


def test_without_a_night_the_order_of_walls_stands(demo_job: Job, demo_sheet: bytes, holds: Holds) -> None:
    assert holds(demo_sheet, "Clock times were not planned.")
    for turn in demo_job.plan.drying.order:
        assert holds(demo_sheet, f"{turn.starts:%H:%M}-{turn.ends:%H:%M}")


def said(job: Job, monkeypatch: pytest.MonkeyPatch) -> tuple[bytes, PhraseBook]:
    """Return a crew sheet and the phrase book that it was said with."""
    book = crew_book(job)
    monkeypatch.setattr(crew, "crew_book", lambda _job: book)
    return crew_pages(job), book


def test_spanish_leaves_no_sentence_in_english(
    demo_document: PlanDocument, night_document: PlanDocument, holds: Holds, monkeypatch: pytest.MonkeyPatch
) -> None:
    for document in (demo_document, night_document):
        sheet, book = said(new_job(document, language="es"), monkeypatch)
        assert book.unsaid == set()
        assert holds(sheet, "Paren la noche si" if document is demo_document else "No se conoce ningún punto de parada")
        reader = pypdf.PdfReader(io.BytesIO(sheet))
        root: Any = reader.trailer["/Root"]
        assert root["/Lang"] == "es"


def test_spanish_figures_are_the_plans(night_document: PlanDocument, holds: Holds) -> None:
    job = new_job(night_document, language="es")
    sheet = crew_pages(job)
    for ticket in job.plan.tickets.tickets:
        assert holds(sheet, show(ticket.volume, VOLUME, job.plan.units))
    for spot in job.plan.standing[0].spots:
        assert holds(sheet, show(spot.needed, LENGTH, job.plan.units))


def test_forty_walls_and_names_that_run_the_other_way(plan_of: PlanOf, holds: Holds, pages: Pages) -> None:
    walls = [
        {"id": f"w{k}", "name": f"כותל {k}" if k % 2 else f"Wall {k} " + "long " * 30,
         "start": [k * 30, 0], "end": [k * 30 + 25, 0], "height": 12}
        for k in range(40)
    ]  # fmt: skip
    job = new_job(plan_of(walls=walls, surfaces=[], eyes=[]))
    sheet = crew_pages(job)
    text = pages(sheet)
    assert sum(page.startswith("Side:") for page in text) == 40
    assert holds(sheet, "Wall 38 long long")


def test_nothing_measured_but_a_walk(plan_of: PlanOf, holds: Holds) -> None:
    """Empty sections: no wall, no contact, no drain, no mix."""
    walk = {"id": "walk", "outline": [[0, 0], [40, 0], [40, 8], [0, 8]]}
    sheet = crew_pages(new_job(plan_of(walls=[], surfaces=[walk], eyes=[], local={})))
    assert holds(sheet, "No mix is needed.")
    assert holds(sheet, "do not wash the ground")


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_same_bytes_again_and_no_page_spills(demo_document: PlanDocument, paper: Any) -> None:
    first = crew_pages(new_job(demo_document, paper=paper))
    assert first == crew_pages(new_job(demo_document, paper=paper))
    sizes = {round(float(page.mediabox.width)) for page in pypdf.PdfReader(io.BytesIO(first)).pages}
    assert sizes == {792 if paper == "letter" else 842}  # on their sides: ANSI letter and ISO 216 A4


def sizes_of(sheet: bytes) -> set[float]:
    """Return every size of text as it is printed, read by ``pypdf`` (independent program) [pt]."""
    found: set[float] = set()

    def note(text: str, cm: Any, tm: Any, _font: Any, size: float) -> None:
        if text.strip():
            found.add(round(size * math.hypot(tm[0] * cm[0] + tm[1] * cm[2], tm[0] * cm[1] + tm[1] * cm[3]), 2))

    for page in pypdf.PdfReader(io.BytesIO(sheet)).pages:
        page.extract_text(visitor_text=note)
    return found


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_no_words_are_printed_smaller_than_a_headlamp_reads(demo_document: PlanDocument, paper: Any) -> None:
    """6.5 pt at least, drawings among them: what the papers were asked to hold; common practice, no source."""
    sizes = sizes_of(crew_pages(new_job(demo_document, paper=paper)))
    assert len(sizes) > 5
    assert min(sizes) >= 6.5


def test_every_washed_surface_is_drawn_alone_beside_the_whole(demo_job: Job, demo_sheet: bytes, pages: Pages) -> None:
    text = pages(demo_sheet)
    washed = [surface.name for surface in demo_job.plan.ground if surface.washed]
    assert washed
    for name in washed:
        assert sum(page.startswith(f"Ground: {name}") and "how this ground is washed" in page for page in text) == 1
    assert sum(page.startswith("The ground") for page in text) == 1


def test_a_side_stands_on_one_page_or_goes_on_under_its_name(demo_job: Job, demo_sheet: bytes, pages: Pages) -> None:
    heads = [page.split("\n")[0] for page in pages(demo_sheet)]
    first = next(index for index, head in enumerate(heads) if head.startswith("Side:"))
    last = next(index for index, head in enumerate(heads) if head.startswith("The ground"))
    names = [str(wall.name) for wall in sides_in_order(demo_job)]
    more = [head for head in heads[first:last] if not head.startswith("Side:")]
    assert all(any(head.startswith(f"{name}, continued") for name in names) for head in more)
    assert len(more) < len(names) / 2
