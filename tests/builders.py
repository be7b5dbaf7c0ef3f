"""Smallest valid objects for tests, each overridable by keyword: a_price(sugar(), per_kg="2")."""

from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from itertools import count

from django.contrib.auth import get_user_model
from django.db.models import DecimalField

from costing.models import (
    AllergenAnswer,
    Batch,
    Ingredient,
    Kitchen,
    Member,
    Mould,
    Pan,
    Product,
    ProductPart,
    Recipe,
    RecipeLine,
    RecipeVersion,
    Supplier,
    SupplierPrice,
)
from costing.services.batches import finish_batch, start_batch

TODAY = date(2026, 9, 20)
PASSWORD = "plum-stone-lantern-42"
_numbers = count(1)


def _named(word):
    return f"{word} {next(_numbers)}"


def _make(model, values):
    """Create a row; figures may be written as text or whole numbers: brix="12.5"."""
    for field in model._meta.concrete_fields:
        value = values.get(field.name)
        if isinstance(field, DecimalField) and value is not None:
            values[field.name] = Decimal(str(value))
    return model.objects.create(**values)


def a_user(**overrides):
    """Somebody who can sign in with PASSWORD."""
    values = {"username": f"person{next(_numbers)}", "password": PASSWORD} | overrides
    return get_user_model().objects.create_user(**values)


def a_kitchen(**overrides):
    """A kitchen at sea level with the rates of the worked examples, nobody in it yet."""
    values = {
        "trading_name": _named("Kitchen"),
        "address": "1 Orchard Lane\nMillford",
        "country": "IE",
        "currency": "EUR",
        "is_tax_registered": True,
        "tax_recoverable_pct": Decimal(100),
        "food_tax_pct": Decimal(10),
        "labour_rate_per_h": Decimal("15.00"),
        "overhead_rate_per_h": Decimal("8.00"),
        "energy_price_per_kwh": Decimal("0.28"),
    } | overrides
    return _make(Kitchen, values)


def a_member(kitchen=None, *, role=Member.Role.OWNER, user=None):
    """A person with a place in a kitchen."""
    return Member.objects.create(kitchen=kitchen or a_kitchen(), user=user or a_user(), role=role)


def an_owner(kitchen=None, **overrides):
    """A user who owns a kitchen (a new one when none is given)."""
    return a_member(kitchen, user=a_user(**overrides)).user


def a_cook(kitchen=None, **overrides):
    """A user who cooks in a kitchen."""
    return a_member(kitchen, role=Member.Role.COOK, user=a_user(**overrides)).user


def a_stall_hand(kitchen=None, **overrides):
    """A user who sells for a kitchen."""
    return a_member(kitchen, role=Member.Role.STALL_HAND, user=a_user(**overrides)).user


def an_accountant(kitchen=None, **overrides):
    """A user who reads a kitchen's purchases."""
    return a_member(kitchen, role=Member.Role.ACCOUNTANT, user=a_user(**overrides)).user


def an_ingredient(kitchen=None, **overrides):
    """A food of which only the name is known."""
    values = {"kitchen": kitchen or a_kitchen(), "name": _named("Ingredient")} | overrides
    return _make(Ingredient, values)


def sugar(kitchen=None, **overrides):
    """White sugar: all sucrose, no allergen."""
    values = {
        "name": "White sugar",
        "category": Ingredient.Category.SUGAR,
        "brix": Decimal(100),
        "insoluble_pct": Decimal(0),
        "sucrose_share": Decimal(1),
        "hexose_share": Decimal(0),
        "acid_share": Decimal(0),
    } | overrides
    return an_ingredient(kitchen, **values)


def water(kitchen=None, **overrides):
    """Tap water."""
    values = {
        "name": "Water",
        "category": Ingredient.Category.WATER,
        "density_kg_per_l": Decimal(1),
        "brix": Decimal(0),
        "insoluble_pct": Decimal(0),
    } | overrides
    return an_ingredient(kitchen, **values)


