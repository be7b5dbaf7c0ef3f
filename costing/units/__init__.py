"""Numbers and units as people type them, and the one border between Decimal and float.

Masses are stored in grams, volumes in millilitres, counts in pieces; always as Decimal.
Physics works on floats: `as_float` goes in, `exact` comes back. Nobody else imports pint.
"""

from costing.units.border import as_float, exact
from costing.units.errors import (
    AmbiguousNumber,
    NeedsDensity,
    NeedsWeightEach,
    NumberNotUnderstood,
    NumberTooLarge,
    UnitNotUnderstood,
    UnitsError,
)
from costing.units.numbers import read_number
from costing.units.packs import Amount, Pack, read_amount, read_pack
from costing.units.table import (
    COUNT,
    MASS,
    PERCENT,
    UNITS,
    VOLUME,
    Unit,
    base_factor,
    to_grams,
    unit_dimension,
)

__all__ = [
    "COUNT",
    "MASS",
    "PERCENT",
    "UNITS",
    "VOLUME",
    "AmbiguousNumber",
    "Amount",
    "NeedsDensity",
    "NeedsWeightEach",
    "NumberNotUnderstood",
    "NumberTooLarge",
    "Pack",
    "Unit",
    "UnitNotUnderstood",
    "UnitsError",
    "as_float",
    "base_factor",
    "exact",
    "read_amount",
    "read_number",
    "read_pack",
    "to_grams",
    "unit_dimension",
]
