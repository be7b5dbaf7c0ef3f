"""Solids in, solids out: only water boils off, so the finished mass follows from the Brix.

The thermometer and the refractometer see the liquid; fibre, skins and pips are dead weight.
"""

from typing import cast

from costing.physics.elementwise import FloatOrArray, Quantity, not_negative
from costing.physics.errors import require

HIGHEST_FINISHING_BRIX = 85.0
# Two ways of adding up the same pan differ by rounding; that is not "already past the point".
_SAME_MASS = 1e-9


def soluble_solids_g(
    *, fruit_g: Quantity, brix: Quantity, insoluble_solids_g: Quantity
) -> Quantity:
    """Sugars and acids that a fruit brings along: brix / 100 x (fruit - fibre).

    Brix is read on the juice, so the fibre is taken off before.

    fruit_g: fruit as it goes into the pan [g].
    brix: refractometer reading of its juice [% m/m].
    insoluble_solids_g: fibre, skins and pips in that fruit [g].
    Returns: soluble solids [g].
    Raises: OutsideValidRange unless fruit >= 0, 0 <= brix <= 85 and 0 <= fibre <= fruit.
    Source: solids balance; Singh & Heldman, Introduction to Food Engineering (from memory).

    >>> round(soluble_solids_g(fruit_g=2000.0, brix=12.5, insoluble_solids_g=36.0), 2)
    245.5
    """
    _require_mass(fruit_g, what="The mass of fruit")
    _require_brix(brix, what="The Brix of the fruit", zero_is_allowed=True)
    _require_mass(insoluble_solids_g, what="The fibre in the fruit")
    require(
        fruit_g - insoluble_solids_g,
        what="The fruit without its fibre",
        low=0,
        unit="g",
        next_step="The fibre cannot weigh more than the fruit; check its percentage.",
    )
    return brix / 100 * (fruit_g - insoluble_solids_g)


def pot_mass_g(
    *, soluble_solids_g: Quantity, insoluble_solids_g: Quantity, brix: Quantity
) -> Quantity:
    """Food left in the pot when its liquid has been boiled down to `brix`.

    Only water boils off: pot mass = soluble solids / (brix / 100) + insoluble solids.

    soluble_solids_g: sugars and acids from every ingredient, inversion counted [g].
    insoluble_solids_g: fibre, skins and pips [g].
    brix: soluble solids in the liquid phase, not in the whole pot [% m/m].
    Returns: mass of the food, pan excluded [g].
    Raises: OutsideValidRange unless soluble solids > 0, fibre >= 0 and 0 < brix <= 85.
    Source: solids balance; Singh & Heldman, Introduction to Food Engineering (from memory).

    >>> round(pot_mass_g(soluble_solids_g=5330.0, insoluble_solids_g=100.0, brix=65.0))
    8300
    """
    return _pot_mass_g(soluble_solids_g, insoluble_solids_g, brix)


def brix_from_pot_mass(
    *, pot_mass_g: Quantity, soluble_solids_g: Quantity, insoluble_solids_g: Quantity
) -> Quantity:
    """Brix of the liquid from weighing the pot: the surest reading once the recipe is known.

    pot_mass_g: food in the pot, pan and spoon taken off [g].
    soluble_solids_g: sugars and acids from every ingredient, inversion counted [g].
    insoluble_solids_g: fibre, skins and pips [g].
    Returns: soluble solids in the liquid phase [% m/m].
    Raises: OutsideValidRange unless soluble solids > 0, fibre >= 0 and the pot holds at least
        its solids.
    Source: solids balance; Singh & Heldman, Introduction to Food Engineering (from memory).

    >>> round(brix_from_pot_mass(
    ...     pot_mass_g=2250.0, soluble_solids_g=1648.9, insoluble_solids_g=36.0), 2)
    74.48
    """
    _require_solids(soluble_solids_g)
    _require_mass(insoluble_solids_g, what="The fibre in the pot")
    require(
        pot_mass_g - insoluble_solids_g - soluble_solids_g * (1 - _SAME_MASS),
        what="The water left in the pot, pot mass less all solids,",
        low=0,
        unit="g",
        next_step="The pot cannot weigh less than its solids: check the weighing, the tare of "
        "the pan and the recipe.",
    )
    return 100 * soluble_solids_g / (pot_mass_g - insoluble_solids_g)


def brix_from_finished_share(
    *,
    ingoing_g: Quantity,
    finished_share: Quantity,
    soluble_solids_g: Quantity,
    insoluble_solids_g: Quantity,
) -> Quantity:
    """Brix when the finish is written as "boil down to so much of what went in".

    ingoing_g: everything that went into the pot, added water too [g].
    finished_share: finished mass divided by the mass that went in [-].
    soluble_solids_g: sugars and acids from every ingredient, inversion counted [g].
    insoluble_solids_g: fibre, skins and pips [g].
    Returns: soluble solids in the liquid phase [% m/m].
    Raises: OutsideValidRange unless 0 < share <= 1, soluble solids > 0, fibre >= 0 and the
        finished pot still holds its solids.
    Source: solids balance; Singh & Heldman, Introduction to Food Engineering (from memory).

    >>> round(brix_from_finished_share(ingoing_g=2000.0, finished_share=0.84,
    ...     soluble_solids_g=1078.4, insoluble_solids_g=20.0), 1)
    65.0
    """
    _require_mass(ingoing_g, what="The mass that went in")
    require(
        finished_share,
        what="The finished share of what went in",
        low=0,
        low_is_allowed=False,
        high=1,
        next_step="Boiling only takes away: give 0.75 for three quarters left.",
    )
    return brix_from_pot_mass(
        pot_mass_g=ingoing_g * finished_share,
        soluble_solids_g=soluble_solids_g,
        insoluble_solids_g=insoluble_solids_g,
    )


