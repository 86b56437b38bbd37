"""``check``, ``schema``, ``new`` and ``import`` from outside."""

from __future__ import annotations

import json
import math
import re
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from sightwash.basis.errors import InputError
from sightwash.papers.plan_document import OUTPUTS
from sightwash.site.site_file import KINDS, document_from, read_document
from sightwash.site.starting_site import starting_site
from sightwash.site.tree import parse

DEMO = Path(__file__).parents[2] / "examples" / "demo"
FOOT = 0.3048


def test_check_says_a_line_for_every_file(run: Any, tmp_path: Path, read_line: Any) -> None:
    """A good file, a broken one, an empty one, a folder and one that is not there: five lines, in order."""
    broken, empty = tmp_path / "broken.yaml", tmp_path / "empty.yaml"
    broken.write_text("kind: site\nschema: 1\nid: s\nname: S\nwalls:\n  - {id: front, length: 12, height: 999}\n")
    empty.write_text("")
    files = [DEMO / "rates.yaml", broken, empty, tmp_path, tmp_path / "nowhere.yaml"]
    done = run("check", "--json", *files)
    lines = [read_line(line, "check") for line in done.out.splitlines()]
    assert done.status == 2
    assert done.err == ""
    assert [line["file"] for line in lines] == [str(file) for file in files]
    assert [line["ok"] for line in lines] == [True, False, False, False, False]
    assert lines[0]["kind"] == "rates"
    (problem,) = lines[1]["errors"]
    assert (problem["line"], problem["key"]) == (6, "walls[0].height")
    assert problem["expected"]
    for line in lines:
        assert line["ok"] == (line["errors"] == [])


def test_check_of_good_files_is_done(run: Any, read_line: Any) -> None:
    files = [DEMO / f"{kind}.yaml" for kind in KINDS]
    done = run("check", *files, "--json")
    assert done.status == 0
    assert [read_line(line, "check")["kind"] for line in done.out.splitlines()] == list(KINDS)
    words = run("check", *files)
    assert words.status == 0
    assert words.err == ""
    assert words.out.count("a usable") == 5


def test_a_gap_in_words(run: Any, tmp_path: Path) -> None:
    """What is missing, what it changes and what is taken; what bears on safety is marked and stands first."""
    site = tmp_path / "site.yaml"
    site.write_text("kind: site\nschema: 1\nid: s\nname: S\nwalls: [{id: front, length: 60, height: 14}]\n")
    done = run("check", site)
    assert done.status == 0
    lines = [line for line in done.out.splitlines() if ": gap:" in line or ": safety gap:" in line]
    assert lines == sorted(lines, key=lambda line: "safety gap" not in line)
    assert any("walls[0].material: safety gap: material of front; changes" in line for line in lines)


@pytest.mark.parametrize("kind", KINDS)
def test_the_demo_documents_fit_their_own_schema(run: Any, kind: str) -> None:
    """The canonical JSON of each document against the schema that the command prints (independent validator)."""
    schema = json.loads(run("schema", kind).out)
    tree = parse((DEMO / f"{kind}.yaml").read_text(encoding="utf-8"), kind).tree
    errors = list(jsonschema.Draft202012Validator(schema).iter_errors(retyped(tree)))
    assert not errors, errors[0]
    assert schema["additionalProperties"] is False
    assert list(jsonschema.Draft202012Validator(schema).iter_errors({**retyped(tree), "nonsense": 1}))


def retyped(tree: Any) -> Any:
    """Return a tree of YAML texts with numbers and true and false as JSON has them."""
    if isinstance(tree, dict):
        return {key: retyped(value) for key, value in tree.items()}
    if isinstance(tree, list):
        return [retyped(value) for value in tree]
    if tree in ("true", "false"):
        return tree == "true"
    if isinstance(tree, str) and re.fullmatch(r"-?\d+(\.\d+)?", tree):
        return int(tree) if tree.isdecimal() else float(tree)
    return tree


def test_every_output_schema_describes_its_keys(run: Any) -> None:
    for kind in OUTPUTS:
        schema = json.loads(run("schema", kind).out)
        jsonschema.Draft202012Validator.check_schema(schema)
        assert schema["properties"]
        assert schema["required"]


def test_new_is_commented_and_reads_back(run: Any, tmp_path: Path) -> None:
    done = run("new", "--name", "Seven Elms", "--length", "120 ft", "--height", "18", "--walk", "8 ft 6 in")
    assert done.status == 0
    assert done.out.count("#") >= 5
    file = tmp_path / "elms.yaml"
    file.write_text(done.out)
    site = read_document(file, "site")
    (wall,), (walk,) = site.walls, site.surfaces  # type: ignore[union-attr]
    assert (wall.length, wall.height) == (pytest.approx(120 * FOOT), pytest.approx(18 * FOOT))
    assert walk.width == pytest.approx(8.5 * FOOT)


