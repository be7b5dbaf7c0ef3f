"""What was looked at for allergens that could get into a food: recorded, read, and grown old."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction
from django.db.models import Max, Q
from django.utils import timezone

from costing.models import AllergenAnswer, AuditEntry, Kitchen, Product
from costing.services.audit import CREATED, record_changes
from costing.services.saving import check
from labels.facts import ALLERGEN_GROUPS, CrossContactAnswer
from labels.models import CrossContact
from labels.services.dates import keeps_until

_TOUCHES_ALLERGENS = Q(field__startswith="allergen ") | Q(field__in=("parts", "is_compound"))


@dataclass(frozen=True)
class Assessed:
    """All assessments of a kitchen, and when what they rest on last changed.

    recipes, ingredients: last change of each by its id. arrived: when an allergen group was last
        said to be in some ingredient of the house.
    """

    rows: Sequence[CrossContact]
    recipes: Mapping[int, datetime] = field(default_factory=dict)
    ingredients: Mapping[int, datetime] = field(default_factory=dict)
    arrived: Mapping[str, datetime] = field(default_factory=dict)


def assessments(kitchen: Kitchen) -> list[CrossContact]:
    """Everything that was ever looked at, the latest first."""
    rows = CrossContact.objects.filter(kitchen=kitchen)
    return list(rows.select_related("product", "recorded_by"))


def looks_to_repeat(kitchen: Kitchen, *, on: date) -> list[CrossContact]:
    """The looks that count and are older than they may be, in one query."""
    latest: dict[tuple[int | None, str], CrossContact] = {}
    for row in CrossContact.objects.filter(kitchen=kitchen).select_related("product"):
        latest.setdefault((row.product_id, row.group), row)
    return [row for row in latest.values() if _grown_old(row, on=on)]


def read_assessed(kitchen: Kitchen) -> Assessed:
    """What answers for all products of a kitchen are made from, in four queries at most."""
    rows = assessments(kitchen)
    if not rows:
        return Assessed(())
    entries = AuditEntry.objects.filter(kitchen=kitchen)
    of_ingredients = entries.filter(_TOUCHES_ALLERGENS, subject="ingredient")
    return Assessed(
        rows=rows,
        recipes=_latest(entries.filter(subject="recipe", field="lines"), by="subject_id"),
        ingredients=_latest(of_ingredients, by="subject_id"),
        arrived={
            name.removeprefix("allergen "): at
            for name, at in _latest(
                of_ingredients.filter(new__startswith=AllergenAnswer.Answer.CONTAINS), by="field"
            ).items()
        },
    )


def _latest(entries: Any, *, by: str) -> dict[Any, datetime]:
    return dict(entries.order_by().values_list(by).annotate(Max("at")))


def answers_for(
    product_id: int,
    *,
    assessed: Assessed,
    ingredient_ids: Iterable[int],
    recipe_ids: Iterable[int],
    on: date,
) -> tuple[CrossContactAnswer, ...]:
    """What holds for one product, group by group; a group nobody looked at is left out.

    ingredient_ids, recipe_ids: all that the product is made of, its own recipe among them.
    """
    changed = [assessed.ingredients[pk] for pk in ingredient_ids if pk in assessed.ingredients]
    cooked = [assessed.recipes[pk] for pk in recipe_ids if pk in assessed.recipes]
    answers = []
    for group in ALLERGEN_GROUPS:
        row = _in_force(group, product_id=product_id, rows=assessed.rows)
        if row is None:
            continue
        reason = (
            _grown_old(row, on=on)
            or _since(row, cooked, "what goes into the recipe was changed")
            or _since(row, changed, "the allergens of an ingredient were answered anew")
            or (
                ""
                if row.product_id
                else _since(row, [assessed.arrived.get(group)], "something with it came in")
            )
        )
        answers.append(
            CrossContactAnswer(
                group=group,
                remains=row.outcome == CrossContact.Outcome.REMAINS,
                named_as=row.named_as,
                assessed=f"{row.assessed_by}, {_told(row.assessed_on)}",
                outdated_because=reason,
            )
        )
    return tuple(answers)


def _in_force(group: str, *, product_id: int, rows: Iterable[CrossContact]) -> CrossContact | None:
    """The product's own latest row, unless the kitchen was found worse on a later day."""
    of_group = [row for row in rows if row.group == group]
    own = next((row for row in of_group if row.product_id == product_id), None)
    shared = next((row for row in of_group if row.product_id is None), None)
    if own is None or shared is None:
        return own or shared
    is_worse = shared.outcome == CrossContact.Outcome.REMAINS
    return shared if is_worse and shared.assessed_on > own.assessed_on else own


def _grown_old(row: CrossContact, *, on: date) -> str:
    day = _told(row.assessed_on)
    if on > _a_year_after(row.assessed_on):
        return f"it was looked at on {day}, more than a year ago."
    if on > row.review_by:
        return f"it was to be looked at again by {_told(row.review_by)}."
    return ""


def _told(day: date) -> str:
    return f"{day.day} {day:%B %Y}"


def _a_year_after(day: date) -> date:
    return keeps_until(day, months=12, days=None) or day


def _since(row: CrossContact, moments: Iterable[datetime | None], what: str) -> str:
    """Why a change makes an assessment old: made after it was recorded, or on a later day."""
    for at in moments:
        day = at.astimezone(timezone.get_current_timezone()).date() if at else None
        if at and day and (at > row.recorded_at or day > row.assessed_on):
            return f"{what} on {_told(day)}, after somebody looked."
    return ""


@transaction.atomic
def record_assessment(
    kitchen: Kitchen,
    *,
    by: Any,
    on: date,
    product: Product | None,
    groups: Iterable[str],
    values: Mapping[str, Any],
) -> list[CrossContact]:
    """Write down one look at some allergen groups, of a product or of the whole kitchen.

    values: outcome, named_as, looked_at, assessed_by, assessed_on and review_by (empty: a year).
    Raises ValidationError with the faults by field.
    """
    assessed_on, review_by = values["assessed_on"], values.get("review_by")
    within = _a_year_after(assessed_on)
    errors = {}
    if assessed_on > on:
        errors["assessed_on"] = "This day has not come yet. Write down a look that was taken."
    if review_by and review_by > within:
        errors["review_by"] = f"Look again within a year: by {_told(within)} at the latest."
    if values["outcome"] == CrossContact.Outcome.REMAINS and not values["named_as"].strip():
        errors["named_as"] = "Say which it is: the word to print on the label."
    wanted = list(dict.fromkeys(groups))
    if not wanted:
        errors["groups"] = "Say for which allergens somebody looked."
    if errors:
        raise ValidationError(errors)
    rows = []
    for group in wanted:
        row = CrossContact(
            kitchen=kitchen,
            product=product,
            group=group,
            recorded_by=by,
            **{**values, "review_by": review_by or within},
        )
        check(row)
        row.save()
        record_changes(row, by=by, before={}, after={CREATED: str(row)})
        rows.append(row)
    return rows
