"""Examples in the documents: each command of a ``console`` block is run in a shell and its output put below it.

A command starts with ``$`` and goes on over lines that end with a backslash. Shown is what it prints to standard
output; what it prints to standard error only when it fails, since progress depends on the clock.
"""

from __future__ import annotations

import contextlib
import io
import os
import re
import shlex
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

from sightwash.cli import main as command_line

ROOT = Path(__file__).resolve().parent.parent
FENCE = re.compile(r"^```console\n(.*?)^```$", re.MULTILINE | re.DOTALL)
SHARED = ("examples", "tests", "src")
OURS = "./run sightwash "
SHELL_SIGNS = set(";&<>$`|")


def answered(page: str, folder: Path) -> str:
    """Return a page with every console block run in ``folder``, in the order of the page."""
    return FENCE.sub(lambda block: "".join(("```console\n", *_lines(block[1], folder), "```")), page)


def _lines(block: str, folder: Path) -> Iterator[str]:
    for command in commands(block):
        yield f"$ {command}\n"
        yield output(command, folder)


def commands(block: str) -> list[str]:
    """Return the commands of a block without what they print.

    >>> commands("$ one \\\\\\n    more\\nprinted\\n$ two\\n")
    ['one \\\\\\n    more', 'two']
    """
    found: list[str] = []
    going_on = False
    for line in block.splitlines():
        if going_on:
            found[-1] += f"\n{line}"
        elif line.startswith("$ "):
            found.append(line.removeprefix("$ "))
        else:
            continue
        going_on = line.endswith("\\")
    return found


def output(command: str, folder: Path) -> str:
    """Return what a command prints: a plain command of ours from this process, which is quicker, else from a shell."""
    ours, bar, rest = command.partition(" | ")
    if not ours.startswith(OURS) or set(ours) & SHELL_SIGNS:
        return _shell(command, folder)
    printed = _ours(shlex.split(ours.removeprefix(OURS).replace("\\\n", " ")), folder)
    return _shell(rest, folder, printed) if bar else printed


def _ours(words: list[str], folder: Path) -> str:
    """Return what our command line prints when it runs in a folder."""
    out, err = io.StringIO(), io.StringIO()
    with contextlib.chdir(folder), contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        status = command_line(words)
    return out.getvalue() + (err.getvalue() if status else "")


def _shell(command: str, folder: Path, text: str = "") -> str:
    """Return what a command prints in a shell, with ``text`` as its input."""
    paths = [str(ROOT / "src"), *filter(None, [os.environ.get("PYTHONPATH")])]
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(paths), "PYTHONUTF8": "1", "LC_ALL": "C"}
    run = subprocess.run(
        ["sh", "-c", command],
        cwd=folder,
        env=environment,
        input=text,
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    printed = run.stdout + (run.stderr if run.returncode else "")
    return printed if not printed or printed.endswith("\n") else f"{printed}\n"


def prepare(folder: Path) -> Path:
    """Lay out a folder so that the commands of the documents run in it, and return it.

    It has the project's own ``run``, less its set-up: the Python that runs here stands in for the environment.
    """
    script = (ROOT / "run").read_text(encoding="utf-8")
    ready, count = re.subn(r"^to_use\(\) \{.*\}$", "to_use() { :; }", script, flags=re.MULTILINE)
    if count != 1:
        raise ValueError("the script `run` has no single line that begins with to_use()")
    _executable(folder / "run", ready)
    _executable(folder / ".venv" / "bin" / "python", f'#!/bin/sh\nexec {shlex.quote(sys.executable)} "$@"\n')
    for name in SHARED:
        (folder / name).symlink_to(ROOT / name, target_is_directory=True)
    return folder


def _executable(path: Path, text: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8", newline="\n")
    path.chmod(0o755)
