"""The same recipe for another pan; and what becomes of offcuts."""

from dataclasses import dataclass, replace
from decimal import Decimal

from costing.reckoning.book import FINAL_WEIGHT, CookRecord, CostSheet, LineRecord, RecipeRecord
from costing.reckoning.errors import MassUnknown, ReckoningError
from costing.reckoning.lines import PERCENT
from costing.reckoning.purchases import G_PER_KG

HUNDRED = Decimal(100)
_REVIEW_ABOVE, _REVIEW_BELOW = Decimal(2), Decimal("0.5")


def scale(recipe: RecipeRecord, *, factor: Decimal, keep_minutes: bool = False) -> RecipeRecord:
    """The recipe in another size: amounts, base, weighed results and minutes times a factor.

    Percents, losses in percent and a film on the pan in grams stay: it is the same pan.
    keep_minutes: the attended time does not change with the size.
    """
    if not factor.is_finite() or factor <= 0:
        raise ReckoningError("A recipe is scaled by more than nothing.", field="factor")
    minutes = recipe.attended_minutes
    return replace(
        recipe,
        lines=tuple(_scaled_line(line, factor) for line in recipe.lines),
        base_g=None if recipe.base_g is None else recipe.base_g * factor,
        cook=_scaled_cook(recipe.cook, factor),
        attended_minutes=minutes if minutes is None or keep_minutes else minutes * factor,
    )


def _scaled_line(line: LineRecord, factor: Decimal) -> LineRecord:
    return line if line.unit == PERCENT else replace(line, amount=line.amount * factor)


def _scaled_cook(cook: CookRecord, factor: Decimal) -> CookRecord:
    def times(mass_g: Decimal | None) -> Decimal | None:
        return None if mass_g is None else mass_g * factor

    return replace(
        cook,
        stop_value=times(cook.stop_value) if cook.stop_form == FINAL_WEIGHT else cook.stop_value,
        finished_g=times(cook.finished_g),
        evaporated_g=times(cook.evaporated_g),
    )


def factor_for_net(sheet: CostSheet, *, net_g: Decimal) -> Decimal:
    """How many times the recipe gives a finished mass, the film on the pan staying the same."""
    if sheet.balance is None:
        raise MassUnknown(tuple(q for q in sheet.questions if q.blocks == "mass"))
    if net_g <= 0:
        raise ReckoningError("Say how much should be there in the end.", field="net_g")
    cook = sheet.recipe.cook
    before_handling_g = net_g * HUNDRED / (HUNDRED - cook.handling_loss_pct)
    pot_g = (before_handling_g + cook.pan_residue_g) * HUNDRED / (HUNDRED - cook.pan_residue_pct)
    return pot_g / sheet.balance.pot_g


def scale_to_net(sheet: CostSheet, *, net_g: Decimal) -> RecipeRecord:
    """The recipe that leaves a finished mass."""
    return scale(sheet.recipe, factor=factor_for_net(sheet, net_g=net_g))


def scale_to_base(sheet: CostSheet, *, base_g: Decimal) -> RecipeRecord:
    """The recipe for all the base there is: "use up this puree"."""
    if sheet.base_g is None:
        raise ReckoningError(
            f"{sheet.recipe.name} has no base. Mark the line that is the base.", field="is_base"
        )
    if base_g <= 0:
        raise ReckoningError("The base must weigh more than nothing.", field="base_g")
    return scale(sheet.recipe, factor=base_g / sheet.base_g)


def scaling_caution(factor: Decimal) -> str:
    """What to review after a large change of size, or an empty text (common practice)."""
    if _REVIEW_BELOW <= factor <= _REVIEW_ABOVE:
        return ""
    return (
        f"This is {round(factor, 2).normalize():f} times the recipe. Review spices, pectin and "
        "time: water leaves by the surface of the pan, not by what is in it."
    )


@dataclass(frozen=True)
class OffcutsCredit:
    """What the main pieces cost when offcuts are sold apart and their value is taken off."""

    credit: Decimal
    main_g: Decimal
    main_per_kg: Decimal


def offcuts_credit(
    *, cost_total: Decimal, net_g: Decimal, offcuts_g: Decimal, value_per_kg: Decimal
) -> OffcutsCredit:
    """Treat offcuts as a by-product at what they bring net; the rest loads the main pieces."""
    if not 0 <= offcuts_g < net_g:
        raise ReckoningError(
            f"{offcuts_g} g of offcuts out of {net_g} g leave nothing to sell.", field="offcuts_g"
        )
    credit = offcuts_g * value_per_kg / G_PER_KG
    main_g = net_g - offcuts_g
    return OffcutsCredit(credit, main_g, (cost_total - credit) * G_PER_KG / main_g)
