"""Forms of people."""

from __future__ import annotations

from typing import Any

from django import forms
from django.contrib.auth import password_validation
from django.contrib.auth.forms import AuthenticationForm
from django.core.exceptions import ValidationError

from sightwash.office.models import Firm, Person


class SignInForm(AuthenticationForm):
    """E-mail and password."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["username"].label = "E-mail"
        self.fields["username"].widget = forms.EmailInput(attrs={"autocomplete": "username", "autofocus": True})
        self.error_messages["invalid_login"] = "E-mail and password do not belong together. Check both."


class _PasswordRules(forms.Form):
    """Holds a new password against the rules, with the name and the e-mail at hand."""

    def person(self, found: dict[str, Any]) -> Person:
        """Return the person whose password it is to be."""
        return Person(name=found.get("name", ""), email=found.get("email", ""))

    def clean(self) -> dict[str, Any]:
        """Put what is wrong beside the password."""
        found = super().clean() or self.cleaned_data
        password = found.get("password")
        if password:
            try:
                password_validation.validate_password(password, self.person(found))
            except ValidationError as error:
                self.add_error("password", error)
        return found


def _name() -> forms.CharField:
    return forms.CharField(max_length=120, label="Your name", widget=forms.TextInput(attrs={"autocomplete": "name"}))


def _password(label: str = "Password") -> forms.CharField:
    return forms.CharField(
        label=label,
        strip=False,
        help_text="Ten characters or more; not only digits, not a common one, not your name.",
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
    )


class FirstRunForm(_PasswordRules):
    """The firm and its owner."""

    firm = forms.CharField(
        max_length=120, label="Name of the firm", widget=forms.TextInput(attrs={"autocomplete": "organization"})
    )
    name = _name()
    email = forms.EmailField(label="E-mail", widget=forms.EmailInput(attrs={"autocomplete": "username"}))
    password = _password()


class JoinForm(_PasswordRules):
    """The name and the password of somebody who was invited."""

    name = _name()
    password = _password()

    def __init__(self, *args: Any, email: str, **kwargs: Any) -> None:
        self.email = email
        super().__init__(*args, **kwargs)

    def person(self, found: dict[str, Any]) -> Person:
        """Return the person whose password it is to be."""
        return Person(name=found.get("name", ""), email=self.email)


class PasswordForm(_PasswordRules):
    """The password one has, and the one that takes its place."""

    old = forms.CharField(
        label="Password so far", strip=False, widget=forms.PasswordInput(attrs={"autocomplete": "current-password"})
    )
    password = _password("New password")

    def __init__(self, *args: Any, owner: Person, **kwargs: Any) -> None:
        self.owner = owner
        super().__init__(*args, **kwargs)

    def person(self, found: dict[str, Any]) -> Person:
        """Return the person whose password it is to be."""
        del found
        return self.owner

    def clean_old(self) -> str:
        """Refuse when the present password is not known."""
        old = str(self.cleaned_data["old"])
        if not self.owner.check_password(old):
            raise ValidationError("This is not the password so far.")
        return old


class InviteForm(forms.Form):
    """Who is invited, and as what."""

    email = forms.EmailField(label="E-mail", help_text="The person signs in with it. Nothing is sent to it.")
    role = forms.ChoiceField(
        label="Role",
        choices=[
            (Person.Role.CREW, "crew: sees the work and ticks it off"),
            (Person.Role.PLANNER, "planner: measures, plans and offers"),
            (Person.Role.OWNER, "owner: all of it, and the people"),
        ],
    )

    def __init__(self, *args: Any, firm: Firm, **kwargs: Any) -> None:
        self.firm = firm
        super().__init__(*args, **kwargs)

    def clean_email(self) -> str:
        """Refuse an e-mail that somebody elsewhere signs in with; one of our own people gets a new password."""
        email = str(self.cleaned_data["email"]).strip().lower()
        if Person.objects.filter(email=email).exclude(firm=self.firm).exists():
            raise ValidationError("This e-mail cannot be invited. Use another one.")
        return email


class RoleForm(forms.Form):
    """What a person of the firm may do."""

    role = forms.ChoiceField(label="Role", choices=Person.Role.choices)
    may_sign_in = forms.BooleanField(label="May sign in", required=False)
