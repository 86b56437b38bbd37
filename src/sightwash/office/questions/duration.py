"""How long? Hours as one figure with the spread of the simulated nights behind it, and every task."""

from __future__ import annotations

from collections.abc import Iterator

from sightwash.office.questions.figures import Figure, Line, figure, said
from sightwash.office.questions.panel import Panel, Section
from sightwash.office.questions.parts import part_names
from sightwash.office.questions.strip import Marks
from sightwash.papers.clock_list import merged
from sightwash.planning.night import NightPlan
from sightwash.planning.visit import VisitPlan
from sightwash.site.model import Site

HOUR = 3600.0


def duration_panel(site: Site, plan: VisitPlan) -> Panel:
    """Return the answer to how long."""
    names = part_names(site, plan)
    by_part: dict[str, float] = {}
    for task in plan.hours.tasks:
        by_part[task.part] = by_part.get(task.part, 0.0) + task.mean * task.workers
    marks = Marks(on_parts={part: f"{seconds / HOUR:.1f} h" for part, seconds in by_part.items()})
    starting = sum(task.starting_rate for task in plan.hours.tasks)
    note = (
        f"{starting} of {len(plan.hours.tasks)} rates are starting rates. Replace them with your own."
        if starting
        else ""
    )
    sections = (
        Section(
            "Every task",
            heads=("task", "where", "quantity", "low", "usual", "high", "people", "rate"),
            rows=tuple(_tasks(plan, names)),
            numbers=(2, 3, 4, 5, 6),
            note=note,
            folded=True,
        ),
        Section("Why these times", tuple(_whys(plan)), folded=True),
    )
    caption = "Hours of work on each wall at their mean. Tap a part for all six answers."
    return Panel(tuple(_figures(plan)), sections, (), caption, marks)


def _figures(plan: VisitPlan) -> Iterator[Figure]:
    hours = plan.hours
    levels = (
        ("P10", hours.labour_p10),
        ("P50", hours.labour_p50),
        ("P80", hours.labour_p80),
        ("P95", hours.labour_p95),
    )
    inputs = (
        *((f"{name} of {hours.draws:,} simulated nights", f"{value / HOUR:.1f} h") for name, value in levels),
        ("mean", f"{hours.labour_mean / HOUR:.1f} h"),
        ("correlation of any two tasks", f"{hours.correlation:g}"),
    )
    band = f"8 of 10 such nights under {hours.labour_p80 / HOUR:.1f} h"
    yield figure("Hours of work", f"{hours.labour_p50 / HOUR:.1f} h", hours.why, band, inputs)
    site_levels = (hours.elapsed_p10, hours.elapsed_p50, hours.elapsed_p80, hours.elapsed_p95)
    inputs = tuple(
        (name, f"{value / HOUR:.1f} h") for name, value in zip(("P10", "P50", "P80", "P95"), site_levels, strict=True)
    )
    people = "1 person" if hours.people == 1 else f"{hours.people} people"
    band = f"with {people}; 8 of 10 under {hours.elapsed_p80 / HOUR:.1f} h"
    yield figure("On site", f"{hours.elapsed_p50 / HOUR:.1f} h", hours.why, band, inputs)
    machine = (
        ("P10", hours.machine_p10),
        ("P50", hours.machine_p50),
        ("P80", hours.machine_p80),
        ("P95", hours.machine_p95),
    )
    inputs = tuple((name, f"{value / HOUR:.1f} h") for name, value in machine)
    band = f"8 of 10 under {hours.machine_p80 / HOUR:.1f} h"
    yield figure("Machine running", f"{hours.machine_p50 / HOUR:.1f} h", hours.why, band, inputs)


def _tasks(plan: VisitPlan, names: dict[str, str]) -> Iterator[tuple[str, ...]]:
    for task in plan.hours.tasks:
        unit = "" if task.unit == "1" else f" {task.unit}"
        times = (f"{seconds / HOUR:.2f} h" for seconds in (task.low, task.usual, task.high))
        where = "around the visit" if task.part == "around" else names.get(task.part, task.part)
        rate = "yours to replace" if task.starting_rate else "your own"
        yield task.words, where, f"{task.quantity:,.0f}{unit}", *times, str(task.workers), rate


def _whys(plan: VisitPlan) -> Iterator[Line]:
    seen: set[str] = set()
    for task in plan.hours.tasks:
        if task.words not in seen:
            seen.add(task.words)
            yield said(f"{task.words.capitalize()}: {task.rate[0]:g} to {task.rate[2]:g} {task.rate_unit}", task.why)


def night_sections(night: NightPlan) -> tuple[tuple[Line, ...], tuple[Figure, ...], tuple[Section, ...]]:
    """Return what a night asks to be decided, its figures, and its clock times for each person."""
    timeline = night.timeline
    decide = (
        *(said(f"The night as stated does not hold the work: {reason}.", decide=True) for reason in timeline.reasons),
        *(said(f"Agree first: {ask}.", decide=True) for ask in timeline.asks),
    )
    others = tuple(
        said(f"{'It would also fit' if each.fits else 'Alone this is not enough'}: {each.words}")
        for each in timeline.relaxations
        if each.asks != timeline.asks
    )
    sections = [*_people(night), Section("What else was tried", others, folded=True)]
    sections.append(Section("Notes", tuple(said(words) for words in timeline.notes)))
    return decide, tuple(_night_figures(night)), tuple(s for s in sections if s.lines or s.rows)


def _night_figures(night: NightPlan) -> Iterator[Figure]:
    timeline = night.timeline
    if timeline.finish is not None and timeline.bound is not None and timeline.gap is not None:
        if timeline.proven:
            best = "no plan under these rules ends sooner"
        else:
            best = f"at most {timeline.gap:.1%} from the best; none ends before {timeline.bound:%H:%M}"
        yield figure("Ends, at mean hours", f"{timeline.finish:%A %H:%M}", timeline.why, best)
    ready = timeline.readiness
    if ready is None:
        return
    band = f"8 of 10 by {ready.finish_p80:%A %H:%M}; {ready.in_window:.0%} inside the window"
    yield figure("Half of such nights end by", f"{ready.finish_p50:%A %H:%M}", ready.why, band)
    if ready.visit is not None and ready.ready is not None and ready.with_one_more is not None:
        band = f"with one more night in hand {ready.with_one_more:.0%}"
        words = f"Done and looked at again before {ready.visit:%A %d %B %H:%M}"
        yield figure(words, f"{ready.ready:.0%}", ready.why, band, decide=ready.ready < 0.8)


def _people(night: NightPlan) -> Iterator[Section]:
    timeline = night.timeline
    for span in timeline.nights:
        for person in range(1, timeline.people + 1):
            own = [each for each in timeline.entries if each.person == person and each.night == span.night]
            rows = tuple(
                (f"{entry.start:%H:%M}", f"{entry.end:%H:%M}", entry.words, _marks(entry.machine, entry.quiet))
                for entry in merged(own)
            )
            title = f"{span.arrives:%A %d %B}, person {person}"
            note = f"On site {span.arrives:%H:%M} to {span.ends:%H:%M}, home {span.home:%H:%M}."
            yield Section(title, heads=("from", "to", "what", ""), rows=rows, note=note, folded=True)


def _marks(machine: bool, quiet: bool) -> str:
    if machine:
        return "machine on, quiet hours: only with leave in writing" if quiet else "machine on"
    return ""