def solids_from_pot_g(
    *, pot_mass_g: Quantity, insoluble_solids_g: Quantity, brix: Quantity
) -> Quantity:
    """Soluble solids really in the pot, from one weighing and one Brix: it audits the recipe.

    pot_mass_g: food in the pot, pan and spoon taken off [g].
    insoluble_solids_g: fibre, skins and pips [g].
    brix: soluble solids in the liquid phase, measured on a cooled drop [% m/m].
    Returns: soluble solids [g].
    Raises: OutsideValidRange unless pot mass > fibre >= 0 and 0 <= brix <= 85.
    Source: solids balance; Singh & Heldman, Introduction to Food Engineering (from memory).

    >>> round(solids_from_pot_g(pot_mass_g=2459.4, insoluble_solids_g=36.0, brix=68.04))
    1649
    """
    _require_pot(pot_mass_g, insoluble_solids_g)
    _require_brix(brix, what="The Brix", zero_is_allowed=True)
    return brix / 100 * (pot_mass_g - insoluble_solids_g)


def water_to_boil_off_g(
    *,
    pot_mass_g: Quantity,
    soluble_solids_g: Quantity,
    insoluble_solids_g: Quantity,
    finishing_brix: Quantity,
) -> Quantity:
    """Water still to leave the pot until the finishing Brix.

    pot_mass_g: food in the pot now, pan and spoon taken off [g].
    soluble_solids_g: sugars and acids in it, inversion counted [g].
    insoluble_solids_g: fibre, skins and pips [g].
    finishing_brix: soluble solids wanted in the liquid phase [% m/m].
    Returns: water to boil off [g].
    Raises: OutsideValidRange unless soluble solids > 0, fibre >= 0, 0 < brix <= 85 and the pot
        weighs at least what it would at that Brix.
    Source: solids balance; Singh & Heldman, Introduction to Food Engineering (from memory).

    >>> round(water_to_boil_off_g(pot_mass_g=2000.0, soluble_solids_g=1078.4,
    ...     insoluble_solids_g=20.0, finishing_brix=65.0), 1)
    320.9
    """
    finished_g = _pot_mass_g(soluble_solids_g, insoluble_solids_g, finishing_brix)
    require(
        pot_mass_g - finished_g + finished_g * _SAME_MASS,
        what="The water to boil off",
        low=0,
        unit="g",
        next_step="The pot is already past that Brix: thin it with water or finish at a higher "
        "Brix.",
    )
    return cast("Quantity", not_negative(pot_mass_g - finished_g))


def delivered_g(
    *, pot_mass_g: Quantity, pan_loss_g: Quantity, handling_loss_share: Quantity
) -> Quantity:
    """What can be sold of a pot: less the film on pan and spoon, less trimming and tasting.

    pot_mass_g: finished food in the pot [g].
    pan_loss_g: left on pan and spatula; 10-40 g is usual for 1-2 kg (judgement) [g].
    handling_loss_share: share lost after that, in cutting or filling [-].
    Returns: mass delivered [g].
    Raises: OutsideValidRange unless 0 <= pan loss <= pot mass and 0 <= handling loss <= 1.
    Source: mass balance.

    >>> delivered_g(pot_mass_g=2569.0, pan_loss_g=30.0, handling_loss_share=0.0)
    2539.0
    """
    _require_mass(pan_loss_g, what="The loss on the pan")
    require(
        pot_mass_g - pan_loss_g,
        what="The mass left after the loss on the pan",
        low=0,
        unit="g",
        next_step="The pan cannot keep more than it held; weigh the scraped pan once.",
    )
    require(
        handling_loss_share,
        what="The handling loss",
        low=0,
        high=1,
        next_step="Give it as a share: 0.02 for 2 %.",
    )
    return (pot_mass_g - pan_loss_g) * (1 - handling_loss_share)


