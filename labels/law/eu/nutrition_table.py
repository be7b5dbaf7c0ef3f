"""The nutrition declaration itself: its rows in their order, per 100 g and per portion."""

from collections.abc import Iterator, Mapping
from decimal import ROUND_HALF_UP, Decimal

from labels.facts import LabelFacts, Nutrition, Particular, TextRun
from labels.law.eu.acts import FIC
from labels.law.eu.nutrition_values import (
    INTAKE_G,
    PARTS_OF,
    energy,
    energy_shown,
    rounding_of,
    share_of_energy_pct,
    share_of_intake_pct,
    shown,
)
from labels.law.eu.nutrition_words import nutrition_word
from labels.law.eu.words import figure
from labels.mechanics.nutrition_table import Row, as_table, in_line
from labels.rulebook import Citation

ORDER = (
    "fat", "saturates", "carbohydrate", "sugars", "polyols", "fibre", "protein", "salt",
)  # fmt: skip
"""After energy; Annex XV. Mono- and polyunsaturates, starch, vitamins and minerals may be added,
and are not known here."""
MAY_BE_LEFT_OUT = frozenset({"polyols", "fibre"})
"""Art. 30(2): told here where there is more than nearly none of it."""
MARK = "*"


def statement(facts: LabelFacts, *, minimum_x_height_mm: Decimal) -> Particular | None:
    """The declaration, as a table and in one line; none while anything in it is not known.

    Source: Regulation (EU) No 1169/2011, Arts. 30 to 34 and Annex XV.
    """
    nutrition = facts.nutrition
    if not facts.shows_nutrition or nutrition is None or not nutrition.is_complete:
        return None
    language = facts.language
    rows = declared_rows(nutrition, language=language)
    hundred = nutrition_word("per", language=language).format("100 g")
    title = nutrition_word("nutrition", language=language)
    portion_g = portion_of(facts)
    if portion_g is None:
        return _particular(facts, rows, (title, hundred), "", (), minimum_x_height_mm)
    portion = f"{figure(portion_g, language=language)} g"
    head = (title, hundred, nutrition_word("per", language=language).format(portion), f"%{MARK}")
    notes = (
        f"{MARK}{nutrition_word('intake', language=language)}.",
        portions_told(facts, portion_g),
    )
    lead = nutrition_word("portion", language=language).format(portion)
    return _particular(facts, rows, head, lead, notes, minimum_x_height_mm)


def _particular(
    facts: LabelFacts,
    rows: tuple[Row, ...],
    head: tuple[str, ...],
    lead: str,
    notes: tuple[str, ...],
    minimum_x_height_mm: Decimal,
) -> Particular:
    return Particular(
        kind="nutrition",
        heading=nutrition_word("heading", language=facts.language).format(head[0], head[1]),
        runs=(TextRun(in_line(rows, portion=lead, mark=MARK, notes=notes)),),
        citation=Citation(FIC, "Art. 9(1)(l), Arts. 30 to 34 and Annex XV"),
        minimum_x_height_mm=minimum_x_height_mm,
        table=as_table(rows, head=head, notes=notes),
    )


def portion_of(facts: LabelFacts) -> Decimal | None:
    """The portion [g], where it can be told with how many of them the pack holds (Art. 33(1))."""
    portion_g = facts.nutrition.portion_g if facts.nutrition else None
    if portion_g is None or portion_g <= 0 or not facts.net_quantity_g:
        return None
    return portion_g if portion_g <= facts.net_quantity_g else None


def portions_told(facts: LabelFacts, portion_g: Decimal) -> str:
    """How many portions the pack holds, in words; "about" where they do not come out even."""
    exact = (facts.net_quantity_g or Decimal(0)) / portion_g
    count = exact.quantize(Decimal(1), ROUND_HALF_UP)
    key = "portions" if count == exact else "portions about"
    text = nutrition_word(key, language=facts.language)
    return text.format(count, f"{figure(portion_g, language=facts.language)} g")


def declared_rows(nutrition: Nutrition, *, language: str) -> tuple[Row, ...]:
    """What is declared, in the order of Annex XV, with a portion where the maker wants one told."""
    grams = nutrition.grams
    portion_g = nutrition.portion_g
    portion = (
        None if portion_g is None else {name: g * portion_g / 100 for name, g in grams.items()}
    )
    return tuple(_rows(grams, portion, language))


def _rows(
    grams: Mapping[str, Decimal], portion: Mapping[str, Decimal] | None, language: str
) -> Iterator[Row]:
    yield Row(
        nutrition_word("energy", language=language),
        energy_shown(grams),
        "" if portion is None else energy_shown(portion),
        "" if portion is None else f"{share_of_energy_pct(energy(portion)[0])} %",
    )
    for name in ORDER:
        amount = grams.get(name, Decimal(0))
        if name in MAY_BE_LEFT_OUT and amount <= rounding_of(name).none_up_to:
            continue
        has_share = portion is not None and name in INTAKE_G
        held = Decimal(0) if portion is None else portion.get(name, Decimal(0))
        yield Row(
            nutrition_word(name, language=language),
            shown(name, amount, language=language),
            "" if portion is None else shown(name, held, language=language),
            f"{share_of_intake_pct(name, held)} %" if has_share else "",
            is_part=name in PARTS_OF,
        )
