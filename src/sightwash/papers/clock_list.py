"""The timeline as a list of clock times for each person, one night after the other."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import timedelta
from typing import Final

from sightwash.basis.units import LENGTH, show
from sightwash.planning.night_entries import NightSpan, TimelineEntry
from sightwash.planning.timeline import Timeline

WIDTH: Final = 92
TOGETHER: Final = ("hose", "rinse glass", "treat", "rinse", "power rinse", "gum by hot wand", "surface clean")
"""Actions of which neighbouring lines are drawn into one."""


def clock_list(timeline: Timeline, units: str = "us") -> str:
    """Return the whole timeline as text: what must be agreed first, then each night, each person."""
    lines = ["WHO DOES WHAT, WHEN", *_head(timeline)]
    if timeline.nights:
        lines.append("M: the machine runs. Q: inside the quiet hours, only with leave in writing.")
    for night in timeline.nights:
        lines += _night(timeline, night, units)
    lines += [line for note in timeline.notes for line in _item(note)]
    return "\n".join(lines) + "\n"


def _item(words: str, mark: str = "- ") -> list[str]:
    return textwrap.wrap(words, WIDTH, initial_indent=mark, subsequent_indent=" " * len(mark), break_on_hyphens=False)


def _head(timeline: Timeline) -> Iterator[str]:
    for reason in timeline.reasons:
        yield from _item(f"The night as stated does not hold the work: {reason}", "! ")
    if timeline.asks:
        yield "Only if this is agreed first:"
        yield from (line for ask in timeline.asks for line in _item(ask))
    others = [each for each in timeline.relaxations if each.asks != timeline.asks]
    fitting = [each for each in others if each.fits]
    if fitting:
        yield "It would also fit with:"
        yield from (line for each in fitting for line in _item(each.words))
    short = [each for each in others if not each.fits]
    if short:
        yield "Alone, none of these is enough:"
        yield from (line for each in short for line in _item(each.words))
    if timeline.finish is not None and timeline.bound is not None and timeline.gap is not None:
        best = (
            "no plan under these rules ends sooner" if timeline.proven else f"at most {timeline.gap:.1%} from the best"
        )
        yield f"Ends {timeline.finish:%A %H:%M} at mean hours; {best}."
    yield from _chances(timeline)


def _chances(timeline: Timeline) -> Iterator[str]:
    ready = timeline.readiness
    if ready is None:
        return
    yield (
        f"Half of such nights end by {ready.finish_p50:%A %H:%M}, 8 of 10 by {ready.finish_p80:%A %H:%M}; "
        f"{ready.in_window:.0%} inside the window."
    )
    if ready.visit is not None and ready.ready is not None and ready.with_one_more is not None:
        yield (
            f"Done and looked at again before {ready.visit:%A %d %B %H:%M}: {ready.ready:.0%}; "
            f"with one more night in hand {ready.with_one_more:.0%}."
        )


def _night(timeline: Timeline, night: NightSpan, units: str) -> Iterator[str]:
    yield ""
    yield (
        f"NIGHT {night.night}   {night.arrives:%A %d %B %Y}   on site {night.arrives:%H:%M} to {night.ends:%H:%M}, "
        f"home {night.home:%H:%M}; shift {night.shift / 3600:.1f} h"
    )
    for person in range(1, timeline.people + 1):
        own = [each for each in timeline.entries if each.person == person and each.night == night.night]
        yield f"Person {person}"
        for entry in merged(own):
            yield from _entry(entry, units)


def merged(entries: Sequence[TimelineEntry]) -> list[TimelineEntry]:
    """Return entries with neighbours of one action on one part, or hoses laid one after the other, drawn into one."""
    found: list[TimelineEntry] = []
    for entry in sorted(entries, key=lambda each: each.start):
        last = found[-1] if found else None
        if last is not None and _belong(last, entry):
            words = last.words if last.words == entry.words else f"{last.words}, {entry.part}"
            ends = min(last.left, entry.left), max(last.right, entry.right)
            found[-1] = replace(last, end=entry.end, words=words, left=ends[0], right=ends[1])
        else:
            found.append(entry)
    return found


def _belong(last: TimelineEntry, entry: TimelineEntry) -> bool:
    if last.action != entry.action or last.action not in TOGETHER or entry.start - last.end > timedelta(minutes=1):
        return False
    if entry.action == "hose":
        return True
    return last.words == entry.words and abs(entry.left - last.right) < 0.05


def _entry(entry: TimelineEntry, units: str) -> Iterator[str]:
    stretch = ""
    if entry.right > entry.left:
        until = show(entry.right, LENGTH, units)
        stretch = f", first {until}" if entry.left < 0.01 else f", {show(entry.left, LENGTH, units)} to {until}"
    marks = f" ({'MQ' if entry.quiet else 'M'})" if entry.machine else ""
    yield from _item(f"{entry.words}{stretch}{marks}", f"  {entry.start:%H:%M}-{entry.end:%H:%M}  ")
