"""The command line from outside: exit statuses, one JSON document, no traceback, files whole or not at all.

The contract is the project's own; every output is held against its JSON schema by the independent validator
``jsonschema`` (independent program), and plain sums against hand-worked figures (closed form).
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from sightwash.basis.errors import InputError
from sightwash.cli.main import main
from sightwash.cli.output import write_files
from sightwash.papers.plan_document import OUTPUTS, output_schema
from sightwash.site.site_file import KINDS, document_schema

DEMO = Path(__file__).parents[2] / "examples" / "demo"
PLAN = [
    "plan", str(DEMO / "site.yaml"), "--rig", str(DEMO / "rig.yaml"), "--rates", str(DEMO / "rates.yaml"),
    "--conditions", str(DEMO / "conditions.yaml"), "--on", "2026-07-11",
]  # fmt: skip

Captured = pytest.CaptureFixture[str]


def run(capsys: Captured, *words: str) -> tuple[int, str, str]:
    status = main(list(words))
    out, err = capsys.readouterr()
    assert "Traceback" not in out + err
    return status, out, err


def document(text: str, kind: str) -> Any:
    tree = json.loads(text)
    jsonschema.Draft202012Validator(output_schema(kind)).validate(tree)
    assert tree["schema_version"] == 1
    return tree


def test_plan_writes_whole_files_and_prints_tables(capsys: Captured, tmp_path: Path) -> None:
    status, out, err = run(capsys, *PLAN, "--out", str(tmp_path / "night"))
    assert status == 0
    names = {path.name for path in (tmp_path / "night").iterdir()}
    assert {"plan.json", "plan.txt", "crew-sheet.txt", "unrolled-wall.svg", "ground-plan.svg"} <= names
    assert not [name for name in names if name.startswith(".")]
    assert (tmp_path / "night" / "plan.txt").read_text(encoding="utf-8") == out
    assert "WHO SEES IT?" in out
    assert "wrote" in err
    plan = document((tmp_path / "night" / "plan.json").read_text(encoding="utf-8"), "plan")
    assert plan["kind"] == "plan"
    assert plan["inputs"]["site"]["id"] == "larkspur-corner"


def test_plan_json_is_one_document_and_words_go_to_standard_error(capsys: Captured) -> None:
    status, out, _ = run(capsys, *PLAN, "--json")
    plan = document(out, "plan")["plan"]
    assert status == 0
    named = {name for method in plan["methods"] for why in method["why"] for name in why["sources"]}
    assert named <= set(document(out, "plan")["sources"])


def test_same_inputs_same_bytes_in_two_processes(tmp_path: Path) -> None:
    texts = []
    for seed in ("1", "2"):
        environment = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(Path(__file__).parents[2] / "src")}
        command = [sys.executable, "-m", "sightwash.cli", *PLAN, "--out", str(tmp_path / seed)]
        subprocess.run(command, env=environment, check=True, capture_output=True)
        texts.append({path.name: path.read_bytes() for path in sorted((tmp_path / seed).iterdir())})
    assert texts[0] == texts[1]


@pytest.mark.parametrize("kind", [*KINDS, *OUTPUTS])
def test_every_schema_is_a_schema(capsys: Captured, kind: str) -> None:
    status, out, _ = run(capsys, "schema", kind)
    assert status == 0
    jsonschema.Draft202012Validator.check_schema(json.loads(out))
    assert json.loads(out) == (document_schema(kind) if kind in KINDS else output_schema(kind))


def test_check_goes_on_after_a_broken_file(capsys: Captured, tmp_path: Path) -> None:
    broken = tmp_path / "broken.yaml"
    broken.write_text("kind: rig\nschema: 1\nid: r\nname: r\nmachine: {flow: 5 psi, pressure: 3000 psi}\n")
    status, out, _ = run(capsys, "check", "--json", str(broken), str(DEMO / "rig.yaml"))
    lines = [document(line, "check") for line in out.splitlines()]
    assert status == 2
    assert [line["ok"] for line in lines] == [False, True]
    problem = lines[0]["errors"][0]
    assert (problem["code"], problem["key"], problem["line"]) == ("wrong-unit", "machine.flow", 5)
    assert problem["fix"]


def test_check_in_words(capsys: Captured) -> None:
    status, out, err = run(capsys, "check", str(DEMO / "site.yaml"), str(DEMO / "nowhere.yaml"))
    assert status == 2
    assert "safety gap" in out
    assert "nowhere.yaml" in err


def test_new_makes_a_site_that_reads_back_and_prices(capsys: Captured, tmp_path: Path) -> None:
    site = tmp_path / "small.yaml"
    words = ["new", "--name", "Seven Elms", "--length", "120 ft", "--height", "18", "--walk", "8", "--out", str(site)]
    assert run(capsys, *words)[0] == 0
    assert run(capsys, "check", str(site))[0] == 0
    status, out, _ = run(capsys, *[str(site) if word == str(DEMO / "site.yaml") else word for word in PLAN], "--json")
    plan = document(out, "plan")["plan"]
    assert status == 0
    assert float(plan["price"]["price"]) > 0
    assert {gap["key"] for gap in plan["gaps"]} >= {"walls[0].material", "surfaces[0].material", "eyes"}
    gross = 120 * 18 * 0.3048**2
    assert plan["walls"][0]["gross"] == pytest.approx(gross, rel=1e-9)


@pytest.mark.parametrize("height", ["1800", "-3", "nan", "eighteen", "18 psi"])
def test_new_refuses_what_cannot_be(capsys: Captured, height: str) -> None:
    status, out, err = run(capsys, "new", "--name", "x", "--length", "120", f"--height={height}", "--walk", "8")
    assert (status, out) == (2, "")
    assert "height" in err


def test_import_of_a_footprint(capsys: Captured, tmp_path: Path) -> None:
    ring = [[-91.0, 38.0], [-90.999, 38.0], [-90.999, 38.0005], [-91.0, 38.0005], [-91.0, 38.0]]
    file = tmp_path / "f.geojson"
    file.write_text(json.dumps({"type": "Polygon", "coordinates": [ring]}))
    status, out, _ = run(capsys, "import", str(file))
    assert status == 0
    assert len(json.loads(out)["walls"]) == 4
    assert run(capsys, "import", str(file), "--crs", "EPSG:nothing")[0] == 2


def test_a_sum_with_its_units_source_and_range(capsys: Captured) -> None:
    """Similar triangles: (10 - 3.5) 6 / (60 - 6) = 0.722222 ft (closed form)."""
    words = ["work-out", "hidden-height", "edge_height=10", "eye_height=3 ft 6 in", "depth=6 ft", "distance=60"]
    status, out, _ = run(capsys, *words, "--json")
    answer = document(out, "sum")
    assert status == 0
    assert answer["results"][0]["value"] == pytest.approx(6.5 * 6 / 54 * 0.3048, rel=1e-9)
    assert answer["sources"]
    assert answer["range"]
    assert "0.7222 ft" in run(capsys, *words)[1]


def test_list_explain_and_batch(capsys: Captured, tmp_path: Path) -> None:
    names = {entry["name"] for entry in document(run(capsys, "work-out", "--list", "--json")[1], "sums")["sums"]}
    assert {
        "hidden-height",
        "stand-back-distance",
        "working-point",
        "dew-point",
        "water-parts",
        "reaction-force",
    } <= names
    assert "needed" in run(capsys, "work-out", "working-point")[1]
    batch = tmp_path / "sums.txt"
    dew = "dew-point temperature='77 F' relative_humidity=50%\n"
    batch.write_text(f"# two sums\n{dew}nozzle-pressure number=40 flow=8\n")
    status, out, _ = run(capsys, "work-out", "--batch", str(batch), "--json")
    answers = [document(line, "sum") for line in out.splitlines()]
    assert status == 0
    assert answers[0]["results"][0]["value"] == pytest.approx(13.85, abs=0.02)  # Magnus, 25 C and 50 % (closed form)
    assert answers[1]["results"][0]["value"] / 6894.757 == pytest.approx(160.0, rel=1e-6)  # 4000 (8/40)^2 psi
    batch.write_text(f"{dew}nozzle-pressure number=40\nnothing x=1\n")
    status, out, err = run(capsys, "work-out", "--batch", str(batch))
    assert (status, out) == (2, "")
    assert ":2:" in err
    assert ":3:" in err


@pytest.mark.parametrize(
    ("words", "code"),
    [
        (["work-out", "hidden-heigth", "depth=6"], "unknown-sum"),
        (["work-out", "hidden-height", "depht=6"], "unknown-key"),
        (["work-out", "hidden-height", "edge_height=10", "eye_height=3", "depth=6", "distance=5"], "out-of-range"),
        (["work-out", "hidden-height", "edge_height=10 psi", "eye_height=3", "depth=6", "distance=50"], "wrong-unit"),
        (["work-out", "water-parts", "stock=12.5", "target=1"], "strength-without-term"),
        (["work-out", "water-parts", "stock=1 trade %", "target=12 trade %"], "out-of-range"),
        (["work-out", "dew-point", "temperature"], "bad-input"),
        (["work-out"], "missing-name"),
        (["plan"], "usage"),
        (["nonsense"], "usage"),
        ([*PLAN[:-1], "yesterday"], "usage"),
        ([*PLAN, "--effort", "forever"], "usage"),
        (["schema", "nothing"], "usage"),
    ],
)
def test_bad_usage_is_one_json_document_and_status_two(capsys: Captured, words: list[str], code: str) -> None:
    status, out, _ = run(capsys, *words, "--json")
    assert status == 2
    errors = document(out, "error")["errors"]
    assert code in {error["code"] for error in errors}
    assert all(error["fix"] or error["expected"] for error in errors)


def test_nothing_to_plan_is_status_one(capsys: Captured, tmp_path: Path) -> None:
    site = tmp_path / "bare.yaml"
    site.write_text("kind: site\nschema: 1\nid: bare\nname: Bare\nwalls: [{id: front}]\n")
    status, out, _ = run(capsys, *[str(site) if word == str(DEMO / "site.yaml") else word for word in PLAN], "--json")
    assert status == 1
    assert document(out, "error")["errors"][0]["code"] == "no-plan"


def test_every_document_is_read_before_the_first_complaint(capsys: Captured, tmp_path: Path) -> None:
    words = ["plan", str(tmp_path / "a"), "--rig", str(tmp_path / "b"), "--rates", str(tmp_path / "c"),
             "--conditions", str(tmp_path / "d"), "--on", "2026-07-11", "--json"]  # fmt: skip
    status, out, _ = run(capsys, *words)
    assert status == 2
    assert len(document(out, "error")["errors"]) == 4


def test_our_own_fault_is_status_seventy_without_a_traceback(capsys: Captured, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_given: object) -> None:
        raise RuntimeError("a planner fell over")

    monkeypatch.setattr("sightwash.cli.plan.plan_visit", broken)
    status, out, _ = run(capsys, *PLAN, "--json")
    assert status == 70
    assert "a planner fell over" in document(out, "error")["errors"][0]["message"]


def test_names_cannot_leave_the_folder(tmp_path: Path) -> None:
    for name in ("../out.txt", "/out.txt", "a/b.txt", ".."):
        with pytest.raises(InputError) as caught:
            write_files(tmp_path / "home", {"good.txt": "x", name: "y"})
        assert caught.value.problems[0].code == "path-escapes"
    assert not (tmp_path / "home").exists()


def test_what_was_there_stays_when_writing_fails(capsys: Captured, tmp_path: Path) -> None:
    target = tmp_path / "taken"
    target.write_text("mine")
    status, _, err = run(capsys, *PLAN, "--out", str(target))
    assert status == 2
    assert "cannot write" in err
    assert target.read_text() == "mine"


def test_a_reader_that_stops_early_is_no_fault() -> None:
    environment = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[2] / "src")}
    command = f"{sys.executable} -m sightwash.cli work-out --list | head -1"
    done = subprocess.run(command, shell=True, env=environment, capture_output=True, text=True, check=False)
    assert "Traceback" not in done.stderr
    assert "Exception" not in done.stderr
