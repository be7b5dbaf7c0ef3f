"""How heavy a paste is when nobody has weighed it: from its Brix, by the physics of syrups.

A plan only: air and fibre of a real paste move it by some per cent. A small tub on a scale
(costing.reckoning.tub_density) knows better.
"""

from dataclasses import dataclass
from decimal import Decimal

from costing.physics.density import paste_kg_per_m3
from costing.physics.errors import OutsideValidRange
from costing.reckoning.book import CostSheet
from costing.reckoning.errors import ReckoningError
from costing.reckoning.figures import say
from costing.units import as_float, exact

COLD_C = Decimal(20)
HUNDRED, KG_PER_M3 = Decimal(100), Decimal(1000)


@dataclass(frozen=True)
class Strength:
    """What the density of a paste hangs on. insoluble_pct: fibre, of the whole paste."""

    brix: Decimal
    insoluble_pct: Decimal = Decimal(0)


def strength_of(sheet: CostSheet) -> Strength | None:
    """Brix and fibre a recipe ends with; None where its solids are not all known."""
    solids, mass_g = sheet.solids, sheet.finished_g
    if solids is None or mass_g is None or mass_g <= solids.insoluble_g or solids.soluble_g <= 0:
        return None
    return Strength(
        brix=solids.soluble_g * HUNDRED / (mass_g - solids.insoluble_g),
        insoluble_pct=solids.insoluble_g * HUNDRED / mass_g,
    )


def paste_g_per_ml(strength: Strength, *, temperature_c: Decimal = COLD_C) -> Decimal:
    """Density of an air-free paste [g/ml], to four decimals.

    Raises ReckoningError outside 0 to 85 Brix, 0 to 100 C and 30 % fibre.
    Source: costing.physics.density.paste_kg_per_m3 (ICUMSA SPS-4; Choi & Okos 1986).
    """
    try:
        found = paste_kg_per_m3(
            brix=as_float(strength.brix),
            temperature_c=as_float(temperature_c),
            insoluble_share=as_float(strength.insoluble_pct / HUNDRED),
            air_share=0,
        )
    except OutsideValidRange as outside:
        raise ReckoningError(
            f"The density of a paste of {say(strength.brix, places=1)} Brix at "
            f"{say(temperature_c, places=1)} °C cannot be reckoned. Do the density test with a "
            "small tub.",
            field="density_g_per_ml",
        ) from outside
    return exact(found, step="0.1") / KG_PER_M3