def test_what_new_comments_out_may_be_used(run: Any, tmp_path: Path) -> None:
    """Every commented key of the starting site is right as it stands: uncommented, it reads."""
    text = run("new", "--name", "Elms", "--length", "120", "--height", "18", "--walk", "8").out
    lines = []
    for line in text.splitlines():
        bare = line.lstrip()
        body = bare.removeprefix("# ")
        opens = bare.startswith("# ") and body.split(":")[0].replace("_", "").isalpha() and ": " in body
        lines.append(line[: len(line) - len(bare)] + body if opens else line)
    file = tmp_path / "all.yaml"
    file.write_text("\n".join(lines) + "\n")
    done = run("check", file)
    assert done.status == 0, done.err
    site: Any = read_document(file, "site")
    assert site.eyes
    assert site.drains
    assert site.walls[0].projections
    assert site.walls[0].doors
    assert site.walls[0].soiling


def test_new_in_metres(run: Any, tmp_path: Path) -> None:
    file = tmp_path / "m.yaml"
    words = ["--length", "36.5", "--height", "5.5", "--walk", "2.4", "--units", "metric", "--out", file]
    assert run("new", "--name", "Ulmen", *words).status == 0
    site: Any = read_document(file, "site")
    assert site.walls[0].length == pytest.approx(36.5)


@pytest.mark.parametrize(
    ("key", "value"),
    [("length", "0"), ("length", "1e9"), ("length", "-5 ft"), ("length", ""), ("height", "1 ft"), ("height", "12 lb"),
     ("walk", "nan"), ("walk", "0"), ("walk", "300"), ("length", "12 ft\n  evil: 1"), ("height", '18", x: "1')],
)  # fmt: skip
def test_new_refuses_by_name(run: Any, key: str, value: str) -> None:
    sizes = {"length": "120", "height": "18", "walk": "8", key: value}
    done = run("new", "--name", "Elms", *(f"--{name}={size}" for name, size in sizes.items()))
    assert (done.status, done.out) == (2, "")
    assert {"length": "length", "height": "height", "walk": "width"}[key] in done.err


def started(name: str) -> str | None:
    try:
        return starting_site(name, "120", "18", "8", "us")
    except InputError as error:
        keys = {problem.key for problem in error.problems}
    assert keys <= {"name", None}
    return None


@settings(max_examples=100, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(name=st.text(max_size=40))
@example(name="x: y # z")
@example(name="{braces} %s \\ \"quotes\" 'and' ~")
@example(name="- [a, b]\n# comment\nkind: rig")
@example(name="null")
@example(name="\x85\u2028")
def test_new_takes_any_name_or_refuses_it(name: str) -> None:
    """A name goes in as it is and comes out as it is, and brings nothing else in; what cannot be written is refused."""
    text = started(name)
    if text is None:
        assert not name.isprintable() or not name.strip() or not name.isascii()
        return
    site: Any = document_from(parse(text, "new.yaml"), "site")
    assert site.name == name.replace("\r\n", "\n")
    assert len(site.walls) == len(site.surfaces) == 1
    assert site.eyes == ()


SQUARE = [[-91.0, 38.0], [-90.999, 38.0], [-90.999, 38.0009], [-91.0, 38.0009], [-91.0, 38.0]]


def geojson(tmp_path: Path, tree: Any) -> Path:
    file = tmp_path / "f.geojson"
    file.write_text(json.dumps(tree))
    return file


def test_import_makes_a_site_that_reads_back(run: Any, tmp_path: Path) -> None:
    """0.001 deg of longitude at 38 deg is 87.84 m, 0.0009 deg of latitude 99.89 m (WGS84 series of arc lengths)."""
    site_file = tmp_path / "site.json"
    done = run("import", geojson(tmp_path, {"type": "Polygon", "coordinates": [SQUARE]}), "--out", site_file)
    assert (done.status, done.out) == (0, "")
    site: Any = read_document(site_file, "site")
    lengths = sorted(math.dist(wall.start, wall.end) for wall in site.walls)
    assert lengths == pytest.approx([87.836, 87.837, 99.893, 99.893], abs=0.02)
    assert run("check", site_file).status == 0


@pytest.mark.parametrize(
    "tree",
    [{}, [], {"type": "Polygon"}, {"type": "Point", "coordinates": [0, 0]}, {"type": "Polygon", "coordinates": [[]]},
     {"type": "Polygon", "coordinates": [[[0, 0], [1, 1], [0, 1], [1, 0], [0, 0]]]},
     {"type": "Polygon", "coordinates": [[["x", 0], [1, 1], [0, 1]]]}],
)  # fmt: skip
def test_import_refuses_what_is_no_footprint(run: Any, tmp_path: Path, tree: Any) -> None:
    target = tmp_path / "site.json"
    done = run("import", geojson(tmp_path, tree), "--out", target)
    assert (done.status, done.out) == (2, "")
    assert done.err.startswith("error: ")
    assert not target.exists()


def test_import_of_a_file_that_is_not_there(run: Any, tmp_path: Path) -> None:
    assert run("import", tmp_path / "nowhere.geojson").status == 2
