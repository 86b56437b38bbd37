"""What the program does with its streams, as a process of its own."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from sightwash.basis.errors import NumericalFailure
from sightwash.cli.main import main

ROOT = Path(__file__).parents[2]
COMMAND = [sys.executable, "-m", "sightwash.cli"]


def environment(**more: str) -> dict[str, str]:
    return {**os.environ, "PYTHONPATH": str(ROOT / "src"), **more}


def quiet(err: bytes) -> None:
    for word in (b"Traceback", b"Exception", b"Warning"):
        assert word not in err, err


@pytest.mark.parametrize("words", [["work-out", "--list"], ["schema", "nothing", "--json"]])
def test_a_reader_that_is_gone(words: list[str]) -> None:
    """Nobody reads: no traceback, not even on the way out, and not our fault."""
    read, write = os.pipe()
    os.close(read)
    try:
        done = subprocess.run([*COMMAND, *words], env=environment(), stdout=write, stderr=subprocess.PIPE, check=False)
    finally:
        os.close(write)
    quiet(done.stderr)
    assert done.returncode == 2


def test_output_that_cannot_be_written() -> None:
    """A full device (where the system has one to try with) is said in words."""
    full = Path("/dev/full")
    target = full if full.exists() else Path(os.devnull)
    with target.open("wb") as file:
        done = subprocess.run(
            [*COMMAND, "schema", "site"], env=environment(), stdout=file, stderr=subprocess.PIPE, check=False
        )
    quiet(done.stderr)
    if full.exists():
        assert done.returncode == 2
        assert b"cannot write the output" in done.stderr


def test_a_file_name_that_is_no_text(tmp_path: Path) -> None:
    """Bytes that are no UTF-8 in a file's name, and a locale that knows no more than ASCII: still one JSON line."""
    name = os.fsencode(tmp_path) + b"/r\xff\xc3\xa9.yaml"
    text = "kind: rig\nschema: 1\nid: r\nname: Anhänger\nmachine: {flow: 5, pressure: 3000}\n"
    Path(os.fsdecode(name)).write_text(text, encoding="utf-8")
    done = subprocess.run(
        [*map(os.fsencode, COMMAND), b"check", b"--json", name],
        env=environment(PYTHONIOENCODING="ascii", LC_ALL="C", PYTHONUTF8="0", PYTHONCOERCECLOCALE="0"),
        capture_output=True, check=False,
    )  # fmt: skip
    quiet(done.stderr)
    assert done.returncode == 0
    (line,) = done.stdout.decode("utf-8").splitlines()
    assert json.loads(line)["ok"] is True


@pytest.mark.parametrize(("word", "shown"), [("--help", "work-out"), ("--version", "sightwash ")])
def test_help_and_version(run: Any, capsys: pytest.CaptureFixture[str], word: str, shown: str) -> None:
    with pytest.raises(SystemExit) as caught:
        run(word)
    assert caught.value.code == 0
    assert shown in capsys.readouterr().out


def test_words_that_say_nothing(run: Any) -> None:
    done = run()
    assert (done.status, done.out) == (2, "")
    assert done.err.startswith("error: ")


@pytest.mark.parametrize("error", [RuntimeError("fell over"), NumericalFailure("did not converge"), MemoryError()])
def test_a_fault_of_ours(run: Any, monkeypatch: pytest.MonkeyPatch, plan_words: Any, error: Exception) -> None:
    """Status 70 and the place in words or as JSON."""

    def broken(*_given: object, **_more: object) -> None:
        raise error

    monkeypatch.setattr("sightwash.cli.plan.plan_visit", broken)
    in_words, as_json = run(*plan_words()), run(*plan_words(), "--json")
    assert (in_words.status, as_json.status) == (70, 70)
    assert in_words.out == ""
    assert in_words.err.startswith("error: ")
    assert as_json.codes() == ["our-fault"]


def test_the_traceback_is_kept_for_those_who_ask(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sightwash.cli.documents.read_document", lambda _path: 1 / 0)
    assert main(["check", "x.yaml"]) == 70
    assert "Traceback" not in capsys.readouterr().err
    monkeypatch.setenv("SIGHTWASH_TRACEBACK", "1")
    assert main(["check", "x.yaml"]) == 70
    assert "ZeroDivisionError" in capsys.readouterr().err


def test_stopped_from_the_keyboard(run: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    def stopped(_path: Path) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("sightwash.cli.documents.read_document", stopped)
    done = run("check", "x.yaml")
    assert done.status == 130
    assert done.err == "stopped\n"