def a_fruit(kitchen=None, **overrides):
    """A fruit of 10 Brix without insoluble solids, used whole."""
    values = {
        "name": _named("Fruit"),
        "category": Ingredient.Category.FRUIT,
        "brix": Decimal(10),
        "insoluble_pct": Decimal(0),
    } | overrides
    return an_ingredient(kitchen, **values)


def packaging(kitchen=None, **overrides):
    """Something bought by the piece to put food in."""
    values = {"name": _named("Jar"), "kind": Ingredient.Kind.PACKAGING} | overrides
    return an_ingredient(kitchen, **values)


def no_allergens(ingredient):
    """Somebody looked: free of all fourteen groups."""
    AllergenAnswer.objects.bulk_create(
        AllergenAnswer(
            kitchen_id=ingredient.kitchen_id, ingredient=ingredient, group=group, answer="free"
        )
        for group in AllergenAnswer.Group.values
    )
    return ingredient


def a_supplier(kitchen=None, **overrides):
    """Who sells to a kitchen."""
    values = {"kitchen": kitchen or a_kitchen(), "name": _named("Supplier")} | overrides
    return _make(Supplier, values)


def a_price(ingredient=None, *, per_kg=None, per_each=None, supplier=None, **overrides):
    """A price of one kilo (or one piece of packaging), valid since the start of the year."""
    ingredient = ingredient or an_ingredient()
    by_piece = per_each is not None or ingredient.kind == Ingredient.Kind.PACKAGING
    price = Decimal(str(per_each if by_piece and per_each is not None else per_kg or 1))
    values = {
        "kitchen_id": ingredient.kitchen_id,
        "ingredient": ingredient,
        "supplier": supplier or a_supplier(ingredient.kitchen),
        "pack_text": "1 each" if by_piece else "1 kg",
        "pack_quantity": Decimal(1) if by_piece else Decimal(1000),
        "pack_unit": "each" if by_piece else "g",
        "pack_price": price,
        "per_kg": None if by_piece else price,
        "per_each": price if by_piece else None,
        "valid_from": date(TODAY.year, 1, 1),
    } | overrides
    return _make(SupplierPrice, values)


def a_recipe(kitchen=None, *, lines=(), frozen_at=None, **overrides):
    """A recipe with one version. lines: (ingredient or preparation, amount, unit, state).

    Unit and state may be left out: kg, prepared. A line of 100 % is the base.
    Keywords that name a column of the version go to the version, others to the recipe. Without a
    cook_kind nothing is cooked.
    """
    columns = {field.name for field in RecipeVersion._meta.concrete_fields}
    of_version = {name: value for name, value in overrides.items() if name in columns}
    of_recipe = {name: value for name, value in overrides.items() if name not in columns}
    kitchen = kitchen or (lines[0][0].kitchen if lines else a_kitchen())
    recipe = Recipe.objects.create(**({"kitchen": kitchen, "name": _named("Recipe")} | of_recipe))
    cook = {"number": 1, "cook_kind": "no cook", "attended_minutes": Decimal(0)} | of_version
    version = _make(RecipeVersion, cook | {"kitchen": kitchen, "recipe": recipe})
    for position, line in enumerate(lines):
        a_line(version, *line, position=position)
    if frozen_at is not None:
        version.frozen_at = frozen_at
        version.save(update_fields=["frozen_at"])
    return recipe


def a_line(version, what, amount, unit="kg", state="prepared", **overrides):
    """One line of a version: an ingredient, or another recipe as a preparation."""
    overrides = {"is_base": unit == "%" and Decimal(str(amount)) == 100} | overrides
    link = {"preparation": what} if isinstance(what, Recipe) else {"ingredient": what}
    return RecipeLine.objects.create(
        kitchen_id=version.kitchen_id,
        version=version,
        amount=Decimal(str(amount)),
        unit=unit,
        state=state,
        **link,
        **overrides,
    )


