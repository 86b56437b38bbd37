"""The people of the firm, what each may do, and the trail of what was done: the owner's pages."""

from __future__ import annotations

from django.contrib import messages
from django.core.paginator import Paginator
from django.db import transaction
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone

from sightwash.office.access import PersonRequest, firm_object_or_404, page
from sightwash.office.models import AuditLine, Firm, Invitation, Person
from sightwash.office.people.forms import InviteForm, RoleForm
from sightwash.office.people.invitations import new_invitation
from sightwash.office.trail import note


@page("owner", post=("owner",))
def people(request: PersonRequest) -> HttpResponse:
    """Show the people and the open invitations; make an invitation and show its link."""
    firm = request.user.firm
    form = InviteForm(request.POST or None, firm=firm)
    link = ""
    if request.method == "POST" and form.is_valid():
        email, role = form.cleaned_data["email"], form.cleaned_data["role"]
        with transaction.atomic():
            token = new_invitation(firm, email, role, request.user)
            note(request.user, "invited somebody", f"{email} as {role}")
        link = request.build_absolute_uri(reverse("join", args=[token]))
    waiting = Invitation.objects.of(firm).filter(used=None, ends__gt=timezone.now()).order_by("-made")
    found = Person.objects.of(firm).order_by("name", "pk")
    return render(
        request,
        "office/people/people.html",
        {
            "people": found,
            "waiting": waiting,
            "form": form,
            "link": link,
            "invited": request.POST.get("email", ""),
            "section": "people",
        },
        status=422 if form.errors else 200,
    )


@page("owner", post=("owner",))
def member(request: PersonRequest, pk: int) -> HttpResponse:
    """Show one person; change the role, or end or restore the access."""
    person = firm_object_or_404(request, Person, pk)
    form = RoleForm(request.POST or None, initial={"role": person.role, "may_sign_in": person.is_active})
    if request.method == "POST" and form.is_valid():
        role, active = form.cleaned_data["role"], form.cleaned_data["may_sign_in"]
        if _changed(request.user, person, role, active):
            messages.success(request, f"{person.name}: {role}{'' if active else ', may not sign in'}.")
            return redirect("people")
        form.add_error(None, "This is the only owner. Make somebody else an owner first.")
    context = {"form": form, "member": person, "section": "people"}
    return render(request, "office/people/person.html", context, status=422 if form.errors else 200)


@transaction.atomic
def _changed(by: Person, person: Person, role: str, active: bool) -> bool:
    """Change a person; False where the firm would be left without an owner."""
    Firm.objects.select_for_update().get(pk=by.firm_id)
    owners = Person.objects.of(by.firm).filter(role=Person.Role.OWNER, is_active=True)
    stays_owner = active and role == Person.Role.OWNER
    if not stays_owner and not owners.exclude(pk=person.pk).exists():
        return False
    person.role, person.is_active = role, active
    person.save(update_fields=["role", "is_active"])
    note(by, "changed a person", f"{person.email}: {role}{'' if active else ', may not sign in'}")
    return True


@page(post=("owner",))
def withdraw(request: PersonRequest, pk: int) -> HttpResponse:
    """End an invitation that nobody took up."""
    invitation = firm_object_or_404(request, Invitation, pk)
    with transaction.atomic():
        Invitation.objects.of(request.user.firm).filter(pk=pk, used=None).update(ends=timezone.now())
        note(request.user, "withdrew an invitation", invitation.email)
    messages.success(request, f"The invitation for {invitation.email} no longer works.")
    return redirect("people")


@page("owner")
def trail(request: PersonRequest) -> HttpResponse:
    """Show who did what and when, latest first."""
    lines = AuditLine.objects.of(request.user.firm)
    return render(
        request,
        "office/people/trail.html",
        {"lines": Paginator(lines, 100).get_page(request.GET.get("page")), "section": "trail"},
    )
