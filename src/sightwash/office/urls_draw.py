"""Addresses of the draw pages and of the first question."""

from __future__ import annotations

from django.urls import URLPattern, URLResolver, path

from sightwash.office.draw import look_views, views

urlpatterns: list[URLPattern | URLResolver] = [
    path("properties/<int:pk>/draw/", views.draw, name="draw"),
    path("properties/<int:pk>/sheet/", views.sheet, name="sheet-data"),
    path("properties/<int:pk>/operations/", views.operations, name="operations"),
    path("properties/<int:pk>/picture/", views.picture, name="plan-picture"),
    path("properties/<int:pk>/picture/scale/", views.picture_scale, name="plan-picture-scale"),
    path("properties/<int:pk>/who-sees-it/", look_views.who_sees_it, name="who-sees-it"),
    path("properties/<int:pk>/who-sees-it/frame/", look_views.look_frame, name="look-frame"),
    path("properties/<int:pk>/who-sees-it/missed/", look_views.look_missed, name="look-missed"),
]
