"""``check``, ``schema``, ``new`` and ``import``: the documents themselves."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path

from sightwash.basis.errors import EXIT_BAD_INPUT, EXIT_DONE, InputError, Problem
from sightwash.cli.output import Commands, problem_lines, say, write_files
from sightwash.papers.plan_document import OUTPUTS, CheckLine, output_schema, output_text
from sightwash.site.gaps import Gap, document_gaps
from sightwash.site.imports.geojson import LARGEST_TEXT, site_from_geojson
from sightwash.site.site_file import KINDS, document_schema, document_text, read_document
from sightwash.site.starting_site import starting_site
from sightwash.site.tree import read_text


def add_documents(commands: Commands) -> None:
    """Add the commands about documents."""
    check = commands.add_parser("check", help="list what is wrong and what is missing in documents")
    check.add_argument("files", type=Path, nargs="+", metavar="FILE")
    check.add_argument("--json", action="store_true", help="print one JSON document a file")
    check.set_defaults(run=run_check)

    schema = commands.add_parser("schema", help="print the schema of a document or an output")
    schema.add_argument("kind", choices=(*KINDS, *OUTPUTS), metavar="KIND", help=", ".join((*KINDS, *OUTPUTS)))
    schema.set_defaults(run=run_schema)

    new = commands.add_parser("new", help="write a small starting site from a few measurements")
    new.add_argument("--name", required=True, help="name of the property")
    new.add_argument("--length", required=True, help="length of the front, such as `120 ft`")
    new.add_argument("--height", required=True, help="height of the front, such as `18 ft`")
    new.add_argument("--walk", required=True, help="width of the walk before it, such as `8 ft`")
    new.add_argument("--units", choices=("us", "metric"), default="us")
    new.add_argument("--out", type=Path, metavar="FILE", help="write the site here instead of printing it")
    new.set_defaults(run=run_new, json=False)

    footprint = commands.add_parser("import", help="turn a building footprint (GeoJSON) into a starting site")
    footprint.add_argument("file", type=Path, metavar="FILE.geojson")
    footprint.add_argument("--crs", help="coordinate system of the file when it is not WGS84, such as EPSG:3857")
    footprint.add_argument("--units", choices=("us", "metric"), default="us")
    footprint.add_argument("--out", type=Path, metavar="FILE", help="write the site here instead of printing it")
    footprint.set_defaults(run=run_import, json=False)


def run_check(options: argparse.Namespace) -> int:
    """Check every file, even after one failed."""
    worst = EXIT_DONE
    for path in options.files:
        problems: tuple[Problem, ...] = ()
        kind: str | None = None
        gaps: tuple[Gap, ...] = ()
        try:
            document = read_document(path)
            kind, gaps = document.kind, document_gaps(document)
        except InputError as error:
            problems, worst = error.problems, EXIT_BAD_INPUT
        if options.json:
            line = CheckLine(1, str(path), kind, not problems, problem_lines(problems), gaps)
            sys.stdout.write(output_text("check", line, indent=None))
            continue
        for problem in problems:
            say(f"error: {problem}")
        for gap in gaps:
            mark = "safety gap" if gap.safety else "gap"
            print(f"{path}: {gap.key}: {mark}: {gap.missing}; changes {gap.changes}; taken: {gap.taken}")
        print(f"{path}: {'not usable' if problems else f'a usable {kind} document, {len(gaps)} gaps'}")
    return worst


def run_schema(options: argparse.Namespace) -> int:
    """Print a JSON schema."""
    schema = document_schema(options.kind) if options.kind in KINDS else output_schema(options.kind)
    print(json.dumps(schema, indent=2, ensure_ascii=False))
    return EXIT_DONE


def run_new(options: argparse.Namespace) -> int:
    """Print or write a commented starting site."""
    text = starting_site(options.name, options.length, options.height, options.walk, options.units)
    return _deliver(text, options.out)


def run_import(options: argparse.Namespace) -> int:
    """Print or write a site made from a footprint."""
    text = read_text(options.file, LARGEST_TEXT)
    return _deliver(document_text(site_from_geojson(text, str(options.file), options.crs, options.units)), options.out)


def _deliver(text: str, out: Path | None) -> int:
    if out is None:
        sys.stdout.write(text)
    else:
        write_files(out.parent, {out.name: text})
        say(f"wrote {out}")
    return EXIT_DONE
