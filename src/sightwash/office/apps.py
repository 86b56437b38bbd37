"""The office as a Django application."""

from __future__ import annotations

from django.apps import AppConfig


class OfficeConfig(AppConfig):
    """Names the application."""

    name = "sightwash.office"
    label = "office"
    verbose_name = "Sightwash office"
    default_auto_field = "django.db.models.BigAutoField"
