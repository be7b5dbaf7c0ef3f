"""What the start page says about labels: products that have none yet."""

from datetime import date

from django.urls import reverse

from costing.models import Kitchen, Member
from costing.views.today import Need, listed
from labels.services.designs import products_with_labels


def labels_missing(kitchen: Kitchen, member: Member, on: date) -> list[Need]:
    """One sentence naming the products without a label design, for those who may print."""
    if member.role not in {Member.Role.OWNER, Member.Role.COOK}:
        return []
    without = list(products_with_labels(kitchen).filter(label_design__isnull=True))
    if not without:
        return []
    names = listed([product.name for product in without])
    return [
        Need(
            f"{names}: no label is designed yet.",
            f"Design the label of {without[0].name}",
            reverse("label", args=[kitchen.pk, without[0].pk]),
        )
    ]
