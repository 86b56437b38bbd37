"""Reading a plan back: the same document again, or words that say what is wrong with the file."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from sightwash.basis.errors import InputError
from sightwash.papers.plan_document import PlanDocument, output_text, planned_from, read_plan


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory, night_document: PlanDocument) -> Path:
    path = tmp_path_factory.mktemp("plan") / "plan.json"
    path.write_text(output_text("plan", night_document), encoding="utf-8")
    return path


def test_a_plan_reads_back_as_itself(written: Path) -> None:
    document = read_plan(written)
    assert output_text("plan", document) == written.read_text(encoding="utf-8")
    assert document.night is not None
    assert planned_from(document).site.walls[0].name == "Front"


def changed(path: Path, folder: Path, **keys: Any) -> Path:
    tree = json.loads(path.read_text(encoding="utf-8"))
    for key, value in keys.items():
        if value is None:
            del tree[key]
        else:
            tree[key] = value
    other = folder / "other.json"
    other.write_text(json.dumps(tree), encoding="utf-8")
    return other


@pytest.mark.parametrize(
    ("keys", "code", "key"),
    [
        ({"kind": "site"}, "wrong-kind", None),
        ({"kind": None}, "wrong-kind", None),
        ({"schema_version": 2}, "unknown-schema", "schema_version"),
        ({"plan": {}}, "broken-plan", "plan.schema_version"),
        ({"sources": None}, "broken-plan", "sources"),
    ],
)
def test_another_file_is_refused(
    written: Path, tmp_path: Path, keys: dict[str, Any], code: str, key: str | None
) -> None:
    with pytest.raises(InputError) as caught:
        read_plan(changed(written, tmp_path, **keys))
    problem = caught.value.problems[0]
    assert (problem.code, problem.key) == (code, key)
    assert "plan the visit again" in str(problem.fix)


@pytest.mark.parametrize(
    ("text", "code"),
    [("", "empty"), ("{", "not-json"), ("[1]", "wrong-kind"), ("kind: plan", "not-json"), ("[" * 100_000, "not-json")],
)
def test_a_broken_file_is_refused(tmp_path: Path, text: str, code: str) -> None:
    path = tmp_path / "plan.json"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(InputError) as caught:
        read_plan(path)
    assert caught.value.problems[0].code == code


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(InputError) as caught:
        read_plan(tmp_path / "none.json")
    assert caught.value.problems[0].code == "unreadable"


def test_documents_inside_a_plan_are_checked_again(written: Path, tmp_path: Path) -> None:
    tree = json.loads(written.read_text(encoding="utf-8"))
    tree["inputs"]["site"]["walls"][0]["height"] = "900 ft"
    document = read_plan(changed(written, tmp_path, inputs=tree["inputs"]))
    with pytest.raises(InputError) as caught:
        planned_from(document)
    assert caught.value.problems[0].key == "walls[0].height"
