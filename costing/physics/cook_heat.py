"""Energy and minutes of a whole cook: heating up, boiling off, and the cut against burning on."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from costing.physics.cook_down import CookDownCurve
from costing.physics.errors import require
from costing.physics.heat import (
    BURN_ON_BRIX,
    BURN_ON_POWER_SHARE,
    STEEL_KJ_PER_KG_K,
    energy_bought_kwh,
    fibre_heat_capacity_kj_per_kg_k,
    heating_kj,
    latent_heat_kj_per_kg,
    minutes_at_power,
    syrup_heat_capacity_kj_per_kg_k,
)

Array = NDArray[np.float64]

_G_PER_KG = 1000.0


@dataclass(frozen=True)
class Hob:
    """Power taken [kW], share of it that reaches the food [-], further loss of the pan [kW].

    An own boiling test gives power times efficiency less loss in one figure: write it as
    efficiency = net power / hob power and loss 0.
    """

    power_kw: float
    efficiency: float
    loss_kw: float = 0.0


@dataclass(frozen=True)
class CookHeat:
    """Useful heat by its parts [kJ], energy to pay for [kWh], and times [min].

    boil_minutes is the time at full power, a lower bound; boil_minutes_with_cut has the power
    cut above the Brix at which the pot burns on.
    bought_kwh counts the useful heat over the efficiency; bought_with_loss_kwh what the hob takes
    with the further loss of the pan and the longer boil under the cut.
    """

    heating_kj: float
    steam_kj: float
    warming_kj: float
    bought_kwh: float
    bought_with_loss_kwh: float
    heat_up_minutes: float
    boil_minutes: float
    boil_minutes_with_cut: float

    @property
    def useful_kj(self) -> float:
        """Heating, steam and the warming of the pot while its boiling point climbs."""
        return self.heating_kj + self.steam_kj + self.warming_kj


def cook_heat(
    *,
    curve: CookDownCurve,
    insoluble_solids_g: float,
    hob: Hob,
    pan_g: float,
    from_c: float = 20.0,
    cut_from_brix: float = BURN_ON_BRIX,
    cut_to_share: float = BURN_ON_POWER_SHARE,
) -> CookHeat:
    """Energy and time of a cook on one hob; refuses what the formulas behind it refuse.

    curve: the cook from `cook_down_curve`. pan_g: steel of the pan. from_c: pot at the start [C].
    Evaporation before the boil and the heat of dilution, below 1 %, are left out.
    """
    _require_share(cut_to_share)
    heat_up_kj = heating_kj(
        liquid_g=float(curve.pot_mass_g[0]) - insoluble_solids_g,
        brix=float(curve.brix[0]),
        insoluble_solids_g=insoluble_solids_g,
        pan_g=pan_g,
        from_c=from_c,
        to_c=float(curve.boiling_c[0]),
    )
    steam_kj = _steam_kj(curve)
    warming_kj = _warming_kj(curve, insoluble_solids_g=insoluble_solids_g, pan_g=pan_g)
    boil_kj = float(steam_kj[-1] + warming_kj[-1])
    before_kj = float(np.interp(cut_from_brix, curve.brix, steam_kj + warming_kj))
    full, cut = hob.power_kw, hob.power_kw * cut_to_share
    heat_up_minutes = _minutes(heat_up_kj, full, hob)
    before_minutes = _minutes(before_kj, full, hob)
    after_minutes = _minutes(boil_kj - before_kj, cut, hob) if before_kj < boil_kj else 0.0
    useful_kj = heat_up_kj + boil_kj
    hob_kw_minutes = full * (heat_up_minutes + before_minutes) + cut * after_minutes
    return CookHeat(
        heating_kj=heat_up_kj,
        steam_kj=float(steam_kj[-1]),
        warming_kj=float(warming_kj[-1]),
        bought_kwh=energy_bought_kwh(useful_kj=useful_kj, efficiency=hob.efficiency),
        bought_with_loss_kwh=hob_kw_minutes / 60,
        heat_up_minutes=heat_up_minutes,
        boil_minutes=_minutes(boil_kj, full, hob),
        boil_minutes_with_cut=before_minutes + after_minutes,
    )


def _require_share(cut_to_share: float) -> None:
    require(
        cut_to_share,
        what="The share of full power after the cut",
        low=0,
        low_is_allowed=False,
        high=1,
        next_step="Give it as a share: 0.4 for 40 %.",
    )


def _minutes(useful_kj: float, hob_kw: float, hob: Hob) -> float:
    return minutes_at_power(
        useful_kj=useful_kj, hob_kw=hob_kw, efficiency=hob.efficiency, loss_kw=hob.loss_kw
    )


def _steam_kj(curve: CookDownCurve) -> Array:
    """Heat gone with the steam up to each point of the curve."""
    latent = latent_heat_kj_per_kg(temperature_c=curve.boiling_c)
    return _summed(latent, np.diff(curve.water_boiled_off_g) / _G_PER_KG)


def _warming_kj(curve: CookDownCurve, *, insoluble_solids_g: float, pan_g: float) -> Array:
    """Heat that warmed pot and pan up to each point, as their boiling point climbed."""
    syrup = syrup_heat_capacity_kj_per_kg_k(brix=curve.brix, temperature_c=curve.boiling_c)
    fibre = fibre_heat_capacity_kj_per_kg_k(temperature_c=curve.boiling_c)
    per_k = (
        (curve.pot_mass_g - insoluble_solids_g) * syrup
        + insoluble_solids_g * fibre
        + pan_g * STEEL_KJ_PER_KG_K
    ) / _G_PER_KG
    return _summed(per_k, np.diff(curve.boiling_c))


def _summed(heights: Array, widths: Array) -> Array:
    """Running integral by the trapezoid rule, from zero."""
    steps = (heights[1:] + heights[:-1]) / 2 * widths
    return np.concatenate([np.zeros(1), np.cumsum(steps)])
