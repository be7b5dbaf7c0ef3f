"""Registers the labels package with Django."""

from django.apps import AppConfig


class LabelsConfig(AppConfig):
    """What the label must say, and the sheet it is printed on."""

    name = "labels"
    default_auto_field = "django.db.models.BigAutoField"
