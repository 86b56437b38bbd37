"""The words of the papers, kept apart from the program: ``texts/<language>/<paper>.toml``.

A key is the file's name, a dot, and the key in it, such as ``agreement.title``. What a language does not have yet
stands in English.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from datetime import date
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Final

from sightwash.site.firm import Language

ENGLISH: Final[Language] = "en"


@cache
def own_texts(language: Language) -> Mapping[str, str]:
    """Return what is written in a language itself, without what it takes from English."""
    folder = files("sightwash.papers").joinpath("texts", language)
    found: dict[str, str] = {}
    for file in sorted(folder.iterdir(), key=lambda each: each.name):
        if file.name.endswith(".toml"):
            stem = file.name.removesuffix(".toml")
            found |= {f"{stem}.{key}": words for key, words in tomllib.loads(file.read_text("utf-8")).items()}
    return MappingProxyType(found)


@cache
def texts(language: Language) -> Mapping[str, str]:
    """Return all words of the papers in a language; what is missing in it stands in English."""
    return MappingProxyType({**own_texts(ENGLISH), **own_texts(language)})


def missing_texts(language: Language, *papers: str) -> tuple[str, ...]:
    """Return the keys of some papers that a language does not have yet."""
    own = own_texts(language)
    return tuple(key for key in own_texts(ENGLISH) if key.split(".")[0] in papers and key not in own)


@cache
def shared_words(language: Language, *papers: str) -> Mapping[str, str]:
    """Return the words of some papers in a language by their short keys, those that all papers share among them."""
    return MappingProxyType(words_of(texts(language), "common", *papers))


def words_of(words: Mapping[str, str], *papers: str) -> dict[str, str]:
    """Return the words of some papers by their short keys; a later paper's word goes before an earlier one's."""
    found: dict[str, str] = {}
    for paper in papers:
        start = f"{paper}."
        found |= {key.removeprefix(start): text for key, text in words.items() if key.startswith(start)}
    return found


def day_words(day: date, words: Mapping[str, str]) -> str:
    """Return a day with its weekday in the papers' language.

    >>> day_words(date(2026, 7, 11), texts("en"))
    'Saturday, July 11, 2026'
    """
    names = {"weekday": f"common.weekday_{day.isoweekday()}", "month": f"common.month_{day.month}"}
    return words["common.day"].format(day=day.day, year=day.year, **{name: words[key] for name, key in names.items()})
