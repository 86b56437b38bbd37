"""``sightwash papers`` from outside: files written, errors with their place, text blocks never overwritten."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

SITE = """kind: site
schema: 1
id: place
name: Place
walls:
  - {id: front, start: [0, 0], end: [30, 0], height: 12}
"""
DEMO = Path(__file__).parents[2] / "examples" / "demo"


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("papers")


@pytest.fixture
def plan(folder: Path, run: Callable[..., Any]) -> Path:
    """Return a small plan, made once."""
    made = folder / "plan" / "plan.json"
    if not made.exists():
        site = folder / "site.yaml"
        site.write_text(SITE, encoding="utf-8")
        others = [word for kind in ("rig", "rates", "conditions") for word in (f"--{kind}", DEMO / f"{kind}.yaml")]
        assert run("plan", site, *others, "--on", "2026-07-11", "--no-night", "--out", made.parent).status == 0
    return made


def firm_file(folder: Path, more: str = "") -> Path:
    path = folder / "firm.yaml"
    path.write_text(f"kind: firm\nschema: 1\nid: firm\nname: Our Firm\n{more}", encoding="utf-8")
    return path


def test_all_papers_or_those_named(plan: Path, tmp_path: Path, run: Callable[..., Any]) -> None:
    done = run("papers", plan, "--out", tmp_path / "all", "--dated", "2026-07-01")
    assert done.status == 0
    assert {"agreement.pdf", "crew-sheet.pdf"} <= {path.name for path in (tmp_path / "all").iterdir()}
    assert run("papers", plan, "--out", tmp_path / "one", "--only", "agreement", "--dated", "2026-07-01").status == 0
    (only,) = (tmp_path / "one").iterdir()
    assert only.name == "agreement.pdf"
    assert only.read_bytes() == (tmp_path / "all" / "agreement.pdf").read_bytes()


def test_bad_usage(plan: Path, tmp_path: Path, run: Callable[..., Any]) -> None:
    for words, said in (
        (["papers"], "nothing to write"),
        (["papers", plan], "add `--out DIR`"),
        (["papers", plan, "--out", tmp_path, "--only", "invoise"], "there is no paper 'invoise'"),
        (["papers", tmp_path / "none.json", "--out", tmp_path], "cannot be read"),
        (["papers", DEMO / "site.yaml", "--out", tmp_path], "no JSON document"),
        (["papers", plan, "--out", tmp_path, "--firm", DEMO / "rig.yaml"], "this is a rig document"),
        (["papers", plan, "--out", tmp_path, "--customer", "x" * 201], "too long"),
    ):
        done = run(*words)
        assert done.status == 2, words
        assert said in done.err, done.err
    assert list(tmp_path.iterdir()) == []


def test_the_logo_stands_beside_the_firm_or_is_refused(plan: Path, tmp_path: Path, run: Callable[..., Any]) -> None:
    home = tmp_path / "firm"
    home.mkdir()
    Image.new("RGB", (60, 30), "navy").save(home / "logo.png")
    command = ("papers", plan, "--out", tmp_path / "out", "--only", "agreement", "--dated", "2026-07-01", "--firm")
    assert run(*command, firm_file(home, "logo: logo.png\n")).status == 0
    with_logo = (tmp_path / "out" / "agreement.pdf").read_bytes()
    assert run(*command, firm_file(home)).status == 0
    assert len(with_logo) > len((tmp_path / "out" / "agreement.pdf").read_bytes())
    Image.new("RGB", (60, 30), "navy").save(tmp_path / "away.png")
    (home / "link.png").symlink_to(tmp_path / "away.png")
    (home / "broken.png").write_bytes((home / "logo.png").read_bytes()[:60])
    for name, said in (("link.png", "leads away"), ("none.png", "cannot be read"), ("broken.png", "cannot be read")):
        done = run(*command, firm_file(home, f"logo: {name}\n"))
        assert done.status == 2
        assert said in done.err


def test_drafts_are_written_once_and_a_rewritten_block_stays(
    plan: Path, tmp_path: Path, run: Callable[..., Any]
) -> None:
    blocks = tmp_path / "blocks.txt"
    assert run("papers", "--blocks", blocks).status == 0
    drafts = blocks.read_text(encoding="utf-8")
    assert "lawyer" in drafts
    own = drafts.split("## weather\n")[0] + "## weather\nWe come back when it is dry.\n"
    blocks.write_text(own, encoding="utf-8")
    for _ in range(2):
        out = tmp_path / "out"
        assert run("papers", plan, "--out", out, "--only", "agreement", "--blocks", blocks).status == 0
        kept = blocks.read_text(encoding="utf-8")
        assert kept.startswith(own.rstrip("\n"))
        assert kept.count("## weather\n") == 1
        assert "## damage\n" in kept
    stamp = blocks.stat().st_mtime_ns
    assert run("papers", "--blocks", blocks).status == 0
    assert blocks.stat().st_mtime_ns == stamp
    blocks.write_text("## whether\nx\n", encoding="utf-8")
    done = run("papers", "--blocks", blocks)
    assert done.status == 2
    assert "`## weather`" in done.err
    assert blocks.read_text(encoding="utf-8") == "## whether\nx\n"


def test_blocks_that_the_firm_names(plan: Path, tmp_path: Path, run: Callable[..., Any]) -> None:
    (tmp_path / "own.txt").write_text("## weather\nOnly in the dry.\n", encoding="utf-8")
    command = ("papers", plan, "--out", tmp_path / "out", "--only", "agreement", "--firm")
    assert run(*command, firm_file(tmp_path, "blocks: own.txt\n")).status == 0
    assert (tmp_path / "own.txt").read_text(encoding="utf-8") == "## weather\nOnly in the dry.\n"
    assert run(*command, firm_file(tmp_path, "blocks: none.txt\n")).status == 2


def test_letters_without_a_face_are_said_on_standard_error(plan: Path, tmp_path: Path, run: Callable[..., Any]) -> None:
    done = run("papers", plan, "--out", tmp_path, "--only", "agreement", "--customer", "店")
    assert done.status == 0
    assert "[U+5E97]" in done.err
    assert json.dumps(done.out) == '""'
