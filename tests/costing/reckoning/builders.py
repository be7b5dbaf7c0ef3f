"""Records for tests: the smallest that hold together, and an invented kitchen in full.

Rookfold Kitchen, its suppliers, prices and figures are invented; its currency is the euro.
"""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from costing.reckoning.book import (
    AS_PURCHASED,
    BOIL_DOWN,
    BRIX,
    COOK_LOSS,
    NO_COOK,
    WEIGHED_OUT,
    Book,
    CookRecord,
    IngredientRecord,
    KitchenRecord,
    LineRecord,
    PriceRecord,
    RecipeRecord,
    Solids,
)
from costing.reckoning.pan import PanLine, ingredient_in_pan

D = Decimal
ON = date(2027, 10, 1)

ROOKFOLD = KitchenRecord(
    currency="EUR",
    altitude_m=D(240),
    labour_rate_per_h=D("15.00"),
    overhead_rate_per_h=D("8.00"),
    energy_price_per_kwh=D("0.28"),
    hob_efficiency_pct=D(55),
    start_temperature_c=D(15),
)


def a_food(ingredient_id=1, name="Damson puree", **facts):
    """An ingredient with all its solids known; override what matters."""
    known = {"brix": D("12.5"), "insoluble_pct": D(0), **facts}
    return IngredientRecord(id=ingredient_id, name=name, **known)


def sugar(ingredient_id=2, **facts):
    return a_food(ingredient_id, "White sugar", brix=D(100), sucrose_share=D(1), **facts)


def water(ingredient_id=3):
    return IngredientRecord(id=ingredient_id, name="Water", is_water=True)


def in_pan(food, grams):
    return ingredient_in_pan(food, mass_g=D(grams))


def raw(grams, *, soluble="0", insoluble="0", name="Something"):
    """A pan line from its solids alone, all of them hexose."""
    solids = Solids(D(soluble), D(insoluble), D(0), D(soluble), D(0))
    return PanLine(name=name, mass_g=D(grams), edible_g=D(grams), solids=solids)


def boil_to(brix, **cook):
    return CookRecord(
        kind=BOIL_DOWN, stop_form=BRIX, stop_value=D(brix), **{"inverted_pct": D(0), **cook}
    )


def a_book(*recipes, foods=(), prices=None, kitchen=ROOKFOLD):
    """A book of these; prices: euros a kilo by ingredient id."""
    return Book(
        kitchen=kitchen,
        ingredients={food.id: food for food in foods},
        recipes={recipe.id: recipe for recipe in recipes},
        prices={
            key: PriceRecord(ingredient_id=key, per_kg=D(per_kg))
            for key, per_kg in (prices or {}).items()
        },
        on=ON,
    )


def kg(amount, ingredient_id=None, *, recipe_id=None, **more):
    return LineRecord(D(amount), "kg", ingredient_id, recipe_id, **more)


def pct(amount, ingredient_id=None, *, recipe_id=None, **more):
    return LineRecord(D(amount), "%", ingredient_id, recipe_id, **more)


# --- Rookfold Kitchen -----------------------------------------------------------------------------

DAMSONS, PEARS, APPLES, TOMATOES, ONIONS, ORANGES, LEMONS, JUICE = range(1, 9)
SUGAR, VINEGAR, SULTANAS, SALT, MUSTARD, GINGER, CINNAMON, CLOVES, ANISE, WATER = range(9, 19)
QD, QA, QP, SX, R1, R2, R3, R4 = range(101, 109)

_PLAIN = {"brix": D(0), "insoluble_pct": D(0)}
_FOODS = (
    IngredientRecord(DAMSONS, "Damsons"),
    IngredientRecord(PEARS, "Pears"),
    IngredientRecord(APPLES, "Cooking apples"),
    IngredientRecord(TOMATOES, "Plum tomatoes", usable_pct=D(92), **_PLAIN),
    IngredientRecord(ONIONS, "Onions", usable_pct=D(88), **_PLAIN),
    IngredientRecord(ORANGES, "Bitter oranges", brix=D(9), insoluble_pct=D(0)),
    # Used whole: 0.0288 kg of solids in 0.96 kg.
    IngredientRecord(LEMONS, "Lemons", each_g=D(120), brix=D(3), insoluble_pct=D(0)),
    # 0.040 kg of juice from a lemon of 0.120 kg.
    IngredientRecord(
        JUICE, "Lemon juice", each_g=D(120), usable_pct=D(100) / 3, brix=D(9), insoluble_pct=D(0)
    ),
    IngredientRecord(SUGAR, "White sugar", brix=D(100), insoluble_pct=D(0), sucrose_share=D(1)),
    IngredientRecord(VINEGAR, "Cider vinegar", density_kg_per_l=D("1.01"), **_PLAIN),
    IngredientRecord(SULTANAS, "Golden sultanas", **_PLAIN),
    IngredientRecord(SALT, "Fine salt", **_PLAIN),
    IngredientRecord(MUSTARD, "Mustard seed", **_PLAIN),
    IngredientRecord(GINGER, "Ground ginger", **_PLAIN),
    IngredientRecord(CINNAMON, "Cinnamon", **_PLAIN),
    IngredientRecord(CLOVES, "Cloves", **_PLAIN),
    IngredientRecord(ANISE, "Star anise", **_PLAIN),
    IngredientRecord(WATER, "Water", is_water=True),
)
_PRICES = {
    DAMSONS: D("1.80"),
    PEARS: D("1.30"),
    APPLES: D("1.10"),
    TOMATOES: D("1.35"),
    ONIONS: D("0.75"),
    ORANGES: D("1.60"),
    LEMONS: D("0.30") / D("0.120"),
    JUICE: D("0.30") / D("0.120"),
    SUGAR: D("0.95"),
    VINEGAR: D("1.85") / D("1.01"),
    SULTANAS: D("3.30"),
    SALT: D("0.80"),
    MUSTARD: D("7.80"),
    GINGER: D("12.80"),
    CINNAMON: D("16.80"),
    CLOVES: D("36.00"),
    ANISE: D("25.00"),
}


