"""First run, sign-in and sign-out."""

from __future__ import annotations

from typing import Any, cast

from django.contrib import messages
from django.contrib.auth import login, logout, update_session_auth_hash
from django.contrib.auth.views import LoginView
from django.db import transaction
from django.http import HttpRequest, HttpResponse, HttpResponseNotAllowed, HttpResponseRedirect
from django.http.response import HttpResponseBase
from django.shortcuts import redirect, render
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_POST

from sightwash.office.access import EVERYONE, PersonRequest, open_page, page
from sightwash.office.context import SHEET_COOKIE, SHEETS
from sightwash.office.firms import new_firm
from sightwash.office.models import Person
from sightwash.office.people.forms import FirstRunForm, PasswordForm, SignInForm
from sightwash.office.trail import note


class _SignIn(LoginView):
    template_name = "office/people/sign_in.html"
    authentication_form = SignInForm
    redirect_authenticated_user = True

    def form_valid(self, form: Any) -> HttpResponse:
        """Open the session and note it."""
        answer = super().form_valid(form)
        note(cast(Person, self.request.user), "signed in")
        return answer


_sign_in = _SignIn.as_view()


@open_page
def sign_in(request: HttpRequest) -> HttpResponseBase:
    """Ask for e-mail and password; an office without anybody makes its owner first."""
    if not Person.objects.exists():
        return redirect("first-run")
    return _sign_in(request)


@open_page
@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    """End the session."""
    logout(request)
    return redirect("sign-in")


def typed_email(request: HttpRequest, credentials: dict[str, Any] | None = None) -> str:
    """Return the e-mail that somebody tries, in small letters: another case is no new set of tries."""
    typed = (credentials or request.POST).get("username")
    return str(typed or "").strip().lower()[:255]


def too_many_tries(request: HttpRequest, *_args: Any, **_kwargs: Any) -> HttpResponse:
    """Answer sign-in after too many wrong passwords."""
    return render(request, "office/people/too_many_tries.html", status=429)


@open_page
def first_run(request: HttpRequest) -> HttpResponse:
    """Make the firm and its owner, once."""
    if Person.objects.exists():
        return redirect("sign-in")
    form = FirstRunForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        made = form.cleaned_data
        with transaction.atomic():
            firm = new_firm(made["firm"])
            owner = Person.objects.create_person(firm, made["email"], made["name"], made["password"], Person.Role.OWNER)
            note(owner, "made the firm", firm.name)
        login(request, owner, "django.contrib.auth.backends.ModelBackend")
        return redirect("properties")
    return render(request, "office/people/first_run.html", {"form": form}, status=422 if form.errors else 200)


@page(*EVERYONE, post=EVERYONE)
def my_password(request: PersonRequest) -> HttpResponse:
    """Change one's own password; other sessions of the person end."""
    form = PasswordForm(request.POST or None, owner=request.user)
    if request.method == "POST" and form.is_valid():
        with transaction.atomic():
            request.user.set_password(form.cleaned_data["password"])
            request.user.save(update_fields=["password"])
            note(request.user, "changed the own password")
        update_session_auth_hash(request, request.user)
        messages.success(request, "The password is changed. Everywhere else you are signed out.")
        return redirect("properties")
    return render(request, "office/people/my_password.html", {"form": form}, status=422 if form.errors else 200)


@open_page
def choose_sheet(request: HttpRequest) -> HttpResponse:
    """Keep the choice between the day sheet and the night sheet, then go back."""
    if request.method != "POST":
        return HttpResponseNotAllowed(["POST"])
    back = request.headers.get("Referer", "")
    safe = url_has_allowed_host_and_scheme(back, {request.get_host()}, require_https=request.is_secure())
    answer = HttpResponseRedirect(back if safe else "/")
    chosen = request.POST.get("sheet", "")
    if chosen in SHEETS:
        answer.set_cookie(SHEET_COOKIE, chosen, max_age=365 * 24 * 3600, samesite="Lax", httponly=True)
    else:
        answer.delete_cookie(SHEET_COOKIE)
    return answer
