"""``change``: do operations to a site document."""

from __future__ import annotations

import argparse
import hashlib
import sys
from pathlib import Path

from sightwash.basis.errors import EXIT_DONE, InputError, Problem
from sightwash.cli.output import Commands, say, write_files
from sightwash.site.changes import apply, operation_words
from sightwash.site.operations import operation_from
from sightwash.site.site_file import document_text, read_site
from sightwash.site.tree import parse, read_text


def add_change(commands: Commands) -> None:
    """Add the ``change`` command."""
    parser = commands.add_parser("change", help="do operations to a site: add, change, move, remove elements by id")
    parser.add_argument("site", type=Path, metavar="SITE", help="the site document")
    parser.add_argument("operations", type=Path, metavar="OPERATIONS", help="JSON or YAML: an operation, or a list")
    parser.add_argument("--revision", metavar="WORD", help="refuse a site that is not at this revision any more")
    parser.add_argument("--out", type=Path, metavar="FILE", help="write the site here instead of printing it")
    parser.set_defaults(run=run_change, json=False)


def revision_of(text: str) -> str:
    """Return the short word that stands for a document's text.

    >>> revision_of("{}")
    '44136fa355b3'
    """
    return hashlib.sha256(text.encode()).hexdigest()[:12]


def run_change(options: argparse.Namespace) -> int:
    """Do all of the operations or none, and print or write the site; its new revision goes to standard error."""
    site = read_site(options.site)
    before = revision_of(document_text(site))
    if options.revision is not None and options.revision != before:
        message = f"{options.site} is at revision {before}, not at {options.revision}: somebody changed it"
        fix = "look at what it says now, and give that revision"
        raise InputError(Problem("conflict", message, key="--revision", expected=before, fix=fix))
    tree = parse(read_text(options.operations), str(options.operations)).tree
    whole = {"do": "together", "operations": tree} if isinstance(tree, list) else tree
    operation = operation_from(whole)
    changed = apply(site, operation)
    text = document_text(changed)
    if options.out is None:
        sys.stdout.write(text)
    else:
        write_files(options.out.parent, {options.out.name: text})
        say(f"wrote {options.out}")
    say(f"{operation_words(site, operation)}; revision {revision_of(text)}, before it {before}")
    return EXIT_DONE
