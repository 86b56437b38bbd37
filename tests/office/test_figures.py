"""The firm's rig, rates and particulars: the short form, the whole document, two people at once."""

from __future__ import annotations

import json
from collections.abc import Callable

import pytest
from django.test import Client
from world import World, demo_text

from sightwash.office.bridge.documents import canonical_kind, firm_rates, firm_rig, value_at, with_values
from sightwash.office.figures.asked import ASKED
from sightwash.office.models import AuditLine, FirmDocument


def short_form(kind: str, **changed: str) -> dict[str, str]:
    """Return the short form as it stands on the page, with changes."""
    text = demo_text(kind)
    found = {figure.path.replace(".", "_"): value_at(text, figure.path) for figure in ASKED[kind]}
    return {"revision": "1", **found, **changed}


def kept(world: World, kind: str) -> FirmDocument:
    """Return a document of the first firm."""
    found = FirmDocument.objects.of(world.firm).get(kind=kind)
    assert isinstance(found, FirmDocument)
    return found


def test_short_form_changes_what_it_asks_for_and_nothing_else(world: World, client_of: Callable[..., Client]) -> None:
    before = json.loads(kept(world, "rates").text)
    answer = client_of(world.owner).post("/figures/rates/", short_form("rates", margin="35 %", labour_wage="26.50"))
    assert answer.status_code == 302
    after = json.loads(kept(world, "rates").text)
    assert kept(world, "rates").revision == 2
    assert (after.pop("margin"), after["labour"].pop("wage")) == ("35 %", "26.50")
    assert (before.pop("margin"), before["labour"].pop("wage")) == ("32 %", "24.00")
    assert after == before
    assert firm_rates(world.firm).margin == pytest.approx(0.35)
    assert AuditLine.objects.of(world.firm).filter(on="Rates, revision 2").exists()


def test_wrong_figure_is_said_beside_its_field_and_nothing_is_kept(
    world: World, client_of: Callable[..., Client]
) -> None:
    answer = client_of(world.owner).post("/figures/rates/", short_form("rates", margin="95 %", labour_wage="lots"))
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "id_margin_error" in page
    assert "id_labour_wage_error" in page
    assert 'value="lots"' in page
    assert kept(world, "rates").text == demo_text("rates")


def test_emptied_figure_is_taken_away(world: World, client_of: Callable[..., Client]) -> None:
    client_of(world.owner).post("/figures/rig/", short_form("rig", bleach_dated="2026-07-01", crew_people=""))
    assert "people" not in json.loads(kept(world, "rig").text)["crew"]
    assert str(firm_rig(world.firm).bleach.dated) == "2026-07-01"


@pytest.mark.parametrize("page", ["/figures/rates/", "/figures/rates/whole/"])
def test_two_people_at_once_see_both_sides(world: World, client_of: Callable[..., Client], page: str) -> None:
    client = client_of(world.owner)
    client.post("/figures/rates/", short_form("rates", margin="35 %"))
    mine = short_form("rates", margin="20 %") | {"text": with_values(demo_text("rates"), "rates", {"margin": "20 %"})}
    answer = client.post(page, mine)
    shown = answer.content.decode()
    assert answer.status_code == 409
    assert "Somebody changed this meanwhile" in shown
    assert "20 %" in shown
    assert "35 %" in shown
    assert value_at(kept(world, "rates").text, "margin") == "35 %"
    assert client.post(page, {**mine, "revision": "2"}).status_code == 302
    assert value_at(kept(world, "rates").text, "margin") == "20 %"


def test_whole_document_takes_yaml_and_names_the_wrong_line(world: World, client_of: Callable[..., Client]) -> None:
    client = client_of(world.owner)
    text = "kind: rates\nschema: 1\nid: ours\nname: Ours\nlabour: {wage: 21}\n"
    assert client.post("/figures/rates/whole/", {"revision": 1, "text": text}).status_code == 302
    assert kept(world, "rates").text == canonical_kind(text, "rates")
    answer = client.post("/figures/rates/whole/", {"revision": 2, "text": f"{text}magin: 30 %\n"})
    assert answer.status_code == 422
    assert "Line 6: magin" in answer.content.decode()


@pytest.mark.parametrize(
    "text", ["", "{", "kind: rig", "a: &x [*x]", "[" * 5000, "kind: site\nschema: 1\nid: a\nname: b"]
)
def test_broken_document_is_refused_in_words(world: World, client_of: Callable[..., Client], text: str) -> None:
    answer = client_of(world.owner).post("/figures/rates/whole/", {"revision": 1, "text": text})
    assert answer.status_code == 422
    assert "id_text_error" in answer.content.decode()


def test_unknown_kind_is_not_there(world: World, client_of: Callable[..., Client]) -> None:
    assert client_of(world.owner).get("/figures/site/").status_code == 404


def test_figures_move_the_price(world: World, client_of: Callable[..., Client]) -> None:
    """Price = cost / (1 - margin) before rounding: a larger margin gives a larger price [closed form]."""
    from sightwash.office.bridge.planning import plan_now, visit_inputs

    def price() -> float:
        world.visit.property.firm.refresh_from_db()
        return float(plan_now(visit_inputs(world.visit)).price.price)

    before = price()
    client_of(world.owner).post("/figures/rates/", short_form("rates", margin="50 %"))
    assert price() == pytest.approx(before * (1 - 0.32) / (1 - 0.50), abs=5.0)
