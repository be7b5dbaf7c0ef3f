"""What the start page says about labels: products that have none yet."""

from datetime import date

from django.urls import reverse

from costing.models import Kitchen, Member
from costing.views.today import Need, listed
from labels.services.cross_contact import looks_to_repeat
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


def looks_overdue(kitchen: Kitchen, member: Member, on: date) -> list[Need]:
    """One sentence on looks at cross-contact that have grown old, for those who may take them."""
    if member.role not in {Member.Role.OWNER, Member.Role.COOK}:
        return []
    old = looks_to_repeat(kitchen, on=on)
    if not old:
        return []
    groups = dict.fromkeys(row.get_group_display().lower() for row in old)
    return [
        Need(
            f"Cross-contact was looked at too long ago: {listed(list(groups))}.",
            "Look again and write it down",
            reverse("label_cross_contact", args=[kitchen.pk]),
        )
    ]
