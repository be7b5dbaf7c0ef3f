"""How to keep the food, and how to use it."""

from decimal import Decimal

from labels.facts import LabelFacts, Particular, PrintedText, TextRun
from labels.law.eu.acts import FIC, FIC_APPLIES
from labels.law.eu.ways_of_sale import UNPACKED
from labels.law.eu.words import one_line, sentence
from labels.rulebook import INFORMATION, Citation, Finding, rule


def statement(facts: LabelFacts, *, minimum_x_height_mm: Decimal) -> Particular | None:
    """How to keep it before and after opening."""
    text = " ".join(filter(None, map(sentence, (facts.storage, facts.storage_after_opening))))
    if not text:
        return None
    return Particular(
        kind="storage",
        runs=(TextRun(text),),
        citation=Citation(FIC, "Art. 9(1)(g) and Art. 25"),
        minimum_x_height_mm=minimum_x_height_mm,
    )


def instructions(facts: LabelFacts, *, minimum_x_height_mm: Decimal) -> Particular | None:
    """How to use it, where it would be hard to use without being told."""
    text = one_line(facts.instructions)
    if not text:
        return None
    return Particular(
        kind="instructions",
        runs=(TextRun(text),),
        citation=Citation(FIC, "Art. 9(1)(j) and Art. 27"),
        minimum_x_height_mm=minimum_x_height_mm,
    )


@rule(FIC, "Art. 25", since=FIC_APPLIES)
def special_storage_is_stated(facts: LabelFacts, printed: PrintedText | None) -> Finding | None:
    """Where a food must be kept in a special way, before or after opening, the label says so."""
    missing = [
        when
        for when, text in (
            ("before opening", facts.storage),
            ("after opening", facts.storage_after_opening),
        )
        if not one_line(text)
    ]
    if not missing or facts.way_of_sale in UNPACKED:
        return None
    return Finding(
        message=f"Nothing is said about keeping it {' or '.join(missing)}.",
        hint="If it must be kept cool, dry or refrigerated, or eaten within some days once open, "
        "say so. A preserve with less sugar or acid than usual often must be.",
        level=INFORMATION,
        where="storage",
    )
