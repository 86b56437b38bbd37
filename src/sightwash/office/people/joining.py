"""Taking up an invitation: a name and a password, and the person belongs to the firm."""

from __future__ import annotations

from django.contrib.auth import login
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.cache import never_cache

from sightwash.office.access import open_page
from sightwash.office.models import Invitation, Person
from sightwash.office.people.forms import JoinForm
from sightwash.office.people.invitations import open_invitation
from sightwash.office.trail import note


@open_page
@never_cache
def join(request: HttpRequest, token: str) -> HttpResponse:
    """Make the invited person, or give one who lost the password a new one."""
    invitation = open_invitation(token)
    if invitation is None:
        return render(request, "office/people/no_invitation.html", status=404)
    known = Person.objects.of(invitation.firm).filter(email=invitation.email).first()
    form = JoinForm(request.POST or None, email=invitation.email, initial={"name": known.name if known else ""})
    if request.method == "POST" and form.is_valid():
        person = _joined(invitation, known, form.cleaned_data["name"], form.cleaned_data["password"])
        if person is not None:
            login(request, person, "django.contrib.auth.backends.ModelBackend")
            return redirect("properties")
        return render(request, "office/people/no_invitation.html", status=404)
    return render(request, "office/people/join.html", {"form": form, "invitation": invitation})


@transaction.atomic
def _joined(invitation: Invitation, known: Person | None, name: str, password: str) -> Person | None:
    """Return the person; None when somebody else used the link in the same moment."""
    if not Invitation.objects.of(invitation.firm).filter(pk=invitation.pk, used=None).update(used=timezone.now()):
        return None
    if known is None:
        person = Person.objects.create_person(invitation.firm, invitation.email, name, password, invitation.role)
        note(person, "joined the firm", f"as {invitation.role}")
        return person
    known.name, known.role, known.is_active = name, invitation.role, True
    known.set_password(password)
    known.save()
    note(known, "took up an invitation", f"as {invitation.role}")
    return known
