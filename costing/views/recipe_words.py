"""A recipe in the cook's words: amounts, the card, the sentence, and the five ways to stop."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from costing.models import Kitchen, RecipeLine
from costing.money import format_money, format_number
from costing.product_kinds import HOT_SUGAR, LOW_ACID, product_kind
from costing.reckoning.book import (
    AS_PURCHASED,
    BOIL_DOWN,
    BRIX,
    COOK_LOSS,
    FINAL_WEIGHT,
    NO_COOK,
    READING,
    RISE,
    SHARE,
    WEIGHED_OUT,
    CostedLine,
    CostSheet,
)

LOW_ACID_PH = Decimal("4.6")
"""Above this equilibrium pH food is low-acid: 21 CFR 114.3(d)."""

NOT_PROOF = (
    "A plan for the pan, not proof that the food is safe, and no process authority: ask your food "
    "authority before you sell."
)
NBSP = "\u00a0"
"""Between a figure and its unit, so that a line never breaks there."""

_G_PER_KG = Decimal(1000)
_HUNDRED = Decimal(100)
_AT_HAND = 4


@dataclass(frozen=True)
class Pen:
    """Writes figures as the kitchen writes them, as plain text."""

    kitchen: Kitchen

    def money(self, amount: Decimal, *, places: int | None = None) -> str:
        """An amount of money."""
        return format_money(
            amount,
            currency=self.kitchen.currency,
            locale=self.kitchen.number_format,
            places=places,
        )

    def price(self, amount: Decimal) -> str:
        """A price that a sum goes on with: to four decimals, where it has them."""
        fine = round(amount, 4)
        return self.money(fine, places=None if fine == round(fine, 2) else 4)

    def number(self, value: Decimal, *, places: int | None = None) -> str:
        """A number; without `places` it has the decimals it was given, at most four."""
        if places is None:
            exponent = round(value, 4).normalize().as_tuple().exponent
            places = max(0, -exponent) if isinstance(exponent, int) else 0
        return format_number(value, locale=self.kitchen.number_format, places=places)

    def kilos(self, grams: Decimal) -> str:
        """A mass in kilos, for the sums of a sheet."""
        kilos = grams / _G_PER_KG
        places = 2 if abs(kilos) >= 1 or not kilos else 3
        return f"{self.number(kilos, places=places)}{NBSP}kg"

    def mass(self, grams: Decimal) -> str:
        """A mass as a cook would weigh it: grams below a kilo."""
        if abs(grams) >= _G_PER_KG:
            return self.kilos(grams)
        places = 0 if abs(grams) >= 20 or grams == grams.to_integral_value() else 1
        return f"{self.number(grams, places=places)}{NBSP}g"

    def told(self, grams: Decimal) -> str:
        """A mass inside a sentence: without noughts at its end."""
        if abs(grams) < _G_PER_KG:
            return self.mass(grams)
        return f"{self.number(round(grams / _G_PER_KG, 2))}{NBSP}kg"

    def percent(self, value: Decimal, *, places: int | None = None) -> str:
        """A percentage; without `places` at most two decimals."""
        return f"{self.number(round(value, 2), places=places)}{NBSP}%"

    def hours(self, minutes: Decimal) -> str:
        """A time somebody stood at the pan."""
        hours, rest = divmod(minutes, 60)
        parts = [f"{self.number(hours)}{NBSP}h"] if hours else []
        return " ".join([*parts, f"{self.number(rest)}{NBSP}min"] if rest or not hours else parts)


def prices_in_words(kitchen: Kitchen) -> str:
    """Which prices a cost was reckoned at, for the end of a sentence."""
    fixed = kitchen.prices_fixed_on
    if kitchen.price_policy == Kitchen.Policy.FIXED and fixed is not None:
        return f"at the prices of {day(fixed)}"
    return {
        Kitchen.Policy.AVERAGE.value: "at the average of the suppliers' prices",
        Kitchen.Policy.WORST.value: "at the dearest supplier's prices",
    }.get(kitchen.price_policy, "at the latest prices")


def day(on: date) -> str:
    """A day in a sentence.

    >>> day(date(2026, 3, 2))
    '2 March 2026'
    """
    return f"{on.day} {on:%B %Y}"


# --- The card ------------------------------------------------------------------------------------


@dataclass(frozen=True)
class CardLine:
    """One line of the recipe as a cook writes it: the share first, then what this pan takes."""

    name: str
    share: str
    weight: str
    note: str
    is_base: bool
    ingredient_id: int | None
    recipe_id: int | None


def card(sheet: CostSheet, *, pen: Pen) -> list[CardLine]:
    """The lines, base first, then the others in the order they were written."""
    ordered = sorted(sheet.lines, key=lambda line: not line.line.is_base)
    return [_card_line(line, sheet, pen=pen) for line in ordered]


def card_as_written(lines: Iterable[RecipeLine], *, pen: Pen) -> list[CardLine]:
    """The lines as they were typed, for a recipe whose sums contradict each other."""
    return [
        CardLine(
            name=str(line.ingredient or line.preparation),
            share="",
            weight=as_written(line.amount, line.unit, pen=pen),
            note="",
            is_base=line.is_base,
            ingredient_id=line.ingredient_id,
            recipe_id=line.preparation_id,
        )
        for line in lines
    ]


def _card_line(costed: CostedLine, sheet: CostSheet, *, pen: Pen) -> CardLine:
    line = costed.line
    share = ""
    if costed.pct_of_base is not None:
        share = pen.percent(costed.pct_of_base)
    elif costed.used_g is not None and sheet.ingoing_g:
        share = pen.percent(costed.used_g * _HUNDRED / sheet.ingoing_g, places=1)
    notes = []
    if line.unit not in {"%", "kg", "g"}:
        notes.append(as_written(line.amount, line.unit, pen=pen))
    if costed.purchased_g is not None and costed.used_g not in {None, costed.purchased_g}:
        word = "as bought" if line.state == AS_PURCHASED else "to buy"
        notes.append(f"{pen.mass(costed.purchased_g)} {word}")
    elif line.state == AS_PURCHASED and line.ingredient_id is not None:
        notes.append("as bought")
    return CardLine(
        name=costed.name,
        share=share,
        weight="" if costed.used_g is None else pen.mass(costed.used_g),
        note=", ".join(notes),
        is_base=line.is_base,
        ingredient_id=line.ingredient_id,
        recipe_id=line.recipe_id,
    )


def as_written(amount: Decimal, unit: str, *, pen: Pen) -> str:
    """The amount of a line as it was typed."""
    return f"{pen.number(amount)} {unit}"


def base_called(sheet: CostSheet) -> str:
    """What the base is called: its own name, else that of its lines; empty without a base."""
    if sheet.recipe.base_name:
        return sheet.recipe.base_name
    return _together([_low(line.name) for line in sheet.lines if line.line.is_base])


def sentence(sheet: CostSheet, *, pen: Pen) -> str:
    """The recipe read aloud: "For each kilo of puree: 700 g sugar; cook to 66 Brix; gives 1.28 kg".

    Without a base it tells the whole pan. Empty while a weight is not known.
    """
    if not sheet.lines or any(line.used_g is None for line in sheet.lines):
        return ""
    base = [line for line in sheet.lines if line.line.is_base]
    per_kilo = _G_PER_KG / sheet.base_g if base and sheet.base_g else Decimal(1)
    others = [line for line in sheet.lines if not line.line.is_base] if base else sheet.lines
    parts = ", ".join(f"{pen.told((o.used_g or 0) * per_kilo)} {_low(o.name)}" for o in others)
    ends = f"; {stop_in_words(sheet, pen=pen, scale=per_kilo)}"
    if sheet.finished_g is not None:
        ends += f"; gives {pen.told(sheet.finished_g * per_kilo)}"
    if not base:
        return f"{parts}{ends}."
    mixed = ""
    if len(base) > 1:
        inside = ", ".join(f"{pen.told((b.used_g or 0) * per_kilo)} {_low(b.name)}" for b in base)
        mixed = f" ({inside})"
    return f"For each kilo of {_low(base_called(sheet))}{mixed}: {parts or 'nothing else'}{ends}."


def stop_in_words(sheet: CostSheet, *, pen: Pen, scale: Decimal = Decimal(1)) -> str:
    """When this recipe is done, as part of a sentence."""
    cook = sheet.recipe.cook
    if cook.kind == NO_COOK:
        return "mix"
    if cook.kind == WEIGHED_OUT:
        return "cook and sieve" if cook.is_heated else "prepare"
    if cook.kind == COOK_LOSS:
        if cook.cook_loss_pct is None:
            return "cook"
        return f"cook until {pen.percent(_HUNDRED - cook.cook_loss_pct)} is left"
    if cook.stop_value is None:
        return "cook"
    return {
        BRIX: f"cook to {pen.number(cook.stop_value)}{NBSP}Brix",
        READING: f"cook to {pen.number(cook.stop_value)}{NBSP}°C on this kitchen's thermometer",
        RISE: f"cook to {pen.number(cook.stop_value)} degrees above boiling water",
        FINAL_WEIGHT: f"cook until {pen.told(cook.stop_value * scale)} is left in the pan",
        SHARE: f"cook until {pen.percent(cook.stop_value)} is left",
    }[cook.stop_form]


def _low(name: str) -> str:
    """A name inside a sentence: small at its start, and what follows a comma in brackets."""
    first, _, rest = name.partition(", ")
    told = f"{first} ({rest})" if rest else first
    return told if told[1:2].isupper() else told[:1].lower() + told[1:]


def _together(names: Sequence[str]) -> str:
    unique = list(dict.fromkeys(names))
    return " and ".join([", ".join(unique[:-1]), unique[-1]] if len(unique) > 1 else unique)


# --- When it is done -----------------------------------------------------------------------------


@dataclass(frozen=True)
class StopLine:
    """One way to know that it is done. is_stated: the maker said it this way."""

    label: str
    figure: str
    note: str
    is_stated: bool


_NOT_TOLD = "not known"


def stops(sheet: CostSheet, *, pen: Pen) -> list[StopLine]:
    """The stopping point on all five instruments; empty where nothing is cooked or known."""
    balance, cook = sheet.balance, sheet.recipe.cook
    if balance is None or cook.kind not in {BOIL_DOWN, COOK_LOSS}:
        return []
    stated = cook.stop_form if cook.kind == BOIL_DOWN else SHARE
    water = (
        cook.water_reading_c if cook.water_reading_c is not None else pen.kitchen.water_reading_c
    )
    if water is not None:
        note = f"which shows {pen.number(water)} °C in boiling water"
    elif balance.water_boils_c is not None:
        note = f"if it shows {pen.number(balance.water_boils_c, places=1)} °C in boiling water"
    else:
        note = ""
    degree = _figure(balance.reading_c, "°C", pen=pen)
    rise = _figure(balance.rise_k, "degrees", pen=pen)
    brix = _figure(balance.finishing_brix, "Brix", pen=pen)
    left = balance.pot_g * _HUNDRED / balance.ingoing_g
    return [
        StopLine("On my thermometer", degree, note if degree != _NOT_TOLD else "",
                 stated == READING),
        StopLine("Above my boiling water", rise, "", stated == RISE),
        StopLine("On a refractometer", brix, "on a cooled drop" if brix != _NOT_TOLD else "",
                 stated == BRIX),
        StopLine("Weight in the pan", pen.kilos(balance.pot_g), "food alone, without the pan",
                 stated == FINAL_WEIGHT),
        StopLine("Share of what went in", pen.percent(left, places=1), "", stated == SHARE),
    ]  # fmt: skip


def _figure(value: Decimal | None, unit: str, *, pen: Pen) -> str:
    return _NOT_TOLD if value is None else f"{pen.number(value, places=1)} {unit}"


RELIABILITY = {
    "sound": "Within 0.3 degrees of sugar-industry tables; fruit shifts it a little, so hold it "
    "once against a refractometer.",
    "indicative": "Only indicative this thick, give or take 1.5 degrees: finish by weight.",
    "explanation only": "Too thick for any of this to be relied on: finish by weight.",
}


def cautions(sheet: CostSheet, *, kind: str, ph_of: Mapping[str, Decimal]) -> list[str]:
    """What can hurt, where the hand is: of this kind of product, and of what goes into it.

    ph_of: highest pH known of an ingredient, by its name.
    """
    row = product_kind(kind)
    is_cooked = sheet.recipe.cook.is_heated and sheet.recipe.cook.kind != NO_COOK
    found = [one for one in row.cautions if is_cooked or one != HOT_SUGAR]
    if is_cooked and HOT_SUGAR not in found:
        found.insert(0, HOT_SUGAR)
    low = [name for name, ph in ph_of.items() if ph > LOW_ACID_PH]
    if low:
        found = [one for one in found if one != LOW_ACID]
        named = _together([_low(name) for name in low[:_AT_HAND]])
        found.append(f"Low in acid (above pH {LOW_ACID_PH}): {named}. {LOW_ACID}")
    return found
