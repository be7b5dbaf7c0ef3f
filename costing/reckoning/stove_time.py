"""Minutes still to boil, with the fire turned down once the pan is thick."""

from costing.physics import BURN_ON_BRIX, BURN_ON_POWER_SHARE, minutes_left, pot_mass_g
from costing.reckoning.book import Solids
from costing.units import as_float

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
