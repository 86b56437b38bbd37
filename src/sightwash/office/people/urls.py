"""Addresses of sign-in, members and the trail."""

from __future__ import annotations

from django.urls import path

from sightwash.office.people import joining, members, views

urlpatterns = [
    path("sign-in/", views.sign_in, name="sign-in"),
    path("sign-out/", views.sign_out, name="sign-out"),
    path("first-run/", views.first_run, name="first-run"),
    path("sheet/", views.choose_sheet, name="sheet"),
    path("join/<str:token>/", joining.join, name="join"),
    path("my-password/", views.my_password, name="my-password"),
    path("people/", members.people, name="people"),
    path("people/<int:pk>/", members.member, name="person"),
    path("people/invitations/<int:pk>/withdraw/", members.withdraw, name="withdraw-invitation"),
    path("trail/", members.trail, name="trail"),
]
