"""Who changed what, when: one row per changed figure, written in the same transaction."""

from django.conf import settings
from django.db import models

from costing.models.kitchens import KitchenOwned


class AuditEntry(KitchenOwned):
    """One change of one field: the old value and the new one."""

    at = models.DateTimeField(auto_now_add=True)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    subject = models.CharField(max_length=40)
    subject_id = models.BigIntegerField()
    field = models.CharField(max_length=60)
    old = models.TextField(blank=True)
    new = models.TextField(blank=True)

    class Meta:
        ordering = ("-at", "-id")
        indexes = (models.Index(fields=("kitchen", "subject", "subject_id"), name="audit_subject"),)
