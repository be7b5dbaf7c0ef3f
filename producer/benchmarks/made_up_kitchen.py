"""A kitchen of any size, invented, written in bulk: rows to measure pages and sums with."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from django.contrib.auth.models import User

from costing.models import (
    AllergenAnswer,
    Ingredient,
    Kitchen,
    Member,
    Product,
    ProductPart,
    Recipe,
    RecipeLine,
    RecipeVersion,
    Supplier,
    SupplierPrice,
)
from labels.models import LabelDesign, PrintedLabel, QuantifiedIngredient

INGREDIENTS, SUPPLIERS, PRICES_EACH = 60, 3, 4


Written = tuple[Recipe, dict[str, Any], list[tuple[Ingredient | Recipe, Decimal]]]
"""A recipe, how it is cooked, and its lines in kilograms."""


@dataclass(frozen=True)
class MadeUpKitchen:
    """A kitchen in the database, and the rows whose pages are looked at."""

    kitchen: Kitchen
    owner: User
    ingredients: tuple[Ingredient, ...]
    recipe: Recipe
    product: Product


def make_kitchen(*, recipes: int, on: date) -> MadeUpKitchen:
    """A kitchen with so many recipes: one in five a puree, the rest pastes made of one.

    Every paste is sold and has its label, which was printed once. Ingredients, suppliers and their
    prices are as many in a large kitchen as in a small one.
    """
    owner = User.objects.create_user("owner")
    kitchen = Kitchen.objects.create(
        trading_name="Kiln Orchard", address="4 Weir Row\nAldermoor", country="IE",
        is_tax_registered=True, tax_recoverable_pct=Decimal(100), food_tax_pct=Decimal(10),
        labour_rate_per_h=Decimal(16), overhead_rate_per_h=Decimal(6),
        energy_price_per_kwh=Decimal("0.30"),
    )  # fmt: skip
    Member.objects.create(kitchen=kitchen, user=owner, role=Member.Role.OWNER)
    foods, jar = _ingredients(kitchen)
    _prices(kitchen, [*foods, jar], on=on)
    purees, pastes = _recipes(kitchen, foods, count=recipes)
    products = _products(kitchen, pastes, jar=jar)
    _labels(kitchen, products, purees, on=on)
    return MadeUpKitchen(kitchen, owner, tuple(foods), pastes[0], products[0])


def _ingredients(kitchen: Kitchen) -> tuple[list[Ingredient], Ingredient]:
    foods = Ingredient.objects.bulk_create(
        Ingredient(
            kitchen=kitchen, name=f"Fruit {number:02d}", category=Ingredient.Category.FRUIT,
            usable_pct=Decimal(70 + number % 30), brix=Decimal(8 + number % 7),
            insoluble_pct=Decimal(2), sulphite_mg_per_kg=Decimal(0),
            sucrose_share=Decimal("0.2"), hexose_share=Decimal("0.7"), acid_share=Decimal("0.1"),
        )
        for number in range(INGREDIENTS - 1)
    )  # fmt: skip
    foods.append(
        Ingredient.objects.create(
            kitchen=kitchen, name="White sugar", category=Ingredient.Category.SUGAR,
            brix=Decimal(100), insoluble_pct=Decimal(0), sulphite_mg_per_kg=Decimal(0),
            sucrose_share=Decimal(1), hexose_share=Decimal(0), acid_share=Decimal(0),
        )
    )  # fmt: skip
    AllergenAnswer.objects.bulk_create(
        AllergenAnswer(kitchen=kitchen, ingredient=food, group=group, answer="free")
        for food in foods
        for group in AllergenAnswer.Group.values
    )
    jar = Ingredient.objects.create(kitchen=kitchen, name="Jar", kind=Ingredient.Kind.PACKAGING)
    return foods, jar


def _prices(kitchen: Kitchen, items: Sequence[Ingredient], *, on: date) -> None:
    suppliers = Supplier.objects.bulk_create(
        Supplier(kitchen=kitchen, name=f"Supplier {number}") for number in range(SUPPLIERS)
    )
    SupplierPrice.objects.bulk_create(
        _price(kitchen, item, supplier, figure=Decimal(100 + place + 3 * age) / 100,
               valid_from=on - timedelta(days=7 + 30 * age))
        for place, item in enumerate(items)
        for supplier in suppliers
        for age in range(PRICES_EACH)
    )  # fmt: skip


def _price(
    kitchen: Kitchen, item: Ingredient, supplier: Supplier, *, figure: Decimal, valid_from: date
) -> SupplierPrice:
    by_piece = item.kind == Ingredient.Kind.PACKAGING
    return SupplierPrice(
        kitchen=kitchen, ingredient=item, supplier=supplier, valid_from=valid_from,
        pack_text="1 each" if by_piece else "1 kg", pack_unit="each" if by_piece else "g",
        pack_quantity=Decimal(1 if by_piece else 1000), pack_price=figure,
        per_each=figure if by_piece else None, per_kg=None if by_piece else figure,
    )  # fmt: skip


def _recipes(
    kitchen: Kitchen, foods: Sequence[Ingredient], *, count: int
) -> tuple[list[Recipe], list[Recipe]]:
    purees = [
        Recipe(kitchen=kitchen, name=f"Puree {number:04d}", is_preparation=True)
        for number in range(count // 5)
    ]
    pastes = [
        Recipe(kitchen=kitchen, name=f"Paste {number:04d}", kind="fruit paste")
        for number in range(count - len(purees))
    ]
    Recipe.objects.bulk_create([*purees, *pastes])
    sugar, fruits = foods[-1], foods[:-1]
    puree_cook = {"cook_kind": "cook loss", "cook_loss_pct": Decimal(20)}
    paste_cook = {"cook_kind": "boil down", "stop_value": Decimal(66)}
    written: list[Written] = []
    for number, puree in enumerate(purees):
        written.append((puree, {**puree_cook, "attended_minutes": Decimal(60)}, []))
        written[-1][2].extend(_five_of(fruits, 5 * number, Decimal(2)))
    for number, paste in enumerate(pastes):
        written.append((paste, {**paste_cook, "attended_minutes": Decimal(120)}, []))
        written[-1][2].extend([(purees[number % len(purees)], Decimal(6)), (sugar, Decimal(5))])
        written[-1][2].extend(_five_of(fruits, 7 * number, Decimal("0.2")))
    write_versions(written)
    return purees, pastes


def _five_of(
    foods: Sequence[Ingredient], first: int, amount: Decimal
) -> list[tuple[Ingredient, Decimal]]:
    return [(foods[(first + step) % len(foods)], amount) for step in range(5)]


def write_versions(written: Sequence[Written]) -> None:
    """One version for each recipe, with its lines, in two statements."""
    versions = RecipeVersion.objects.bulk_create(
        RecipeVersion(kitchen_id=recipe.kitchen_id, recipe=recipe, number=1, **cook)
        for recipe, cook, _ in written
    )
    RecipeLine.objects.bulk_create(
        RecipeLine(
            kitchen_id=version.kitchen_id, version=version, position=position, amount=amount,
            unit="kg",
            ingredient=what if isinstance(what, Ingredient) else None,
            preparation=what if isinstance(what, Recipe) else None,
        )
        for version, (_, _, lines) in zip(versions, written, strict=True)
        for position, (what, amount) in enumerate(lines)
    )  # fmt: skip


def _products(kitchen: Kitchen, pastes: Sequence[Recipe], *, jar: Ingredient) -> list[Product]:
    products = Product.objects.bulk_create(
        Product(
            kitchen=kitchen, recipe=paste, name=f"{paste.name}, 200 g jar", form=Product.Form.JAR,
            net_quantity_g=Decimal(200), fill_g=Decimal(202), packing_minutes=Decimal(1),
            stall_price=Decimal("4.50"), wholesale_price=Decimal("3.20"),
        )
        for paste in pastes
    )  # fmt: skip
    ProductPart.objects.bulk_create(
        ProductPart(kitchen=kitchen, product=product, item=jar) for product in products
    )
    return products


def _labels(
    kitchen: Kitchen, products: Sequence[Product], purees: Sequence[Recipe], *, on: date
) -> None:
    designs = LabelDesign.objects.bulk_create(
        LabelDesign(
            kitchen=kitchen, product=product, name_of_food="Fruit paste",
            brand_name="Kiln Orchard", storage="Keep in a cool, dark place.",
            shelf_life_months=12, largest_surface_cm2=Decimal(80),
            nutrition_exemption=LabelDesign.NoNutrition.SMALL_MAKER,
            sheet_code="a4-3x7-63.5x38.1", lot_prefix="FP",
        )
        for product in products
    )  # fmt: skip
    QuantifiedIngredient.objects.bulk_create(
        QuantifiedIngredient(
            kitchen=kitchen, design=design, preparation=purees[number % len(purees)]
        )
        for number, design in enumerate(designs)
    )
    versions = dict(RecipeVersion.objects.filter(kitchen=kitchen).values_list("recipe_id", "pk"))
    PrintedLabel.objects.bulk_create(
        PrintedLabel(
            kitchen=kitchen, design=design, product=product, lot="FP-1", rule_date=on,
            recipe_version_id=versions[product.recipe_id], market="eu", facts={}, sheet={},
            copies=21, label_sha256="0" * 64, pdf_sha256="0" * 64, label_pdf=b"%PDF-1.7",
        )
        for design, product in zip(designs, products, strict=True)
    )  # fmt: skip
