"""``sightwash serve`` and ``sightwash office``: start the office as a process of its own, or look after it."""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
from typing import Final

from sightwash.basis.errors import InputError, Problem
from sightwash.cli.output import Commands

OFFICE: Final = "sightwash.office"
KEEPING: Final = ("backup", "restore", "new_firm")


def add_serve(commands: Commands) -> None:
    """Add the ``serve`` and ``office`` commands."""
    parser = commands.add_parser("serve", help="open the office in the browser: draw, look, plan, offer")
    parser.add_argument("--host", default="127.0.0.1", help="address to listen on; 127.0.0.1 is this machine only")
    parser.add_argument("--port", type=int, default=8420, help="port to listen on (8420)")
    parser.add_argument("--demo", action="store_true", help="fill an empty office with the example property")
    parser.set_defaults(run=run_serve, json=False)

    keeper = commands.add_parser("office", help="look after the office: backup, restore, another firm")
    keeper.add_argument(
        "words", nargs=argparse.REMAINDER, metavar="COMMAND", help="backup FILE, restore FILE, new_firm NAME EMAIL"
    )
    keeper.set_defaults(run=run_office, json=False)


def run_serve(options: argparse.Namespace) -> int:
    """Serve the office until stopped."""
    words = ["--host", options.host, "--port", str(options.port)]
    return _become([*words, "--demo"] if options.demo else words)


def run_office(options: argparse.Namespace) -> int:
    """Run one of the commands of the office."""
    if not options.words or options.words[0] not in KEEPING:
        expected = ", ".join(KEEPING)
        raise InputError(
            Problem("usage", "the office has no such command", expected=expected, fix="see `sightwash office --help`")
        )
    return _become(options.words)


def _become(words: list[str]) -> int:
    """Become the office's process; where a process cannot become another, wait for it."""
    command = [sys.executable, "-P", "-m", OFFICE, *words]
    sys.stdout.flush()
    if os.name == "posix":
        os.execv(command[0], command)
    return subprocess.call(command)
