"""The demo kitchen, entered the way a maker would enter it: no rule is passed by."""

from collections.abc import Mapping
from datetime import date, datetime, timedelta
from decimal import Decimal
from typing import Any

from django.contrib.auth import get_user_model
from django.contrib.auth.models import AbstractBaseUser
from django.core.exceptions import ValidationError
from django.db import transaction

from costing.models import (
    AllergenAnswer,
    Ingredient,
    Kitchen,
    Member,
    Product,
    Recipe,
    Supplier,
)
from costing.services import rookfold
from costing.services.demo_season import Season
from costing.services.ingredients import save_ingredient
from costing.services.kitchens import create_kitchen
from costing.services.moulds import save_mould
from costing.services.pantry import PantryItem, pantry_items
from costing.services.products import PackingInput, save_product
from costing.services.purchases import PriceEntry, record_supplier_price, save_supplier
from costing.services.recipes import LineInput, save_recipe
from costing.services.rookfold import Dish, Food, Good
from costing.services.saving import save_checked

DAYS_SINCE_THE_SEASON = 5
FOOD_TAX_PCT, OTHER_TAX_PCT = Decimal(10), Decimal(20)
RECOVERED_PCT = Decimal(100)


@transaction.atomic
def load_demo_kitchen(*, on: date, at: datetime | None = None) -> Kitchen:
    """The demo kitchen, made on first call so that its season ended a few days before `on`.

    at: the moment it is opened, so that one pan was lit a while before; None = noon of `on`.

    Later calls return the kitchen that is there, with whatever was changed in it.
    """
    present = Kitchen.objects.filter(is_demo=True).order_by("pk").first()
    if present is not None:
        return present
    owner, *others = [_person(*row[:3]) for row in rookfold.PEOPLE]
    kitchen = create_kitchen(by=owner, **rookfold.KITCHEN)
    for user, row in zip(others, rookfold.PEOPLE[1:], strict=True):
        save_checked(Member(kitchen=kitchen), by=owner, values={"user": user, "role": row[3]})
    for name, length_mm, width_mm, depth_mm, owned in rookfold.MOULDS:
        inside = {"length_mm": length_mm, "width_mm": width_mm, "depth_mm": depth_mm}
        save_mould(kitchen, by=owner, values={"name": name, **inside, "owned": owned})
    suppliers = _suppliers(kitchen, by=owner)
    ingredients = _ingredients(kitchen, by=owner)
    _prices(kitchen, by=owner, suppliers=suppliers, ingredients=ingredients, on=on)
    recipes: dict[str, Recipe] = {}
    for dish in rookfold.DISHES:
        recipes[dish.name] = _recipe(
            kitchen, dish, by=owner, ingredients=ingredients, recipes=recipes
        )
    products = {
        good.name: _product(
            kitchen, good, by=owner, ingredients=ingredients, recipe=recipes[good.dish]
        )
        for good in rookfold.GOODS
    }
    season = Season(
        kitchen,
        people={row[0]: user for user, row in zip([owner, *others], rookfold.PEOPLE, strict=True)},
        suppliers=suppliers,
        ingredients=ingredients,
        recipes=recipes,
        products=products,
    )
    season.load(on=on, shift=days_shifted(on=on), at=at)
    return kitchen


def days_shifted(*, on: date) -> timedelta:
    """How far the season is moved so that its last day lies shortly before `on`."""
    return on - timedelta(days=DAYS_SINCE_THE_SEASON) - rookfold.LAST_DAY


def _person(username: str, first_name: str, last_name: str) -> AbstractBaseUser:
    """An account nobody can sign in to with a password; the demo's button opens it."""
    users = get_user_model().objects
    present = users.filter(username=username).first()
    if present is None:
        return users.create_user(username, first_name=first_name, last_name=last_name)
    if present.has_usable_password():
        raise ValidationError(
            f"Somebody here already signs in as {username}, so the demo kitchen cannot be made."
            " Start the demo with a database of its own."
        )
    return present


def _suppliers(kitchen: Kitchen, *, by: AbstractBaseUser) -> dict[str, Supplier]:
    columns = ("name", "contact", "minimum_order", "delivery_charge")
    return {
        row[0]: save_supplier(kitchen, by=by, values=dict(zip(columns, row, strict=True)))
        for row in rookfold.SUPPLIERS
    }


