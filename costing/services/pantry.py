"""The starter pantry: common foods with their figures, and where each figure comes from.

The tables stand in costing/pantry; SOURCES.md there says how they were made.
"""

import csv
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from functools import cache
from pathlib import Path
from typing import Any

from django.contrib.auth.models import AbstractBaseUser
from django.core.exceptions import ValidationError
from django.db import transaction

from costing.models import AllergenAnswer, Ingredient, Kitchen
from costing.services.ingredients import save_ingredient

FOLDER = Path(__file__).resolve().parent.parent / "pantry"

SHARES = ("sucrose_share", "hexose_share", "acid_share")
AS_GIVEN = ("fat_g", "saturates_g", "sugars_g", "fibre_g", "protein_g")
NUTRITION = (*AS_GIVEN, "carbohydrate_g", "salt_g")
SODIUM_TO_SALT = Decimal("2.5")
"""Regulation (EU) No 1169/2011, Annex I, point 11."""

_SOURCED = {
    "brix": ("brix",),
    "insoluble": ("insoluble_pct",),
    "shares": SHARES,
    "usable": ("usable_pct",),
    "density": ("density_kg_per_l",),
    "each": ("each_g",),
    "sulphite": ("sulphite_mg_per_kg",),
    "allergens": ("allergens",),
}
_TEXTS = ("name", "label_name", "category", "additive_class", "additive_number", "note")
_NUMBERS = (
    *("brix", "insoluble_pct", *SHARES, "ph_low", "ph_high"),
    *("usable_pct", "density_kg_per_l", "each_g", "sulphite_mg_per_kg"),
)

Row = Mapping[str, str]


@dataclass(frozen=True)
class PantryItem:
    """A food of the starter pantry, ready to be copied into a kitchen.

    values: fields of an ingredient; a figure that is not known is left out, never zero.
    allergens: group -> (answer, name to print); a group that is left out is not known yet.
    sources: field -> where its figure comes from, or why there is none.
    record: number of the USDA SR28 record, "" where none fits.
    brix_low, brix_high: usual range of the juice [Brix].
    """

    slug: str
    group: str
    name: str
    values: Mapping[str, Any]
    allergens: Mapping[str, tuple[str, str]]
    sources: Mapping[str, str]
    record: str = ""
    brix_low: Decimal | None = None
    brix_high: Decimal | None = None

    @property
    def has_nutrition(self) -> bool:
        """Whether at least one nutrient is known."""
        return any(name in self.values for name in NUTRITION)


@cache
def pantry_items() -> tuple[PantryItem, ...]:
    """Every food of the starter pantry, in the order of its groups."""
    records = {row["ndb_number"]: row for row in _table("sr28.csv")}
    sentences = {row["code"]: row["text"] for row in _table("sources.csv")}
    return tuple(
        _item(row, record=records.get(row["ndb_number"], {}), sentences=sentences)
        for row in _table("foods.csv")
    )


@transaction.atomic
def add_to_kitchen(
    kitchen: Kitchen, *, by: AbstractBaseUser | None, slugs: Iterable[str]
) -> list[Ingredient]:
    """Copy foods into a kitchen with their sources.

    An ingredient that already has the name keeps every figure and answer it has; only what is
    empty there is filled. Raises ValidationError for a food the pantry does not have.
    """
    items = {item.slug: item for item in pantry_items()}
    wanted = list(dict.fromkeys(slugs))
    unknown = [slug for slug in wanted if slug not in items]
    if unknown:
        raise ValidationError(
            f"The starter pantry has no “{unknown[0][:40]}”. Choose from the foods on the page."
        )
    present = {row.name.casefold(): row for row in Ingredient.objects.filter(kitchen=kitchen)}
    return [
        _add(kitchen, by=by, item=items[slug], present=present.get(items[slug].name.casefold()))
        for slug in wanted
    ]


