"""Kitchens, the people in them, and the one way to fetch a row of a kitchen."""

from collections.abc import Iterable
from typing import Any, TypeVar

from django.contrib.auth.models import AbstractBaseUser, AnonymousUser
from django.db.models import QuerySet
from django.http import Http404

from costing.models import AuditEntry, Kitchen, KitchenOwned, Member
from costing.reckoning.book import KitchenRecord

Row = TypeVar("Row", bound=KitchenOwned)


def this_kitchens(
    model: type[Row], *, kitchen: Kitchen, pk: int, related: tuple[str, ...] = ()
) -> Row:
    """The row `pk` of this kitchen; another kitchen's row does not exist (404)."""
    rows: QuerySet[Any] = model._default_manager.filter(kitchen=kitchen, pk=pk)
    found = rows.select_related(*related).first() if related else rows.first()
    if found is None:
        raise Http404(f"No such {model._meta.verbose_name} in this kitchen.")
    return found


def possible_ids(ids: Iterable[int]) -> set[int]:
    """Without numbers that no row can have: typed into an address, they would stop the database."""
    return {pk for pk in ids if 0 < pk < 2**63}


def membership(user: AbstractBaseUser | AnonymousUser, kitchen_id: int) -> Member | None:
    """The person's place in a kitchen, kitchen loaded with it; None for a stranger."""
    if not user.is_authenticated:
        return None
    return (
        Member.objects.filter(user_id=user.pk, kitchen_id=kitchen_id)
        .select_related("kitchen")
        .first()
    )


def memberships(user: AbstractBaseUser | AnonymousUser) -> list[Member]:
    """Every kitchen a person works in, by its name."""
    if not user.is_authenticated:
        return []
    places = Member.objects.filter(user_id=user.pk).select_related("kitchen")
    return list(places.order_by("kitchen__trading_name", "pk"))


def people(kitchen: Kitchen) -> list[Member]:
    """Who works in a kitchen."""
    return list(
        Member.objects.filter(kitchen=kitchen).select_related("user").order_by("user__username")
    )


def changes_of(subject: Kitchen | KitchenOwned, *, limit: int = 50) -> list[AuditEntry]:
    """The latest changes of one row, newest first."""
    kitchen_id = subject.pk if isinstance(subject, Kitchen) else subject.kitchen_id
    entries = AuditEntry.objects.filter(
        kitchen_id=kitchen_id, subject=subject._meta.model_name, subject_id=subject.pk
    )
    return list(entries.select_related("by")[:limit])


def kitchen_record(kitchen: Kitchen) -> KitchenRecord:
    """The kitchen's rates and conditions, ready for sums."""
    return KitchenRecord(
        currency=kitchen.currency,
        altitude_m=kitchen.altitude_m,
        labour_rate_per_h=kitchen.labour_rate_per_h,
        overhead_rate_per_h=kitchen.overhead_rate_per_h,
        energy_price_per_kwh=kitchen.energy_price_per_kwh,
        hob_efficiency_pct=kitchen.hob_efficiency_pct,
        start_temperature_c=kitchen.start_temperature_c,
        water_reading_c=kitchen.water_reading_c,
    )


def kitchens_called(text: str) -> list[Kitchen]:
    """Kitchens by number or by name, however it is capitalised; all of them for an empty text."""
    every = list(Kitchen.objects.order_by("trading_name", "pk"))
    wanted = " ".join(text.split()).casefold()
    if not wanted:
        return every
    named = [kitchen for kitchen in every if kitchen.trading_name.casefold() == wanted]
    return named or [kitchen for kitchen in every if str(kitchen.pk) == wanted]
