"""Energy and minutes to heat a pot and to boil the water off.

Two thirds of the useful energy goes into the steam: less added water is less time and a fresher
colour. Above 55-60 Brix the power must come down or the pot burns on, so times at full power are
a lower bound.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from costing.physics.elementwise import FloatOrArray, Quantity
from costing.physics.errors import require

STEEL_KJ_PER_KG_K = 0.50
"""Stainless steel pan (handbook value, from memory)."""

BURN_ON_BRIX = 58.0
"""From here the power must come down, earlier with much fibre: 55-60 (judgement)."""

BURN_ON_POWER_SHARE = 0.40
"""Share of full power above that Brix (judgement)."""

BURN_ON_W_PER_CM2 = 1.5
"""Above this the paste catches even when scraped, past `BURN_ON_BRIX`; 1 is better (judgement)."""

_G_PER_KG = 1000.0
_W_PER_KW = 1000.0
_S_PER_MIN = 60.0
_KJ_PER_KWH = 3600.0


@dataclass(frozen=True)
class HobEfficiency:
    """Share of the energy bought that reaches the food: usual value and range."""

    usual: float
    low: float
    high: float


HOB_EFFICIENCY: Mapping[str, HobEfficiency] = MappingProxyType(
    {
        # Test figures of the US Department of Energy (84 %, 74 %, about 40 %), quoted second
        # hand; solid plate and the ranges are judgement. One boiling test in the maker's own pan
        # replaces the table.
        "induction": HobEfficiency(usual=0.84, low=0.75, high=0.88),
        "electric": HobEfficiency(usual=0.72, low=0.60, high=0.75),
        "solid plate": HobEfficiency(usual=0.60, low=0.50, high=0.68),
        "gas": HobEfficiency(usual=0.40, low=0.25, high=0.45),
    }
)


def latent_heat_kj_per_kg(*, temperature_c: Quantity) -> Quantity:
    """Heat that a kilo of water takes with it as steam.

    temperature_c: temperature of the boiling pot [C].
    Returns: latent heat of evaporation [kJ/kg].
    Raises: OutsideValidRange unless 60 <= temperature <= 130.
    Source: quadratic fit to IAPWS-95, within 0.27 kJ/kg.

    >>> round(latent_heat_kj_per_kg(temperature_c=100.0))
    2256
    """
    require(
        temperature_c,
        what="The boiling temperature",
        low=60,
        high=130,
        unit="C",
        next_step="Preserves boil between 90 and 115 C; check the thermometer and its unit.",
    )
    return 2490.155 - temperature_c * (2.02432 + temperature_c * 0.00313746)


def syrup_heat_capacity_kj_per_kg_k(*, brix: Quantity, temperature_c: Quantity) -> Quantity:
    """Heat that warms a kilo of sugar syrup by one kelvin (purity taken as 100 %).

    brix: soluble solids in the liquid phase [% m/m].
    temperature_c: temperature of the syrup [C].
    Returns: heat capacity [kJ/(kg K)].
    Raises: OutsideValidRange unless 0 <= brix <= 85 and 0 <= temperature <= 130.
    Source: Bubnik et al. 1995, Sugar Technologists Manual, 8th ed. (named from memory).

    >>> round(syrup_heat_capacity_kj_per_kg_k(brix=65.0, temperature_c=20.0), 2)
    2.65
    """
    require(
        brix,
        what="The Brix",
        low=0,
        high=85,
        unit="Brix",
        next_step="Preserves finish between 40 and 80 Brix.",
    )
    _require_syrup_temperature(temperature_c)
    purity_pct = 100.0
    return 4.1868 - brix * (0.0297 - 4.6e-5 * purity_pct) + 7.5e-5 * brix * temperature_c


def fibre_heat_capacity_kj_per_kg_k(*, temperature_c: Quantity) -> Quantity:
    """Heat that warms a kilo of food fibre by one kelvin.

    temperature_c: temperature of the food [C].
    Returns: heat capacity [kJ/(kg K)].
    Raises: OutsideValidRange unless 0 <= temperature <= 130.
    Source: Choi & Okos 1986, Food Engineering and Process Applications 1:93-101 (from memory).

    >>> round(fibre_heat_capacity_kj_per_kg_k(temperature_c=60.0), 2)
    1.94
    """
    _require_syrup_temperature(temperature_c)
    return 1.8459 + temperature_c * (1.8306e-3 - temperature_c * 4.6509e-6)


def evaporation_g_per_min(*, net_power_kw: Quantity, temperature_c: Quantity) -> Quantity:
    """Water that boils off in a minute for the power that reaches the food.

    net_power_kw: hob input times efficiency, less losses of the pan [kW].
    temperature_c: temperature of the boiling pot [C].
    Returns: water boiled off per minute [g/min].
    Raises: OutsideValidRange unless power >= 0 and 60 <= temperature <= 130.
    Source: energy balance with the latent heat of IAPWS-95.

    >>> round(evaporation_g_per_min(net_power_kw=1.0, temperature_c=100.0), 1)
    26.6
    """
    _require_positive(net_power_kw, what="The net power", unit="kW", zero_is_allowed=True)
    grams_per_kj = _G_PER_KG / latent_heat_kj_per_kg(temperature_c=temperature_c)
    return net_power_kw * _S_PER_MIN * grams_per_kj


def heating_kj(
    *,
    liquid_g: Quantity,
    brix: Quantity,
    insoluble_solids_g: Quantity,
    pan_g: Quantity,
    from_c: Quantity,
    to_c: Quantity,
) -> Quantity:
    """Useful heat to bring a pot and its pan from one temperature to another.

    Heat capacities change evenly with temperature here, so those halfway give the integral.

    liquid_g: food without its fibre [g].
    brix: soluble solids in the liquid phase [% m/m].
    insoluble_solids_g: fibre, skins and pips [g].
    pan_g: steel of the pan [g].
    from_c: temperature at the start [C].
    to_c: temperature at the end, as a rule where the pot begins to boil [C].
    Returns: useful heat, losses of the hob not included [kJ].
    Raises: OutsideValidRange unless masses >= 0, 0 <= brix <= 85, 0 <= from <= to <= 130.
    Source: energy balance; Bubnik et al. 1995 and Choi & Okos 1986 (both from memory).

    >>> round(heating_kj(liquid_g=1000.0, brix=0.0, insoluble_solids_g=0.0, pan_g=0.0,
    ...     from_c=15.0, to_c=90.0) / 3.6)
    87
    """
    _require_positive(liquid_g, what="The liquid", unit="g", zero_is_allowed=True)
    _require_positive(insoluble_solids_g, what="The fibre", unit="g", zero_is_allowed=True)
    _require_positive(pan_g, what="The pan", unit="g", zero_is_allowed=True)
    _require_syrup_temperature(from_c)
    _require_syrup_temperature(to_c)
    require(
        to_c - from_c,
        what="The warming",
        low=0,
        unit="K",
        next_step="The pot is already hotter than that; no heat is needed.",
    )
    halfway_c = (from_c + to_c) / 2
    per_k = (
        liquid_g * syrup_heat_capacity_kj_per_kg_k(brix=brix, temperature_c=halfway_c)
        + insoluble_solids_g * fibre_heat_capacity_kj_per_kg_k(temperature_c=halfway_c)
        + pan_g * STEEL_KJ_PER_KG_K
    )
    return per_k * (to_c - from_c) / _G_PER_KG


def boiling_off_kj(*, water_g: Quantity, start_c: Quantity, finish_c: Quantity) -> Quantity:
    """Useful heat that leaves with the steam while the boiling point climbs.

    Latent heat is taken halfway; over a preserve's climb of 5 K that is exact to 0.1 %. The pot
    warms meanwhile: about the mean of `heating_kj` for what it holds at start and at finish.

    water_g: water boiled off [g].
    start_c: temperature at which the pot begins to boil [C].
    finish_c: temperature at which it is finished [C].
    Returns: useful heat, losses of the hob not included [kJ].
    Raises: OutsideValidRange unless water >= 0 and both temperatures lie between 60 and 130.
    Source: energy balance with the latent heat of IAPWS-95.

    >>> round(boiling_off_kj(water_g=871.0, start_c=102.0, finish_c=104.8))
    1957
    """
    _require_positive(water_g, what="The water to boil off", unit="g", zero_is_allowed=True)
    at_start = latent_heat_kj_per_kg(temperature_c=start_c)
    at_finish = latent_heat_kj_per_kg(temperature_c=finish_c)
    return water_g / _G_PER_KG * (at_start + at_finish) / 2


def energy_bought_kwh(*, useful_kj: Quantity, efficiency: Quantity) -> Quantity:
    """Electricity or gas to pay for, so that the useful heat reaches the food.

    useful_kj: heating and boiling off together [kJ].
    efficiency: share of the energy bought that reaches the food [-].
    Returns: energy to pay for [kWh].
    Raises: OutsideValidRange unless heat >= 0 and 0 < efficiency <= 1.
    Source: definition of efficiency; 1 kWh = 3600 kJ.

    >>> round(energy_bought_kwh(useful_kj=2941.0, efficiency=0.84), 3)
    0.973
    """
    _require_positive(useful_kj, what="The useful heat", unit="kJ", zero_is_allowed=True)
    _require_efficiency(efficiency)
    return useful_kj / efficiency / _KJ_PER_KWH


def minutes_at_power(
    *, useful_kj: Quantity, hob_kw: Quantity, efficiency: Quantity, loss_kw: Quantity
) -> Quantity:
    """Time at one setting of the hob to bring the useful heat into the food.

    useful_kj: heating, boiling off, or both [kJ].
    hob_kw: power the hob takes at that setting [kW].
    efficiency: share of it that reaches the pan's contents [-].
    loss_kw: further loss of the open pan; 0 if efficiency came from a boiling test [kW].
    Returns: time, a lower bound if power must be cut against burning on [min].
    Raises: OutsideValidRange unless heat >= 0, power > 0, 0 < efficiency <= 1, loss >= 0 and
        more power comes in than is lost.
    Source: energy balance.

    >>> round(minutes_at_power(useful_kj=957.0, hob_kw=2.0, efficiency=0.84, loss_kw=0.0), 1)
    9.5
    """
    _require_positive(useful_kj, what="The useful heat", unit="kJ", zero_is_allowed=True)
    _require_positive(hob_kw, what="The power of the hob", unit="kW")
    _require_efficiency(efficiency)
    _require_positive(loss_kw, what="The loss of the pan", unit="kW", zero_is_allowed=True)
    net_kw = hob_kw * efficiency - loss_kw
    require(
        net_kw,
        what="The power left for boiling",
        low=0,
        low_is_allowed=False,
        unit="kW",
        next_step="The pan loses as much as it gets: use a stronger setting.",
    )
    return useful_kj / net_kw / _S_PER_MIN


def net_power_from_boiling_kw(
    *, water_lost_g: Quantity, minutes: Quantity, temperature_c: Quantity
) -> Quantity:
    """Power that really reaches the food, from a measured loss at the boil: replaces any table.

    Boil a kilo of water for ten minutes in the maker's own pan, weighed before and after.

    water_lost_g: mass before less mass after, at a full boil all the time [g].
    minutes: time between the two weighings [min].
    temperature_c: temperature of the boiling water or pot [C].
    Returns: hob input times efficiency, less all losses of that open pan [kW].
    Raises: OutsideValidRange unless water >= 0, minutes > 0 and 60 <= temperature <= 130.
    Source: energy balance with the latent heat of IAPWS-95.

    >>> round(net_power_from_boiling_kw(
    ...     water_lost_g=266.0, minutes=10.0, temperature_c=100.0), 2)
    1.0
    """
    per_min = measured_evaporation_g_per_min(water_lost_g=water_lost_g, minutes=minutes)
    latent = latent_heat_kj_per_kg(temperature_c=temperature_c)
    return per_min * latent / (_G_PER_KG * _S_PER_MIN)


def measured_evaporation_g_per_min(*, water_lost_g: Quantity, minutes: Quantity) -> Quantity:
    """Rate at which a pan loses water, from two weighings of it.

    water_lost_g: first pot weight less the second, nothing added or taken between [g].
    minutes: time between the two [min].
    Returns: water boiled off per minute [g/min].
    Raises: OutsideValidRange unless water >= 0 and minutes > 0.
    Source: definition.

    >>> measured_evaporation_g_per_min(water_lost_g=250.0, minutes=10.0)
    25.0
    """
    require(
        water_lost_g,
        what="The water lost between two weighings",
        low=0,
        unit="g",
        next_step="A boiling pot only gets lighter: check the tare and the order of the two.",
    )
    _require_positive(minutes, what="The time between two weighings", unit="min")
    return water_lost_g / minutes


def power_per_base_w_per_cm2(*, net_power_kw: Quantity, base_diameter_mm: Quantity) -> Quantity:
    """Power through the base of the pan; see `BURN_ON_W_PER_CM2`.

    net_power_kw: power that reaches the food [kW].
    base_diameter_mm: diameter of the heated base [mm].
    Returns: power per area [W/cm2].
    Raises: OutsideValidRange unless power >= 0 and diameter > 0.
    Source: definition.

    >>> round(power_per_base_w_per_cm2(net_power_kw=0.68, base_diameter_mm=240.0), 1)
    1.5
    """
    _require_positive(net_power_kw, what="The net power", unit="kW", zero_is_allowed=True)
    _require_positive(base_diameter_mm, what="The diameter of the base", unit="mm")
    radius_cm = base_diameter_mm / 20
    return net_power_kw * _W_PER_KW / (math.pi * radius_cm * radius_cm)


def _require_positive(
    value: FloatOrArray, *, what: str, unit: str, zero_is_allowed: bool = False
) -> None:
    require(
        value,
        what=what,
        low=0,
        low_is_allowed=zero_is_allowed,
        unit=unit,
        next_step="Check what was typed.",
    )


def _require_efficiency(efficiency: FloatOrArray) -> None:
    require(
        efficiency,
        what="The efficiency of the hob",
        low=0,
        low_is_allowed=False,
        high=1,
        next_step="Give it as a share: 0.84 for induction, 0.40 for gas.",
    )


def _require_syrup_temperature(temperature_c: FloatOrArray) -> None:
    require(
        temperature_c,
        what="The temperature",
        low=0,
        high=130,
        unit="C",
        next_step="Check the thermometer and its unit.",
    )
