"""What was used, all the way down: the facts a label is written from."""

from dataclasses import dataclass
from decimal import Decimal

from costing.reckoning.book import Book, CostedLine, CostSheet
from costing.reckoning.lines import HUNDRED, is_bought_whole
from costing.reckoning.recipes import cost_recipe


@dataclass(frozen=True)
class Used:
    """An ingredient or a preparation as used in one batch.

    used_g: edible mass that went in, stones and trimmings taken off; for the recipe asked about,
        its finished mass. None when it cannot be told.
    parts: of a preparation, scaled to the part of it that was used here.
    kept_share: of a recipe, finished mass over all that was left when the water had gone: what
        stuck to the pan, was lost in handling or stayed in the sieve took its share with it.
    sieved_g: of a recipe's whole batch, what the sieve kept back of what could be eaten.
    """

    ingredient_id: int | None
    recipe_id: int | None
    name: str
    used_g: Decimal | None
    parts: tuple["Used", ...] = ()
    kept_share: Decimal = Decimal(1)
    sieved_g: Decimal = Decimal(0)


def composition(book: Book, recipe_id: int, *, known: dict[int, CostSheet] | None = None) -> Used:
    """What one batch of a recipe is made of, preparations opened to any depth.

    Raises what `cost_recipe` raises.
    """
    known = {} if known is None else known
    sheet = cost_recipe(book, recipe_id, known=known)
    return Used(
        ingredient_id=None,
        recipe_id=recipe_id,
        name=sheet.recipe.name,
        used_g=sheet.finished_g,
        parts=_parts(book, sheet, known, share=Decimal(1)),
        kept_share=kept_share(sheet),
        sieved_g=sieved_g(sheet),
    )


def kept_share(sheet: CostSheet) -> Decimal:
    """Finished mass over what was in the pan, before the sieve; 1 where neither can be told."""
    balance = sheet.balance
    if balance is None or not balance.pot_g:
        return Decimal(1)
    return balance.finished_g / (balance.pot_g + sieved_g(sheet))


def sieved_g(sheet: CostSheet) -> Decimal:
    """What the sieve kept back besides stones, peel and the like [g]; 0 where it cannot be told."""
    if sheet.balance is None:
        return Decimal(0)
    refuse_g = Decimal(0)
    for line in sheet.lines:
        edible_g = _edible_g(line)
        if line.used_g is None or edible_g is None:
            return Decimal(0)
        refuse_g += line.used_g - edible_g
    return max(sheet.balance.sieved_out_g - refuse_g, Decimal(0))


def _parts(
    book: Book, sheet: CostSheet, known: dict[int, CostSheet], *, share: Decimal | None
) -> tuple[Used, ...]:
    parts = []
    for line in sheet.lines:
        edible_g = _edible_g(line)
        used_g = None if edible_g is None or share is None else edible_g * share
        recipe_id = line.line.recipe_id if line.line.ingredient_id is None else None
        opened: tuple[Used, ...] = ()
        kept, sieved = Decimal(1), Decimal(0)
        if recipe_id is not None:
            made = cost_recipe(book, recipe_id, known=known)
            whole_g = made.finished_g
            below = None if used_g is None or whole_g is None else used_g / whole_g
            opened = _parts(book, made, known, share=below)
            kept, sieved = kept_share(made), sieved_g(made)
        ingredient_id = line.line.ingredient_id
        parts.append(Used(ingredient_id, recipe_id, line.name, used_g, opened, kept, sieved))
    return tuple(parts)


def _edible_g(line: CostedLine) -> Decimal | None:
    """Without what the sieve keeps back of something that went in whole."""
    if line.line.ingredient_id is None or line.purchased_g is None:
        return line.used_g
    if is_bought_whole(line.line):
        return line.purchased_g * line.usable_pct / HUNDRED
    return line.used_g
