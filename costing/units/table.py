"""One row per unit, what each is worth, and what is answered to units of another kind."""

from dataclasses import dataclass
from decimal import Decimal
from functools import cache

import pint

from costing.units.errors import NeedsDensity, NeedsWeightEach, UnitNotUnderstood, shown

MASS, VOLUME, COUNT, PERCENT = "mass", "volume", "count", "percent"
BASE_UNITS = {MASS: "g", VOLUME: "ml", COUNT: "each", PERCENT: "%"}


@dataclass(frozen=True)
class Unit:
    """One unit: how it is stored, shown and typed, and what it is worth in a pint definition."""

    code: str
    words: str
    dimension: str
    definition: str
    spellings: tuple[str, ...] = ()


# Exact by definition: the SI; the pound of 1959 (453.592 37 g) and US volumes, NIST Handbook 44
# (2023), Appendix C; imperial volumes, Units of Measurement Regulations 1995 (UK), Schedule.
# Spoons are the metric 5 and 15 ml of recipe books (common practice; Australia has 20).
UNITS = (
    Unit("g", "grams", MASS, "g = [mass]", ("gr", "gram", "grams", "gramme", "grammes")),
    Unit(
        "kg", "kilograms", MASS, "kg = 1000 * g",
        ("kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kgs"),
    ),
    Unit("mg", "milligrams", MASS, "mg = 0.001 * g", ("milligram", "milligrams")),
    Unit("t", "tonnes", MASS, "t = 1000000 * g", ("tonne", "tonnes")),
    Unit("lb", "pounds", MASS, "lb = 453.59237 * g", ("lbs", "pound", "pounds")),
    Unit("oz", "ounces (weight)", MASS, "oz = lb / 16", ("ounce", "ounces")),
    Unit("ml", "millilitres", VOLUME, "ml = [volume]", ("millilitre", "milliliter", "millilitres")),
    Unit("cl", "centilitres", VOLUME, "cl = 10 * ml", ("centilitre", "centiliter")),
    Unit("dl", "decilitres", VOLUME, "dl = 100 * ml", ("decilitre", "deciliter")),
    Unit(
        "l", "litres", VOLUME, "l = 1000 * ml",
        ("litre", "litres", "liter", "liters", "ltr", "ltrs", "lt"),
    ),
    Unit("tsp", "teaspoons (5 ml)", VOLUME, "tsp = 5 * ml", ("teaspoon", "teaspoons")),
    Unit("tbsp", "tablespoons (15 ml)", VOLUME, "tbsp = 15 * ml", ("tablespoon", "tablespoons")),
    Unit(
        "imp gal", "imperial gallons", VOLUME, "imp_gal = 4546.09 * ml",
        ("imperial gallon", "imperial gallons", "uk gal", "uk gallon", "uk gallons"),
    ),
    Unit(
        "imp pint", "imperial pints", VOLUME, "imp_pint = imp_gal / 8",
        ("imperial pint", "imperial pints", "uk pint", "uk pints"),
    ),
    Unit(
        "imp floz", "imperial fluid ounces", VOLUME, "imp_floz = imp_gal / 160",
        ("imp fl oz", "uk fl oz", "imperial fluid ounces"),
    ),
    Unit(
        "us gal", "US gallons", VOLUME, "us_gal = 3785.411784 * ml",
        ("us gallon", "us gallons"),
    ),
    Unit("us qt", "US quarts", VOLUME, "us_qt = us_gal / 4", ("us quart", "us quarts")),
    Unit("us pint", "US pints", VOLUME, "us_pint = us_gal / 8", ("us pints", "us pt")),
    Unit("us floz", "US fluid ounces", VOLUME, "us_floz = us_gal / 128", ("us fl oz",)),
    Unit(
        "each", "pieces", COUNT, "each = [count]",
        ("ea", "piece", "pieces", "pc", "pcs", "pce", "st", "stk", "stück", "stuck", "unit",
         "units", "jar", "jars", "lid", "lids", "label", "labels", "sheet", "sheets", "wrap",
         "wraps", "bottle", "bottles", "no"),
    ),
    Unit("dozen", "dozens", COUNT, "dozen = 12 * each", ("dozens", "doz", "dz")),
    Unit("%", "% of the base", PERCENT, "percent = [share]", ("percent", "per cent", "pct")),
)  # fmt: skip
_BY_CODE = {unit.code: unit for unit in UNITS}
_BY_SPELLING = {name: unit for unit in UNITS for name in (unit.code, *unit.spellings)}

