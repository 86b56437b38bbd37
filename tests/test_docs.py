"""The documents: links lead somewhere, commands exist, and the floors are those of the code."""

from __future__ import annotations

import re
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
DOCUMENTS = sorted([*ROOT.glob("*.md"), *(ROOT / "docs").rglob("*.md"), *(ROOT / "examples").rglob("*.md")])

_FENCE = re.compile(r"^```.*?^```$", re.MULTILINE | re.DOTALL)
_CODE = re.compile(r"`[^`\n]*`")
_LINK = re.compile(r"!?\[[^\]]*\]\(([^)\s]+)\)")
_COMMAND = re.compile(r"\./run +([a-z][\w-]*)")


def anchors(text: str) -> set[str]:
    """Return the anchors of a document's headings."""
    headings = re.findall(r"^#+ +(.+?)\s*$", _FENCE.sub("", text), re.MULTILINE)
    return {re.sub(r"[^\w\- ]", "", heading.lower()).replace(" ", "-") for heading in headings}


def dead_links(document: Path) -> list[str]:
    """Return the links of a document that lead to no file, or to no heading of one; the web is not asked."""
    found = []
    prose = _CODE.sub("", _FENCE.sub("", document.read_text(encoding="utf-8")))
    for link in _LINK.findall(prose):
        if re.match(r"[a-z]+:", link):
            continue
        place, _, anchor = link.partition("#")
        target = (document.parent / place) if place else document
        missing_anchor = (
            anchor
            and target.suffix == ".md"
            and target.exists()
            and anchor not in anchors(target.read_text(encoding="utf-8"))
        )
        if not target.exists() or missing_anchor:
            found.append(link)
    return found


@pytest.mark.parametrize("document", DOCUMENTS, ids=lambda path: str(path.relative_to(ROOT)))
def test_links_lead_somewhere(document: Path) -> None:
    assert dead_links(document) == []


def test_dead_links_are_found(tmp_path: Path) -> None:
    page = tmp_path / "page.md"
    page.write_text(
        "# One heading\n[a](#one-heading) [b](#two) [c](gone.md) [d](page.md#one-heading)\n```\n[e](x.md)\n```\n",
        encoding="utf-8",
    )
    assert dead_links(page) == ["#two", "gone.md"]


def test_commands_in_documents_exist() -> None:
    usage = subprocess.run(["sh", str(ROOT / "run"), "help"], capture_output=True, text=True, check=True).stdout
    known = set(re.findall(r"^  ([a-z]+) ", usage, re.MULTILINE))
    assert {"demo", "test", "check"} <= known
    named = {name for document in DOCUMENTS for name in _COMMAND.findall(document.read_text(encoding="utf-8"))}
    assert named <= known, named - known


def test_every_package_has_its_place_in_the_floor_plan() -> None:
    plan = (ROOT / "docs" / "floors.md").read_text(encoding="utf-8")
    packages = [init.parent.name for init in (ROOT / "src" / "sightwash").glob("*/__init__.py")]
    assert [name for name in packages if f"`{name}" not in plan] == []
