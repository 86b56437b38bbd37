"""Addresses of the firm's figures."""

from __future__ import annotations

from django.urls import path

from sightwash.office.figures import views

urlpatterns = [
    path("figures/", views.figures, name="figures"),
    path("figures/<slug:kind>/", views.figures_of, name="figures-of"),
    path("figures/<slug:kind>/whole/", views.whole_document, name="figures-whole"),
]
