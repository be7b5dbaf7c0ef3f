"""The nutrition declaration in Great Britain: its rows, per 100 g and per portion."""

from decimal import ROUND_FLOOR, Decimal

from labels.facts import LabelFacts, Nutrition, Particular, Table, TextRun
from labels.law.gb.acts import FIC
from labels.law.gb.nutrition_values import energy_shown, shown
from labels.law.gb.words import figure
from labels.rulebook import Citation

HUNDRED = Decimal(100)

ROWS = (
    ("fat", "Fat", True),
    ("saturates", "of which saturates", True),
    ("carbohydrate", "Carbohydrate", True),
    ("sugars", "of which sugars", True),
    ("polyols", "of which polyols", False),
    ("fibre", "Fibre", False),
    ("protein", "Protein", True),
    ("salt", "Salt", True),
)
"""Nutrient, its words, and whether its row is mandatory, in the order of Annex XV."""
DUE = tuple(nutrient for nutrient, _, is_due in ROWS if is_due)


def energy_parts(grams: dict[str, Decimal]) -> dict[str, Decimal]:
    """Amounts by the names that the factors of Annex XIV go by; polyols counted once.

    "Carbohydrate" on a label holds the polyols, which have a factor of their own.
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


def portions(facts: LabelFacts) -> int | None:
    """How many portions the pack holds; None where no portion is told or none fits in it.

    Source: assimilated Regulation (EU) No 1169/2011, Art. 33(1): the number stands on the label.
    """
    portion_g = facts.nutrition.portion_g if facts.nutrition else None
    if portion_g is None or portion_g <= 0 or facts.net_quantity_g is None:
        return None
    number = int((facts.net_quantity_g / portion_g).to_integral_value(ROUND_FLOOR))
    return number or None


def is_ready(nutrition: Nutrition | None) -> bool:
    """Whether all of the mandatory amounts are known."""
    return nutrition is not None and nutrition.is_complete and set(DUE) <= set(nutrition.grams)


def statement(facts: LabelFacts, *, minimum_x_height_mm: Decimal) -> Particular | None:
    """The declaration in columns, and in a line for where there is no room (Art. 34(2))."""
    nutrition = facts.nutrition
    if not facts.shows_nutrition or nutrition is None or not is_ready(nutrition):
        return None
    table = _table(facts, nutrition)
    line = ", ".join(f"{row[0].casefold()} {row[1]}" for row in table.rows)
    return Particular(
        kind="nutrition",
        heading="Nutrition per 100 g:",
        runs=(TextRun(line),),
        citation=Citation(FIC, "Art. 9(1)(l), Arts 30 to 35 and Annex XV"),
        minimum_x_height_mm=minimum_x_height_mm,
        table=table,
    )


def _table(facts: LabelFacts, nutrition: Nutrition) -> Table:
    number, portion_g = portions(facts), nutrition.portion_g
    head: list[str] = ["Nutrition", "per 100 g"]
    columns = [_column(nutrition.grams, Decimal(1))]
    notes: list[str] = []
    if number is not None and portion_g is not None:
        head.append(f"per {figure(portion_g)} g")
        columns.append(_column(nutrition.grams, portion_g / HUNDRED))
        notes.append(_portions_note(number, portion_g))
    names = ["Energy", *(words for nutrient, words, _ in ROWS if nutrient in nutrition.grams)]
    rows = tuple(zip(names, *columns, strict=True))
    indented = tuple(n for n, name in enumerate(names) if name.startswith("of which"))
    return Table(head=tuple(head), rows=rows, notes=tuple(notes), indented=indented)


def _column(grams: dict[str, Decimal], share: Decimal) -> list[str]:
    energy = energy_shown({name: g * share for name, g in energy_parts(grams).items()})
    return [energy, *(shown(n, grams[n] * share) for n, _, _ in ROWS if n in grams)]


def _portions_note(number: int, portion_g: Decimal) -> str:
    many = "portion" if number == 1 else "portions"
    return f"This pack holds {number} {many} of {figure(portion_g)} g."
