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
    kept_share: of a recipe, finished mass over what was in the pan when it was done: what stuck to
        the pan or was lost in handling took its share of every part with it.
    """

    ingredient_id: int | None
    recipe_id: int | None
    name: str
    used_g: Decimal | None
    parts: tuple["Used", ...] = ()
    kept_share: Decimal = Decimal(1)


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
    )


def kept_share(sheet: CostSheet) -> Decimal:
    """Finished mass over what was in the pan; 1 where neither can be told."""
    balance = sheet.balance
    if balance is None or not balance.pot_g:
        return Decimal(1)
    return balance.finished_g / balance.pot_g


def _parts(
    book: Book, sheet: CostSheet, known: dict[int, CostSheet], *, share: Decimal | None
) -> tuple[Used, ...]:
    parts = []
    for line in sheet.lines:
        edible_g = _edible_g(line)
        used_g = None if edible_g is None or share is None else edible_g * share
        recipe_id = line.line.recipe_id if line.line.ingredient_id is None else None
        opened: tuple[Used, ...] = ()
        kept = Decimal(1)
        if recipe_id is not None:
            made = cost_recipe(book, recipe_id, known=known)
            whole_g = made.finished_g
            below = None if used_g is None or whole_g is None else used_g / whole_g
            opened = _parts(book, made, known, share=below)
            kept = kept_share(made)
        parts.append(Used(line.line.ingredient_id, recipe_id, line.name, used_g, opened, kept))
    return tuple(parts)


def _edible_g(line: CostedLine) -> Decimal | None:
    """Without what the sieve keeps back of something that went in whole."""
    if line.line.ingredient_id is None or line.purchased_g is None:
        return line.used_g
    if is_bought_whole(line.line):
        return line.purchased_g * line.usable_pct / HUNDRED
    return line.used_g
