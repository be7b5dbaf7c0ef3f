"""Recipe lines in grams: units, percents of the base, and the base itself."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from costing.reckoning.book import AS_PURCHASED, Book, LineRecord, Question, RecipeRecord
from costing.reckoning.errors import ReckoningError
from costing.units import COUNT, NeedsDensity, NeedsWeightEach, UnitsError, to_grams, unit_dimension

HUNDRED = Decimal(100)
PERCENT = "%"
LARGEST_LINE_G = Decimal(10) ** 8
"""A hundred tonnes: above it a zero or a unit was mistyped."""

_ROUNDING_PCT = Decimal("0.01")


@dataclass(frozen=True)
class WeighedLines:
    """Mass of each line as typed (as purchased or prepared); None where a question is open."""

    masses_g: tuple[Decimal | None, ...]
    base_g: Decimal | None
    questions: tuple[Question, ...]


def line_name(line: LineRecord, *, book: Book) -> str:
    """Name of the ingredient or preparation of a line. Raises ReckoningError if it has neither."""
    if line.ingredient_id is not None and line.ingredient_id in book.ingredients:
        return book.ingredients[line.ingredient_id].name
    if line.recipe_id is not None and line.recipe_id in book.recipes:
        return book.recipes[line.recipe_id].name
    raise ReckoningError(
        "This line has no ingredient or preparation that is known here. Choose one.",
        field="ingredient",
    )


def is_bought_whole(line: LineRecord) -> bool:
    """Whether the amount is that of the thing as purchased; pieces are counted as they come."""
    if line.state == AS_PURCHASED:
        return True
    return line.unit != PERCENT and unit_dimension(line.unit) == COUNT


def weigh_lines(recipe: RecipeRecord, *, book: Book) -> WeighedLines:
    """Turn every line into grams. What needs a density or the weight of one becomes a question.

    Raises ReckoningError for amounts that cannot be, base percents that do not add up to a
    hundred, and percents of a base that is not in the recipe.
    """
    masses: list[Decimal | None] = []
    questions: list[Question] = []
    for position, line in enumerate(recipe.lines):
        name = _checked_name(line, position, book=book)
        if line.unit == PERCENT:
            masses.append(None)
            continue
        try:
            mass_g = _absolute_g(line, name, book=book)
        except (NeedsDensity, NeedsWeightEach) as asked:
            questions.append(_mass_question(asked, line, name))
            masses.append(None)
        except UnitsError as refused:
            raise ReckoningError(str(refused), field="unit", line=position) from refused
        else:
            _refuse_absurd(mass_g, name, position)
            masses.append(mass_g)
    base_g = _base_g(recipe, masses, is_asked=bool(questions))
    for position, line in enumerate(recipe.lines):
        if line.unit == PERCENT and base_g is not None:
            mass_g = base_g * line.amount / HUNDRED
            _refuse_absurd(mass_g, line_name(line, book=book), position)
            masses[position] = mass_g
    return WeighedLines(tuple(masses), base_g, tuple(questions))


def _checked_name(line: LineRecord, position: int, *, book: Book) -> str:
    try:
        name = line_name(line, book=book)
    except ReckoningError as refused:
        raise ReckoningError(str(refused), field=refused.field, line=position) from refused
    if not line.amount.is_finite() or line.amount <= 0:
        raise ReckoningError(
            f"{name}: the amount is {line.amount}; it must be more than nothing. Leave the line "
            "out if none goes in.",
            field="amount",
            line=position,
        )
    return name


def _absolute_g(line: LineRecord, name: str, *, book: Book) -> Decimal:
    density = each_g = None
    if line.ingredient_id is not None:
        ingredient = book.ingredients[line.ingredient_id]
        density, each_g = ingredient.density_kg_per_l, ingredient.each_g
    return to_grams(line.amount, unit=line.unit, density_kg_per_l=density, each_g=each_g, name=name)


def _mass_question(asked: UnitsError, line: LineRecord, name: str) -> Question:
    return Question(
        sentence=str(asked),
        about="density" if isinstance(asked, NeedsDensity) else "each",
        ingredient_id=line.ingredient_id,
        recipe_id=line.recipe_id,
        blocks="mass",
        name=name,
    )


def _refuse_absurd(mass_g: Decimal, name: str, position: int) -> None:
    if mass_g > LARGEST_LINE_G:
        raise ReckoningError(
            f"{name}: {mass_g / 1_000_000:.0f} tonnes are more than any pan holds. Check the zeros "
            "and the unit.",
            field="amount",
            line=position,
        )


def _base_g(
    recipe: RecipeRecord, masses: Sequence[Decimal | None], *, is_asked: bool
) -> Decimal | None:
    """The mass that percents refer to: as stated, or the sum of base lines given in units."""
    base = [(i, line) for i, line in enumerate(recipe.lines) if line.is_base]
    in_percent = [i for i, line in enumerate(recipe.lines) if line.unit == PERCENT]
    if not base:
        if in_percent:
            called = f"the base “{recipe.base_name}”" if recipe.base_name else "a base"
            raise ReckoningError(
                f"{recipe.name} has percents of {called} that is not in the recipe. Mark the line "
                "that is the base, such as the sieved puree, or type the amount in a unit.",
                field="is_base",
                line=in_percent[0],
            )
        return None
    if recipe.base_g is not None and recipe.base_g <= 0:
        raise ReckoningError("The base must weigh more than nothing.", field="base_g")
    if all(line.unit != PERCENT for _, line in base):
        return _summed_base_g(recipe, [masses[i] for i, _ in base])
    if recipe.base_g is None:
        raise ReckoningError(
            "Say how much the base weighs in all; its lines are percents of it.", field="base_g"
        )
    _refuse_unless_a_hundred(recipe, base, masses, is_asked=is_asked)
    return recipe.base_g


def _summed_base_g(recipe: RecipeRecord, masses: Sequence[Decimal | None]) -> Decimal | None:
    known = [mass for mass in masses if mass is not None]
    if len(known) < len(masses):
        return None
    total = sum(known, Decimal(0))
    stated = recipe.base_g
    if stated is not None and abs(total - stated) * HUNDRED > stated * _ROUNDING_PCT:
        raise ReckoningError(
            f"The lines of the base weigh {total:.1f} g together, but the base is set to "
            f"{stated:.1f} g. Change one of them.",
            field="base_g",
        )
    return total


def _refuse_unless_a_hundred(
    recipe: RecipeRecord,
    base: Sequence[tuple[int, LineRecord]],
    masses: Sequence[Decimal | None],
    *,
    is_asked: bool,
) -> None:
    total, base_g = Decimal(0), recipe.base_g or Decimal(1)
    for position, line in base:
        if line.unit == PERCENT:
            total += line.amount
        elif (mass_g := masses[position]) is not None:
            total += mass_g * HUNDRED / base_g
        elif is_asked:
            return  # cannot be checked before the question is answered
    if abs(total - HUNDRED) > _ROUNDING_PCT:
        raise ReckoningError(
            f"The lines of the base add up to {total.normalize():f} %, not 100 %. Change one of "
            "them.",
            field="amount",
            line=base[-1][0],
        )
