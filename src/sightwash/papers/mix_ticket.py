"""The mix tickets, one a page, to be read at the tank: what to pour in what order, the tank's label, what may hurt."""

from __future__ import annotations

from sightwash.basis.units import VOLUME, show
from sightwash.papers.job import Job, set_paper
from sightwash.papers.part_names import target_names
from sightwash.papers.typesetter import JSON
from sightwash.planning.mix_tickets import MixTicket
from sightwash.planning.mix_ways import Way
from sightwash.planning.pouring import Pour
from sightwash.planning.tables import PERCENT


def mix_ticket(job: Job) -> bytes:
    """Return every mix of a plan as a ticket of its own; without a mix, what is missing."""
    words = job.words("mix-ticket")
    tickets = job.plan.tickets
    data: dict[str, JSON] = {
        "words": words,
        "site": job.site.name,
        "day": job.day(job.plan.on),
        "tickets": [_ticket(job, ticket, words) for ticket in tickets.tickets],
        "never": [f"{pair.what}: {pair.words}" for pair in tickets.incompatible],
        "wrong": [
            [", ".join(wrong.where), wrong.material, wrong.why_not, wrong.instead] for wrong in tickets.wrong_surfaces
        ],
        "cannot": list(tickets.cannot),
        "stock": _stock(job, words),
    }
    return set_paper(job, "mix-ticket", words["title"], data)


def percent_words(strength: float) -> str:
    """Return a strength in mg/L as the crew says it.

    >>> percent_words(12_500.0)
    '1.25 %'
    """
    return f"{strength / PERCENT:.2f} %"


def _stock(job: Job, words: dict[str, str]) -> str | None:
    bleach = job.plan.bleach
    if bleach is None:
        return None
    low, likely, high = (percent_words(value) for value in (bleach.low, bleach.likely, bleach.high))
    return words["stock"].format(label=bleach.typed, low=low, likely=likely, high=high)


def _ticket(job: Job, ticket: MixTicket, words: dict[str, str]) -> dict[str, JSON]:
    way = next(way for way in ticket.ways if way.by == ticket.chosen)
    names = target_names(job.site, job.plan)
    told = {caution.id: caution for caution in (*ticket.cautions, *ticket.stock_cautions)}
    cautions = {name: caution for name, caution in told.items() if name != "label"}
    return {
        "strength": percent_words(ticket.strength),
        "band": words["band"].format(low=percent_words(way.low), high=percent_words(way.high)),
        "volume": show(ticket.volume, VOLUME, job.plan.units),
        "targets": [names.get(demand.target, demand.target) for demand in ticket.demand],
        "by": words.get(f"by_{way.by.replace(' ', '_')}", way.by),
        "how": way.words,
        "fills": _fills(way, words),
        "others": [
            f"{words['or']} {other.by}: {other.words}" for other in ticket.ways if other != way and other.possible
        ],
        "cautions": [words.get(f"caution_{name}", caution.words) for name, caution in cautions.items()],
        "leftover": words["leftover"].format(strength=percent_words(ticket.strength)),
    }


def _fills(way: Way, words: dict[str, str]) -> list[dict[str, JSON]]:
    """Return what to pour: the full vessels first, then the last one."""
    found: list[dict[str, JSON]] = []
    if way.times and way.each:
        head = words["full_once"] if way.times == 1 else words["full_times"].format(times=way.times)
        found.append({"head": head, "pours": _pours(way.each, words)})
    if way.last:
        found.append({"head": words["last"] if found else words["pour"], "pours": _pours(way.last, words)})
    return found


def _pours(pours: tuple[Pour, ...], words: dict[str, str]) -> list[JSON]:
    return [[f"{pour.order}", words.get(f"what_{pour.what}", pour.what), pour.words] for pour in pours]
