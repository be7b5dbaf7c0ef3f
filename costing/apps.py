"""Registers the costing package with Django."""

from django.apps import AppConfig


class CostingConfig(AppConfig):
    """What a kilo costs."""

    name = "costing"
    default_auto_field = "django.db.models.BigAutoField"
