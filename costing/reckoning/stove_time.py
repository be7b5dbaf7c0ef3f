"""Minutes of a boil whose fire is turned down once the pan is thick, and the rate behind them."""

from decimal import Decimal

from costing.physics import BURN_ON_BRIX, BURN_ON_POWER_SHARE, minutes_left, pot_mass_g
from costing.reckoning.book import Solids
from costing.units import as_float, exact

TURN_DOWN = (
    f"From about {BURN_ON_BRIX:g} Brix it catches: turn the fire down and scrape. The minutes"
    f" reckon with {BURN_ON_POWER_SHARE:.0%} of the rate from there (common practice), until two"
    " weighings show yours."
).replace("%", " %")


def minutes_to_boil_off(
    solids: Solids, *, from_g: float, to_g: float, rate: float, is_turned_down: bool
) -> float:
    """Time from one weight of the food to another [min].

    rate: water lost in a minute [g/min], at full boil unless is_turned_down.
    """
    thick_g = pot_mass_g(
        soluble_solids_g=as_float(solids.soluble_g),
        insoluble_solids_g=as_float(solids.insoluble_g),
        brix=BURN_ON_BRIX,
    )
    turned_at_g = min(max(thick_g, to_g), from_g)
    late_rate = rate if is_turned_down else rate * BURN_ON_POWER_SHARE
    early = minutes_left(
        water_to_boil_off_g=max(from_g - turned_at_g, 0.0), evaporation_g_per_min=rate
    )
    late = minutes_left(
        water_to_boil_off_g=max(turned_at_g - to_g, 0.0), evaporation_g_per_min=late_rate
    )
    return early + late


def full_fire_rate(
    *, lost_g: Decimal, left_g: Decimal, thick_g: Decimal | None, minutes: Decimal
) -> Decimal:
    """Water lost in a minute at full fire, from two weights between which the fire went down.

    lost_g: between them. left_g: food at the later one. thick_g: food at the Brix from which the
    fire is turned down; None = it never was, or nobody knows. What was lost past that took longer
    by the share of the fire, so that the minutes planned by this rate are those that were taken.
    """
    late_g = Decimal(0) if thick_g is None else min(max(thick_g - left_g, Decimal(0)), lost_g)
    return (lost_g - late_g + late_g / exact(BURN_ON_POWER_SHARE, step="0.01")) / minutes


def food_when_turned_down_g(*, done_g: Decimal | None, end_brix: Decimal | None) -> Decimal | None:
    """Food in the pan when it came to the Brix from which the fire is turned down.

    done_g, end_brix: when the fire went out. None where one of them is not known, or the pan was
    never so thick. Its fibre, a hundredth or two of it, is reckoned with the liquid: of 14 kg at 67
    Brix with 2 % of fibre that is 44 g of 16 kg.
    """
    if done_g is None or end_brix is None or end_brix <= exact(BURN_ON_BRIX, step="0.01"):
        return None
    return done_g * end_brix / exact(BURN_ON_BRIX, step="0.01")
