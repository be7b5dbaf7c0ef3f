"""Which statements a label carries, in which order, and whether all of them were printed."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from decimal import Decimal

from labels.facts import LabelFacts, Particular, PrintedText, TextRun
from labels.law.eu import (
    cross_contact,
    durability,
    ingredient_list,
    jam_rules,
    lots,
    names,
    net_quantity,
    nutrition_table,
    operator,
    origin,
    quid,
    storage,
    ways_of_sale,
)
from labels.law.eu.acts import FIC, FIC_APPLIES
from labels.law.eu.allergens import all_allergens, is_told_by, sulphites_shown_above
from labels.law.eu.legibility import minimum_x_height_mm
from labels.law.eu.small_packs import KEPT_ON_TINY_PACKS, TINY_CM2, is_under_cm2
from labels.law.eu.voices import of_both, voices
from labels.law.eu.words import language_name, one_line, word
from labels.mechanics.runs import stands_in
from labels.mechanics.text import bare
from labels.rulebook import Citation, Finding, rule


def particulars(facts: LabelFacts, *, on: date) -> tuple[Particular, ...]:
    """The statements a label must carry, the name first; what cannot be said yet is left out."""
    first, *others = voices(replace(facts, law_on=on))
    said = in_one_language(first, on=on)
    for other in others:
        said = of_both(said, in_one_language(other, on=on), language=other.language)
    return said


def in_one_language(facts: LabelFacts, *, on: date) -> tuple[Particular, ...]:
    """The statements in the language of the facts alone."""
    x_mm = minimum_x_height_mm(facts, on=on)
    found = (
        names.statement(facts, minimum_x_height_mm=x_mm),
        *quid.statements(facts, minimum_x_height_mm=x_mm),
        net_quantity.statement(facts, minimum_x_height_mm=x_mm),
        *jam_rules.statements(facts, minimum_x_height_mm=x_mm),
        ingredient_list.statement(facts, minimum_x_height_mm=x_mm),
        allergen_statement(facts, minimum_x_height_mm=x_mm),
        cross_contact.statement(facts, minimum_x_height_mm=x_mm),
        nutrition_table.statement(facts, minimum_x_height_mm=x_mm),
        durability.statement(facts, minimum_x_height_mm=x_mm),
        storage.statement(facts, minimum_x_height_mm=x_mm),
        storage.instructions(facts, minimum_x_height_mm=x_mm),
        origin.statement(facts, minimum_x_height_mm=x_mm),
        operator.statement(facts, minimum_x_height_mm=x_mm),
        lots.statement(facts, minimum_x_height_mm=x_mm),
    )
    kept = tuple(particular for particular in found if particular is not None)
    if facts.way_of_sale in ways_of_sale.UNPACKED:
        return tuple(p for p in kept if p.kind in ways_of_sale.DUE_UNPACKED)
    if is_under_cm2(facts, TINY_CM2):
        return tuple(p for p in kept if p.kind in KEPT_ON_TINY_PACKS)
    return kept


def allergen_statement(facts: LabelFacts, *, minimum_x_height_mm: Decimal) -> Particular | None:
    """“Contains: ...” where no list is printed; not repeated if the name of the food tells.

    Source: Regulation (EU) No 1169/2011, Art. 21(1), second and last subparagraphs.
    """
    if ingredient_list.statement(facts, minimum_x_height_mm=minimum_x_height_mm) is not None:
        return None
    present = all_allergens(
        ingredient_list.listed(facts),
        sulphites_above=sulphites_shown_above(facts),
        language=facts.language,
    )
    untold = [a for a in present if not is_told_by(facts.name_of_food, a)]
    if not untold:
        return None
    runs: list[TextRun] = []
    for allergen in untold:
        runs += [TextRun(", ")] if runs else []
        runs.append(TextRun(one_line(allergen.named_as), is_emphasised=True))
    return Particular(
        kind="allergens",
        heading=word("contains", language=facts.language),
        runs=tuple(runs),
        citation=Citation(FIC, "Art. 9(1)(c) and Art. 21(1)"),
        minimum_x_height_mm=minimum_x_height_mm,
    )


@rule(FIC, "Art. 9(1) and Art. 12(2)", since=FIC_APPLIES, needs_print=True)
def every_statement_is_printed(facts: LabelFacts, printed: PrintedText | None) -> Iterator[Finding]:
    """What must be said stands on the label, whole."""
    assert printed is not None  # noqa: S101 - the rule is only called with type set
    for particular in particulars(facts, on=facts.law_on or FIC_APPLIES):
        kind = particular.kind
        text = "".join(b.text for b in printed.blocks if b.kind == kind)
        if facts.second is not None and stands_in(particular, text):
            continue  # what has no room is the same in the other language
        tongue = f" in {language_name(particular.language)}" if particular.language else ""
        if kind in printed.does_not_fit or not bare(text):
            yield Finding(
                message=f"There is no room for “{kind}”{tongue} at the legal size.",
                hint="Choose larger label stock, another layout, or shorter words of your own.",
                where=kind,
            )
        elif not stands_in(particular, text):
            yield Finding(
                message=f"“{kind}” is not printed as it must read: {particular.text[:200]}",
                hint="Choose larger label stock, or correct the text.",
                where=kind,
            )
