"""Writing: results to standard output, words to standard error, files whole or not at all."""

from __future__ import annotations

import argparse
import errno
import os
import sys
import tempfile
import time
from collections.abc import Mapping
from pathlib import Path
from typing import Any, TypeAlias

from sightwash.basis.errors import InputError, Problem
from sightwash.papers.plan_document import ErrorDocument, ProblemLine, output_text

Commands: TypeAlias = "argparse._SubParsersAction[Any]"


def problem_lines(problems: tuple[Problem, ...]) -> tuple[ProblemLine, ...]:
    """Return problems in the form of the outside contract."""
    return tuple(ProblemLine(**problem.as_dict()) for problem in problems)  # type: ignore[arg-type]


def say(words: str) -> None:
    """Print words for a person to standard error."""
    print(words, file=sys.stderr)


def report(problems: tuple[Problem, ...], as_json: bool) -> None:
    """Print what is wrong: one JSON document to standard output, or a line each to standard error."""
    if as_json:
        sys.stdout.write(output_text("error", ErrorDocument(1, "error", problem_lines(problems))))
    else:
        for problem in problems:
            say(f"error: {problem}")


def write_files(folder: Path, texts: Mapping[str, str | bytes]) -> list[Path]:
    """Write texts and other contents into a folder, each whole or not at all; a name that leaves the folder is refused.

    All texts are written beside their places first and moved there only when all are complete.
    """
    home = folder.resolve()
    targets = {name: (home / name).resolve() for name in texts}
    for name, target in targets.items():
        if target.parent != home or target.name != name:
            raise InputError(Problem("path-escapes", f"{name!r} would leave the folder {folder}", key="--out"))
    waiting: dict[Path, Path] = {}
    try:
        home.mkdir(parents=True, exist_ok=True)
        for name, target in targets.items():
            waiting[target] = _beside(target, texts[name])
        _move(waiting)
    except OSError as error:
        message = f"cannot write into {folder}: {error.strerror}"
        raise InputError(Problem("cannot-write", message, key="--out", fix="choose another folder")) from None
    finally:
        for temporary in waiting.values():
            temporary.unlink(missing_ok=True)
    return list(targets.values())


def _beside(target: Path, text: str | bytes) -> Path:
    """Write a text or other content beside its place; what could not be written whole is taken away again."""
    handle, name = tempfile.mkstemp(prefix=f".{target.name}.", dir=target.parent)
    temporary = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(text.encode() if isinstance(text, str) else text)
        temporary.chmod(0o644)
    except BaseException:
        temporary.unlink(missing_ok=True)
        raise
    return temporary


def _move(waiting: Mapping[Path, Path]) -> None:
    """Move files to their places; when one cannot be moved, those before it go back to what they were."""
    for target in waiting:
        if target.is_dir():
            raise IsADirectoryError(errno.EISDIR, f"{target.name} is a folder")
    moved: list[tuple[Path, Path]] = []
    try:
        for target, temporary in waiting.items():
            old = temporary.with_name(f"{temporary.name}.old")
            if target.exists():
                target.replace(old)
            moved.append((target, old))
            temporary.replace(target)
    except OSError:
        for target, old in reversed(moved):
            if old.exists():
                old.replace(target)
            else:
                target.unlink(missing_ok=True)
        raise
    for _, old in moved:
        old.unlink(missing_ok=True)


class Progress:
    """Prints a line for each step once a run has taken more than a second."""

    def __init__(self) -> None:
        self.started = time.monotonic()

    def __call__(self, step: str, share: float) -> None:
        """Report a step and the share of the work that is done."""
        if time.monotonic() - self.started > 1.0:
            say(f"{share:4.0%}  {step}")
