"""Make again what the documents show of the program: tables, example outputs, the picture.

``python scripts/make_docs.py`` writes them; ``tests/test_docs.py`` fails when one is out of date.
A page is written by hand but for its console blocks and what stands between two markers such as
``<!-- made: gaps -->`` and ``<!-- made: end -->``.
"""

from __future__ import annotations

import re
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

import console_examples
import gap_table
import plan_keys
import source_list

ROOT = Path(__file__).resolve().parent.parent
BLOCKS: dict[str, Callable[[], str]] = {
    "sources": source_list.source_list,
    "weak sums": source_list.weak_sums,
    "gaps": gap_table.gap_table,
    "documents": plan_keys.documents,
    "margin by hand": plan_keys.margin_by_hand,
    "keys": plan_keys.key_tables,
}
PAGES = (
    "README.md",
    "docs/at-the-property.md",
    "docs/command-line.md",
    "docs/smallest.md",
    "docs/sources.md",
)
PICTURE = "docs/pictures/unrolled-wall.svg"
WHOLE_OUTPUT = "examples/smallest/plan.json"
_BLOCK = re.compile(r"(<!-- made: (?!end)([\w ]+) -->\n).*?(<!-- made: end -->)", re.DOTALL)


def made(page: str) -> str:
    """Return a page with its blocks and console examples as the program gives them today."""
    filled = _BLOCK.sub(lambda block: f"{block[1]}\n{BLOCKS[block[2]]()}\n\n{block[3]}", page)
    if not console_examples.FENCE.search(filled):
        return filled
    with tempfile.TemporaryDirectory() as folder:
        return console_examples.answered(filled, console_examples.prepare(Path(folder)))


def picture() -> str:
    """Return the unrolled wall that ``./run demo`` draws."""
    with tempfile.TemporaryDirectory() as name:
        folder = console_examples.prepare(Path(name))
        said = console_examples.output("./run demo --json", folder)
        drawn = folder / "out" / "demo" / "unrolled-wall.svg"
        if not drawn.is_file():
            raise ValueError(f"the demo drew nothing: {said[:2000]}")
        return drawn.read_text(encoding="utf-8")


def main() -> int:
    """Write what is out of date, and say so."""
    wanted: dict[str, str] = {name: made((ROOT / name).read_text(encoding="utf-8")) for name in PAGES}
    wanted |= {PICTURE: picture(), WHOLE_OUTPUT: plan_keys.smallest_plan()}
    for name, text in wanted.items():
        path = ROOT / name
        if not path.is_file() or path.read_text(encoding="utf-8") != text:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8", newline="\n")
            sys.stdout.write(f"wrote {name}\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
