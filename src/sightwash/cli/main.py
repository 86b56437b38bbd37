"""The command line: parse, run, and turn every error into words and an exit status."""

from __future__ import annotations

import argparse
import io
import os
import sys
import traceback
from collections.abc import Sequence
from importlib import import_module
from pathlib import Path
from typing import Final, NoReturn

from sightwash import __version__
from sightwash.basis.errors import EXIT_BAD_INPUT, EXIT_OUR_FAULT, InputError, NoFeasiblePlan, Problem, SightwashError
from sightwash.cli.output import Commands, report, say

COMMANDS: Final = {
    "plan": ("plan",),
    "papers": ("papers",),
    "documents": ("check", "schema", "new", "import"),
    "change": ("change",),
    "learn": ("learn",),
    "work_out": ("work-out",),
    "completion": ("completion",),
    "accounts": ("accounts",),
    "serve": ("serve", "office"),
}
"""The module of each command; it is loaded when the command is asked for."""


class _Parser(argparse.ArgumentParser):
    """A parser that raises instead of exiting, so that bad usage is reported like any bad input."""

    def error(self, message: str) -> NoReturn:
        """Raise what argparse found wrong."""
        raise InputError(
            Problem("usage", message, expected=self.format_usage().strip(), fix=f"see `{self.prog} --help`")
        )


def build_parser(command: str | None = None) -> argparse.ArgumentParser:
    """Return the parser of all commands, or of the one that is asked for: what the others need is not loaded."""
    parser = _Parser(prog="sightwash", description="Plan the outside washing of low commercial buildings.")
    parser.add_argument("--version", action="version", version=f"sightwash {__version__}")
    commands: Commands = parser.add_subparsers(dest="command", required=True, parser_class=_Parser)
    asked = [name for name, words in COMMANDS.items() if command in words]
    for name in asked or COMMANDS:
        getattr(import_module(f"sightwash.cli.{name}"), f"add_{name}")(commands)
    return parser


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit status: 0 done, 1 no plan, 2 bad input, 70 our fault."""
    if arguments is None:
        _speak_utf_8()
    words = sys.argv[1:] if arguments is None else list(arguments)
    try:
        status = _outcome(words)
        sys.stdout.flush()
    except BrokenPipeError:
        return _cut_off()
    except OSError as error:
        say(f"error: cannot write the output: {error.strerror or error}")
        return _cut_off()
    return status


def _speak_utf_8() -> None:
    """Make the program's own streams UTF-8, as JSON wants; what is no character is written as an escape."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(encoding="utf-8", errors="backslashreplace")


def _cut_off() -> int:
    """Give up standard output, so that nothing is written to it again on the way out."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return EXIT_BAD_INPUT


def _outcome(words: list[str]) -> int:
    """Run a command, report what went wrong, and return the exit status."""
    as_json = "--json" in words
    try:
        options = build_parser(words[0] if words else None).parse_args(words)
        status: int = options.run(options)
    except InputError as error:
        report(error.problems, as_json)
        return error.exit_code
    except SightwashError as error:
        code = "no-plan" if isinstance(error, NoFeasiblePlan) else "our-fault"
        report((Problem(code, str(error)),), as_json)
        return error.exit_code
    except KeyboardInterrupt:
        say("stopped")
        return 130
    except OSError as error:
        if error.filename is None:  # standard output itself
            raise
        return _our_fault(error, as_json)
    except Exception as error:
        return _our_fault(error, as_json)
    return status


def _our_fault(error: Exception, as_json: bool) -> int:
    """Say that the fault is ours, with the place, and keep the traceback for those who ask for it."""
    last = traceback.extract_tb(error.__traceback__)[-1]
    place = f"{Path(last.filename).name}:{last.lineno}"
    message = f"a defect of sightwash at {place}: {type(error).__name__}: {error}"
    report((Problem("our-fault", message, fix="set SIGHTWASH_TRACEBACK=1 and send what it prints"),), as_json)
    if os.environ.get("SIGHTWASH_TRACEBACK"):
        traceback.print_exception(error)
    return EXIT_OUR_FAULT
