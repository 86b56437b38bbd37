"""Whatever is done to a document's text: it is read, or refused with an InputError, and nothing else happens.

A property, not a comparison: the demo documents are changed at random (reproducibly: the number of a change
gives it back). What is still read must also have gaps, shapes and a text that reads back equal.
``python tests/site/test_mutated_documents.py 10000`` runs more of them.
"""

from __future__ import annotations

import json
import random
import sys
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Any

from sightwash.basis.errors import InputError
from sightwash.site.gaps import document_gaps
from sightwash.site.model import Site
from sightwash.site.shapes import placed_walls, solids
from sightwash.site.site_file import document_from, document_text, read_document
from sightwash.site.tree import parse

DEMO = Path(__file__).parent.parent.parent / "examples" / "demo"
KINDS = ("site", "site", "site", "site", "site", "rig", "rates", "conditions")

NUMBERS: tuple[Any, ...] = (
    0, -1, 1, 0.5, -0.0, 1e-300, 1e300, -1e300, 10**30, 10**400, 2**63, 999999, 12, 144, 1e12, 3.3e-9,
)  # fmt: skip
TEXTS = (
    "", " ", "0", "-1", "1e999", "nan", "inf", "12 ft 6 in", "6 in 12 ft", "1/0 in", "1/3 in", "3 gal", "100 %", "0.5",
    "12,5", "1,200 psi", "22:00", "25:61", "2026-02-30", "0001-01-01", "no", "null", "~", "front", "row", "canopy",
    "row-front", "stucco", "true", "America/Chicago", "../..", "\x00", "\x7f", "\u2028", "\ufeff", "\U0001f6bf",
    "é" * 70, "a" * 5000, "'", '"', "$5", "12.5 %", "12.5 trade %", "&a", "*a", "!!int 1", "%", "{", "[", "- -",
    "9" * 400, "٣ ft",
)  # fmt: skip
OTHERS: tuple[Any, ...] = (
    None, True, False, [], {}, [[]], [{}], {"": ""}, [0, 0], [[0, 0], [1, 0], [1, 1]], {"id": "a"}, [1, 2, 3], [None],
)  # fmt: skip

Place = tuple[Any, Any]


def places(tree: Any) -> list[Place]:
    """Return every (container, key or index) of a tree."""
    found: list[Place] = []
    waiting = [tree]
    while waiting:
        node = waiting.pop()
        keys = list(node) if isinstance(node, dict) else range(len(node))
        found += ((node, key) for key in keys)
        waiting += (node[key] for key in keys if isinstance(node[key], (dict, list)))
    return found


def delete(chance: random.Random, spots: list[Place]) -> None:
    node, key = chance.choice(spots)
    del node[key]


def duplicate(chance: random.Random, spots: list[Place]) -> None:
    node, key = chance.choice([spot for spot in spots if isinstance(spot[0], list)] or spots)
    copy = json.loads(json.dumps(node[key]))
    if isinstance(node, list):
        node.insert(key, copy)
    else:
        node[f"{key}-2"] = copy


def rename(chance: random.Random, spots: list[Place]) -> None:
    node, key = chance.choice([spot for spot in spots if isinstance(spot[0], dict)] or spots)
    letters = list(str(key)) or ["x"]
    at = chance.randrange(len(letters))
    letters[at] = chance.choice(("", "x", letters[at] * 2, letters[at].upper(), "_", "\n", "é"))
    if isinstance(node, dict):
        node["".join(letters)] = node.pop(key)


def swap(chance: random.Random, spots: list[Place]) -> None:
    (node, key), (other, other_key) = chance.choice(spots), chance.choice(spots)
    one, two = (json.loads(json.dumps(part)) for part in (node[key], other[other_key]))
    node[key], other[other_key] = two, one


def truncate(chance: random.Random, spots: list[Place]) -> None:
    lists = [node[key] for node, key in spots if isinstance(node[key], list) and node[key]]
    if lists:
        chosen = chance.choice(lists)
        del chosen[chance.randrange(len(chosen)) :]


def shuffle(chance: random.Random, spots: list[Place]) -> None:
    lists = [node[key] for node, key in spots if isinstance(node[key], list) and len(node[key]) > 1]
    if lists:
        chance.shuffle(chance.choice(lists))


def scale(chance: random.Random, spots: list[Place]) -> None:
    """Multiply one number, mostly as a wrong unit does."""
    numbers = [spot for spot in spots if isinstance(spot[0][spot[1]], str) and spot[0][spot[1]].lstrip("-").isdecimal()]
    if numbers:
        node, key = chance.choice(numbers)
        node[key] = str(float(node[key]) * chance.choice((12, 1 / 12, 0.3048, 100, -1, 0, 1000, 1.001)))


def nest(chance: random.Random, spots: list[Place]) -> None:
    node, key = chance.choice(spots)
    for _ in range(chance.choice((1, 1, 1, 2, 60, 700))):
        node[key] = [node[key]]


