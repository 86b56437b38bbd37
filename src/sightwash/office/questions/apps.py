"""The questions part as a Django application with tables of its own."""

from __future__ import annotations

from django.apps import AppConfig


class QuestionsConfig(AppConfig):
    """Names the application."""

    name = "sightwash.office.questions"
    label = "questions"
    verbose_name = "Questions, visits, offers"
    default_auto_field = "django.db.models.BigAutoField"
