"""The nutrition declaration in Great Britain: its rows, per 100 g and per portion."""

from collections.abc import Iterator, Mapping
from decimal import ROUND_HALF_UP, Decimal

from labels.facts import LabelFacts, Nutrition, Particular, TextRun
from labels.law.gb.acts import FIC
from labels.law.gb.nutrition_values import (
    REFERENCE_INTAKES,
    REFERENCE_SENTENCE,
    energy,
    energy_shown,
    share_of_intake_pct,
    shown,
)
from labels.law.gb.words import figure
from labels.mechanics.nutrition_table import Row, as_table, in_line
from labels.rulebook import Citation

HUNDRED = Decimal(100)
MARK = "*"
"""Leads from the head of the column of shares to the sentence below (Art. 32(5))."""

ROWS = (
    ("fat", "fat", True),
    ("saturates", "of which saturates", True),
    ("carbohydrate", "carbohydrate", True),
    ("sugars", "of which sugars", True),
    ("polyols", "of which polyols", False),
    ("fibre", "fibre", False),
    ("protein", "protein", True),
    ("salt", "salt", True),
)
"""Nutrient, its words, and whether its row is mandatory, in the order of Annex XV."""
DUE = tuple(nutrient for nutrient, _, is_due in ROWS if is_due)


def energy_parts(grams: Mapping[str, Decimal]) -> dict[str, Decimal]:
    """Amounts by the names that the factors of Annex XIV go by; polyols counted once.

    "carbohydrate" on a label holds the polyols, which have a factor of their own.
    """
    polyols = grams.get("polyols", Decimal(0))
    return {
        "fat": grams.get("fat", Decimal(0)),
        "carbohydrate": max(grams.get("carbohydrate", Decimal(0)) - polyols, Decimal(0)),
        "polyols": polyols,
        "fibre": grams.get("fibre", Decimal(0)),
        "protein": grams.get("protein", Decimal(0)),
        "organic acid": grams.get("organic acids", Decimal(0)),
        "ethanol": grams.get("alcohol", Decimal(0)),
    }


def portions(facts: LabelFacts) -> Decimal | None:
    """How many portions the pack holds, exactly; None where none is told or none fits in it.

    Source: assimilated Regulation (EU) No 1169/2011, Art. 33(1): the number stands on the label.
    """
    portion_g = facts.nutrition.portion_g if facts.nutrition else None
    if portion_g is None or portion_g <= 0 or facts.net_quantity_g is None:
        return None
    return facts.net_quantity_g / portion_g if portion_g <= facts.net_quantity_g else None


def portions_told(facts: LabelFacts, portion_g: Decimal) -> str:
    """How many portions the pack holds, in words; "about" where they do not come out even."""
    exact = portions(facts) or Decimal(0)
    count = exact.quantize(Decimal(1), ROUND_HALF_UP)
    about = "" if count == exact else "about "
    many = "portion" if count == 1 else "portions"
    return f"This pack holds {about}{count} {many} of {figure(portion_g)} g."


def is_ready(nutrition: Nutrition | None) -> bool:
    """Whether all of the mandatory amounts are known."""
    return nutrition is not None and nutrition.is_complete and set(DUE) <= set(nutrition.grams)


def statement(facts: LabelFacts, *, minimum_x_height_mm: Decimal) -> Particular | None:
    """The declaration in columns, and in a line for where there is no room (Art. 34(2)).

    Shares of the reference intake go with a portion, with their sentence (Art. 32(4) and (5)).
    """
    nutrition = facts.nutrition
    if not facts.shows_nutrition or nutrition is None or not is_ready(nutrition):
        return None
    head, lead, notes = ["Nutrition", "per 100 g"], "", []
    portion_g = nutrition.portion_g if portions(facts) is not None else None
    if portion_g is not None:
        of = f"{figure(portion_g)} g"
        head += [f"per {of}", f"%{MARK}"]
        lead = f"A portion of {of} holds"
        notes = [f"{MARK}{REFERENCE_SENTENCE}.", portions_told(facts, portion_g)]
    rows = tuple(_rows(nutrition.grams, portion_g))
    return Particular(
        kind="nutrition",
        heading="Nutrition per 100 g:",
        runs=(TextRun(in_line(rows, portion=lead, mark=MARK, notes=notes)),),
        citation=Citation(FIC, "Art. 9(1)(l), Arts 30 to 35 and Annex XV"),
        minimum_x_height_mm=minimum_x_height_mm,
        table=as_table(rows, head=head, notes=notes),
    )


def _rows(grams: Mapping[str, Decimal], portion_g: Decimal | None) -> Iterator[Row]:
    """What is declared, in the order of Annex XV; fibre and polyols where they are known."""
    held = {} if portion_g is None else {n: g * portion_g / HUNDRED for n, g in grams.items()}
    yield Row(
        "energy",
        energy_shown(energy_parts(grams)),
        energy_shown(energy_parts(held)) if held else "",
        f"{share_of_intake_pct('energy_kj', energy(energy_parts(held))[0])} %" if held else "",
    )
    for nutrient, words, _ in ROWS:
        if nutrient not in grams:
            continue
        has_share = bool(held) and nutrient in REFERENCE_INTAKES
        yield Row(
            words,
            shown(nutrient, grams[nutrient]),
            shown(nutrient, held[nutrient]) if held else "",
            f"{share_of_intake_pct(nutrient, held[nutrient])} %" if has_share else "",
            is_part=words.startswith("of which"),
        )