def replaced_by(values: tuple[Any, ...]) -> Callable[[random.Random, list[Place]], None]:
    def replace(chance: random.Random, spots: list[Place]) -> None:
        node, key = chance.choice(spots)
        node[key] = json.loads(json.dumps(chance.choice(values)))

    return replace


def scribble(chance: random.Random, spots: list[Place]) -> None:
    """Put random characters, lone halves of characters among them, in place of a value."""
    node, key = chance.choice(spots)
    block = chance.choice((32, 256, 0x400, 0x2000, 0x1F600, 0xD900))
    node[key] = "".join(chr(block + chance.randrange(256)) for _ in range(6))


TREE_CHANGES = (
    delete, duplicate, rename, swap, truncate, shuffle, scale, scale, scale, nest, replaced_by(NUMBERS),
    replaced_by(TEXTS), replaced_by(OTHERS), scribble,
)  # fmt: skip


def changed_bytes(chance: random.Random, data: bytes) -> bytes:
    """Return the bytes with one to four of them flipped, dropped, doubled, or cut off behind."""
    text = bytearray(data)
    for _ in range(chance.randint(1, 4)):
        at = chance.randrange(len(text))
        change = chance.randrange(5)
        if change == 0:
            text[at] ^= 1 << chance.randrange(8)
        elif change == 1:
            del text[at]
        elif change == 2:
            text[at:at] = chance.choice((b'"', b"[", b"}", b"\t", b": ", b"\n", b"&a ", b"*a", b"!x ", b"\xff", b"- "))
        elif change == 3:
            text[at : at + 20] = text[at : at + 20] * 2
        elif chance.random() < 0.2:
            del text[at:]
            text += b" "
    return bytes(text)


def changed_text(number: int, trees: dict[str, str], yamls: dict[str, bytes]) -> bytes:
    """Return the text of the change with this number."""
    chance = random.Random(number)
    kind = chance.choice(KINDS)
    if chance.random() < 0.25:
        return changed_bytes(chance, chance.choice((trees[kind].encode(), yamls[kind])))
    tree = json.loads(trees[kind])
    for _ in range(chance.randint(1, 3)):
        spots = places(tree)
        if spots:
            chance.choice(TREE_CHANGES)(chance, spots)
    try:
        return json.dumps(tree).encode()
    except RecursionError:
        return b'{"kind": ' + b"[" * 5000


def code_said_well(error: InputError) -> str:
    """Return the first problem's code; every problem must be one printable line that can be encoded."""
    for problem in error.problems:
        assert problem.message
        assert str(problem).isprintable()
        assert len(str(problem)) < 1200
    str(error).encode()
    return error.problems[0].code


def outcome(data: bytes, file: Path) -> str:
    """Return ``read`` or the code of the first problem; anything that is not an InputError goes through."""
    file.write_bytes(data)
    try:
        document = read_document(file)
    except InputError as error:
        return code_said_well(error)
    document_gaps(document)
    if isinstance(document, Site):
        solids(document, placed_walls(document))
    text = document_text(document)
    text.encode()
    assert document_from(parse(text, "again.json")) == document
    return "read"


def outcomes(numbers: range, folder: Path) -> Counter[str]:
    """Return how often each outcome came of the changes with these numbers; an AssertionError names the number."""
    trees = {kind: document_text(read_document(DEMO / f"{kind}.yaml")) for kind in set(KINDS)}
    yamls = {kind: (DEMO / f"{kind}.yaml").read_bytes() for kind in set(KINDS)}
    found: Counter[str] = Counter()
    for number in numbers:
        try:
            found[outcome(changed_text(number, trees, yamls), folder / "changed.txt")] += 1
        except Exception as error:
            raise AssertionError(f"change {number}: {type(error).__name__}: {error}") from error
    return found


def test_a_changed_document_is_read_or_refused_and_nothing_else(tmp_path: Path) -> None:
    found = outcomes(range(1000), tmp_path)
    assert sum(found.values()) == 1000
    assert found["read"] > 50, "the changes are too rough to reach the checks"
    assert len(found) > 25, "the changes reach too few of the refusals"


def test_the_same_number_gives_the_same_change() -> None:
    trees = {kind: document_text(read_document(DEMO / f"{kind}.yaml")) for kind in set(KINDS)}
    yamls = {kind: (DEMO / f"{kind}.yaml").read_bytes() for kind in set(KINDS)}
    first = [changed_text(number, trees, yamls) for number in range(40)]
    assert first == [changed_text(number, trees, yamls) for number in range(40)]
    assert len(set(first)) > 35


if __name__ == "__main__":
    import tempfile

    with tempfile.TemporaryDirectory() as scratch:
        tally = outcomes(range(int(sys.argv[1])), Path(scratch))
    sys.stdout.write("".join(f"{count:6} {code}\n" for code, count in tally.most_common()))
