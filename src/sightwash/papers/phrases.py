"""The plan's own sentences in another language: a phrase book of patterns, ``texts/<language>/phrases.toml``.

A pattern may hold places in braces, such as ``treat {a}``; what stands there is carried over and looked up in its turn.
Names that people gave are set aside first, so that no part of a name is ever translated. A sentence that the book does
not hold stays in English.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from functools import cache
from typing import Final

from sightwash.papers.catalogue import ENGLISH, own_texts, words_of
from sightwash.site.firm import Language

_OPEN, _SHUT = "\ue000", "\ue001"
_WORD: Final = re.compile("[a-z]+")
"""A name that could be a word of a sentence is kept only where it stands alone in a place of a pattern."""
_NAME: Final = re.compile(f"{_OPEN}(\\d+){_SHUT}")
_SLOT: Final = re.compile(r"\{([a-z])\}")
_JOINTS: Final = ("; ", ": ", ", ")
_QUANTITY: Final = re.compile(
    r"[\d.,:%/]+ ?(?:ft|in|gal/min|gal|min|psi|mm|cm|m|L|L/min|bar|kPa|mg/L|deg|h|s|lb|kg|%)?\b"
)


class PhraseBook:
    """Says the plan's sentences in a language; ``unsaid`` keeps the parts for which it has no words."""

    def __init__(self, language: Language, names: Iterable[str] = ()) -> None:
        self._same = language == ENGLISH
        self._patterns = _patterns(language)
        given = {name for name in names if name}
        self._words = {name for name in given if _WORD.fullmatch(name)}
        self._names = sorted(given - self._words, key=lambda name: (-len(name), name))
        found = "|".join(re.escape(name) for name in self._names)
        self._find = re.compile(rf"(?<![\w-])(?:{found})(?![\w-])") if found else None
        self.unsaid: set[str] = set()

    def say(self, words: str) -> str:
        """Return a sentence of the plan in the book's language."""
        if self._same or not words:
            return words
        places = {name: number for number, name in enumerate(self._names)}
        hidden = words if self._find is None else self._find.sub(lambda m: f"{_OPEN}{places[m[0]]}{_SHUT}", words)
        return _NAME.sub(lambda m: self._names[int(m[1])], self._said(hidden, 0))

    def _said(self, words: str, joint: int) -> str:
        for pattern, target in self._patterns:
            match = pattern.fullmatch(words)
            if match is not None:
                parts = match.groupdict().items()
                return target.format(
                    **{key: part if part in self._words else self._said(part, 0) for key, part in parts}
                )
        for level in range(joint, len(_JOINTS)):
            if _JOINTS[level] in words:
                return _JOINTS[level].join(self._said(part, level + 1) for part in words.split(_JOINTS[level]))
        if re.search(r"[A-Za-z]{3}", _QUANTITY.sub("", _NAME.sub("", words))):
            self.unsaid.add(_NAME.sub("...", words))
        return words


@cache
def _patterns(language: Language) -> tuple[tuple[re.Pattern[str], str], ...]:
    book: Mapping[str, str] = words_of(own_texts(language), "phrases")
    ordered = sorted(book.items(), key=lambda each: (-len(_SLOT.sub("", each[0])), each[0]))
    return tuple((re.compile(_pattern(source)), target) for source, target in ordered)


def _pattern(source: str) -> str:
    parts = _SLOT.split(source)
    return "".join(re.escape(part) if i % 2 == 0 else f"(?P<{part}>(?:(?![;:] ).)+?)" for i, part in enumerate(parts))
