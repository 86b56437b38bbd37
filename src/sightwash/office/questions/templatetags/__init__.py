"""Filters of the questions' templates."""
