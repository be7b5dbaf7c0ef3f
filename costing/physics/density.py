"""Kilos per litre of syrup and paste, and how high a slab stands in its mould."""

from typing import cast

from costing.physics.elementwise import FloatOrArray, Quantity
from costing.physics.errors import require

# Ratio polynomial of water, kg/m3 (part of the sucrose density set below).
_WATER = (999.83952, 16.952577, -7.9905127e-3, -46.241757e-6, 105.84601e-9, -281.03006e-12)
_WATER_DIVISOR = 16.887236e-3

# ICUMSA SPS-4: rows are powers 0 to 4 of (t - 20)/100, columns powers 1 up of the mass fraction.
_SUCROSE = (
    (385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890),
    (-46.2720, -7.1720, 1.1597, 5.1126, 17.5254),
    (59.7712, 7.2491, 12.3630, -35.4791),
    (-47.2207, -21.6977, 27.6301),
    (18.3184, 12.3081),
)

# Choi & Okos 1986: density of food fibre.
_FIBRE_KG_PER_M3, _FIBRE_PER_K = 1311.5, -0.36589

HIGHEST_BRIX = 85.0


def water_kg_per_m3(*, temperature_c: Quantity) -> Quantity:
    """Density of water.

    temperature_c: temperature of the water [C].
    Returns: density, 1 kg/l = 1000 [kg/m3].
    Raises: OutsideValidRange unless 0 <= temperature <= 100.
    Source: ICUMSA SPS-4 (1998) / PTB, water part (named from memory).

    >>> round(water_kg_per_m3(temperature_c=20.0), 2)
    998.2
    """
    _require_temperature(temperature_c)
    divisor = 1 + _WATER_DIVISOR * temperature_c
    return _polynomial(_WATER, temperature_c) / divisor


def sucrose_solution_kg_per_m3(*, brix: Quantity, temperature_c: Quantity) -> Quantity:
    """Density of a sugar syrup; invert syrups are 0.3-0.5 % lighter (from memory), ignored.

    Fitted for 0-80 C; it runs on smoothly to 100 C, which hot filling needs.

    brix: sucrose in the liquid phase [% m/m].
    temperature_c: temperature of the syrup [C].
    Returns: density, 1 kg/l = 1000 [kg/m3].
    Raises: OutsideValidRange unless 0 <= brix <= 85 and 0 <= temperature <= 100.
    Source: ICUMSA SPS-4 (1998) / PTB; coefficients via Llano 2005 (standard named from memory).

    >>> round(sucrose_solution_kg_per_m3(brix=65.0, temperature_c=20.0), 1)
    1316.6
    """
    require(
        brix,
        what="The Brix",
        low=0,
        high=HIGHEST_BRIX,
        unit="Brix",
        next_step="Preserves finish between 40 and 80 Brix.",
    )
    share = brix / 100
    warmth = (temperature_c - 20) / 100
    rows: tuple[FloatOrArray, ...] = tuple(_polynomial(row, share) * share for row in _SUCROSE)
    extra = _polynomial(rows, warmth)
    return water_kg_per_m3(temperature_c=temperature_c) + extra


def paste_kg_per_m3(
    *,
    brix: Quantity,
    temperature_c: Quantity,
    insoluble_share: Quantity,
    air_share: Quantity,
) -> Quantity:
    """Density of a paste: syrup and fibre share the volume by weight, and air is on top.

    brix: soluble solids in the liquid phase [% m/m].
    temperature_c: temperature of the paste [C].
    insoluble_share: fibre as a share of the whole paste [-].
    air_share: share of the volume that is air; 0-0.03 if whipped or poured hot (judgement) [-].
    Returns: density, 1 kg/l = 1000 [kg/m3].
    Raises: OutsideValidRange unless 0 <= brix <= 85, 0 <= temperature <= 100,
        0 <= fibre <= 0.3 and 0 <= air <= 0.3.
    Source: ICUMSA SPS-4 for the syrup; Choi & Okos 1986 for the fibre (from memory).

    >>> round(paste_kg_per_m3(
    ...     brix=66.0, temperature_c=20.0, insoluble_share=0.022, air_share=0.0))
    1322
    """
    _require_share(insoluble_share, what="The share of fibre")
    _require_share(air_share, what="The share of air")
    syrup = sucrose_solution_kg_per_m3(brix=brix, temperature_c=temperature_c)
    fibre = _FIBRE_KG_PER_M3 + _FIBRE_PER_K * temperature_c
    m3_per_kg = (1 - insoluble_share) / syrup + insoluble_share / fibre
    return (1 - air_share) / m3_per_kg


def slab_height_mm(
    *, mass_g: Quantity, tray_area_cm2: Quantity, density_kg_per_m3: Quantity
) -> Quantity:
    """Height of a slab in a straight-sided tray.

    Give the density at filling temperature for the fill line, and at 20 C for the set slab.

    mass_g: paste in the tray [g].
    tray_area_cm2: inside length times width [cm2].
    density_kg_per_m3: density of the paste at that temperature [kg/m3].
    Returns: height [mm].
    Raises: OutsideValidRange unless mass >= 0, area > 0 and 500 <= density <= 2000.
    Source: volume is mass over density.

    >>> round(slab_height_mm(mass_g=900.0, tray_area_cm2=400.0, density_kg_per_m3=1322.2), 1)
    17.0
    """
    require(
        mass_g, what="The mass in the tray", low=0, unit="g", next_step="Check the slab weight."
    )
    require(
        tray_area_cm2,
        what="The area of the tray",
        low=0,
        low_is_allowed=False,
        unit="cm2",
        next_step="Multiply inside length by width, in centimetres.",
    )
    require(
        density_kg_per_m3,
        what="The density",
        low=500,
        high=2000,
        unit="kg/m3",
        next_step="Pastes weigh about 1320 kg/m3, which is 1.32 kg a litre.",
    )
    # 1 g / (1 kg/m3) = 1000 cm3; over cm2 that is cm, and a centimetre has 10 mm.
    return mass_g / density_kg_per_m3 / tray_area_cm2 * 1e4


def _polynomial(coefficients: tuple[FloatOrArray, ...], variable: Quantity) -> Quantity:
    """Horner's scheme, lowest power first."""
    total: FloatOrArray = 0.0
    for coefficient in reversed(coefficients):
        total = total * variable + coefficient
    return cast("Quantity", total)


def _require_temperature(temperature_c: FloatOrArray) -> None:
    require(
        temperature_c,
        what="The temperature",
        low=0,
        high=100,
        unit="C",
        next_step="Density is known from 0 to 100 C; fill below the boil.",
    )


def _require_share(share: FloatOrArray, *, what: str) -> None:
    require(share, what=what, low=0, high=0.3, next_step="Give it as a share: 0.02 for 2 %.")
