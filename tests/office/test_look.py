"""Frames of the live look: what is seen of a wall, checked by similar triangles; refusals; size.

Closed form: an eye at height h, D out from a wall, looks over a canopy's outer top edge (height t, d out): the wall is
hidden up to t + (t - h) d / (D - d) (similar triangles).
"""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import shapely
from django.test import Client
from django.urls import reverse
from world import World

from sightwash.office.draw.look import first_eye, frame, laid_out, strip_lines
from sightwash.office.models import Property
from sightwash.planning.eye_view import plan_eye_faces
from sightwash.planning.live import look_from, looks_of, quick_part
from sightwash.science.facets import Frame, make_frame
from sightwash.site.facets import Facet
from sightwash.site.model import Site
from sightwash.site.site_file import document_from, document_text, read_document
from sightwash.site.tree import parse

FOOT = 0.3048
PLAIN = """{"kind": "site", "schema": 1, "id": "a", "name": "A", "walls": [{"id": "front", "start": [0, 0],
 "end": ["100 ft", 0], "height": "20 ft", "projections": [{"id": "canopy", "kind": "canopy", "left": 0,
 "width": "100 ft", "bottom": "9 ft 6 in", "height": "6 in", "depth": "6 ft"}]}],
 "eyes": [{"id": "road", "kind": "road", "path": [["-50 ft", "-60 ft"], ["150 ft", "-60 ft"]], "height": "3.5 ft"}]}"""


def site_text(text: str = PLAIN) -> str:
    return document_text(document_from(parse(text, "a"), "site"))


@pytest.mark.parametrize("away", [30.0, 60.0, 200.0])
def test_what_the_canopy_hides_is_hidden(away: float) -> None:
    found = frame(site_text(), (50 * FOOT, -away * FOOT, 3.5 * FOOT))
    seen = [ring for ring in found["walls"][0]["seen"] if max(ring[1::2]) > 15 * FOOT]
    lowest_at_middle = min(z for s, z in zip(seen[0][::2], seen[0][1::2], strict=True) if 1.0 < s < 29.0 or z > 3.1)
    hidden_to = 10.0 + (10.0 - 3.5) * 6.0 / (away - 6.0)
    assert lowest_at_middle / FOOT == pytest.approx(hidden_to, abs=0.05)


def test_an_eye_behind_the_wall_sees_nothing_of_it() -> None:
    found = frame(site_text(), (50 * FOOT, 30 * FOOT, 5 * FOOT))
    assert found["walls"][0]["share"] == 0.0
    assert found["words"] == "No wall that is washed is seen from here."


def test_the_picture_is_turned_to_the_wall() -> None:
    found = frame(site_text(), (50 * FOOT, -60 * FOOT, 3.5 * FOOT))
    assert found["view"]["ahead"] == pytest.approx([0.0, 1.0], abs=1e-6)
    kinds = {kind for kind, _, _ in found["view"]["shapes"]}
    assert {"wall", "solid", "missed"} <= kinds


def test_a_missed_strip_comes_with_its_remedy() -> None:
    rig = document_text(read_document("examples/demo/rig.yaml"))
    lines = strip_lines(site_text(), rig)
    assert [line["letter"] for line in lines] == ["A"]
    assert lines[0]["seen_by"] == ["road"]
    assert any("step back" in each["words"] for each in lines[0]["remedies"])


def test_shadows_of_a_frame_are_those_of_geometry() -> None:
    """Closed forms. A cube on a wall, seen from 5 m out: the hull of its back and of its front drawn out by 5/4 hides
    2.125 m2. A block taller than the eye, 2 m off on level ground: a wedge as wide as it is far away hides, out to
    20 m, (20 x 20 - 2 x 2) / 2 = 198 m2.
    """
    wall = make_frame((0, 0, 0), (1, 0, 0))
    cube = np.array([(s, y, z) for s in (1, 2) for y in (0, -1) for z in (1, 2)], float)
    facet = Facet("a", "a", "wall", "front", None, wall, shapely.box(0, 0, 9, 3))
    assert quick_part(facet, [cube], np.array([0.0, -5.0, 0.0])).area == pytest.approx(27.0 - 2.125, abs=1e-9)
    ground = Frame(*(np.array(each, float) for each in ((0, 0, 0), (1, 0, 0), (0, 1, 0), (0, 0, 1))))
    block = np.array([(x, y, z) for x in (-1, 1) for y in (2, 3) for z in (0, 3)], float)
    facet = Facet("b", "b", "walk", "top", None, ground, shapely.box(-10, 0, 10, 20))
    assert quick_part(facet, [block], np.array([0.0, 0.0, 1.0])).area == pytest.approx(400.0 - 198.0, abs=1e-6)


