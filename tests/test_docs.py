"""The documents: links lead somewhere, commands exist, what they show of the program is what it does today.

Pages that show our own output are compared with what the program makes: own baseline, they prove nothing but that they
are current. The sums worked by hand in ``docs/smallest.md`` are closed forms, each named beside its check.
"""

from __future__ import annotations

import ast
import doctest
import json
import re
import subprocess
from collections.abc import Iterator
from decimal import Decimal
from functools import cache
from pathlib import Path
from types import ModuleType
from typing import Any

import jsonschema
import pytest

import console_examples
import gap_table
import make_docs
import plan_keys
import source_list
from sightwash.basis.sources import STATUSES, register
from sightwash.cli.main import build_parser
from sightwash.papers.plan_document import output_schema
from sightwash.planning.tailgate import sums
from sightwash.site import gaps
from sightwash.site.site_file import KINDS, document_from, document_schema
from sightwash.site.tree import parse

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


def page(name: str) -> str:
    """Return a document of the docs folder."""
    return (ROOT / "docs" / name).read_text(encoding="utf-8")


@pytest.mark.parametrize("name", make_docs.PAGES)
def test_made_parts_and_examples_are_current(name: str) -> None:
    text = (ROOT / name).read_text(encoding="utf-8")
    assert make_docs.made(text) == text, "run scripts/make_docs.py"


def test_every_made_page_is_kept_current() -> None:
    marks = ("<!-- made: ", "```console")
    found = {
        str(document.relative_to(ROOT))
        for document in DOCUMENTS
        if any(mark in document.read_text(encoding="utf-8") for mark in marks)
    }
    assert found == set(make_docs.PAGES)


def test_picture_is_what_the_demo_draws() -> None:
    drawn = make_docs.picture()
    assert drawn == (ROOT / make_docs.PICTURE).read_text(encoding="utf-8"), "run scripts/make_docs.py"
    assert f"]({make_docs.PICTURE})" in (ROOT / "README.md").read_text(encoding="utf-8")


def test_stale_pages_are_noticed(tmp_path: Path) -> None:
    stale = "a\n```console\n$ echo one; \\\n    echo two\nold\n$ ls missing; exit 3\n```\n```sh\n$ echo three\n```\n"
    fresh = console_examples.answered(stale, console_examples.prepare(tmp_path))
    assert fresh.startswith("a\n```console\n$ echo one; \\\n    echo two\none\ntwo\n$ ls missing; exit 3\nls: ")
    assert fresh.endswith("\n```\n```sh\n$ echo three\n```\n")
    old = "<!-- made: margin by hand -->\nold\n<!-- made: end -->\n"
    assert "old" not in make_docs.made(old)
    with pytest.raises(KeyError):
        make_docs.made("<!-- made: nothing known -->\n<!-- made: end -->\n")


@pytest.mark.parametrize("module", [console_examples, gap_table, source_list])
def test_examples_of_the_scripts_hold(module: ModuleType) -> None:
    found = doctest.testmod(module)
    assert found.attempted > 0
    assert found.failed == 0


def test_every_command_has_an_example() -> None:
    known = next(set(action.choices) for action in build_parser()._actions if isinstance(action.choices, dict))
    blocks = console_examples.FENCE.findall(page("command-line.md"))
    shown = [command.split() for block in blocks for command in console_examples.commands(block)]
    assert {words[2] for words in shown if words[0] == "./run"} == known


def test_every_key_of_the_output_is_explained() -> None:
    assert plan_keys.unexplained() == []
    assert plan_keys.left_behind() == []


