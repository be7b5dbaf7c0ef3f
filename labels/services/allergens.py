"""Product by product and group by group: what is in it, what may be, and what nobody knows yet."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.db.models import QuerySet

from costing.models import AllergenAnswer, Ingredient, Kitchen, Product
from costing.reckoning.book import CostSheet
from costing.reckoning.composition import Used, composition
from costing.reckoning.errors import ReckoningError
from costing.reckoning.recipes import cost_recipe
from costing.selectors.recipes import load_book
from labels import law
from labels.facts import ALLERGEN_GROUPS, CrossContactAnswer, LabelFacts
from labels.models import LabelDesign
from labels.services.cross_contact import Assessed, answers_for, read_assessed
from labels.services.facts import FoodFacts, Larder, as_listed, ids_of, larder_of

CONTAINS, MAY_CONTAIN, FREE, NOT_KNOWN = "contains", "may contain", "free", "not known"
STATES = (CONTAINS, MAY_CONTAIN, NOT_KNOWN, FREE)

_SULPHITES = "sulphites"
_DEEPEST = 12
_ANSWER = AllergenAnswer.Answer


@dataclass(frozen=True)
class AllergenCell:
    """One group in one product. state: one of STATES. named: which ones, as they are printed.

    because: the ingredients it comes from, or those nobody has answered for.
    note: a figure or a reason, in words; empty where there is none.
    """

    group: str
    state: str
    named: tuple[str, ...] = ()
    because: tuple[str, ...] = ()
    note: str = ""


@dataclass(frozen=True)
class ProductAllergens:
    """One product with its fourteen cells, in the order of Annex II."""

    product: Product
    cells: tuple[AllergenCell, ...]

    @property
    def not_known(self) -> int:
        """Of how many groups nobody knows whether they are in it."""
        return sum(cell.state == NOT_KNOWN for cell in self.cells)

    def cell(self, group: str) -> AllergenCell:
        """The cell of a group."""
        return self.cells[ALLERGEN_GROUPS.index(group)]


@dataclass(frozen=True)
class _Food:
    """A recipe opened to the last ingredient. used: None where it cannot be reckoned; why: why."""

    used: Used | None
    pot_g: Decimal | None = None
    why: str = ""


def products_to_tell(kitchen: Kitchen, *, called: str = "") -> QuerySet[Product]:
    """Products that are sold, by name, ready for the matrix; those whose name holds some words."""
    rows = Product.objects.filter(kitchen=kitchen, is_archived=False)
    if called:
        rows = rows.filter(name__icontains=called)
    return rows.select_related("recipe", "label_design").order_by("name", "pk")


def allergens_of_products(
    kitchen: Kitchen, products: Sequence[Product], *, on: date
) -> tuple[ProductAllergens, ...]:
    """The rows of the matrix, by the recipes as they stand, in a fixed number of queries.

    products: with `label_design` loaded, else each asks for its own.
    """
    recipe_ids = list(dict.fromkeys(product.recipe_id for product in products))
    foods = _foods(kitchen, recipe_ids, on=on)
    opened = [food.used for food in foods.values() if food.used is not None]
    larder = larder_of(kitchen, opened)
    assessed = read_assessed(kitchen)
    home = law.home_market(kitchen.country).code
    rows = []
    for product in products:
        food = foods[product.recipe_id]
        market = _market_of(product, home=home)
        answers = (
            _assessed(product, food.used, larder, assessed=assessed, on=on) if food.used else ()
        )
        rows.append(ProductAllergens(product, _cells(food, larder, market=market, beside=answers)))
    return tuple(rows)


def _foods(kitchen: Kitchen, recipe_ids: list[int], *, on: date) -> dict[int, _Food]:
    book = load_book(kitchen, recipe_ids, on=on)
    known: dict[int, CostSheet] = {}
    found = {}
    for pk in recipe_ids:
        try:
            sheet = cost_recipe(book, pk, known=known)
            used = composition(book, pk, known=known)
        except ReckoningError as error:
            found[pk] = _Food(None, why=f"The recipe cannot be reckoned: {error}")
        else:
            found[pk] = _Food(used, sheet.balance.pot_g if sheet.balance else None)
    return found


def _market_of(product: Product, *, home: str) -> str:
    try:
        return product.label_design.market
    except LabelDesign.DoesNotExist:
        return home


def cross_contact_of(
    product: Product, food: FoodFacts, *, on: date
) -> tuple[CrossContactAnswer, ...]:
    """What assessments say of one product, for its label; of a batch, by what really went in."""
    if food.used is None or food.larder is None:
        return ()
    return _assessed(
        product, food.used, food.larder, assessed=read_assessed(product.kitchen), on=on
    )


def _assessed(
    product: Product, used: Used, larder: Larder, *, assessed: Assessed, on: date
) -> tuple[CrossContactAnswer, ...]:
    return answers_for(
        product.pk,
        assessed=assessed,
        ingredient_ids=set(_bought(used, larder)),
        recipe_ids={product.recipe_id, *ids_of(used)[1]},
        on=on,
    )


def _cells(
    food: _Food, larder: Larder, *, market: str, beside: Iterable[CrossContactAnswer]
) -> tuple[AllergenCell, ...]:
    if food.used is None or not food.used.parts:
        why = food.why or "Nothing goes into the recipe yet."
        return tuple(AllergenCell(group, NOT_KNOWN, note=why) for group in ALLERGEN_GROUPS)
    inside = list(dict.fromkeys(_bought(food.used, larder)))
    by_group = {answer.group: answer for answer in beside}
    cells = [_cell(group, inside, larder) for group in ALLERGEN_GROUPS]
    place = ALLERGEN_GROUPS.index(_SULPHITES)
    traces = any(larder.ingredients[pk].sulphite_mg_per_kg for pk in inside)
    cells[place] = _sulphites(cells[place], food, larder, market=market, traces=traces)
    return tuple(_with_beside(cell, by_group.get(cell.group)) for cell in cells)


def _bought(used: Used, larder: Larder) -> Iterator[int]:
    """Every ingredient that is in it, by id, those of bought-in ingredients too."""
    for part in used.parts:
        if part.ingredient_id is not None:
            yield from _with_parts(part.ingredient_id, larder)
        yield from _bought(part, larder)


def _with_parts(pk: int, larder: Larder, depth: int = 0) -> Iterator[int]:
    yield pk
    if larder.ingredients[pk].is_compound and depth < _DEEPEST:
        for part in larder.parts.get(pk, ()):
            yield from _with_parts(part.part_id, larder, depth + 1)


def _cell(group: str, inside: list[int], larder: Larder) -> AllergenCell:
    named: list[str] = []
    bearers, unknown = [], []
    for pk in inside:
        answer = larder.answers.get(pk, {}).get(group)
        if answer is None or answer.answer == _ANSWER.UNKNOWN:
            unknown.append(_name(larder.ingredients[pk]))
        elif answer.answer == _ANSWER.CONTAINS:
            named.append(answer.named_as)
            bearers.append(_name(larder.ingredients[pk]))
    if named:
        # One more nut may hide behind what nobody answered: said, and not taken for complete.
        note = f"not answered for {', '.join(unknown)}" if unknown else ""
        return AllergenCell(group, CONTAINS, _once(named), _once(bearers), note)
    if unknown:
        return AllergenCell(group, NOT_KNOWN, because=_once(unknown))
    return AllergenCell(group, FREE)


def _name(ingredient: Ingredient) -> str:
    return ingredient.name


def _once(names: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(names))


def _sulphites(
    cell: AllergenCell, food: _Food, larder: Larder, *, market: str, traces: bool
) -> AllergenCell:
    """By the sum in the finished food where it can be made: an ingredient's own answer is not it.

    Annex II, point 12 counts total SO2 in the food as sold ready to eat, not in what went in.
    traces: some ingredient has a figure above nought.
    """
    listed = as_listed(food.used, larder) if food.used else ()
    found = law.sulphites(LabelFacts(ingredients=listed, finished_g=food.pot_g, market=market))
    if not listed or found.mg_per_kg is None:
        if cell.state == CONTAINS or found.is_declared:
            named = cell.named or (_SULPHITES,)
            return AllergenCell(cell.group, CONTAINS, named, cell.because, "how much is not known")
        if cell.state == FREE and (listed or not traces):
            return cell
        return AllergenCell(cell.group, NOT_KNOWN, because=cell.because, note="no sum yet")
    if cell.state == NOT_KNOWN and not found.is_declared:
        return cell
    note = sulphites_in_words(found)
    if found.is_declared:
        return AllergenCell(cell.group, CONTAINS, cell.named or (_SULPHITES,), cell.because, note)
    return AllergenCell(cell.group, FREE, because=cell.because, note=note)


def sulphites_in_words(found: law.Sulphites) -> str:
    """The sum against the line: "300 mg/kg: above 10, declared"; empty where none is in it."""
    if not found.mg_per_kg:
        return ""
    is_over = found.mg_per_kg > found.limit_mg_per_kg
    # The words say on which side it lies, whatever rounding for display does to a figure close by.
    shown = f"{found.mg_per_kg:.2f}".rstrip("0").rstrip(".")
    side = "above" if is_over else "not above"
    told = "declared" if found.is_declared else "not declared"
    return f"{shown} mg/kg: {side} {found.limit_mg_per_kg:f}, {told}"


def _with_beside(cell: AllergenCell, answer: CrossContactAnswer | None) -> AllergenCell:
    """What an assessment adds to a cell that is free by its ingredients."""
    if answer is None:
        return cell
    by = f"assessed by {answer.assessed}"
    if answer.outdated_because:
        by = f"{by}; {answer.outdated_because.rstrip('.')}"
    if answer.remains and cell.state == FREE:
        return AllergenCell(cell.group, MAY_CONTAIN, (answer.named_as,), cell.because, by)
    if answer.remains and answer.named_as not in cell.named:
        note = "; ".join(filter(None, (cell.note, f"may also contain {answer.named_as}, {by}")))
        return AllergenCell(cell.group, cell.state, cell.named, cell.because, note)
    return cell
