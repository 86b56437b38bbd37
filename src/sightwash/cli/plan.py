"""``sightwash plan``: read the four documents, plan the visit, print it, write it and its drawings."""

from __future__ import annotations

import argparse
import sys
from datetime import date
from pathlib import Path

from sightwash.basis.errors import EXIT_DONE, InputError, Problem
from sightwash.cli.output import Commands, Progress, say, write_files
from sightwash.papers.clock_list import clock_list
from sightwash.papers.crew_sheet import crew_sheet
from sightwash.papers.drawings.drying_chart import drying_chart
from sightwash.papers.drawings.eye_view import eye_view
from sightwash.papers.drawings.ground_plan import ground_plan
from sightwash.papers.drawings.money import chance_drawing, money_drawing
from sightwash.papers.drawings.sight_plan import sight_plan
from sightwash.papers.drawings.timeline import timeline_drawing
from sightwash.papers.drawings.unrolled import unrolled_wall
from sightwash.papers.night_summary import night_summary
from sightwash.papers.plan_document import output_text, plan_document
from sightwash.papers.summary import summary
from sightwash.planning.night import NightPlan, plan_night
from sightwash.planning.visit import VisitPlan, plan_visit
from sightwash.site.conditions import Conditions
from sightwash.site.fields import FIRST_YEAR, LAST_YEAR
from sightwash.site.model import Site
from sightwash.site.rates import Rates
from sightwash.site.rig import Rig
from sightwash.site.site_file import Document, read_document
from sightwash.site.weather_file import read_weather


def add_plan(commands: Commands) -> None:
    """Add the ``plan`` command."""
    parser = commands.add_parser("plan", help="plan a visit to a site")
    parser.add_argument("site", type=Path, help="the site document")
    parser.add_argument("--rig", type=Path, required=True, help="the rig document")
    parser.add_argument("--rates", type=Path, required=True, help="the rates document")
    parser.add_argument("--conditions", type=Path, required=True, help="the conditions document")
    parser.add_argument(
        "--on", type=read_day, required=True, metavar="DATE", help="day of the visit, such as 2026-07-11"
    )
    parser.add_argument("--weather", type=Path, metavar="FILE", help="hourly weather: table, EPW, TMY3, forecast")
    parser.add_argument("--effort", choices=("quick", "proven"), default="quick", help="how hard to look for the best")
    parser.add_argument("--no-night", action="store_true", help="leave out the timeline and the options (quicker)")
    parser.add_argument("--out", type=Path, metavar="DIR", help="write plan.json, plan.txt and the drawings here")
    parser.add_argument("--json", action="store_true", help="print one JSON document")
    parser.set_defaults(run=run_plan)


def read_day(text: str) -> date:
    """Return a date for argparse, which says what is wrong with another text."""
    try:
        day = date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"{text!r} is not a date; write it as 2026-07-11") from None
    if not FIRST_YEAR <= day.year <= LAST_YEAR:
        raise argparse.ArgumentTypeError(f"{text!r} lies far from any day of work")
    return day


def read_all(options: argparse.Namespace) -> tuple[Site, Rig, Rates, Conditions]:
    """Read the four documents; all that is wrong in any of them is reported together."""
    found: dict[str, Document] = {}
    problems: list[Problem] = []
    for kind in ("site", "rig", "rates", "conditions"):
        try:
            found[kind] = read_document(getattr(options, kind), kind)
        except InputError as error:
            problems += error.problems
    if problems:
        raise InputError(problems)
    site, rig, rates, conditions = (found[kind] for kind in ("site", "rig", "rates", "conditions"))
    assert isinstance(site, Site)
    assert isinstance(rig, Rig)
    assert isinstance(rates, Rates)
    assert isinstance(conditions, Conditions)
    return site, rig, rates, conditions


def run_plan(options: argparse.Namespace) -> int:
    """Plan a visit and print or write it."""
    site, rig, rates, conditions = read_all(options)
    if conditions.date is not None and conditions.date != options.on:
        say(f"note: the conditions are for {conditions.date}, the visit is planned on {options.on}")
    weather = read_weather(options.weather, conditions.units) if options.weather else None
    progress = Progress()
    plan = plan_visit(site, rig, rates, conditions, options.on, options.effort, progress, weather)
    night = None if options.no_night else plan_night(site, rig, rates, conditions, plan, progress=progress)
    text = output_text("plan", plan_document(plan, site, rig, rates, conditions, night))
    words = summary(plan) + ("" if night is None else night_summary(plan, night))
    if options.out is not None:
        written = write_files(
            options.out,
            {
                "plan.json": text,
                "plan.txt": words,
                "crew-sheet.txt": crew_sheet(site, plan),
                "unrolled-wall.svg": unrolled_wall(site, plan),
                "ground-plan.svg": ground_plan(site, plan),
                "sight-plan.svg": sight_plan(site, plan),
                "drying.svg": drying_chart(site, [(f"{plan.on:%d %B %Y}", plan.drying)]),
                **({} if night is None else _night_files(site, plan, night)),
                **{f"view-{eye}.svg": eye_view(site, plan, eye, faces=plan.faces) for eye in _public_eyes(site)},
            },
        )
        for path in written:
            say(f"wrote {options.out / path.name}")
    sys.stdout.write(text if options.json else words)
    return EXIT_DONE


def _night_files(site: Site, plan: VisitPlan, night: NightPlan) -> dict[str, str]:
    """Return the clock times and the charts of the night and the money."""
    return {
        "clock-times.txt": clock_list(night.timeline, plan.units),
        "timeline.svg": timeline_drawing(site, night.timeline),
        "money.svg": money_drawing(night.shares, plan.price.currency),
        "chance-of-loss.svg": chance_drawing(plan.price, night.chances),
    }


def _public_eyes(site: Site) -> list[str]:
    """Return the ids of the public eyes, whose views are drawn."""
    return [eye.id for eye in site.eyes if eye.kind != "crew"]