def test_gap_list_is_whole() -> None:
    tree = ast.parse(Path(gaps.__file__).read_text(encoding="utf-8"))
    written = [node for node in ast.walk(tree) if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Gap"]
    assert sum(len(gap_table.every_gap(kind)) for kind in KINDS) == len(written)


def smallest_plan() -> Any:
    """Return the committed output of the smallest example."""
    return json.loads((ROOT / make_docs.WHOLE_OUTPUT).read_text(encoding="utf-8"))


def leaves(tree: Any, place: str = "") -> Iterator[tuple[str, Any]]:
    """Yield every plain value of a JSON tree with its place; an empty list or mapping is one too."""
    if isinstance(tree, (dict, list)) and tree:
        pairs = tree.items() if isinstance(tree, dict) else enumerate(tree)
        for key, value in pairs:
            yield from leaves(value, f"{place}.{key}")
    else:
        yield place, tree


def test_smallest_output_is_current_and_valid() -> None:
    committed, today = smallest_plan(), json.loads(plan_keys.smallest_plan())
    jsonschema.validate(committed, output_schema("plan"))
    old, new = dict(leaves(committed)), dict(leaves(today))
    assert list(old) == list(new), "run scripts/make_docs.py"
    numbers = {key: value for key, value in new.items() if isinstance(value, float)}
    assert {key: old[key] for key in numbers} == pytest.approx(numbers, rel=1e-8, abs=1e-9)
    assert [key for key in new if key not in numbers and old[key] != new[key]] == []


def test_canopy_of_the_smallest_example_by_hand() -> None:
    """Closed form: similar triangles (Euclid, The Elements, VI.4, tr. Heath 1908), as worked in the page."""
    crew, road = 10.5 + (10.5 - 5.25) * 6 / (12 - 6), 10.5 + (10.5 - 3.5) * 6 / (90 - 6)
    assert (crew, road) == (15.75, 11.0)
    (strip,) = smallest_plan()["plan"]["missed"]
    assert strip["over"] == "canopy"
    assert [strip["top"], strip["bottom"]] == pytest.approx([crew * 0.3048, road * 0.3048], abs=1e-6)
    assert all(words in page("smallest.md") for words in ("= 15.75 ft = 15 ft 9 in", "= 11 ft", "3.3528 m", "4.8006 m"))


def test_margin_of_the_smallest_example_by_hand() -> None:
    """Closed form: a margin m on price makes the price cost / (1 - m); m = 30 %, rounded up to 5."""
    price = smallest_plan()["plan"]["price"]
    asked = Decimal(price["cost"]) / Decimal("0.70")
    fives = 0
    while 5 * fives < asked:
        fives += 1
    assert Decimal(price["price"]) == 5 * fives
    assert Decimal(price["margin_amount"]) == 5 * fives - Decimal(price["cost"])
    assert f"{5 * fives:.2f}" in page("smallest.md")


def terms() -> dict[str, list[str]]:
    """Return the words of the nomenclature with the names in backticks of their row."""
    rows = re.findall(r"^\| (?!word|-)(.+?) \|.*\| (.*) \|$", page("nomenclature.md"), re.MULTILINE)
    return {word: re.findall(r"`([^`]+)`", where) for word, where in rows}


def test_nomenclature_holds_every_heading_of_the_output() -> None:
    schema = output_schema("plan")
    named = {place for places in terms().values() for place in places}
    for root, keys in (("output", schema["properties"]), ("plan", schema["$defs"]["VisitPlan"]["properties"])):
        for key in keys:
            start = f"{root}.{key}"
            assert any(place == start or place.startswith((f"{start}.", f"{start}[")) for place in named), start


@cache
def schema_of(kind: str) -> Any:
    """Return the schema of a kind of document, or of the output ``plan``."""
    return document_schema(kind) if kind in KINDS else output_schema(kind)


def leads_somewhere(place: str) -> bool:
    """Return whether a place such as ``plan.missed[].top`` stands in a schema, or a sum is known."""
    if place.startswith("work-out "):
        return place.removeprefix("work-out ") in sums()
    root, *keys = place.replace("[]", "").split(".")
    if root not in (*KINDS, "output", "plan"):
        return place in page("command-line.md").splitlines()  # a file that `plan --out` writes, as `ls` lists it there
    schema = schema_of(root if root in KINDS else "plan")
    level: list[Any] = [schema["$defs"]["VisitPlan"] if root == "plan" else schema]
    for key in keys:
        level = [node for held in level for node in opened(held.get("properties", {}).get(key), schema)]
    return bool(level)


def opened(node: Any, schema: Any) -> list[Any]:
    """Return what a node of a schema may be: itself, its choices, its items, what it refers to."""
    if node is None:
        return []
    if "$ref" in node:
        return opened(schema["$defs"][node["$ref"].rpartition("/")[2]], schema)
    inner = [*node.get("anyOf", []), *([node["items"]] if "items" in node else [])]
    return [node, *(found for part in inner for found in opened(part, schema))]


def test_nomenclature_names_what_there_is() -> None:
    found = terms()
    assert [place for places in found.values() for place in places if not leads_somewhere(place)] == []
    assert list(found) == sorted(found, key=str.lower)
    wrong = ("plan.mised", "site.walls[].heigth", "work-out hidden-hight", "rolled-wall.svg", "plan.sight.views.none")
    assert [place for place in wrong if leads_somewhere(place)] == []


def test_every_mark_of_a_source_is_explained() -> None:
    marks = re.findall(r"^\| ([\w, ]+?) \| [^|]+ \|$", page("sources.md"), re.MULTILINE)
    assert set(STATUSES) <= set(marks)
    assert all(f"| `{name}` |" in page("sources.md") for name in register())


SNIPPET = re.compile(r"^```yaml (\w+)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
AROUND = {
    "site": "kind: site\nschema: 1\nid: a\nname: A\n{}",
    "wall": "kind: site\nschema: 1\nid: a\nname: A\nwalls:\n  - id: w\n    length: 100\n    height: 20\n{}",
    "rig": "kind: rig\nschema: 1\nid: a\nname: A\nmachine: {{flow: 5, pressure: 3000}}\n{}",
}


@pytest.mark.parametrize("document", DOCUMENTS, ids=lambda path: str(path.relative_to(ROOT)))
def test_snippets_of_documents_can_be_read(document: Path) -> None:
    for where, text in SNIPPET.findall(document.read_text(encoding="utf-8")):
        indented = re.sub(r"^(?=.)", "    ", text, flags=re.MULTILINE) if where == "wall" else text
        kind = "rig" if where == "rig" else "site"
        document_from(parse(AROUND[where].format(indented), str(document)), kind)
