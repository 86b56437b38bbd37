"""Every query of the office begins with a firm, or with a record of it that is at hand: held against the code itself.

Records of a firm are found by ``Model.objects.of(firm)``; those of a record that was so found by that record, such as
``Offer.objects.filter(visit=visit)``. What else is asked of ``objects`` is listed here with its reason.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest
from django.apps import apps
from world import World

import sightwash.office
from sightwash.office.models import Person, Property

OFFICE = Path(sightwash.office.__file__).parent
MAKING = {"of", "create", "create_person", "bulk_create", "get_or_create"}
"""Asked of ``objects``: a firm's records, or a new one whose firm is given."""
OTHERWISE = {
    "people/views.py: Person.exists": "first run: is there anybody at all",
    "people/forms.py: Person.filter": "an e-mail is one person's in all firms",
    "people/invitations.py: Invitation.select_related": "a link is found by its hash; it says the firm",
    "api/sign_in.py: Key.filter": "a key is found by its hash; it says the person",
    "management/commands/demo.py: Person.filter": "on the machine itself, by its keeper",
    "management/commands/demo.py: Firm.exists": "on the machine itself, by its keeper",
    "management/commands/new_firm.py: Person.filter": "on the machine itself, by its keeper",
}


def at_hand(keyword: ast.keyword) -> bool:
    """Return whether a query is narrowed by a record that was found before: ``visit=visit``, ``pk=visit.pk``."""
    value, last = keyword.value, (keyword.arg or "").rpartition("__")[2]
    if isinstance(value, ast.Name):
        return value.id == last and last not in ("pk", "id")
    return isinstance(value, ast.Attribute) and (value.attr in ("pk", "user") or value.attr.endswith("_id"))


def asked_of_objects(tree: ast.AST, place: str) -> Iterator[str]:
    """Yield what a module asks of each model's ``objects`` without a firm or a record at hand."""
    chained: dict[ast.AST, ast.Call] = {}
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
            chained[node.func.value] = node
            chained[node.func] = node
    for node in ast.walk(tree):
        if not (isinstance(node, ast.Attribute) and isinstance(node.value, ast.Attribute)):
            continue
        if node.value.attr == "objects" and isinstance(node.value.value, ast.Name) and node.attr not in MAKING:
            call = chained.get(node)
            if node.attr == "select_for_update" and call is not None:
                call = chained.get(call)
            if call is None or not any(map(at_hand, call.keywords)):
                yield f"{place}: {node.value.value.id}.{node.attr}"


def test_every_query_begins_with_a_firm() -> None:
    found = {
        words
        for file in OFFICE.rglob("*.py")
        for words in asked_of_objects(ast.parse(file.read_text(encoding="utf-8")), str(file.relative_to(OFFICE)))
    }
    assert found - set(OTHERWISE) == set()


@pytest.mark.parametrize(
    ("line", "is_found"),
    [
        ("Offer.objects.of(firm).filter(pk=pk)", False),
        ("Offer.objects.filter(visit=visit)", False),
        ("Offer.objects.filter(pk=offer.pk)", False),
        ("Offer.objects.select_for_update().get(pk=offer.pk)", False),
        ("Offer.objects.filter(pk=pk)", True),
        ("Offer.objects.select_for_update().get(pk=pk)", True),
        ("Offer.objects.all()", True),
        ("Offer.objects.filter(answer=answer_text)", True),
    ],
)
def test_queries_without_a_firm_are_found(line: str, is_found: bool) -> None:
    assert bool(list(asked_of_objects(ast.parse(line), "x"))) is is_found


@pytest.mark.parametrize("model", list(apps.get_app_config("office").get_models()), ids=str)
def test_every_record_knows_its_firm(model: type) -> None:
    path = getattr(model, "firm_path", None)
    assert path is not None or model.__name__ == "Firm"


def test_of_gives_one_firms_records_only(world: World) -> None:
    assert list(Property.objects.of(world.firm)) == [world.larkspur]
    assert list(Property.objects.of(world.other_firm)) == []
    assert set(Person.objects.of(world.other_firm)).isdisjoint(Person.objects.of(world.firm))
