"""The floor of a cook: the same draws and the same curve, as bare sums over whole arrays.

No range is checked, nothing is refused or held at a limit, no value is visited by a loop, and only
the one way of stopping is known. What it finds must be what the physics finds.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Low = tuple[float, float, float]
"""Lowest, usual and highest value."""

_WATER, _SUCROSE, _HEXOSE, _ACID = 18.01528, 342.2965, 180.156, 192.124  # g/mol
_ZERO_K = 273.15


@dataclass(frozen=True)
class BareCook:
    """One fruit with sugar, stopped at a thermometer reading; masses in g, shares of the solids."""

    ingoing_g: float
    fruit_g: float
    fruit_brix: Low
    fruit_fibre_pct: Low
    fruit_shares: tuple[float, float, float]
    sucrose_g: float
    inverted_share: Low
    pan_loss_g: Low
    temperature_c: tuple[float, float]
    pressure_pa: tuple[float, float]


def bare_bands(cook: BareCook, *, seed: int, draws: int) -> Array:
    """5th, 50th and 95th percentile, mean and deviation of the seven figures of a drawn cook."""
    figures = bare_draws(cook, seed=seed, draws=draws)
    together = np.stack(figures)
    percentiles = np.percentile(together, (5, 50, 95), axis=1)
    return np.vstack([percentiles, together.mean(axis=1), together.std(axis=1)])


def bare_draws(cook: BareCook, *, seed: int, draws: int) -> tuple[Array, ...]:
    """Solids, fibre, share inverted, Brix, pot, water gone and what can be sold, for each draw."""
    pick = np.random.default_rng(seed)
    fruit_brix = pick.triangular(*cook.fruit_brix, draws)
    fibre = cook.fruit_g / 100 * pick.triangular(*cook.fruit_fibre_pct, draws)
    inverted = pick.triangular(*cook.inverted_share, draws)
    temperature_c = pick.normal(*cook.temperature_c, draws)
    pressure_pa = pick.normal(*cook.pressure_pa, draws)
    pan_loss = pick.triangular(*cook.pan_loss_g, draws)
    solids = fruit_brix / 100 * (cook.fruit_g - fibre)
    in_sucrose, in_hexose, in_acid = cook.fruit_shares
    sucrose, acid = cook.sucrose_g + in_sucrose * solids, in_acid * solids
    split = sucrose * inverted
    sucrose, hexose = sucrose - split, in_hexose * solids + split * (1 + _WATER / _SUCROSE)
    soluble = sucrose + hexose + acid
    moles = (sucrose / _SUCROSE / soluble, hexose / _HEXOSE / soluble, acid / _ACID / soluble)
    brix = _brix(pressure_pa / _vapour_pa(temperature_c), temperature_c + _ZERO_K, moles)
    pot = 100 * soluble / brix + fibre
    return soluble, fibre, inverted, brix, pot, cook.ingoing_g - pot, pot - pan_loss


def bare_curve(
    *,
    ingoing_g: float,
    soluble_g: float,
    fibre_g: float,
    finishing_brix: float,
    pressure_pa: float,
    shares: tuple[float, float, float],
    points: int,
) -> tuple[Array, ...]:
    """Brix, kelvin above boiling water, boiling temperature, pot and water gone, along a cook."""
    gone = np.linspace(0.0, ingoing_g - (100 * soluble_g / finishing_brix + fibre_g), points)
    pot = ingoing_g - gone
    brix = 100 * soluble_g / (pot - fibre_g)
    moles = (shares[0] / _SUCROSE, shares[1] / _HEXOSE, shares[2] / _ACID)
    water_c = _boiling_c(np.full(1, pressure_pa))[0]
    hot = _hotter(pressure_pa, brix, moles, _hotter(pressure_pa, brix, moles, water_c))
    hot = _hotter(pressure_pa, brix, moles, _hotter(pressure_pa, brix, moles, hot))
    hot = _hotter(pressure_pa, brix, moles, _hotter(pressure_pa, brix, moles, hot))
    return brix, hot - water_c, hot, pot, gone


Moles = tuple[Array, Array, Array] | tuple[float, float, float]


def _hotter(pressure_pa: float, brix: Array, moles: Moles, from_c: Array) -> Array:
    """One step of aw(B, T) psat(T) = p, at least ten times nearer to the temperature."""
    sucrose, hexose, acid = moles
    total = brix * (sucrose + hexose + acid) + (100 - brix) / _WATER
    x = brix * (sucrose + hexose + acid) / total
    pull = _pull(x, sucrose, hexose, acid) * brix / total
    return _boiling_c(pressure_pa / ((1 - x) * np.exp(-pull * pull / (from_c + _ZERO_K))))


def _pull(x: Array, sucrose: Array | float, hexose: Array | float, acid: Array | float) -> Array:
    """Roots of the extended Norrish constants, weighed by moles (Starzak & Peacock 1997)."""
    bent = np.sqrt(17638.0 / 8.314462618 * (1 - 1.0038 * x - 0.24653 * x * x))
    others = hexose * np.sqrt(2.25 * 298.15) + acid * np.sqrt(6.17 * 298.15)
    return np.asarray(bent * sucrose + others)


def _brix(activity: Array, t_k: Array, moles: Moles) -> Array:
    """Five steps of Newton's rule for the mole fraction, and back to mass."""
    sucrose, hexose, acid = moles
    solute = sucrose + hexose + acid
    bent = sucrose / solute * np.sqrt(17638.0 / 8.314462618)
    others = (hexose * np.sqrt(2.25 * 298.15) + acid * np.sqrt(6.17 * 298.15)) / solute
    wanted = np.log(activity)

    def nearer(x: Array) -> Array:
        shape = np.sqrt(1 - (1.0038 + 0.24653 * x) * x)
        each = bent * shape + others
        pull = each * x / t_k
        slope = 1 / (1 - x) + 2 * pull * (each - bent * x * (0.5019 + 0.24653 * x) / shape)
        return np.asarray(x + (np.log(1 - x) - pull * each * x - wanted) / slope)

    x = nearer(nearer(nearer(nearer(nearer(-wanted)))))
    return np.asarray(100 * x / (x + solute * _WATER * (1 - x)))


def _vapour_pa(temperature_c: Array) -> Array:
    """IAPWS R7-97(2012), region 4, equation 30."""
    t = temperature_c + _ZERO_K
    theta = t - 0.23855557567849 / (t - 650.17534844798)
    a = (theta + 1167.0521452767) * theta - 724213.16703206
    b = (-17.073846940092 * theta + 12020.82470247) * theta - 3232555.0322333
    c = (14.91510861353 * theta - 4823.2657361591) * theta + 405113.40542057
    return np.asarray((2 * c / (np.sqrt(b * b - 4 * a * c) - b)) ** 4 * 1e6)


def _boiling_c(pressure_pa: Array) -> Array:
    """IAPWS R7-97(2012), region 4, equation 31."""
    beta = np.sqrt(np.sqrt(pressure_pa / 1e6))
    e = (beta - 17.073846940092) * beta + 14.91510861353
    f = (1167.0521452767 * beta + 12020.82470247) * beta - 4823.2657361591
    g = (-724213.16703206 * beta - 3232555.0322333) * beta + 405113.40542057
    d = 2 * g / (-f - np.sqrt(f * f - 4 * e * g))
    root = (650.17534844798 + d) ** 2 - 4 * (-0.23855557567849 + 650.17534844798 * d)
    return np.asarray((650.17534844798 + d - np.sqrt(root)) / 2 - _ZERO_K)
