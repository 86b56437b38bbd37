"""A firm's own text blocks: one plain text file that a person edits and the program only ever adds to.

A block begins with a line of two number signs and its key; what stands above the first is a note. A block that the
file has is used as it stands, whatever it says; one that it lacks is taken from the drafts.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Mapping
from typing import Final

from sightwash.basis.errors import InputError, Problem
from sightwash.papers.catalogue import texts, words_of
from sightwash.site.firm import Language

LARGEST_BLOCKS: Final = 500_000
LONGEST: Final = 8000
_HEAD: Final = re.compile(r"^##[ \t]*(.*?)[ \t]*$")
_SLOT: Final = re.compile(r"\{([a-z_]+)\}")
NOTE: Final = "note"


def draft_blocks(language: Language) -> dict[str, str]:
    """Return the drafts by key; ``<key>_title`` is the heading of ``<key>``."""
    return {key: words for key, words in words_of(texts(language), "blocks").items() if key != NOTE}


def read_blocks(text: str, file: str, language: Language = "en") -> dict[str, str]:
    """Return the blocks of a file by key; InputError for a key that no paper knows, a doubled or an endless block."""
    known = draft_blocks(language)
    found: dict[str, list[str]] = {}
    key = ""
    for number, line in enumerate(text.splitlines(), 1):
        head = _HEAD.match(line)
        if head is None:
            if key:
                found[key].append(line)
            continue
        key = head[1]
        if key not in known:
            raise InputError(_unknown(key, known, file, number))
        if key in found:
            fix = "keep one of them"
            raise InputError(Problem("doubled-block", f"{key} stands here twice", file, number, 1, key, "one", fix))
        found[key] = []
    blocks = {name: "\n".join(lines).strip() for name, lines in found.items()}
    for name, words in blocks.items():
        if len(words) > LONGEST:
            message = f"the block has {len(words)} characters"
            raise InputError(Problem("text-too-long", message, file, key=name, expected=f"at most {LONGEST}"))
    return blocks


def _unknown(key: str, known: Mapping[str, str], file: str, line: int) -> Problem:
    near = difflib.get_close_matches(key, known, 1)
    fix = f"write `## {near[0]}`" if near else "take the line out, or begin it with another sign"
    return Problem("unknown-block", f"no paper has a block {key[:60]!r}", file, line, 1, None, ", ".join(known), fix)


def blocks_text(language: Language) -> str:
    """Return the drafts as a file to edit."""
    note = texts(language)[f"blocks.{NOTE}"]
    return note + "\n" + _written(draft_blocks(language))


def with_new_blocks(text: str, file: str, language: Language) -> str:
    """Return a file's text with the drafts that it lacks added at its end; not a letter of the rest changes."""
    own = read_blocks(text, file, language)
    new = {key: words for key, words in draft_blocks(language).items() if key not in own}
    return text if not new else text.rstrip("\n") + "\n" + _written(new)


def _written(blocks: Mapping[str, str]) -> str:
    return "".join(f"\n## {key}\n{words}\n" for key, words in blocks.items())


def filled(words: str, values: Mapping[str, str]) -> str:
    """Return a block with the names in braces filled in; a name that nobody knows stays as it is.

    >>> filled("due in {payment_days} days, {this}", {"payment_days": "14"})
    'due in 14 days, {this}'
    """
    return _SLOT.sub(lambda slot: values.get(slot[1], slot[0]), words)
