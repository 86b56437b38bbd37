"""Outputs whole or not at all: what stood there stays when a write fails, and nothing half-written is left."""

from __future__ import annotations

import errno
import os
import stat
from pathlib import Path
from typing import Any

import pytest

from sightwash.basis.errors import InputError
from sightwash.cli import output
from sightwash.cli.output import write_files

TEXTS = {"a.txt": "new a\n", "b.txt": "new b\n", "c.txt": "new c\n"}


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return a folder with an older a and b in it."""
    home = tmp_path / "out"
    home.mkdir()
    (home / "a.txt").write_text("old a\n")
    (home / "b.txt").write_text("old b\n")
    return home


def unchanged(folder: Path) -> None:
    assert names(folder) == ["a.txt", "b.txt"]
    assert (folder / "a.txt").read_text() == "old a\n"
    assert (folder / "b.txt").read_text() == "old b\n"


def refused(folder: Path, texts: dict[str, str] | None = None) -> str:
    with pytest.raises(InputError) as caught:
        write_files(folder, TEXTS if texts is None else texts)
    (problem,) = caught.value.problems
    assert problem.key == "--out"
    return problem.code


def test_files_are_written_and_replaced(folder: Path) -> None:
    assert write_files(folder, TEXTS) == [folder / name for name in TEXTS]
    assert {path.name: path.read_text() for path in folder.iterdir()} == TEXTS
    assert stat.S_IMODE((folder / "c.txt").stat().st_mode) == 0o644


def test_a_folder_is_made_with_those_above_it(tmp_path: Path) -> None:
    write_files(tmp_path / "one" / "two", {"a.txt": "a\n"})
    assert names(tmp_path / "one" / "two") == ["a.txt"]


def test_lines_end_the_same_everywhere_and_text_is_utf_8(tmp_path: Path) -> None:
    write_files(tmp_path, {"a.txt": "Käse 3 m²\nzwei\n"})
    assert (tmp_path / "a.txt").read_bytes() == "Käse 3 m²\nzwei\n".encode()


@pytest.mark.parametrize("name", ["../a.txt", "/a.txt", "x/a.txt", "..", ".", ""])
def test_a_name_that_leaves_the_folder(folder: Path, name: str) -> None:
    assert refused(folder, {"a.txt": "new", name: "gone"}) in ("path-escapes", "cannot-write")
    unchanged(folder)


def test_a_link_that_leads_out_of_the_folder(folder: Path, tmp_path: Path) -> None:
    treasure = tmp_path / "treasure.txt"
    treasure.write_text("mine")
    (folder / "c.txt").symlink_to(treasure)
    assert refused(folder) == "path-escapes"
    assert treasure.read_text() == "mine"
    assert (folder / "a.txt").read_text() == "old a\n"


def test_a_folder_stands_where_a_file_should(folder: Path) -> None:
    (folder / "c.txt").mkdir()
    assert refused(folder) == "cannot-write"
    assert names(folder) == ["a.txt", "b.txt", "c.txt"]
    assert (folder / "a.txt").read_text() == "old a\n"


def test_a_file_stands_where_the_folder_should(tmp_path: Path) -> None:
    (tmp_path / "out").write_text("mine")
    assert refused(tmp_path / "out") == "cannot-write"
    assert refused(tmp_path / "out" / "deeper") == "cannot-write"
    assert (tmp_path / "out").read_text() == "mine"


def test_a_full_disk_while_writing(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The third text cannot be written: the first two stay in no form."""
    opened = []

    def short_of_room(handle: int, *args: Any, **kwargs: Any) -> Any:
        opened.append(handle)
        if len(opened) == 3:
            os.close(handle)
            raise OSError(errno.ENOSPC, "No space left on device")
        return real(handle, *args, **kwargs)

    real = os.fdopen
    monkeypatch.setattr(output.os, "fdopen", short_of_room)
    assert refused(folder) == "cannot-write"
    unchanged(folder)


@pytest.mark.parametrize("failing", [1, 2, 3, 4, 5])
def test_a_move_that_fails_takes_the_others_back(folder: Path, monkeypatch: pytest.MonkeyPatch, failing: int) -> None:
    """Two old files are put aside and three new ones moved in: whichever of the five moves fails, all is as it was."""
    moves = []

    def replace(self: Path, target: Path) -> Path:
        moves.append(self)
        if len(moves) == failing:
            raise OSError(errno.EACCES, "Permission denied")
        return real(self, target)

    real = Path.replace
    monkeypatch.setattr(Path, "replace", replace)
    assert refused(folder) == "cannot-write"
    unchanged(folder)


def test_a_text_that_is_no_text_leaves_nothing(folder: Path) -> None:
    with pytest.raises(UnicodeEncodeError):
        write_files(folder, {"a.txt": "fine", "b.txt": "\ud800"})
    unchanged(folder)


def test_a_plan_is_not_written_in_part(run: Any, plan_words: Any, folder: Path, tmp_path: Path) -> None:
    site = tmp_path / "small.yaml"
    site.write_text("kind: site\nschema: 1\nid: s\nname: S\nwalls: [{id: front, length: 60, height: 14}]\n")
    (folder / "ground-plan.svg").mkdir()
    done = run(*plan_words(site=site), "--out", folder, "--json")
    assert done.status == 2
    assert done.codes() == ["cannot-write"]
    assert names(folder) == ["a.txt", "b.txt", "ground-plan.svg"]


@pytest.mark.parametrize("where", ["", "deeper/still"])
def test_new_writes_its_file(run: Any, tmp_path: Path, where: str) -> None:
    target = tmp_path / where / "site.yaml"
    words = ["new", "--name", "Elms", "--length", "100", "--height", "15", "--walk", "6", "--out"]
    done = run(*words, target)
    assert (done.status, done.out) == (0, "")
    assert run("check", target).status == 0
    bad = run("new", "--name", "Elms", "--length", "100", "--height", "1500", "--walk", "6", "--out", target)
    assert bad.status == 2
    assert run("check", target).status == 0
    assert names(target.parent) == ["site.yaml"]


def test_new_over_a_folder(run: Any, tmp_path: Path) -> None:
    words = ["new", "--name", "Elms", "--length", "100", "--height", "15", "--walk", "6", "--out"]
    done = run(*words, tmp_path)
    assert done.status == 2
    assert "cannot write" in done.err
    assert names(tmp_path) == []
