"""All addresses of the office."""

from __future__ import annotations

from django.urls import include, path

from sightwash.office.faces import face

urlpatterns = [
    path("face/<slug:weight>.woff", face, name="face"),
    path("", include("sightwash.office.people.urls")),
    path("", include("sightwash.office.figures.urls")),
    path("", include("sightwash.office.properties.urls")),
    path("", include("sightwash.office.urls_draw")),
    path("", include("sightwash.office.urls_questions")),
    path("api/", include("sightwash.office.urls_api")),
]
handler404 = "sightwash.office.faults.not_found"
handler500 = "sightwash.office.faults.our_fault"
handler400 = "sightwash.office.faults.bad_request"
