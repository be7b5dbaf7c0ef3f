"""Ingredients and packaging: saved with their allergen answers and their own parts."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.contrib.auth.models import AbstractBaseUser
from django.core.exceptions import ValidationError
from django.db import transaction

from costing.models import AllergenAnswer, CompoundPart, Ingredient, Kitchen
from costing.selectors.kitchens import possible_ids
from costing.services.audit import record_changes
from costing.services.saving import as_error, check, prefixed, refuse_strangers, save_checked

SHARES = ("sucrose_share", "hexose_share", "acid_share")


@dataclass(frozen=True)
class PartInput:
    """One ingredient of a bought-in ingredient; its share may be unknown [% of the whole]."""

    ingredient_id: int
    share_pct: Decimal | None = None


@transaction.atomic
def save_ingredient(
    kitchen: Kitchen,
    *,
    by: AbstractBaseUser | None,
    ingredient: Ingredient | None = None,
    values: Mapping[str, Any],
    allergens: Mapping[str, tuple[str, str]] | None = None,
    parts: Sequence[PartInput] | None = None,
) -> Ingredient:
    """Save an ingredient whole: `None` for allergens or parts leaves those as they are.

    allergens: group -> (answer, name to print). Faults come by field; those of an answer under
    "allergens", those of a part under "parts".
    """
    refuse_strangers(kitchen, ingredient)
    subject = ingredient or Ingredient(kitchen=kitchen)
    saved = save_checked(subject, by=by, values=values)
    _check_shares(saved)
    if allergens is not None:
        _answer(saved, by=by, answers=allergens)
    if parts is not None:
        _replace_parts(saved, by=by, parts=parts)
    return saved


@transaction.atomic
def answer_none_of_the_allergens(ingredient: Ingredient, *, by: AbstractBaseUser | None) -> None:
    """Somebody looked and found none: every group not yet answered becomes "does not contain"."""
    known = set(
        ingredient.allergen_answers.exclude(answer=AllergenAnswer.Answer.UNKNOWN).values_list(
            "group", flat=True
        )
    )
    free = (AllergenAnswer.Answer.FREE.value, "")
    answers = {group: free for group in AllergenAnswer.Group.values if group not in known}
    _answer(ingredient, by=by, answers=answers)


def add_from_pantry(
    kitchen: Kitchen, *, by: AbstractBaseUser | None, slugs: Iterable[str]
) -> list[Ingredient]:
    """Copy ingredients of the starter pantry into the kitchen, with their sources."""
    from costing.services import pantry  # it saves through this module

    return pantry.add_to_kitchen(kitchen, by=by, slugs=slugs)


def _check_shares(ingredient: Ingredient) -> None:
    shares = [getattr(ingredient, name) for name in SHARES]
    if None in shares:
        return  # the constraint already asked for all three or none
    total = sum(shares, start=Decimal(0))
    if abs(total - 1) > Decimal("0.001"):
        raise as_error(
            "sucrose_share",
            f"The shares of sucrose, glucose with fructose, and acids add up to {total:f};"
            " they are parts of one whole and must add up to 1.",
        )


def _answer(
    ingredient: Ingredient,
    *,
    by: AbstractBaseUser | None,
    answers: Mapping[str, tuple[str, str]],
) -> None:
    rows = {row.group: row for row in ingredient.allergen_answers.all()}
    before: dict[str, str] = {}
    after: dict[str, str] = {}
    for group, (answer, named_as) in answers.items():
        row = rows.get(group) or AllergenAnswer(
            kitchen_id=ingredient.kitchen_id, ingredient=ingredient, group=group
        )
        before[f"allergen {group}"] = _told(row) if row.pk else ""
        row.answer, row.named_as = answer, named_as.strip()
        try:
            check(row, skip=("kitchen", "ingredient"))
        except ValidationError as error:
            label = dict(AllergenAnswer.Group.choices).get(group, group)
            raise prefixed(error, where=str(label), field="allergens") from error
        row.save()
        after[f"allergen {group}"] = _told(row)
    record_changes(ingredient, by=by, before=before, after=after)


def _told(row: AllergenAnswer) -> str:
    return f"{row.answer} ({row.named_as})" if row.named_as else row.answer


def _replace_parts(
    compound: Ingredient, *, by: AbstractBaseUser | None, parts: Sequence[PartInput]
) -> None:
    known = {
        row.pk: row
        for row in Ingredient.objects.filter(
            kitchen_id=compound.kitchen_id,
            pk__in=possible_ids(part.ingredient_id for part in parts),
        )
    }
    if any(part.ingredient_id not in known for part in parts):
        raise as_error("parts", "One of the parts is not an ingredient of this kitchen.")
    if len(known) < len(parts):
        raise as_error("parts", "An ingredient is listed twice; add the two shares up.")
    total = sum((part.share_pct or Decimal(0) for part in parts), start=Decimal(0))
    if total > 100:
        raise as_error("parts", f"The shares add up to {total:f} %, more than the whole.")
    _refuse_a_loop(compound, parts=list(known.values()))
    before = _parts_told(compound)
    compound.parts.all().delete()
    for position, part in enumerate(parts):
        row = CompoundPart(
            kitchen_id=compound.kitchen_id,
            compound=compound,
            part=known[part.ingredient_id],
            share_pct=part.share_pct,
            position=position,
        )
        try:
            check(row, skip=("kitchen", "compound", "part"))
        except ValidationError as error:
            raise prefixed(error, where=row.part.name, field="parts") from error
        row.save()
    record_changes(compound, by=by, before=before, after=_parts_told(compound))


def _parts_told(compound: Ingredient) -> dict[str, str]:
    rows = compound.parts.select_related("part")
    told = [
        f"{row.part.name} {row.share_pct if row.share_pct is not None else '?'} %" for row in rows
    ]
    return {"parts": ", ".join(told)}


def _refuse_a_loop(compound: Ingredient, *, parts: list[Ingredient]) -> None:
    """An ingredient cannot be part of itself, not even by way of others."""
    below: dict[int, list[CompoundPart]] = {}
    for link in CompoundPart.objects.filter(kitchen_id=compound.kitchen_id).select_related("part"):
        below.setdefault(link.compound_id, []).append(link)
    waiting = [(part, [compound.name, part.name]) for part in parts]
    seen: set[int] = set()
    while waiting:
        part, path = waiting.pop()
        if part.pk == compound.pk:
            raise as_error("parts", f"{' contains '.join(path)}: that goes round in a circle.")
        if part.pk in seen:
            continue
        seen.add(part.pk)
        waiting += [(link.part, [*path, link.part.name]) for link in below.get(part.pk, ())]