def sugar_for_target_g(
    *,
    target_g: Quantity,
    brix: Quantity,
    insoluble_solids_g: Quantity,
    other_soluble_solids_g: Quantity,
) -> Quantity:
    """Sugar to weigh in so that a pot finishes at a wanted mass and Brix.

    target_g: finished mass wanted in the pot [g].
    brix: finishing Brix of the liquid phase [% m/m].
    insoluble_solids_g: fibre, skins and pips of everything in the pot [g].
    other_soluble_solids_g: soluble solids of fruit, juice and inversion, without the sugar [g].
    Returns: sugar [g].
    Raises: OutsideValidRange unless target > fibre >= 0, other solids >= 0, 0 < brix <= 85 and
        the fruit alone does not hold more than the target needs.
    Source: solids balance; Singh & Heldman, Introduction to Food Engineering (from memory).

    >>> round(sugar_for_target_g(target_g=2500.0, brix=66.0, insoluble_solids_g=36.0,
    ...     other_soluble_solids_g=248.9), 1)
    1377.3
    """
    _require_pot(target_g, insoluble_solids_g)
    _require_mass(other_soluble_solids_g, what="The solids of the other ingredients")
    _require_brix(brix, what="The finishing Brix")
    sugar_g = (target_g - insoluble_solids_g) * (brix / 100) - other_soluble_solids_g
    require(
        sugar_g,
        what="The sugar needed",
        low=0,
        unit="g",
        next_step="The fruit alone gives more than that: choose a larger mass, a higher Brix "
        "or less fruit.",
    )
    return sugar_g


def water_to_thin_g(
    *, soluble_solids_g: Quantity, brix: Quantity, target_brix: Quantity
) -> Quantity:
    """Water to stir into an overcooked pot to bring it back to a lower Brix.

    soluble_solids_g: sugars and acids in the pot, inversion counted [g].
    brix: Brix of the liquid phase now [% m/m].
    target_brix: Brix wanted [% m/m].
    Returns: water to add [g].
    Raises: OutsideValidRange unless soluble solids > 0 and 0 < target brix <= brix <= 85.
    Source: solids balance; Singh & Heldman, Introduction to Food Engineering (from memory).

    >>> round(water_to_thin_g(soluble_solids_g=600.0, brix=72.0, target_brix=66.0), 2)
    75.76
    """
    _require_solids(soluble_solids_g)
    _require_brix(brix, what="The Brix now")
    _require_brix(target_brix, what="The Brix wanted")
    require(
        brix - target_brix,
        what="The Brix now less the Brix wanted",
        low=0,
        unit="Brix",
        next_step="The pot is thinner than wanted: boil on instead of adding water.",
    )
    return soluble_solids_g * (100 / target_brix - 100 / brix)


def total_solids_pct(
    *, pot_mass_g: Quantity, soluble_solids_g: Quantity, insoluble_solids_g: Quantity
) -> Quantity:
    """All solids, dissolved or not, in the whole pot: what an oven-drying test would find.

    pot_mass_g: food in the pot [g].
    soluble_solids_g: sugars and acids in it, inversion counted [g].
    insoluble_solids_g: fibre, skins and pips [g].
    Returns: total solids [% m/m].
    Raises: OutsideValidRange unless pot mass > 0, solids >= 0 and the pot holds its solids.
    Source: solids balance; Singh & Heldman, Introduction to Food Engineering (from memory).

    >>> round(total_solids_pct(
    ...     pot_mass_g=2569.0, soluble_solids_g=1667.81, insoluble_solids_g=36.0), 1)
    66.3
    """
    _require_mass(soluble_solids_g, what="The soluble solids")
    _require_pot(pot_mass_g, insoluble_solids_g)
    solids_g = soluble_solids_g + insoluble_solids_g
    require(
        pot_mass_g - solids_g * (1 - _SAME_MASS),
        what="The water left in the pot, pot mass less all solids,",
        low=0,
        unit="g",
        next_step="The pot cannot weigh less than its solids: check the weighing and the recipe.",
    )
    return 100 * solids_g / pot_mass_g


def _pot_mass_g(
    soluble_solids_g: Quantity, insoluble_solids_g: Quantity, brix: Quantity
) -> Quantity:
    _require_solids(soluble_solids_g)
    _require_mass(insoluble_solids_g, what="The fibre in the pot")
    _require_brix(brix, what="The finishing Brix")
    return soluble_solids_g / (brix / 100) + insoluble_solids_g


def _require_mass(mass_g: FloatOrArray, *, what: str) -> None:
    require(mass_g, what=what, low=0, unit="g", next_step="Check the recipe for a negative amount.")


def _require_solids(soluble_solids_g: FloatOrArray) -> None:
    require(
        soluble_solids_g,
        what="The mass of soluble solids",
        low=0,
        low_is_allowed=False,
        unit="g",
        next_step="There is nothing to concentrate: add fruit or sugar, or give the fruit its "
        "Brix.",
    )


def _require_pot(pot_mass_g: FloatOrArray, insoluble_solids_g: FloatOrArray) -> None:
    _require_mass(insoluble_solids_g, what="The fibre in the pot")
    require(
        pot_mass_g - insoluble_solids_g,
        what="The pot mass without its fibre",
        low=0,
        low_is_allowed=False,
        unit="g",
        next_step="Check the weighing, the tare of the pan and the fibre of the fruit.",
    )


def _require_brix(brix: FloatOrArray, *, what: str, zero_is_allowed: bool = False) -> None:
    require(
        brix,
        what=what,
        low=0,
        low_is_allowed=zero_is_allowed,
        high=HIGHEST_FINISHING_BRIX,
        unit="Brix",
        next_step="Preserves finish between 40 and 80 Brix.",
    )
