"""Pages of the questions: the strip, the figures, and the six answers about one part."""

from __future__ import annotations

from collections.abc import Callable
from urllib.parse import quote

from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.utils.safestring import mark_safe

from sightwash.office.access import EVERYONE, PersonRequest, page
from sightwash.office.bridge.night import night_soon
from sightwash.office.bridge.papers import night_drawing, strip_drawing, wall_drawing
from sightwash.office.bridge.records import planned_ids, read_record, record_tree
from sightwash.office.questions.asking import (
    Asked,
    asked_for,
    fragment_unfinished,
    page_context,
    part_address,
    unfinished,
)
from sightwash.office.questions.cost import cost_panel, money_drawings, option_sections
from sightwash.office.questions.duration import duration_panel, night_sections
from sightwash.office.questions.panel import Panel
from sightwash.office.questions.parts import carrier_of, tapped_parts
from sightwash.office.questions.patch import part_answers
from sightwash.office.questions.reach import reach_panel
from sightwash.office.questions.strip import strip_svg
from sightwash.office.questions.substances import substance_panel
from sightwash.planning.visit import VisitPlan
from sightwash.site.model import Site

PLANNERS = ("owner", "planner")
QUICK, PATIENT = 0.3, 30.0
"""How long a fragment waits for a night when the page asks again by itself, and when it cannot [s]."""
Answering = Callable[[Site, VisitPlan], Panel]


@page(*EVERYONE)
def who_reaches_it(request: PersonRequest, pk: int) -> HttpResponse:
    """Show who reaches it."""
    return _answered(request, pk, "who-reaches-it", reach_panel)


@page(*EVERYONE)
def with_what(request: PersonRequest, pk: int) -> HttpResponse:
    """Show with what it is washed."""
    return _answered(request, pk, "with-what", substance_panel)


@page(*EVERYONE)
def how_long(request: PersonRequest, pk: int) -> HttpResponse:
    """Show how long it takes; the night follows by itself."""
    return _answered(request, pk, "how-long", duration_panel, "office/questions/how_long.html")


@page(*PLANNERS)
def what_does_it_cost(request: PersonRequest, pk: int) -> HttpResponse:
    """Show what it costs; options and chances follow by themselves."""
    return _answered(request, pk, "what-does-it-cost", cost_panel, "office/questions/cost.html")


def _answered(
    request: PersonRequest, pk: int, slug: str, answer: Answering, template: str = "office/questions/question.html"
) -> HttpResponse:
    asked = asked_for(request, pk)
    waiting = unfinished(request, asked, slug)
    if waiting is not None:
        return waiting
    panel = answer(asked.site, asked.plan)
    context = page_context(request, asked, slug) | strip_context(request, asked, slug, panel) | {"panel": panel}
    return render(request, template, context)


def strip_context(request: PersonRequest, asked: Asked, slug: str, panel: Panel) -> dict[str, object]:
    """Return the strip with a question's layer, the list of parts, and the part that is open."""
    names = tapped_parts(asked.site, asked.plan)
    start = part_address(asked, slug)
    drawing = strip_drawing(asked.inputs, asked.plan)
    parts = [(part, words, f"{start}{quote(part)}#part") for part, words in names.items()]
    return {
        "strip": strip_svg(drawing, slug, names, lambda part: f"{start}{quote(part)}#part", panel.marks),
        "parts": parts,
        **_open_part(request, asked),
    }


def _open_part(request: PersonRequest, asked: Asked) -> dict[str, object]:
    part = request.GET.get("part", "")
    if not part:
        return {}
    done = None
    if asked.visit is not None:
        done = read_record(record_tree(asked.visit)[0], planned_ids(asked.site, asked.plan))
    found = part_answers(asked.site, asked.plan, part, done, request.user.role != "crew")
    if found is None:
        return {}
    wall = carrier_of(asked.plan, part)
    large = wall if any(takeoff.wall == wall for takeoff in asked.plan.walls) else ""
    return {"part_name": found[0], "answers": found[1], "large": large}


@page(*EVERYONE)
def part_of_property(request: PersonRequest, pk: int) -> HttpResponse:
    """Answer all six questions about one part, as a fragment."""
    asked = asked_for(request, pk)
    waiting = unfinished(request, asked, "")
    if waiting is not None:
        return waiting
    found = _open_part(request, asked)
    if not found:
        raise Http404
    return render(request, "office/questions/part.html", page_context(request, asked) | found)


@page(*EVERYONE)
def wall_large(request: PersonRequest, pk: int) -> HttpResponse:
    """Show one wall large: its sight, its dirt, its standing spots, sizes and names."""
    asked = asked_for(request, pk)
    waiting = unfinished(request, asked, "")
    if waiting is not None:
        return waiting
    walls = {takeoff.wall for takeoff in asked.plan.walls}
    wall = carrier_of(asked.plan, request.GET.get("part", ""))
    if wall not in walls:
        raise Http404
    drawing = mark_safe(wall_drawing(asked.inputs, asked.plan, wall))  # drawn by ourselves, its texts escaped there
    context = {"drawing": drawing, "wall_name": tapped_parts(asked.site, asked.plan)[wall]}
    return render(request, "office/questions/wall.html", page_context(request, asked) | context)


@page(*EVERYONE)
def how_long_night(request: PersonRequest, pk: int) -> HttpResponse:
    """Answer with the timeline of the night, as a fragment."""
    asked = asked_for(request, pk, 0.0)
    work = night_soon(asked.inputs, QUICK if request.htmx else PATIENT)
    waiting = fragment_unfinished(request, work)
    if waiting is not None or work.night is None:
        return waiting or HttpResponse()
    decide, figures, sections = night_sections(work.night)
    context = {
        "decide": decide,
        "figures": figures,
        "sections": sections,
        "drawing": mark_safe(night_drawing(asked.inputs, work.night)),  # drawn by ourselves, its texts escaped there
    }
    return render(request, "office/questions/night.html", context)


@page(*PLANNERS)
def cost_options(request: PersonRequest, pk: int) -> HttpResponse:
    """Answer with options, other prices and discounts, as a fragment."""
    asked = asked_for(request, pk)
    work = night_soon(asked.inputs, QUICK if request.htmx else PATIENT)
    waiting = fragment_unfinished(request, asked.planning) or fragment_unfinished(request, work)
    if waiting is not None or work.night is None:
        return waiting or HttpResponse()
    drawings = money_drawings(asked.plan, work.night)
    context = {
        "sections": option_sections(asked.plan, work.night),
        "drawings": [mark_safe(drawing) for drawing in drawings],  # drawn by ourselves, their texts escaped there
    }
    return render(request, "office/questions/options.html", context)