def a_product(recipe=None, *, parts=(), **overrides):
    """A jar of 340 g filled with 342 g. parts: (packaging, quantity, loss percent)."""
    recipe = recipe or a_recipe()
    values = {
        "kitchen_id": recipe.kitchen_id,
        "recipe": recipe,
        "name": _named("Product"),
        "form": Product.Form.JAR,
        "net_quantity_g": Decimal(340),
        "fill_g": Decimal(342),
    } | overrides
    product = _make(Product, values)
    for position, (item, quantity, loss_pct) in enumerate(parts):
        ProductPart.objects.create(
            kitchen_id=product.kitchen_id,
            product=product,
            item=item,
            quantity=Decimal(str(quantity)),
            loss_pct=Decimal(str(loss_pct)),
            position=position,
        )
    return product


def a_damson_paste(kitchen=None):
    """A paste of a sieved puree, nested, with its prices: 9.1271 a kilo (see test_recipe_costs).

    Constructed: 24 kg of damsons at 1.80 give 18 kg of puree of 12.5 Brix; 9 kg of it with sugar
    (90 %, 0.95/kg) and lemon juice (2 %, 40 g each at 0.30) is boiled down to 75 Brix.
    """
    kitchen = kitchen or a_kitchen()
    damsons = a_fruit(kitchen, name="Damsons", brix="12.5", usable_pct=75)
    lemons = a_fruit(kitchen, name="Lemon juice", brix=9, each_g=40)
    white = sugar(kitchen)
    a_price(damsons, per_kg="1.80")
    a_price(white, per_kg="0.95")
    a_price(lemons, per_kg="7.50")
    puree = a_recipe(
        kitchen,
        name="Damson puree",
        is_preparation=True,
        lines=[(damsons, 24, "kg", "as purchased"), (water(kitchen), "2.4")],
        cook_kind="weighed out",
        finished_g=18000,
        evaporated_g=1200,
        measured_brix="12.5",
        measured_insoluble_pct=0,
        attended_minutes=90,
    )
    return a_recipe(
        kitchen,
        name="Damson cheese",
        kind="fruit paste",
        lines=[(puree, 100, "%"), (white, 90, "%"), (lemons, 2, "%")],
        base_name="puree",
        base_g=9000,
        cook_kind="boil down",
        stop_form="brix",
        stop_value=75,
        inverted_pct=0,
        pan_residue_pct="3.5",
        attended_minutes=150,
    )


NOON = datetime(2026, 9, 20, 12, tzinfo=UTC)


def a_pan(kitchen=None, **overrides):
    """A pan that weighs three kilos."""
    values = {"kitchen": kitchen or a_kitchen(), "name": _named("Pan"), "tare_g": 3000} | overrides
    return _make(Pan, values)


def a_mould(kitchen=None, **overrides):
    """A tray of 310 x 210 mm with a rim of 40 mm."""
    values = {
        "kitchen": kitchen or a_kitchen(),
        "name": _named("Mould"),
        "length_mm": 310,
        "width_mm": 210,
        "depth_mm": 40,
    } | overrides
    return _make(Mould, values)


def a_batch(recipe=None, **overrides):
    """A pan on the fire since noon: of the damson paste when no recipe is given."""
    values = {"by": None, "on": TODAY, "started_at": NOON} | overrides
    return start_batch(recipe or a_damson_paste(), **values)


def a_finished_batch(recipe=None, *, net_g=900, inputs=(), yields=(), **overrides):
    """A batch that was done two hours later. Keywords of a start go to it, others are measured."""
    starts = {"by", "on", "started_at", "pan", "factor", "lot", "water_reading_c"}
    begun = {name: value for name, value in overrides.items() if name in starts}
    values = {name: value for name, value in overrides.items() if name not in starts}
    batch = a_batch(recipe, inputs=inputs, **begun)
    for name, value in values.items():
        is_figure = isinstance(Batch._meta.get_field(name), DecimalField) and value is not None
        values[name] = Decimal(str(value)) if is_figure else value
    return finish_batch(
        batch,
        by=None,
        finished_at=batch.started_at + timedelta(hours=2),
        values={"net_g": Decimal(str(net_g)), **values},
        yields=yields,
    )
