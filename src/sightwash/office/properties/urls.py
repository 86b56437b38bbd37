"""Addresses of the list of properties and of one property."""

from __future__ import annotations

from django.urls import path

from sightwash.office.properties import adding, views

urlpatterns = [
    path("", views.properties, name="properties"),
    path("properties/add/<slug:way>/", adding.add, name="add-property"),
    path("properties/<int:pk>/", views.property_page, name="property"),
    path("properties/<int:pk>/look/", views.property_look, name="property-look"),
    path("properties/<int:pk>/folder/", views.edit, name="property-edit"),
]
