"""The two-minute density test: one small tub weighed empty, full of water, full of the product."""

from dataclasses import dataclass
from decimal import Decimal

from costing.physics.density import water_kg_per_m3
from costing.reckoning.errors import ReckoningError
from costing.reckoning.figures import more_than_nothing, nothing_or_more, say
from costing.units import as_float, exact

HUNDRED, KG_PER_M3 = Decimal(100), Decimal(1000)
USUAL_LEVEL_PCT = Decimal("0.5")
"""How well a straight edge levels a small tub, as a share of its volume (judgement)."""

LIGHTEST_G_PER_ML, HEAVIEST_G_PER_ML = Decimal("0.9"), Decimal("1.59")
"""A fruit product lighter than 0.9 is foam (judgement); solid sugar is 1.59 (CRC Handbook, from
memory)."""

_USUAL_G_PER_ML = Decimal("1.15"), Decimal("1.45")
_COLDEST_C, _WARMEST_C = Decimal(1), Decimal(40)
_GOOD_ENOUGH_PCT = Decimal(2)
_EVENLY_WITHIN = Decimal(12)  # the variance of a reading is its step squared over twelve
_COVERAGE = Decimal(2)  # about 95 of 100


@dataclass(frozen=True)
class TubDensity:
    """A density with what it may be off by, in about 95 of 100 tests."""

    density_g_per_ml: Decimal
    uncertainty_g_per_ml: Decimal
    tub_ml: Decimal
    cautions: tuple[str, ...] = ()

    @property
    def uncertainty_pct(self) -> Decimal:
        """The same as a share of the density; a piece cut by depth is off by as much."""
        return self.uncertainty_g_per_ml * HUNDRED / self.density_g_per_ml


def tub_density(
    *,
    tub_g: Decimal,
    with_water_g: Decimal,
    with_product_g: Decimal,
    water_c: Decimal = Decimal(20),
    scale_step_g: Decimal = Decimal(1),
    level_pct: Decimal = USUAL_LEVEL_PCT,
) -> TubDensity:
    """Density from three weighings on one scale; water tells the volume.

    tub_g: the tub alone. with_water_g, with_product_g: tub and content, filled level both times.
    water_c: of the water [C]. scale_step_g: smallest step the scale shows [g]. level_pct: how far
        off level each filling may be, one standard deviation [% of the volume].
    Uncertainty is first order with coverage factor 2, the tub's own weighing counted in both.
    Raises ReckoningError for what cannot be: no water, swapped weighings, foam, denser than sugar.
    Source: mass over volume; JCGM 100:2008 (GUM), 5.1 and 4.3.7; water by ICUMSA SPS-4 (named from
        memory).
    """
    _check(tub_g, with_water_g, with_product_g, water_c, scale_step_g, level_pct)
    water_g, product_g = with_water_g - tub_g, with_product_g - tub_g
    of_water = exact(water_kg_per_m3(temperature_c=as_float(water_c)), step="0.0001") / KG_PER_M3
    density = product_g * of_water / water_g
    _check_density(density)
    reading_var = scale_step_g * scale_step_g / _EVENLY_WITHIN
    tub_weight = 1 / water_g - 1 / product_g
    relative_var = (
        reading_var * (1 / product_g**2 + 1 / water_g**2 + tub_weight**2)
        + 2 * (level_pct / HUNDRED) ** 2
    )
    uncertainty = _COVERAGE * density * relative_var.sqrt()
    return TubDensity(
        density_g_per_ml=density,
        uncertainty_g_per_ml=uncertainty,
        tub_ml=water_g / of_water,
        cautions=_cautions(density, uncertainty * HUNDRED / density),
    )


def _check(
    tub_g: Decimal,
    with_water_g: Decimal,
    with_product_g: Decimal,
    water_c: Decimal,
    scale_step_g: Decimal,
    level_pct: Decimal,
) -> None:
    nothing_or_more(tub_g, what="The empty tub", field="tub_g", unit="g")
    more_than_nothing(with_water_g, what="The tub with water", field="with_water_g", unit="g")
    more_than_nothing(with_product_g, what="The tub with product", field="with_product_g", unit="g")
    more_than_nothing(scale_step_g, what="The step of the scale", field="scale_step_g", unit="g")
    nothing_or_more(level_pct, what="The levelling", field="level_pct", unit="%")
    for full_g, what, field in (
        (with_water_g, "water", "with_water_g"),
        (with_product_g, "product", "with_product_g"),
    ):
        if full_g - tub_g < 10 * scale_step_g:
            raise ReckoningError(
                f"The tub with {what} weighs {say(full_g)} g and empty {say(tub_g)} g: that leaves "
                f"{say(full_g - tub_g)} g, too little for a scale in steps of {say(scale_step_g)} "
                "g. Weigh again with the tub on, and take a larger tub or a finer scale.",
                field=field,
            )
    if not _COLDEST_C <= water_c <= _WARMEST_C:
        raise ReckoningError(
            f"Water at {say(water_c)} °C will not do: take it from the tap, between {_COLDEST_C} "
            f"and {_WARMEST_C} °C, and type degrees Celsius.",
            field="water_c",
        )


def _check_density(density: Decimal) -> None:
    if LIGHTEST_G_PER_ML <= density <= HEAVIEST_G_PER_ML:
        return
    if density < LIGHTEST_G_PER_ML:
        hint = (
            "lighter than water. Are the two weighings swapped, was the tub not full, or is it "
            "whipped?"
        )
    else:
        hint = (
            f"denser than solid sugar ({HEAVIEST_G_PER_ML}). Was the tub left off one of the "
            "weighings, or not full of water?"
        )
    raise ReckoningError(
        f"That gives {say(density, places=3)} g/ml, {hint} Weigh all three again.",
        field="with_product_g",
    )


def _cautions(density: Decimal, off_pct: Decimal) -> tuple[str, ...]:
    said = []
    low, high = _USUAL_G_PER_ML
    if not low <= density <= high:
        said.append(
            f"{say(density, places=3)} g/ml is unusual: jams and pastes lie between {low} and "
            f"{high}. Air in it, or a tub not filled level? Test once more."
        )
    if off_pct > _GOOD_ENOUGH_PCT:
        said.append(
            f"This may be off by {say(off_pct, places=1)} %, and so may every piece cut by depth. "
            "A larger tub or a finer scale makes it surer."
        )
    return tuple(said)
