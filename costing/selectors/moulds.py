"""The moulds of a kitchen."""

from django.db.models import QuerySet

from costing.models import Kitchen, Mould


def moulds_of(kitchen: Kitchen, *, with_archived: bool = False) -> QuerySet[Mould]:
    """The kitchen's moulds by name; those no longer used only when asked for."""
    rows = Mould.objects.filter(kitchen=kitchen)
    return rows if with_archived else rows.filter(is_archived=False)
