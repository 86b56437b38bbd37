"""Every page of the office, and who may open it: one row for each address and method.

How to add a page: give its address a name, put ``@page(...)`` on its view, and add a row to the table of your part
(``HOUSE`` here, ``DRAW`` in pages_draw.py, ``QUESTIONS`` in pages_questions.py). ``test_access.py`` asks every row
the same questions and fails for an address without a row, and for one that takes POST without a row that says so.

A row's ``where`` gives the arguments of the address, its ``send`` what is sent; both are functions of the ``World``
(world.py), which holds a firm with its people and records. The other firm's people ask for the very same records, and
must be answered 404; no page may show them any of the words in ``world.SECRETS``. A row whose arguments name no
record of a firm says ``own_records=False``.
"""

from __future__ import annotations

from pages_draw import DRAW
from pages_questions import QUESTIONS
from row import EVERYONE, OWNER, PLANNERS, Row
from world import PASSWORD, demo_text

NEW_PASSWORD = "moss-on-the-cap-stone"
FOLDER = {"name": "Larkspur Corner shops", "address": "1200 Larkspur Road"}
WALLS = {"name": "Damson Court", "units": "us", "walls": "Front 120 ft x 14 ft", "walk": "8 ft"}
FIRST = {"firm": "A", "name": "B", "email": "b@example.org", "password": NEW_PASSWORD}
RATES = {"revision": 1, "labour_wage": "26.00", "labour_burden": "20 %", "margin": "30 %", "rounding": "5"}

HOUSE: list[Row] = [
    Row("face", where=lambda _w: {"weight": "regular"}),
    Row("sign-in"),
    Row("sign-in", "post", send=lambda _w: {"username": "nobody@example.org", "password": "wrong"}),
    Row("sign-out", "post", good=302),
    Row("first-run", good=302),
    Row("first-run", "post", send=lambda _w: FIRST, good=302),
    Row("sheet", "post", send=lambda _w: {"sheet": "night"}, good=302),
    Row("join", where=lambda w: {"token": w.token}),
    Row(
        "join", "post", where=lambda w: {"token": w.token},
        send=lambda _w: {"name": "Cal", "password": NEW_PASSWORD}, good=302,
    ),
    Row("my-password", roles=EVERYONE),
    Row(
        "my-password", "post", roles=EVERYONE, send=lambda _w: {"old": PASSWORD, "password": NEW_PASSWORD}, good=302
    ),
    Row("people", roles=OWNER),
    Row("people", "post", roles=OWNER, send=lambda _w: {"email": "new@example.org", "role": "crew"}),
    Row("person", roles=OWNER, where=lambda w: {"pk": w.crew.pk}),
    Row(
        "person", "post", roles=OWNER, where=lambda w: {"pk": w.crew.pk},
        send=lambda _w: {"role": "planner", "may_sign_in": "on"}, good=302,
    ),
    Row("withdraw-invitation", "post", roles=OWNER, where=lambda w: {"pk": w.invitation.pk}, good=302),
    Row("trail", roles=OWNER),
    Row("figures", roles=PLANNERS, good=302),
    Row("figures-of", roles=PLANNERS, where=lambda _w: {"kind": "rates"}, own_records=False),
    Row(
        "figures-of", "post", roles=OWNER, where=lambda _w: {"kind": "rates"}, send=lambda _w: RATES, good=302,
        own_records=False,
    ),
    Row("figures-whole", roles=PLANNERS, where=lambda _w: {"kind": "rig"}, own_records=False),
    Row(
        "figures-whole", "post", roles=OWNER, where=lambda _w: {"kind": "rig"},
        send=lambda _w: {"revision": 1, "text": demo_text("rig")}, good=302, own_records=False,
    ),
    Row("properties", roles=EVERYONE),
    Row("add-property", roles=PLANNERS, where=lambda _w: {"way": "walls"}, own_records=False),
    Row(
        "add-property", "post", roles=PLANNERS, where=lambda _w: {"way": "walls"}, send=lambda _w: WALLS, good=302,
        own_records=False,
    ),
    Row("property", roles=EVERYONE, where=lambda w: {"pk": w.larkspur.pk}),
    Row("property-look", roles=EVERYONE, where=lambda w: {"pk": w.larkspur.pk}),
    Row("property-edit", roles=PLANNERS, where=lambda w: {"pk": w.larkspur.pk}),
    Row(
        "property-edit", "post", roles=PLANNERS, where=lambda w: {"pk": w.larkspur.pk}, send=lambda _w: FOLDER, good=302
    ),
]  # fmt: skip

ROWS: list[Row] = [*HOUSE, *DRAW, *QUESTIONS]