def _add(
    kitchen: Kitchen,
    *,
    by: AbstractBaseUser | None,
    item: PantryItem,
    present: Ingredient | None,
) -> Ingredient:
    if present is None:
        values = {**item.values, "figure_sources": dict(item.sources)}
        return save_ingredient(kitchen, by=by, values=values, allergens=item.allergens)
    filled = _gaps(present, item)
    sources = {name: text for name, text in item.sources.items() if name in filled}
    answered = set(
        present.allergen_answers.exclude(answer=AllergenAnswer.Answer.UNKNOWN).values_list(
            "group", flat=True
        )
    )
    answers = {group: answer for group, answer in item.allergens.items() if group not in answered}
    if answers and "allergens" not in present.figure_sources:
        sources["allergens"] = item.sources["allergens"]
    if sources:
        filled["figure_sources"] = {**present.figure_sources, **sources}
    return save_ingredient(
        kitchen, by=by, ingredient=present, values=filled, allergens=answers or None
    )


def _gaps(present: Ingredient, item: PantryItem) -> dict[str, Any]:
    """What the pantry knows and the maker's ingredient leaves empty."""
    filled = {
        name: value for name, value in item.values.items() if getattr(present, name) in {None, ""}
    }
    # The three shares are one statement: the maker's one and our two would not add up.
    if not all(name in filled for name in SHARES):
        filled = {name: value for name, value in filled.items() if name not in SHARES}
    return filled


# --- Reading the tables --------------------------------------------------------------------------


def _table(name: str) -> list[dict[str, str]]:
    with (FOLDER / name).open(newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


def _item(row: Row, *, record: Row, sentences: Mapping[str, str]) -> PantryItem:
    values: dict[str, Any] = {name: row[name] for name in _TEXTS}
    values |= {name: Decimal(row[name]) for name in _NUMBERS if row[name]}
    nutrition, sources = _nutrition(record, sentences=sentences)
    for column, fields in _SOURCED.items():
        code = row[f"{column}_source"]
        if code:
            sources |= dict.fromkeys(fields, sentences[code].format(**record))
    if row["brix_low"]:
        sources["brix"] += f" Usual range {row['brix_low']} to {row['brix_high']}."
    if row["ph_low"]:
        sources |= dict.fromkeys(("ph_low", "ph_high"), sentences["ph-usual"])
    return PantryItem(
        slug=row["slug"],
        group=row["group"],
        name=row["name"],
        values=values | nutrition,
        allergens=_allergens(row["allergens"]),
        sources=sources,
        record=row["ndb_number"],
        brix_low=_number(row["brix_low"]),
        brix_high=_number(row["brix_high"]),
    )


def _number(text: str) -> Decimal | None:
    return Decimal(text) if text else None


def _nutrition(
    record: Row, *, sentences: Mapping[str, str]
) -> tuple[dict[str, Decimal], dict[str, str]]:
    """Nutrients per 100 g as a European label wants them, and where each comes from."""
    if not record:
        return {}, dict.fromkeys(NUTRITION, sentences["nutrition-none"])
    values = {name: Decimal(record[name]) for name in AS_GIVEN if record[name]}
    codes = dict.fromkeys(NUTRITION, "nutrition-missing") | dict.fromkeys(values, "nutrition")
    if record["sodium_mg"]:
        salt_g = Decimal(record["sodium_mg"]) * SODIUM_TO_SALT / 1000
        values["salt_g"] = salt_g.quantize(Decimal("0.001"), ROUND_HALF_UP)
        codes["salt_g"] = "nutrition-salt"
    if record["fibre_g"]:
        available_g = Decimal(record["carbohydrate_by_difference_g"]) - values["fibre_g"]
        if available_g < values.get("sugars_g", Decimal(0)):
            codes["carbohydrate_g"] = "nutrition-no-carbohydrate"
        else:
            values["carbohydrate_g"] = available_g
            codes["carbohydrate_g"] = "nutrition-carbohydrate"
    return values, {name: sentences[code].format(**record) for name, code in codes.items()}


def _allergens(text: str) -> dict[str, tuple[str, str]]:
    """Read `free`, `free except sulphites`, `free, contains celery:celery`, or nothing at all."""
    answers: dict[str, tuple[str, str]] = {}
    if text.startswith("free"):
        answers = dict.fromkeys(AllergenAnswer.Group.values, (AllergenAnswer.Answer.FREE.value, ""))
    if "except" in text:
        answers.pop(text.rpartition("except ")[2])
    if "contains" in text:
        group, _, named_as = text.rpartition("contains ")[2].partition(":")
        answers[group] = (AllergenAnswer.Answer.CONTAINS.value, named_as)
    return answers
