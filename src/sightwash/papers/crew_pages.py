"""The crew sheet as a PDF: stop-points on top, the order of work, one page a side, ground, mixes, cautions behind."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from sightwash.basis.units import FLOW, VOLUME, show
from sightwash.papers.crew_ground import ground_pages
from sightwash.papers.crew_mixes import mix_page
from sightwash.papers.crew_order import night_hours, order_pages, wall_order
from sightwash.papers.crew_side import side_page
from sightwash.papers.drawings.views import walking_order, wall_views
from sightwash.papers.job import Job, set_paper
from sightwash.papers.phrases import PhraseBook
from sightwash.papers.typesetter import JSON
from sightwash.site.ground import Tap
from sightwash.site.walls import Door, Fixture, Projection, Soiling, Wall

MOST_STOPS: Final = 5
MOST_NAMES: Final = 6


def crew_pages(job: Job) -> bytes:
    """Return the crew sheet as a PDF."""
    words = job.words("crew")
    book = crew_book(job)
    pages = [side_page(job, book, wall) for wall in sides_in_order(job)]
    ground, drawn = ground_pages(job, book)
    data: dict[str, JSON] = {
        "words": words,
        "first": _first(job, book, words),
        "nights": order_pages(job, book),
        "walls": wall_order(job, book),
        "sides": [side for side, _ in pages],
        "ground": ground,
        "mixes": mix_page(job, book),
        "cautions": list(_cautions(job, book)),
    }
    pictures = {f"wall-{wall.id}": drawing for wall, (_, drawing) in zip(sides_in_order(job), pages, strict=True)}
    return set_paper(job, "crew", words["title"].format(property=job.plan.name), data, pictures | drawn)


def crew_book(job: Job) -> PhraseBook:
    """Return the phrase book of a job, which leaves alone every name that the site gave."""
    site, plan = job.site, job.plan
    parts = (site.walls, site.surfaces, site.eyes, site.buildings)
    things = (site.drains, site.taps, site.planting, site.rig_places, site.neighbours, site.keep_outs, site.gum)
    names = [
        *(name for each in parts for part in each for name in (part.id, part.name)),
        *(item.id for wall in site.walls for items in _on(wall) for item in items),
        *(item.id for each in things for item in each),
        *(contact.name for contact in site.contacts),
        *(keep.reason for keep in site.keep_outs),
        *(text for text in (site.local.discharge, site.local.fire_lane) if text),
        *(target for method in plan.methods for target in (method.target, method.id)),
        *(tip.id for tip in job.documents.rig.tips),
    ]
    return PhraseBook(job.language, (name for name in names if name))


def _on(wall: Wall) -> tuple[tuple[Soiling | Projection | Door | Fixture, ...], ...]:
    return wall.soiling, wall.projections, wall.doors, wall.fixtures


def sides_in_order(job: Job) -> list[Wall]:
    """Return the walls that are washed and can be drawn, in walking order."""
    views = {view.wall.id: view.wall for run in walking_order(wall_views(job.site, job.plan)) for view in run}
    return [wall for wall in views.values() if wall.excluded is None]


def _first(job: Job, book: PhraseBook, words: dict[str, str]) -> JSON:
    stops = [caution for caution in job.plan.cautions if caution.stop][:MOST_STOPS]
    timeline = job.night.timeline if job.night else None
    firm_phone = job.firm.night_phone or job.firm.phone
    people = [[contact.name, contact.role or "", contact.phone or words["no_number"]] for contact in job.site.contacts]
    return {
        "stops": [_stop(book.say(stop.words), stop.about, words) for stop in stops],
        "agree": [book.say(line) for line in timeline.asks] if timeline else [],
        "reasons": [book.say(line) for line in timeline.reasons] if timeline else [],
        "people": [*people, *([[words["firm_phone"], job.firm.name, firm_phone]] if firm_phone else [])],
        "where": list(_where(job, words)),
    }


def _stop(words: str, about: tuple[str, ...], texts: dict[str, str]) -> str:
    names = list(about[:MOST_NAMES])
    if len(about) > MOST_NAMES:
        names.append(texts["more"].format(count=len(about) - MOST_NAMES))
    return f"{words}\n{texts['about'].format(names=', '.join(names))}"


def _where(job: Job, words: dict[str, str]) -> Iterator[list[str]]:
    site, plan, rig = job.site, job.plan, job.documents.rig
    if site.place.address:
        yield [words["address"], site.place.address]
    if job.night is not None and job.night.timeline.nights:
        nights = job.night.timeline.nights
        hours = [f"{job.day(night.arrives.date())}: {night_hours(job, night)}" for night in nights]
        yield [words["visit"], "\n".join(hours)]
    else:
        yield [words["visit"], job.day(plan.on)]
    if site.quiet_hours is not None:
        yield [words["quiet"], f"{site.quiet_hours.start:%H:%M} - {site.quiet_hours.end:%H:%M}"]
    yield [words["crew"], words["crew_of"].format(rig=rig.name, people=plan.hours.people)]
    if site.rig_places:
        yield [words["rig_places"], ", ".join(place.id for place in site.rig_places)]
    volumes = {name: show(getattr(plan.water, name), VOLUME, plan.units) for name in ("total", "carried")}
    water = [words["water_line"].format(refills=plan.water.refills, **volumes)]
    yield [words["water"], "\n".join((*water, *(_tap(job, tap, words) for tap in site.taps)))]


def _tap(job: Job, tap: Tap, words: dict[str, str]) -> str:
    backflow = {True: "backflow_there", False: "backflow_own", None: "backflow_unknown"}[tap.backflow_preventer]
    flow = show(tap.flow, FLOW, job.plan.units) if tap.flow is not None else words["flow_unknown"]
    owner = tap.owner or words["owner_unknown"]
    return words["tap"].format(tap=tap.id, flow=flow, owner=owner, backflow=words[backflow])


def _cautions(job: Job, book: PhraseBook) -> Iterator[list[str]]:
    """Yield every caution with its sources, those that stop the night among them."""
    for caution in job.plan.cautions:
        cited = [job.document.sources.get(name, name) for name in caution.sources]
        yield [book.say(caution.words), "; ".join(cited)]