def _puree(recipe_id, name, *, fruit, fruit_kg, water_kg, out_g, steam_g, minutes, brix):
    return RecipeRecord(
        recipe_id,
        name,
        lines=(kg(fruit_kg, fruit, state=AS_PURCHASED), kg(water_kg, WATER)),
        cook=CookRecord(
            kind=WEIGHED_OUT,
            finished_g=D(out_g),
            evaporated_g=D(steam_g),
            measured_brix=D(brix),
            measured_insoluble_pct=D(0),
        ),
        attended_minutes=D(minutes),
    )


_DAMSON_PUREE = _puree(
    QD, "Damson puree", fruit=DAMSONS, fruit_kg=24, water_kg="2.4", out_g=18000, steam_g=1200,
    minutes=90, brix="12.5",
)  # fmt: skip
_APPLE_PUREE = _puree(
    QA, "Apple puree", fruit=APPLES, fruit_kg=20, water_kg=2, out_g=15000, steam_g=1000,
    minutes=75, brix="11.5",
)  # fmt: skip
_PEAR_PUREE = _puree(
    QP, "Pear puree", fruit=PEARS, fruit_kg=20, water_kg=1, out_g=15200, steam_g=800,
    minutes=75, brix=13,
)  # fmt: skip
_SPICE_MIX = RecipeRecord(
    SX,
    "Spice mix",
    lines=(kg("0.5", CINNAMON), kg("0.3", GINGER), kg("0.1", CLOVES), kg("0.1", ANISE)),
    cook=CookRecord(kind=NO_COOK),
    attended_minutes=D(15),
)
_DAMSON_CHEESE = RecipeRecord(
    R1,
    "Damson cheese",
    lines=(pct(100, recipe_id=QD, is_base=True), pct(90, SUGAR), pct(2, JUICE)),
    base_name="damson puree",
    base_g=D(9000),
    cook=boil_to(75, pan_residue_pct=D("3.5")),
    attended_minutes=D(150),
)
_PEAR_PASTE = RecipeRecord(
    R2,
    "Spiced pear and apple paste",
    lines=(
        pct(60, recipe_id=QP, is_base=True),
        pct(40, recipe_id=QA, is_base=True),
        pct(75, SUGAR),
        pct(3, JUICE),
        pct("0.5", recipe_id=SX),
    ),
    base_name="puree",
    base_g=D(10000),
    cook=boil_to(74, pan_residue_pct=D(4)),
    attended_minutes=D(165),
)
_CHUTNEY = RecipeRecord(
    R3,
    "Tomato chutney",
    lines=(
        *(kg(18, TOMATOES), kg(6, ONIONS), kg(3, recipe_id=QA), kg("4.5", SUGAR)),
        *(LineRecord(D("4.0"), "l", VINEGAR), kg(2, SULTANAS), kg("0.25", SALT)),
        *(kg("0.10", MUSTARD), kg("0.05", GINGER)),
    ),
    cook=CookRecord(
        kind=COOK_LOSS, cook_loss_pct=D(38), pan_residue_pct=D("2.5"), inverted_pct=D(0)
    ),
    attended_minutes=D(270),
)
_MARMALADE = RecipeRecord(
    R4,
    "Seville-style marmalade",
    lines=(kg(10, ORANGES), kg(20, WATER), kg(20, SUGAR), LineRecord(D(8), "each", LEMONS)),
    cook=boil_to(66, pan_residue_pct=D(3)),
    attended_minutes=D(300),
)


def rookfold(*, sugar_price="0.95", damson_price="1.80", kitchen=ROOKFOLD, **instead):
    """The invented kitchen's book; `instead`: recipes by id given as r108=..., prices by name."""
    recipes = (
        *(_DAMSON_PUREE, _APPLE_PUREE, _PEAR_PUREE, _SPICE_MIX),
        *(_DAMSON_CHEESE, _PEAR_PASTE, _CHUTNEY, _MARMALADE),
    )
    book = a_book(
        *recipes,
        foods=_FOODS,
        prices={**_PRICES, SUGAR: D(sugar_price), DAMSONS: D(damson_price)},
        kitchen=kitchen,
    )
    changed = {int(key[1:]): recipe for key, recipe in instead.items()}
    return replace(book, recipes={**book.recipes, **changed})


def recipe_of(recipe_id):
    return rookfold().recipes[recipe_id]
