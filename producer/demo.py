"""The whole demo: the invented kitchen, and the labels of what it sells."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from django.db import transaction

from costing.models import Ingredient, Kitchen, Member, Product, Recipe
from costing.services.demo import load_demo_kitchen
from labels.models import LabelDesign
from labels.services.designs import save_design

SMALL_MAKER = LabelDesign.NoNutrition.SMALL_MAKER
"""This kitchen's own answer; whether it is true of another is for that maker to say."""

DECLARED = LabelDesign.NoNutrition.DECLARED
"""One that goes to a shop farther off, so it declares."""


@dataclass(frozen=True)
class Look:
    """The label of one product. quantified: ingredient or preparation -> why it is declared."""

    values: Mapping[str, Any]
    quantified: Mapping[str, str]


_EVERY = {
    "brand_name": "Rookfold Kitchen",
    "market": "eu",
    "nutrition_exemption": SMALL_MAKER,
    "groups_spices": False,
}
_PIECE = {
    **_EVERY,
    "layout": LabelDesign.Layout.QUIET,
    "storage": "Keep wrapped, in a cool and dry place.",
    "storage_after_opening": "Once opened keep in the fridge and eat within 4 weeks.",
    "shelf_life_months": 9,
    "largest_surface_cm2": Decimal("25.0"),  # the piece is 50 x 50 mm
    "sheet_code": "a4-3x7-63.5x38.1",
}
_JAR = {
    **_EVERY,
    "layout": LabelDesign.Layout.TWO_PANEL,
    "storage": "Keep in a cool, dark place.",
    "storage_after_opening": "Once opened keep in the fridge and use within 6 weeks.",
    "shelf_life_months": 18,
    "sheet_code": "a4-3x7-63.5x38.1",
}

LOOKS = {
    "Damson cheese, 100 g piece": Look(
        {
            **_PIECE,
            "name_of_food": "Damson cheese",
            "tagline": "Dark, sharp and firm to the knife",
            "colour": "#4a1942",
            "lot_prefix": "DC",
        },
        {"Damson puree": "in the name"},
    ),
    "Spiced pear and apple paste, 100 g piece": Look(
        {
            **_PIECE,
            "name_of_food": "Spiced pear and apple paste",
            "tagline": "Amber, and firm to the knife",
            "colour": "#7a4a12",
            "lot_prefix": "PA",
        },
        {"Pear puree": "in the name", "Apple puree": "in the name"},
    ),
    "Tomato chutney, 230 g jar": Look(
        {
            **_JAR,
            "name_of_food": "Tomato chutney",
            "tagline": "An afternoon in an open pan",
            "colour": "#8c2f1b",
            "largest_surface_cm2": Decimal("70.0"),  # the straight wall of a 212 ml jar
            "lot_prefix": "TC",
            "nutrition_exemption": DECLARED,
            "sheet_code": "a4-2x5-99.1x57",  # room for the table
        },
        {"Plum tomatoes": "in the name"},
    ),
    "Seville-style marmalade, 340 g jar": Look(
        {
            **_JAR,
            "name_of_food": "Seville orange marmalade",
            "inner_flesh_g_per_kg": Decimal(180),  # by weighing halved fruit, peel and pips apart
            "tagline": "Cut by hand, boiled fast",
            "colour": "#a8500a",
            "largest_surface_cm2": Decimal("95.0"),  # the straight wall of a 282 ml jar
            "lot_prefix": "SM",
        },
        {"Bitter oranges": "usually linked with the name"},
    ),
}


@transaction.atomic
def load_demo(*, on: date, at: datetime | None = None) -> Kitchen:
    """The demo kitchen with its labels; what is there already is left as it is.

    at: the moment it is opened, for the pan that is on the fire; None = noon of `on`.
    """
    kitchen = load_demo_kitchen(on=on, at=at)
    if LabelDesign.objects.filter(kitchen=kitchen).exists():
        return kitchen
    owner = (
        Member.objects.filter(kitchen=kitchen, role=Member.Role.OWNER)
        .select_related("user")
        .order_by("pk")[0]
    )
    for product in Product.objects.filter(kitchen=kitchen, name__in=LOOKS):
        look = LOOKS[product.name]
        save_design(
            product,
            by=owner.user,
            values=look.values,
            quantified={_key(kitchen, name): reason for name, reason in look.quantified.items()},
        )
    return kitchen


def _key(kitchen: Kitchen, name: str) -> str:
    """What a design calls an ingredient or a preparation of that name."""
    ingredient = Ingredient.objects.filter(kitchen=kitchen, name=name).first()
    if ingredient is not None:
        return f"ingredient-{ingredient.pk}"
    return f"recipe-{Recipe.objects.get(kitchen=kitchen, name=name).pk}"
