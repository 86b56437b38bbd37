"""A figure as a page shows it: one value, the band behind it, and behind a quiet mark its rule, inputs and sources."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from sightwash.basis.sources import Why, source


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure; ``inputs`` are names with their values, ``sources`` citations in words."""

    words: str
    value: str
    band: str = ""
    rules: tuple[str, ...] = ()
    inputs: tuple[tuple[str, str], ...] = ()
    sources: tuple[str, ...] = ()
    decide: bool = False


def figure(
    words: str,
    value: str,
    why: Why | Iterable[Why] = (),
    band: str = "",
    inputs: Iterable[tuple[str, str]] = (),
    decide: bool = False,
) -> Figure:
    """Return a figure with its rules and the citations of its sources, each once."""
    whys = (why,) if isinstance(why, Why) else tuple(why)
    rules = tuple(dict.fromkeys(each.rule for each in whys))
    return Figure(words, value, band, rules, tuple(inputs), cited(whys), decide)


def cited(whys: Iterable[Why]) -> tuple[str, ...]:
    """Return the citations of all sources of some rules, each once."""
    return tuple(dict.fromkeys(source(name).citation for why in whys for name in why.sources))


@dataclass(frozen=True, slots=True)
class Line:
    """One sentence of a list, with what follows from it and what lies behind it; ``decide`` where one must choose."""

    words: str
    rules: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
    decide: bool = False
    more: tuple[str, ...] = ()


def said(words: str, why: Why | Iterable[Why] = (), decide: bool = False, more: Iterable[str] = ()) -> Line:
    """Return a sentence with its rules and sources."""
    made = figure("", words, why)
    return Line(words, made.rules, made.sources, decide, tuple(more))


def by_sources(words: str, names: Iterable[str], decide: bool = False) -> Line:
    """Return a sentence with the citations of sources that are named by id."""
    return Line(words, (), tuple(source(name).citation for name in names), decide)
