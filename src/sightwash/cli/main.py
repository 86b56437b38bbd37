"""The command line: parse, run, and turn every error into words and an exit status."""

from __future__ import annotations

import argparse
import os
import sys
import traceback
from collections.abc import Sequence
from pathlib import Path
from typing import NoReturn

from sightwash import __version__
from sightwash.basis.errors import EXIT_BAD_INPUT, EXIT_OUR_FAULT, InputError, NoFeasiblePlan, Problem, SightwashError
from sightwash.cli.documents import add_documents
from sightwash.cli.output import Commands, report, say
from sightwash.cli.plan import add_plan
from sightwash.cli.work_out import add_work_out


class _Parser(argparse.ArgumentParser):
    """A parser that raises instead of exiting, so that bad usage is reported like any bad input."""

    def error(self, message: str) -> NoReturn:
        """Raise what argparse found wrong."""
        raise InputError(
            Problem("usage", message, expected=self.format_usage().strip(), fix=f"see `{self.prog} --help`")
        )


def build_parser() -> argparse.ArgumentParser:
    """Return the parser of all commands."""
    parser = _Parser(prog="sightwash", description="Plan the outside washing of low commercial buildings.")
    parser.add_argument("--version", action="version", version=f"sightwash {__version__}")
    commands: Commands = parser.add_subparsers(dest="command", required=True, parser_class=_Parser)
    add_plan(commands)
    add_documents(commands)
    add_work_out(commands)
    return parser


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit status: 0 done, 1 no plan, 2 bad input, 70 our fault."""
    words = sys.argv[1:] if arguments is None else list(arguments)
    as_json = "--json" in words
    try:
        return _run(words)
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return EXIT_BAD_INPUT
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
    except Exception as error:
        return _our_fault(error, as_json)


def _run(words: list[str]) -> int:
    options = build_parser().parse_args(words)
    status: int = options.run(options)
    sys.stdout.flush()
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
