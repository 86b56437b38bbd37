"""Mixes, tips and pressures on the crew sheet, as the mix tickets have them."""

from __future__ import annotations

from sightwash.basis.units import FLOW, PRESSURE, VOLUME, show
from sightwash.papers.job import Job
from sightwash.papers.phrases import PhraseBook
from sightwash.papers.typesetter import JSON
from sightwash.planning.mix_tickets import MixTicket
from sightwash.planning.mix_ways import Way
from sightwash.planning.pouring import Pour
from sightwash.planning.tables import PERCENT
from sightwash.planning.tips import TipPoint


def mix_page(job: Job, book: PhraseBook) -> JSON:
    """Return the bleach of the day, every mix with what to pour, what to load, and what never meets bleach."""
    words, tickets, bleach = job.words("crew"), job.plan.tickets, job.plan.bleach
    today = ""
    if bleach is not None:
        strengths = {name: f"{getattr(bleach, name) / PERCENT:.1f}" for name in ("likely", "low", "high")}
        today = words["bleach_today"].format(typed=bleach.typed, days=f"{bleach.age / 86400:.0f}", **strengths)
    return {
        "today": today,
        "mixes": [_mix(job, book, ticket) for ticket in tickets.tickets],
        "load": tickets.load.load_words if tickets.load else "",
        "cannot": [book.say(line) for line in tickets.cannot],
        "never": [f"{book.say(pair.what)}: {book.say(pair.words)}" for pair in tickets.incompatible],
        "wrong": [
            f"{book.say(each.material)} ({', '.join(each.where)}): {book.say(each.instead)}"
            for each in tickets.wrong_surfaces
        ],
        "tips": _tips(job, book),
    }


def _mix(job: Job, book: PhraseBook, ticket: MixTicket) -> JSON:
    way = next((way for way in ticket.ways if way.by == ticket.chosen), None)
    return {
        "strength": f"{ticket.strength / PERCENT:.2f} %",
        "volume": show(ticket.volume, VOLUME, job.plan.units),
        "by": book.say(way.by) if way else "",
        "words": book.say(way.words) if way else "",
        "pours": _pours(job, book, way) if way else [],
        "targets": ", ".join(demand.target for demand in ticket.demand),
        "cannot": [] if way else [book.say(line) for line in ticket.cannot],
    }


def _pours(job: Job, book: PhraseBook, way: Way) -> JSON:
    """Return each round of pouring: its heading, then what and how much."""
    words = job.words("crew")
    if not way.times:
        return [{"name": words["pour"], "lines": _lines(book, way.each or way.last)}]
    rounds: list[JSON] = [
        {"name": words["pour_times"].format(count=way.times), "lines": _lines(book, way.each)},
    ]
    if way.last:
        rounds.append({"name": words["pour_last"], "lines": _lines(book, way.last)})
    return rounds


def _lines(book: PhraseBook, pours: tuple[Pour, ...]) -> JSON:
    return [[str(pour.order), book.say(pour.what), pour.words] for pour in pours]


def _tips(job: Job, book: PhraseBook) -> list[list[str]]:
    """Return every tip in use with its pressures, each once."""
    units = job.plan.units
    found: dict[tuple[str, str, int], TipPoint] = {}
    for tip in (*(t for m in job.plan.methods for t in (m.treat, m.rinse, m.power_rinse)), *job.plan.water.tips):
        if tip is not None:
            found.setdefault((tip.tip, tip.use, round(tip.tip_pressure)), tip)
    return [
        [
            tip.tip, book.say(tip.use), f"{tip.engine_speed:.0%}", show(tip.flow, FLOW, units),
            show(tip.tip_pressure, PRESSURE, units), show(tip.pump_pressure, PRESSURE, units),
        ]
        for tip in found.values()
    ]  # fmt: skip
