"""First run, sign-in, invitations, roles, the trail. The rules are our own; password rules after NIST SP 800-63B
(2017, updated 2020), section 5.1.1.2: length and a list of common ones, no composition rules [published; ten characters
instead of its eight].
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from urllib.parse import urlsplit

import pytest
from django.db import connection
from django.test import Client
from django.utils import timezone
from world import PASSWORD, World

from sightwash.office.models import AuditLine, Firm, FirmDocument, Invitation, Person
from sightwash.office.people.invitations import new_invitation, token_hash

GOOD = "moss-on-the-cap-stone"


@pytest.mark.django_db
def test_first_run_makes_the_owner_once(client_of: Callable[..., Client]) -> None:
    client = client_of()
    assert client.get("/sign-in/").headers["Location"] == "/first-run/"
    sent = {"firm": "Alder Wash", "name": "Ann", "email": "Ann@Example.org", "password": GOOD}
    assert client.post("/first-run/", sent).headers["Location"] == "/"
    owner = Person.objects.get()
    assert (owner.email, owner.role, owner.firm.name) == ("ann@example.org", "owner", "Alder Wash")
    assert set(FirmDocument.objects.of(owner.firm).values_list("kind", flat=True)) == {"rig", "rates", "firm"}
    assert client.get("/").status_code == 200
    assert client_of().post("/first-run/", {**sent, "email": "two@example.org"}).headers["Location"] == "/sign-in/"
    assert Person.objects.count() == 1


@pytest.mark.django_db
@pytest.mark.parametrize("password", ["short-one", "1234567890123", "password123", "ann@example.org"])
def test_weak_password_is_refused_beside_its_field(client_of: Callable[..., Client], password: str) -> None:
    sent = {"firm": "Alder Wash", "name": "Ann", "email": "ann@example.org", "password": password}
    answer = client_of().post("/first-run/", sent)
    assert answer.status_code == 422
    assert "id_password_error" in answer.content.decode()
    assert not Firm.objects.exists()


def test_sign_in_takes_the_email_in_any_case_and_notes_it(world: World, client_of: Callable[..., Client]) -> None:
    client = client_of()
    answer = client.post("/sign-in/", {"username": world.crew.email.upper(), "password": PASSWORD})
    assert answer.headers["Location"] == "/"
    assert AuditLine.objects.of(world.firm).filter(person=world.crew, what="signed in").exists()
    assert client.post("/sign-out/").headers["Location"] == "/sign-in/"
    assert client.get("/").status_code == 302


def test_sign_in_goes_back_to_our_own_pages_only(world: World, client_of: Callable[..., Client]) -> None:
    sent = {"username": world.owner.email, "password": PASSWORD}
    assert client_of().post("/sign-in/", {**sent, "next": "/trail/"}).headers["Location"] == "/trail/"
    assert client_of().post("/sign-in/", {**sent, "next": "https://elsewhere.example/"}).headers["Location"] == "/"


def test_five_wrong_passwords_lock_the_person_and_nobody_else(world: World, client_of: Callable[..., Client]) -> None:
    client = client_of()
    tried = (
        world.owner.email,
        world.owner.email.upper(),
        f" {world.owner.email} ",
        world.owner.email.title(),
        world.owner.email,
    )
    statuses = [client.post("/sign-in/", {"username": email, "password": "wrong"}).status_code for email in tried]
    assert statuses == [200, 200, 200, 200, 429]
    right = {"username": world.owner.email, "password": PASSWORD}
    assert client.post("/sign-in/", right).status_code == 429
    assert client.post("/sign-in/", {"username": world.crew.email, "password": PASSWORD}).status_code == 302


def test_somebody_who_may_not_sign_in_is_out_at_once(world: World, client_of: Callable[..., Client]) -> None:
    theirs = client_of(world.crew)
    assert theirs.get("/").status_code == 200
    client_of(world.owner).post(f"/people/{world.crew.pk}/", {"role": "crew"})
    assert theirs.get("/").status_code == 302
    answer = client_of().post("/sign-in/", {"username": world.crew.email, "password": PASSWORD})
    assert answer.status_code == 200


def invited(world: World, client_of: Callable[..., Client], email: str, role: str = "planner") -> str:
    """Return the path of the link that the owner gets for an e-mail."""
    answer = client_of(world.owner).post("/people/", {"email": email, "role": role})
    text = answer.content.decode()
    start = text.index("http://localhost/join/")
    return urlsplit(text[start : text.index('"', start)]).path


def test_invitation_makes_one_person_of_the_firm_once(world: World, client_of: Callable[..., Client]) -> None:
    link = invited(world, client_of, "New@Example.org")
    assert "Alder Wash" in client_of().get(link).content.decode()
    client = client_of()
    assert client.post(link, {"name": "Nia", "password": GOOD}).headers["Location"] == "/"
    person = Person.objects.of(world.firm).get(email="new@example.org")
    assert person.role == "planner"
    assert client.get("/figures/rates/").status_code == 200
    assert client_of().get(link).status_code == 404
    assert client_of().post(link, {"name": "Again", "password": GOOD}).status_code == 404


def test_invitation_of_one_of_us_gives_a_new_password(world: World, client_of: Callable[..., Client]) -> None:
    link = invited(world, client_of, world.crew.email, "crew")
    assert client_of().post(link, {"name": "crew one", "password": GOOD}).status_code == 302
    assert Person.objects.of(world.firm).get(pk=world.crew.pk).check_password(GOOD)
    assert Person.objects.count() == 6


def test_invitation_ends_when_old_withdrawn_or_made_anew(world: World, client_of: Callable[..., Client]) -> None:
    old = new_invitation(world.firm, "one@example.org", "crew", world.owner)
    Invitation.objects.of(world.firm).filter(token_hash=token_hash(old)).update(ends=timezone.now() - timedelta(1))
    first = new_invitation(world.firm, "two@example.org", "crew", world.owner)
    second = new_invitation(world.firm, "two@example.org", "crew", world.owner)
    client = client_of()
    assert [client.get(f"/join/{token}/").status_code for token in (old, first, second)] == [404, 404, 200]
    kept = Invitation.objects.of(world.firm).get(token_hash=token_hash(second))
    client_of(world.owner).post(f"/people/invitations/{kept.pk}/withdraw/")
    assert client.get(f"/join/{second}/").status_code == 404


def test_only_the_hash_of_a_link_is_kept(world: World) -> None:
    token = new_invitation(world.firm, "one@example.org", "crew", world.owner)
    with connection.cursor() as cursor:
        cursor.execute("select * from office_invitation")
        assert token not in str(cursor.fetchall())


def test_person_of_another_firm_is_not_invited(world: World, client_of: Callable[..., Client]) -> None:
    answer = client_of(world.owner).post("/people/", {"email": world.stranger_crew.email, "role": "crew"})
    assert answer.status_code == 422
    assert Person.objects.get(pk=world.stranger_crew.pk).firm == world.other_firm


@pytest.mark.parametrize("sent", [{"role": "crew", "may_sign_in": "on"}, {"role": "owner"}])
def test_firm_keeps_an_owner(world: World, client_of: Callable[..., Client], sent: dict[str, str]) -> None:
    answer = client_of(world.owner).post(f"/people/{world.owner.pk}/", sent)
    assert answer.status_code == 422
    assert "only owner" in answer.content.decode()
    kept = Person.objects.get(pk=world.owner.pk)
    assert (kept.role, kept.is_active) == ("owner", True)


def test_new_password_ends_other_sessions(world: World, client_of: Callable[..., Client]) -> None:
    here, elsewhere = client_of(world.crew), client_of(world.crew)
    assert here.post("/my-password/", {"old": "not it", "password": GOOD}).status_code == 422
    assert here.post("/my-password/", {"old": PASSWORD, "password": GOOD}).status_code == 302
    assert here.get("/").status_code == 200
    assert elsewhere.get("/").status_code == 302


def test_trail_is_added_to_and_never_changed(world: World, client_of: Callable[..., Client]) -> None:
    client_of(world.owner).post(f"/people/{world.crew.pk}/", {"role": "planner", "may_sign_in": "on"})
    line = AuditLine.objects.of(world.firm).get(what="changed a person")
    assert (line.who, line.on) == (world.owner.name, f"{world.crew.email}: planner")
    line.what = "nothing"
    for change in (line.save, line.delete, AuditLine.objects.of(world.firm).delete):
        with pytest.raises(TypeError, match="never changed"):
            change()
    with pytest.raises(TypeError, match="never changed"):
        AuditLine.objects.of(world.firm).update(what="nothing")
    shown = client_of(world.owner).get("/trail/").content.decode()
    assert "changed a person" in shown
    assert "changed a person" not in client_of(world.stranger_owner).get("/trail/").content.decode()


def test_sheet_is_kept_in_a_cookie_and_leads_back_here_only(client_of: Callable[..., Client], db: None) -> None:
    del db
    client = client_of()
    answer = client.post("/sheet/", {"sheet": "night"}, headers={"referer": "https://elsewhere.example/x"})
    assert answer.headers["Location"] == "/"
    assert answer.cookies["sheet"].value == "night"
    answer = client.post("/sheet/", {"sheet": "<b>"}, headers={"referer": "http://localhost/people/"})
    assert answer.headers["Location"] == "http://localhost/people/"
    assert answer.cookies["sheet"].value == ""