_TWO_MEANINGS = {
    "gal": ("imp gal", "us gal"),
    "pint": ("imp pint", "us pint"),
    "floz": ("imp floz", "us floz"),
}
_AMBIGUOUS = {
    **dict.fromkeys(("gal", "gallon", "gallons", "gals"), "gal"),
    **dict.fromkeys(("pint", "pints", "pt"), "pint"),
    **dict.fromkeys(("fl oz", "floz", "fl. oz", "fluid ounce", "fluid ounces"), "floz"),
}
_OF_ANOTHER_KIND = {
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters", "cm", "mm", "km", "in", "inch",
                     "inches", "ft", "foot", "feet"), "a length"),
    **dict.fromkeys(("h", "hr", "hour", "hours", "min", "minute", "minutes", "s", "sec", "second",
                     "seconds", "day", "days", "week", "weeks"), "a time"),
    **dict.fromkeys(("c", "°c", "f", "°f", "k", "°", "degree", "degrees", "celsius"),
                    "a temperature"),
    **dict.fromkeys(("kwh", "kj", "kcal", "j", "wh"), "an energy"),
    **dict.fromkeys(("€", "$", "£", "eur", "gbp", "usd"), "money"),
    **dict.fromkeys(("m2", "cm2", "m²", "cm²"), "an area"),
}  # fmt: skip


@cache
def _registry() -> "pint.UnitRegistry[Decimal]":
    """The registry, made when first needed: only our rows, in Decimal throughout."""
    registry: pint.UnitRegistry[Decimal] = pint.UnitRegistry(None, non_int_type=Decimal)
    for unit in UNITS:
        registry.define(unit.definition)
    return registry


@cache
def base_factor(code: str) -> Decimal:
    """How many grams, millilitres or pieces one of a unit is, exactly.

    >>> base_factor("lb")
    Decimal('453.59237')
    """
    unit = find_unit(code)
    name = unit.definition.partition(" ")[0]
    base = _BY_CODE[BASE_UNITS[unit.dimension]].definition.partition(" ")[0]
    registry = _registry()
    return Decimal(registry.Quantity(Decimal(1), name).to(base).magnitude)


def is_unit(word: str) -> bool:
    """Whether a word names exactly one unit."""
    return _key(word) in _BY_SPELLING


def unit_dimension(code: str) -> str:
    """One of mass, volume, count and percent."""
    return find_unit(code).dimension


def find_unit(word: str) -> Unit:
    """The row for a word as typed. Raises UnitNotUnderstood, saying what to type instead."""
    key = _key(word)
    found = _BY_SPELLING.get(key)
    if found is not None:
        return found
    if key in _AMBIGUOUS:
        imperial, american = (_BY_CODE[code] for code in _TWO_MEANINGS[_AMBIGUOUS[key]])
        raise UnitNotUnderstood(
            f"“{shown(word)}” has two sizes: {imperial.words} of "
            f"{base_factor(imperial.code).normalize():f} ml or {american.words} of "
            f"{base_factor(american.code).normalize():f} ml. "
            f"Type “{imperial.code}” or “{american.code}”."
        )
    if key in _OF_ANOTHER_KIND:
        raise UnitNotUnderstood(
            f"“{shown(word)}” measures {_OF_ANOTHER_KIND[key]}. "
            "Type a weight (kg, g, lb), a volume (l, ml) or a count (each)."
        )
    if key in {"cup", "cups"}:
        raise UnitNotUnderstood(
            "A cup is 200 to 284 ml depending on the country. Type millilitres or grams."
        )
    raise UnitNotUnderstood(
        f"“{shown(word)}” is not a unit known here. "
        "Type a weight (kg, g, lb), a volume (l, ml) or a count (each)."
    )


def _key(word: str) -> str:
    return " ".join(word.strip().lower().rstrip(".").split())


def to_grams(
    quantity: Decimal,
    *,
    unit: str,
    density_kg_per_l: Decimal | None = None,
    each_g: Decimal | None = None,
    name: str,
) -> Decimal:
    """The mass of an amount, exactly; a volume takes its density, a count the weight of one.

    Raises NeedsDensity or NeedsWeightEach when that figure is not known, never guesses it;
    UnitNotUnderstood for a percentage.

    >>> to_grams(Decimal(4), unit="l", density_kg_per_l=Decimal("1.01"), name="cider vinegar")
    Decimal('4040.00')
    """
    if unit == "g":
        return quantity
    dimension = unit_dimension(unit)
    base = quantity * base_factor(unit)
    if dimension == MASS:
        return base
    amount = f"{plain(quantity)} {unit}"
    if dimension == VOLUME:
        if density_kg_per_l is None:
            raise NeedsDensity(
                f"{amount} of {name}: what does one litre weigh? Weigh a litre, or read the "
                "density on the supplier's sheet."
            )
        return base * density_kg_per_l  # 1 kg per l is 1 g per ml
    if dimension == COUNT:
        if each_g is None:
            raise NeedsWeightEach(
                f"{amount} of {name}: what does one weigh? Weigh ten of them and divide by ten."
            )
        return base * each_g
    raise UnitNotUnderstood(f"{amount} of {name} is a share of a base, not a mass.")


def plain(value: Decimal) -> str:
    """A figure without exponent or trailing zeros, as it would be typed."""
    return f"{value.normalize():f}"