def test_a_frame_shows_what_the_papers_show() -> None:
    """The quick reckoning of a frame and the exact one of the drawings are two ways to one result."""
    laid = laid_out(site_text((Path("examples/demo/site.yaml")).read_text(encoding="utf-8")))
    for eye in ((24.4, -91.4, 1.07), (5.0, -6.0, 1.6), (-20.0, 10.0, 1.6), (60.0, -2.0, 4.0)):
        given = laid.bare, laid.bare_walls, laid.bodies, eye
        quick, exact = plan_eye_faces(*given, quick_part), plan_eye_faces(*given)
        for ours, papers in zip(quick, exact, strict=True):
            assert [face.facet for face in ours] == [face.facet for face in papers]
            assert [face.area for face in ours] == pytest.approx([face.area for face in papers], abs=1e-5)


def test_walls_of_a_frame_are_those_of_the_plan() -> None:
    """What a frame says of every wall is what the exact reckoning of the plan says, whatever the eye."""
    laid = laid_out(site_text((Path("examples/demo/site.yaml")).read_text(encoding="utf-8")))
    placed = tuple(wall for wall in laid.walls if wall.measured_place)
    for eye in ((24.4, -91.4, 1.07), (5.0, -6.0, 1.6), (-20.0, 10.0, 1.6), (60.0, -2.0, 4.0)):
        faces, _ = plan_eye_faces(laid.bare, laid.bare_walls, laid.bodies, eye, quick_part)
        exact = look_from(laid.site, placed, laid.bodies, eye, laid.crew)
        for ours, plans in zip(looks_of(placed, faces, laid.crew, laid.covered), exact, strict=True):
            assert ours.wall == plans.wall
            for part in ("seen_area", "hidden_area", "covered_area", "missed_area"):
                assert getattr(ours, part) == pytest.approx(getattr(plans, part), abs=1e-4), (eye, ours.wall, part)


def test_the_eye_begins_on_a_way() -> None:
    site = document_from(parse(PLAIN, "a"), "site")
    assert isinstance(site, Site)
    assert first_eye(site) == {"x": 15.24, "y": -18.29, "z": 1.07}


def get(client: Client, name: str, pk: int, **words: Any) -> Any:
    return client.get(reverse(name, args=[pk]), words, headers={"accept": "application/json"})


@pytest.mark.parametrize(
    "words", [{}, {"x": "1", "y": "2"}, {"x": "nan", "y": "0", "z": "1"}, {"x": "1e9", "y": "0", "z": "1"},
              {"x": "<b>", "y": "0", "z": "1"}, {"x": "0", "y": "0", "z": "1000"}],
)  # fmt: skip
def test_a_place_that_is_none_is_refused(words: dict[str, str], world: World, client_of: Callable[..., Client]) -> None:
    answer = get(client_of(world.crew), "look-frame", world.larkspur.pk, **words)
    assert answer.status_code == 422
    assert "number from" in answer.json()["errors"][0]["expected"]


def test_a_frame_of_the_demo_is_small(world: World, client_of: Callable[..., Client]) -> None:
    """The bar is our own: a frame is at most 20 kB before it is packed."""
    answer = get(client_of(world.crew), "look-frame", world.larkspur.pk, x="24", y="-91", z="1.07")
    assert answer.status_code == 200
    assert len(answer.content) < 20_000
    assert {wall["id"] for wall in answer.json()["walls"]} >= {"row-front", "pad-front"}


def test_a_place_inside_a_building_and_in_a_wall_is_answered(world: World, client_of: Callable[..., Client]) -> None:
    for x, y in (("10", "5"), ("10", "0"), ("0", "0"), ("10", "-0.0000001"), ("6000", "6000")):
        answer = get(client_of(world.crew), "look-frame", world.larkspur.pk, x=x, y=y, z="1.6")
        assert answer.status_code == 200, (x, y)
        assert json.loads(answer.content)["walls"]


def test_walls_without_a_place_have_no_look(world: World, client_of: Callable[..., Client]) -> None:
    text = site_text(
        '{"kind": "site", "schema": 1, "id": "b", "name": "B",'
        ' "walls": [{"id": "w", "length": "40 ft", "height": "12 ft"}]}'
    )
    record = Property.objects.create(firm=world.firm, name="B", site=text)
    page = client_of(world.owner).get(reverse("who-sees-it", args=[record.pk])).content.decode()
    assert "No wall has a place on the ground yet" in page
    assert get(client_of(world.owner), "look-frame", record.pk, x="0", y="-20", z="1.6").json()["walls"] == []
