"""Words as they stand on a drawing: cleaned, kept apart by direction, measured and cut to a width."""

from __future__ import annotations

import re
import unicodedata
from typing import Final

from sightwash.basis.units import FOOT, INCH, LENGTH, feet_and_inches, show

SMALL: Final = 7.0
"""The smallest text on any drawing [pt]."""
PLAIN: Final = 8.0
HEADING: Final = 12.0
LINE: Final = 1.2
"""Line height as a multiple of the text size."""

FAR: Final = 12.0
"""Distances beyond this are said in whole feet or metres [m]."""
_SLACK: Final = 1.08
_WIDTHS: Final = {
    0.20: "'",
    0.24: "ijl",
    0.30: " !,./:;\\[]ftI|·",
    0.36: "-()r`",
    0.50: "cksvxyzJ",
    0.62: "FTLZ",
    0.68: "ABEKPSVXY&w",
    0.76: "CDHNRUw",
    0.80: "GOQ",
    0.86: "mM",
    0.95: "W%@…",
}
_USUAL: Final = 0.56
_WIDTH_OF: Final = {
    **{chr(code): _USUAL for code in range(128)},
    **{letter: width for width, letters in _WIDTHS.items() for letter in letters},
}
_WIDE: Final = 1.0
_RIGHT_TO_LEFT: Final = ("R", "AL", "AN")
# What XML cannot hold, and what turns the direction of the words that follow.
_NOT_XML: Final = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_TURNS: Final = re.compile("[\u202a-\u202e\u2066-\u2069]")


def writable(words: str) -> str:
    """Return words without the characters that XML cannot hold."""
    return _NOT_XML.sub("", words)


def plain_words(words: str) -> str:
    """Return a user's words on one line, without what XML cannot hold or what would turn the words beside them.

    >>> plain_words("Row,\\n  front\\x07")
    'Row, front'
    """
    return " ".join(_TURNS.sub("", writable(words)).split())


def apart(words: str) -> str:
    """Return words that may stand beside others: those that run from right to left are set apart."""
    if any(unicodedata.bidirectional(letter) in _RIGHT_TO_LEFT for letter in words):
        return f"\u2068{words}\u2069"
    return words


def text_width(words: str, size: float) -> float:
    """Return the width that words need in a plain sans face, rather too much than too little [pt]."""
    return size * _SLACK * sum([_WIDTH_OF.get(letter) or _rare_width(letter) for letter in words])


def _rare_width(letter: str) -> float:
    if unicodedata.combining(letter) or unicodedata.category(letter) == "Cf":
        return 0.0
    return _WIDE if unicodedata.east_asian_width(letter) in "WF" else 0.7


def fitted(words: str, width: float, size: float) -> str:
    """Return cleaned words cut to a width, with an ellipsis where they were cut; empty if nothing fits.

    >>> fitted("Row, front (south)", 40.0, 8.0)
    'Row, fr…'
    """
    clean = plain_words(words)
    if text_width(clean, size) <= width:
        return clean
    room = width - text_width("…", size)
    end = 0
    while end < len(clean) and room >= 0.0:
        room -= text_width(clean[end], size)
        end += 1
    kept = clean[: max(end - 1, 0)].rstrip(" ,;:(-")
    return f"{kept}…" if kept else ""


def named(words: str, width: float = 220.0, size: float = PLAIN) -> str:
    """Return a user's name to stand in a line of ours: cut to a width, and set apart if it runs the other way."""
    return apart(fitted(words, width, size))


def wrapped(words: str, width: float, size: float, most: int = 99) -> list[str]:
    """Return words broken into at most ``most`` lines of a width; one too long for its line is cut."""
    lines: list[str] = []
    rest = words.split()
    while rest:
        count = 1
        while count < len(rest) and text_width(" ".join(rest[: count + 1]), size) <= width:
            count += 1
        last = len(lines) + 1 == most
        line = " ".join(rest if last else rest[:count])
        lines.append(line if text_width(line, size) <= width else fitted(line, width, size))
        rest = [] if last else rest[count:]
    return lines


def length_words(metres: float, units: str) -> str:
    """Return a length for a label: whole inches, or three figures in metres.

    >>> length_words(3.2, "us"), length_words(3.2, "metric")
    ('10 ft 6 in', '3.2 m')
    """
    return feet_and_inches(metres, 1) if units == "us" else show(metres, LENGTH, units)


def far_words(metres: float, units: str) -> str:
    """Return a distance to walk or to see over: whole feet or metres beyond a few paces.

    >>> far_words(117.1, "us"), far_words(117.1, "metric")
    ('384 ft', '117 m')
    """
    unit, name = (FOOT, "ft") if units == "us" else (1.0, "m")
    return f"{metres / unit:,.0f} {name}" if metres >= FAR else length_words(metres, units)


def band_words(metres: float, units: str) -> str:
    """Return the height of a band in inches or centimetres.

    >>> band_words(1.556, "us"), band_words(1.556, "metric")
    ('61 in', '156 cm')
    """
    return f"{metres / INCH:.0f} in" if units == "us" else f"{metres * 100:.0f} cm"


def counted(number: int, one: str, many: str = "") -> str:
    """Return a count with its noun.

    >>> counted(1, "wall"), counted(3, "wall")
    ('1 wall', '3 walls')
    """
    return f"{number} {one if number == 1 else many or one + 's'}"
