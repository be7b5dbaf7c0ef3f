"""Registers the labels package with Django."""

from django.apps import AppConfig


class LabelsConfig(AppConfig):
    """What the label must say, and the sheet it is printed on."""

    name = "labels"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        """The start page belongs to costing, which does not know of labels; so labels joins in."""
        from costing.views.today import watchers
        from labels.views.attention import labels_missing, looks_overdue

        watchers.extend((labels_missing, looks_overdue))
