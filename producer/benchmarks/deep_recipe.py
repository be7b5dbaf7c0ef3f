"""A recipe of forty lines in three levels, and the floor for its cost: the same sums, bare."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from costing.models import Ingredient, Kitchen, Recipe
from costing.reckoning.book import COOK_LOSS, Book
from producer.benchmarks.made_up_kitchen import Written, write_versions

LINES = 40
RESIDUE_PCT, HANDLING_PCT, INVERTED_PCT = Decimal(2), Decimal(1), Decimal(25)
LOSS_PCT, STOP_BRIX = Decimal(10), Decimal(66)

_HUNDRED, _THOUSAND, _MINUTES = Decimal(100), Decimal(1000), Decimal(60)
_BOUND = Decimal("18.01528") / Decimal("342.2965")  # water a gram of split sucrose takes up


def write_deep_recipe(kitchen: Kitchen, foods: Sequence[Ingredient]) -> Recipe:
    """Store it: 14 lines with 2 preparations, of 7 lines each with 1, of 6 lines each."""
    names = ("Forty lines", "Half one", "Half two", "Base one", "Base two")
    top, *below = Recipe.objects.bulk_create(
        Recipe(kitchen=kitchen, name=name, is_preparation=bool(place))
        for place, name in enumerate(names)
    )
    halves, bases = below[:2], below[2:]
    rest = iter(foods[: LINES - 4])
    loss = _cook(cook_kind="cook loss", cook_loss_pct=LOSS_PCT)
    written: list[Written] = [
        (base, loss, [(next(rest), Decimal("1.5")) for _ in range(6)]) for base in bases
    ]
    written += [
        (half, loss, [(base, Decimal(4)), *((next(rest), Decimal("0.7")) for _ in range(6))])
        for half, base in zip(halves, bases, strict=True)
    ]
    lines: list[tuple[Ingredient | Recipe, Decimal]] = [(half, Decimal(3)) for half in halves]
    lines += [(food, Decimal("0.5")) for food in rest]
    written.append((top, _cook(cook_kind="boil down", stop_value=STOP_BRIX), lines))
    write_versions(written)
    return top


def _cook(**kind: object) -> dict[str, object]:
    return {
        **kind, "pan_residue_pct": RESIDUE_PCT, "handling_loss_pct": HANDLING_PCT,
        "inverted_pct": INVERTED_PCT, "attended_minutes": Decimal(45),
    }  # fmt: skip


# --- The floor -----------------------------------------------------------------------------------


@dataclass(frozen=True)
class BareRecipe:
    """A recipe as bare figures. foods: (mass g, usable %, price of a kilo, Brix, fibre %, sucrose).

    preparations: (mass g, place of the recipe in the list, which comes before this one).
    """

    foods: tuple[tuple[Decimal, ...], ...]
    preparations: tuple[tuple[Decimal, int], ...]
    minutes: Decimal
    is_boiled_down: bool


@dataclass(frozen=True)
class BareRates:
    """What an hour of hands and of roof costs, a kilowatt-hour, and the heat a pan takes."""

    labour: Decimal
    overhead: Decimal
    per_kwh: Decimal
    warming_kj_per_kg: Decimal
    latent_kj_per_kg: Decimal
    hob_pct: Decimal


def bare_recipes(book: Book, recipe_id: int) -> tuple[tuple[BareRecipe, ...], BareRates]:
    """Everything looked up, converted and put in order, so that only sums are left to do."""
    order: list[int] = []

    def visit(pk: int) -> None:
        for line in book.recipes[pk].lines:
            if line.recipe_id is not None and line.recipe_id not in order:
                visit(line.recipe_id)
        order.append(pk)

    visit(recipe_id)
    kitchen = book.kitchen
    rates = BareRates(
        labour=kitchen.labour_rate_per_h or Decimal(0),
        overhead=kitchen.overhead_rate_per_h or Decimal(0),
        per_kwh=kitchen.energy_price_per_kwh or Decimal(0),
        warming_kj_per_kg=kitchen.heat_capacity_kj_per_kg_k
        * (kitchen.boils_at_c - kitchen.start_temperature_c),
        latent_kj_per_kg=kitchen.latent_heat_kj_per_kg,
        hob_pct=kitchen.hob_efficiency_pct,
    )
    return tuple(_bare(book, pk, order) for pk in order), rates


def _bare(book: Book, pk: int, order: list[int]) -> BareRecipe:
    recipe = book.recipes[pk]
    foods, preparations = [], []
    for line in recipe.lines:
        mass_g = line.amount * _THOUSAND
        if line.recipe_id is not None:
            preparations.append((mass_g, order.index(line.recipe_id)))
            continue
        food = book.ingredients[line.ingredient_id or 0]
        foods.append((
            mass_g, food.usable_pct, book.prices[food.id].per_kg,
            food.brix or Decimal(0), food.insoluble_pct or Decimal(0),
            food.sucrose_share or Decimal(0),
        ))  # fmt: skip
    return BareRecipe(
        tuple(foods), tuple(preparations), recipe.attended_minutes or Decimal(0),
        is_boiled_down=recipe.cook.kind != COOK_LOSS,
    )  # fmt: skip


def bare_cost(recipes: Sequence[BareRecipe], rates: BareRates) -> tuple[Decimal, Decimal]:
    """Cost of the last recipe and its finished mass [g], by multiplying and adding only.

    No question can be asked, nothing is checked, nothing is kept for the page to show.
    """
    done: list[tuple[Decimal, ...]] = []
    for recipe in recipes:
        cost = ingoing = soluble = fibre = sucrose = Decimal(0)
        for mass_g, usable, per_kg, brix, fibre_pct, share in recipe.foods:
            cost += mass_g * _HUNDRED / usable * per_kg / _THOUSAND
            fibre_g = mass_g * fibre_pct / _HUNDRED
            soluble_g = (mass_g - fibre_g) * brix / _HUNDRED
            ingoing += mass_g
            fibre += fibre_g
            soluble += soluble_g
            sucrose += soluble_g * share
        for mass_g, place in recipe.preparations:
            below, whole, soluble_g, fibre_g, sucrose_g = done[place]
            part = mass_g / whole
            cost += below * part
            ingoing += mass_g
            soluble += soluble_g * part
            fibre += fibre_g * part
            sucrose += sucrose_g * part
        split = sucrose * INVERTED_PCT / _HUNDRED
        soluble += split * _BOUND
        sucrose -= split
        pot = (
            soluble * _HUNDRED / STOP_BRIX + fibre
            if recipe.is_boiled_down
            else ingoing * (_HUNDRED - LOSS_PCT) / _HUNDRED
        )
        finished = pot * (_HUNDRED - RESIDUE_PCT) / _HUNDRED * (_HUNDRED - HANDLING_PCT) / _HUNDRED
        cost += _work_and_heat(recipe, rates, ingoing, pot)
        left = finished / pot
        done.append((cost, finished, soluble * left, fibre * left, sucrose * left))
    return done[-1][0], done[-1][1]


def _work_and_heat(recipe: BareRecipe, rates: BareRates, ingoing: Decimal, pot: Decimal) -> Decimal:
    heat_kj = ingoing / _THOUSAND * rates.warming_kj_per_kg
    heat_kj += (ingoing - pot) / _THOUSAND * rates.latent_kj_per_kg
    energy = heat_kj / 3600 * _HUNDRED / rates.hob_pct * rates.per_kwh
    return energy + recipe.minutes * (rates.labour + rates.overhead) / _MINUTES
