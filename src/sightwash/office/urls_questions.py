"""Addresses of five of the six questions, of visits, offers, papers, records, and of keys and texts of the firm."""

from __future__ import annotations

from django.urls import URLPattern, URLResolver, path

from sightwash.office.questions import (
    assumption_views,
    crew_views,
    key_views,
    offer_views,
    record_views,
    views,
    visit_views,
)

urlpatterns: list[URLPattern | URLResolver] = [
    path("properties/<int:pk>/who-reaches-it/", views.who_reaches_it, name="who-reaches-it"),
    path("properties/<int:pk>/with-what/", views.with_what, name="with-what"),
    path("properties/<int:pk>/how-long/", views.how_long, name="how-long"),
    path("properties/<int:pk>/how-long/night/", views.how_long_night, name="how-long-night"),
    path("properties/<int:pk>/what-does-it-cost/", views.what_does_it_cost, name="what-does-it-cost"),
    path("properties/<int:pk>/what-does-it-cost/options/", views.cost_options, name="cost-options"),
    path("properties/<int:pk>/is-it-done/", record_views.is_it_done, name="is-it-done"),
    path("properties/<int:pk>/part/", views.part_of_property, name="part"),
    path("properties/<int:pk>/wall/", views.wall_large, name="wall"),
    path("properties/<int:pk>/assumptions/", assumption_views.assumptions, name="assumptions"),
    path("properties/<int:pk>/visits/", visit_views.visits, name="visits"),
    path("visits/<int:pk>/", visit_views.visit_page, name="visit"),
    path("visits/<int:pk>/step/", visit_views.visit_step, name="visit-step"),
    path("visits/<int:pk>/next/", visit_views.visit_next, name="visit-next"),
    path("visits/<int:pk>/account/", visit_views.visit_account, name="visit-account"),
    path("visits/<int:pk>/invoices/<str:number>/", visit_views.visit_invoice, name="visit-invoice"),
    path("visits/<int:pk>/offer/", offer_views.visit_offer, name="visit-offer"),
    path("visits/<int:pk>/crew-sheet/", crew_views.visit_crew_sheet, name="visit-crew-sheet"),
    path("visits/<int:pk>/record/<slug:what>/", record_views.record, name="record"),
    path("photographs/<int:pk>/", record_views.photograph, name="photograph"),
    path("offers/<int:pk>/", offer_views.offer_page, name="offer"),
    path("offers/<int:pk>/answer/", offer_views.offer_answer, name="offer-answer"),
    path("offers/<int:pk>/papers/<str:name>", offer_views.offer_paper, name="offer-paper"),
    path("keys/", key_views.keys, name="keys"),
    path("keys/<int:pk>/end/", key_views.key_end, name="key-end"),
    path("texts/", key_views.texts, name="texts"),
    path("revisions/<slug:kind>/", key_views.revisions, name="revisions"),
]