def _ingredients(kitchen: Kitchen, *, by: AbstractBaseUser) -> dict[str, Ingredient]:
    pantry = {item.slug: item for item in pantry_items()}
    foods = {
        food.name: save_ingredient(
            kitchen,
            by=by,
            values=_values(food, pantry.get(food.pantry)),
            allergens=_allergens(food),
        )
        for food in rookfold.FOODS
    }
    packaging = {
        name: save_ingredient(
            kitchen, by=by, values={"name": name, "kind": Ingredient.Kind.PACKAGING}
        )
        for name in rookfold.PACKAGING
    }
    return foods | packaging


def _values(food: Food, item: PantryItem | None) -> dict[str, Any]:
    """The pantry's figures, then this kitchen's own, and where each comes from."""
    known = dict(item.values) if item else {"label_name": "", "category": "", "note": ""}
    sources = dict(item.sources) if item else {}
    for name, (value, source) in food.own.items():
        known[name], sources[name] = value, source
    sources.pop("allergens", None)
    if food.allergens != "not known yet":
        sources["allergens"] = rookfold.SPECIFICATION
    return known | {
        "name": food.name,
        "label_name": food.label_name or known["label_name"],
        "category": food.category or known["category"],
        "note": food.note or known["note"],
        "figure_sources": sources,
    }


def _allergens(food: Food) -> dict[str, tuple[str, str]]:
    if food.allergens == "not known yet":
        return {}
    answers = dict.fromkeys(AllergenAnswer.Group.values, (AllergenAnswer.Answer.FREE.value, ""))
    if isinstance(food.allergens, Mapping):
        contains = AllergenAnswer.Answer.CONTAINS.value
        answers |= {group: (contains, named_as) for group, named_as in food.allergens.items()}
    return answers


def _prices(
    kitchen: Kitchen,
    *,
    by: AbstractBaseUser,
    suppliers: Mapping[str, Supplier],
    ingredients: Mapping[str, Ingredient],
    on: date,
) -> None:
    shift = days_shifted(on=on)
    for name, supplier, pack, price, valid_from, note in rookfold.PRICES:
        ingredient = ingredients[name]
        is_food = ingredient.kind == Ingredient.Kind.FOOD
        record_supplier_price(
            kitchen,
            by=by,
            supplier=suppliers[supplier],
            ingredient=ingredient,
            entry=PriceEntry(
                pack_text=pack,
                pack_price=Decimal(price),
                tax_pct=FOOD_TAX_PCT if is_food else OTHER_TAX_PCT,
                tax_recoverable_pct=RECOVERED_PCT,
                valid_from=valid_from + shift,
                note=note,
            ),
        )


def _recipe(
    kitchen: Kitchen,
    dish: Dish,
    *,
    by: AbstractBaseUser,
    ingredients: Mapping[str, Ingredient],
    recipes: Mapping[str, Recipe],
) -> Recipe:
    lines = [
        LineInput(
            amount=Decimal(line.amount),
            unit=line.unit,
            ingredient_id=ingredients[line.of].pk if line.of in ingredients else None,
            recipe_id=None if line.of in ingredients else recipes[line.of].pk,
            state=line.state,
            is_base=line.is_base,
        )
        for line in dish.lines
    ]
    values = {
        "name": dish.name,
        "kind": dish.kind,
        "is_preparation": dish.kind == "preparation",
        "label_name": dish.label_name,
        "on_label": dish.on_label,
    }
    return save_recipe(kitchen, by=by, values=values, version_values=dish.cook, lines=lines)


def _product(
    kitchen: Kitchen,
    good: Good,
    *,
    by: AbstractBaseUser,
    ingredients: Mapping[str, Ingredient],
    recipe: Recipe,
) -> Product:
    values = {
        "recipe": recipe,
        "name": good.name,
        "form": good.form,
        "net_quantity_g": Decimal(good.net_g),
        "fill_g": Decimal(good.fill_g),
        "packing_minutes": Decimal(good.minutes),
        "sales_tax_pct": FOOD_TAX_PCT,
        "aim": Product.Aim.MARGIN,
        "aim_pct": Decimal(good.margin_pct),
        "stall_price": Decimal(good.stall),
        "wholesale_price": Decimal(good.wholesale),
    }
    parts = [
        PackingInput(item_id=ingredients[name].pk, loss_pct=Decimal(loss_pct))
        for name, loss_pct in good.packing.items()
    ]
    return save_product(kitchen, by=by, values=values, parts=parts)
