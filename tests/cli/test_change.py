"""``change`` from outside: operations from a file, all or none, a revision that guards against somebody else's change.

The revision is the beginning of SHA-256 of the canonical text (FIPS 180-4), worked out here by hashlib.
"""

from __future__ import annotations

import hashlib
import json
from pathlib import Path
from typing import Any

DEMO = Path(__file__).parents[2] / "examples" / "demo" / "site.yaml"
TALLER = {"do": "change", "id": "row-east", "keys": {"height": "20 ft 6 in"}}
GONE = {"do": "remove", "id": "fresh-air"}


def written(folder: Path, tree: Any) -> Path:
    file = folder / "operations.json"
    file.write_text(json.dumps(tree))
    return file


def test_operations_of_a_list_are_all_done(run: Any, tmp_path: Path) -> None:
    done = run("change", DEMO, written(tmp_path, [TALLER, GONE]))
    assert done.status == 0
    site = json.loads(done.out)
    assert next(wall for wall in site["walls"] if wall["id"] == "row-east")["height"] == "20 ft 6 in"
    assert "fresh-air" not in done.out
    assert hashlib.sha256(done.out.encode()).hexdigest()[:12] in done.err


def test_one_broken_operation_stops_all(run: Any, tmp_path: Path) -> None:
    out = tmp_path / "site.json"
    done = run("change", DEMO, written(tmp_path, [TALLER, {"do": "remove", "id": "nothing"}]), "--out", out)
    assert done.status == 2
    assert "the site has no element 'nothing'" in done.err
    assert not out.exists()


def test_a_revision_guards_the_file(run: Any, tmp_path: Path) -> None:
    out, operations = tmp_path / "site.json", written(tmp_path, TALLER)
    first = run("change", DEMO, operations, "--out", out)
    assert first.status == 0
    revision = hashlib.sha256(out.read_bytes()).hexdigest()[:12]
    lower = written(tmp_path, {"do": "change", "id": "row-east", "keys": {"height": "19 ft 6 in"}})
    assert run("change", out, lower, "--revision", revision, "--out", out).status == 0
    again = run("change", out, lower, "--revision", revision, "--out", out)
    assert again.status == 2
    assert "somebody changed it" in again.err


def test_operations_may_be_yaml(run: Any, tmp_path: Path) -> None:
    file = tmp_path / "operations.yaml"
    file.write_text("do: move\nid: door-1\nby: [1 ft, 0]\n")
    done = run("change", DEMO, file)
    assert done.status == 0
    assert '"left": "24 ft"' in done.out
