"""Whether it will grain and how it keeps, in honest words: a planning figure, never a promise."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from costing.physics import (
    Composition,
    PhysicsError,
    ross_water_activity,
    saturation_ratio,
    water_activity,
)
from costing.physics.solubility import CAN_GRAIN_ABOVE, EXPECT_GRAIN_ABOVE
from costing.reckoning.stove_plan import Ask, StovePlan, composition_of, say, solids_with
from costing.units import as_float, exact

ROOM_C = 20.0
AW_OFF = Decimal("0.02")
ACID_PH = Decimal("4.6")
LOW_ACID_AW = Decimal("0.85")
KEEPS_FROM_BRIX = Decimal(60)
AMBIENT_TO_AW = Decimal("0.90")
_FOOD_CODE = "US FDA Food Code, interaction tables A and B (from memory)"
PACKED_HOT_AW, NOT_PACKED_AW = Decimal("0.92"), Decimal("0.88")

REFRIGERATED = "Keep refrigerated."
NOT_AN_AUTHORITY = (
    "This is a planning figure, not evidence of safety, and no process authority stands behind it. "
    "Ask your food authority; a laboratory measures water activity."
)

# Usual pH reaches 4.6 or more (ranges from memory); words that tell of them, singular or plural.
_LOW_ACID = (
    *("fig", "banana", "papaya", "melon", "watermelon", "prickly pear", "persimmon", "kaki"),
    *("tomato", "mango", "elderberr", "pear", "date", "pumpkin", "squash", "carrot", "beetroot"),
    *("onion", "pepper", "chilli", "chili", "aubergine", "courgette", "garlic", "sweetcorn"),
)
_WORD = re.compile(r"\b(" + "|".join(_LOW_ACID) + r")(s|es|y|ies)?\b", re.IGNORECASE)


@dataclass(frozen=True)
class Limit:
    """An official limit, whose it is, and whether this pan lies inside it (None = not known)."""

    sentence: str
    source: str
    is_inside: bool | None


@dataclass(frozen=True)
class KeepingWords:
    """What can be said of graining and keeping.

    aw: water activity at 20 C, ± aw_off. cautious_aw: the higher of two models, used for every
    decision. storage: words a label may use, once the maker's own trials bear them out.
    """

    brix: Decimal
    aw: Decimal | None = None
    aw_off: Decimal = AW_OFF
    cautious_aw: Decimal | None = None
    saturation: Decimal | None = None
    graining: str = ""
    limits: tuple[Limit, ...] = ()
    storage: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    asks: tuple[Ask, ...] = ()


def keeping(
    plan: StovePlan,
    *,
    brix: Decimal,
    composition: Composition | None = None,
    ph: Decimal | None = None,
) -> KeepingWords:
    """Graining, water activity, limits and storage words at a Brix of the liquid.

    composition: None = that of the plan, inversion counted. ph: of the finished food, measured
    with a calibrated meter; None = not measured, which is never taken as acid.
    """
    made_of = composition_of(solids_with(plan)) if composition is None else composition
    low_acid = low_acid_names(plan.names)
    asks = _asks(ph, low_acid)
    try:
        aw, cautious, ratio = _computed(as_float(brix), made_of)
    except PhysicsError as refused:
        return KeepingWords(brix, cautions=(str(refused), NOT_AN_AUTHORITY), asks=asks)
    return KeepingWords(
        brix=brix,
        aw=aw,
        cautious_aw=cautious,
        saturation=ratio,
        graining=_graining(ratio),
        limits=_limits(cautious, ph),
        storage=_storage(brix, cautious, ph, low_acid),
        cautions=_cautions(brix, cautious, ph),
        asks=asks,
    )


def _computed(brix: float, made_of: Composition) -> tuple[Decimal, Decimal, Decimal]:
    """Water activity, the more cautious of two models for it, and the saturation ratio."""
    aw = water_activity(brix=brix, temperature_c=ROOM_C, composition=made_of)
    ross = ross_water_activity(brix=brix, temperature_c=ROOM_C, composition=made_of)
    ratio = saturation_ratio(brix=brix, sucrose_share=float(made_of.sucrose), temperature_c=ROOM_C)
    return (
        exact(aw, step="0.001"),
        exact(max(aw, ross), step="0.001"),
        exact(ratio, step="0.01"),
    )


def low_acid_names(names: Iterable[str]) -> tuple[str, ...]:
    """Those of these ingredients whose pH may reach 4.6 (ranges from memory)."""
    return tuple(dict.fromkeys(name for name in names if _WORD.search(name)))


def _asks(ph: Decimal | None, low_acid: tuple[str, ...]) -> tuple[Ask, ...]:
    if ph is not None and not 1 <= ph <= 10:
        return (Ask(f"pH {say(ph)} is not one of food. Type it again.", "ph"),)
    if ph is None and low_acid:
        return (
            Ask(
                f"{' and '.join(low_acid)} may be low in acid. What is the pH of the finished, "
                "cooled food? Measure it with a calibrated meter: above 4.6 it needs acid, and in "
                "many places an approved process.",
                "ph",
            ),
        )
    if ph is None:
        return (
            Ask(
                "What is the pH of the finished, cooled food? Without it nothing can be said of "
                "acidity.",
                "ph",
            ),
        )
    return ()


def _graining(ratio: Decimal) -> str:
    if ratio > Decimal(str(EXPECT_GRAIN_ABOVE)):
        return (
            f"Expect it to grain: {say(ratio, places=2)} times as much sucrose as stays dissolved "
            "at 20 °C. Stop lower, or cook longer with acid so that more sugar inverts."
        )
    if ratio > Decimal(str(CAN_GRAIN_ABOVE)):
        return (
            f"It can grain: {say(ratio, places=2)} times as much sucrose as stays dissolved at "
            "20 °C."
        )
    return (
        f"Sucrose should stay dissolved ({say(ratio, places=2)} of what can be at 20 °C). Glucose, "
        "which may grain too, is not judged."
    )


def _limits(aw: Decimal, ph: Decimal | None) -> tuple[Limit, ...]:
    is_acid = None if ph is None else ph <= ACID_PH
    is_low_acid_food = False if aw + AW_OFF <= LOW_ACID_AW else None
    if is_low_acid_food is None and is_acid is not None:
        is_low_acid_food = not is_acid
    return (
        Limit(
            "Above pH 4.6 with a water activity above 0.85 it is a low-acid food, which needs a "
            "regulated thermal process.",
            "21 CFR 114.3; 21 CFR 113.3 (from memory)",
            None if is_low_acid_food is None else not is_low_acid_food,
        ),
        Limit("pH 4.6 or below: acid food.", "21 CFR 114.3", is_acid),
        Limit(
            "Heated and then packed, water activity up to 0.92: no time or temperature control for "
            "safety at any pH.",
            _FOOD_CODE,
            _below(aw, PACKED_HOT_AW),
        ),
        Limit(
            "Not packed hot, water activity below 0.88: no time or temperature control for safety "
            "at any pH.",
            _FOOD_CODE,
            _below(aw, NOT_PACKED_AW),
        ),
        Limit(
            "Below about 0.80 common moulds do not grow; below about 0.61 none. Moulds and yeasts "
            "that bear sugar do grow between.",
            "ICMSF (from memory)",
            _below(aw, Decimal("0.80")),
        ),
    )


def _below(aw: Decimal, limit: Decimal) -> bool | None:
    """Inside or outside only where the doubt of 0.02 leaves no question."""
    if aw + AW_OFF <= limit:
        return True
    return False if aw - AW_OFF > limit else None


def _storage(
    brix: Decimal, aw: Decimal, ph: Decimal | None, low_acid: tuple[str, ...]
) -> tuple[str, ...]:
    is_acid_known = ph is not None and ph <= ACID_PH
    if brix < KEEPS_FROM_BRIX or aw > AMBIENT_TO_AW:
        return (REFRIGERATED, "Eat soon after opening.")
    if aw + AW_OFF > LOW_ACID_AW and not is_acid_known and (ph is not None or low_acid):
        return (REFRIGERATED,)
    return ("Store in a cool, dry place.", "Once opened keep in the fridge.")


def _cautions(brix: Decimal, aw: Decimal, ph: Decimal | None) -> tuple[str, ...]:
    said = [NOT_AN_AUTHORITY]
    if brix < KEEPS_FROM_BRIX or aw > AMBIENT_TO_AW:
        said.append(
            "Below 60 Brix, or above a water activity of 0.90, do not promise that it keeps "
            "unrefrigerated."
        )
    if aw > LOW_ACID_AW and (ph is None or ph > ACID_PH):
        known = "not known" if ph is None else f"{say(ph)}, above 4.6"
        said.append(
            f"Water activity may lie above 0.85 and pH is {known}: do not sell it as keeping "
            "before your food authority agrees."
        )
    said.append(
        "Hot-fill at 85 °C or above and heat the filled jars, as common practice has it; slabs are "
        "not jars: they dry, and mould where they sweat."
    )
    return tuple(said)
