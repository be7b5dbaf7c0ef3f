"""The lot: when a label needs one, and how it is marked."""

import re
from decimal import Decimal

from labels.facts import LabelFacts, Particular, PrintedText, TextRun
from labels.law.gb.acts import LOT_APPLIES, LOT_REGS
from labels.law.gb.durability import stated_date
from labels.law.gb.small_packs import TINY_CM2, is_under_cm2
from labels.law.gb.words import one_line
from labels.rulebook import LOOK, Citation, Finding, rule

LONGEST = 30
# "L 26-324", "L26324", "Lot 3": marked already. "Lemon 12": not.
_IS_MARKED = re.compile(r"^(?:L[\s.:\-]*\d|L[\s.:\-]+\S|lot\b)", re.IGNORECASE)


def lot_text(lot: str) -> str:
    """The lot as printed, with the letter L before it unless it is there.

    >>> lot_text("DC-27262A"), lot_text("L26324"), lot_text("Lemon 12")
    ('L DC-27262A', 'L26324', 'L Lemon 12')
    """
    lot = one_line(lot)
    return lot if not lot or _IS_MARKED.match(lot) else f"L {lot}"


def is_lot_needed(facts: LabelFacts) -> bool:
    """Whether a lot must stand on the pack: not if the date shows day and month.

    Source: SI 1996/1502, reg. 4(c) and (g); food loose, packed on request or for direct sale needs
    none either (reg. 4).
    """
    if facts.way_of_sale != "prepacked" or is_under_cm2(facts, TINY_CM2):
        return False
    stated = stated_date(facts)
    return stated is None or not stated.has_day


def statement(facts: LabelFacts, *, minimum_x_height_mm: Decimal) -> Particular | None:
    """The lot as it is to be printed; a lot that is given is printed even where none is needed."""
    text = lot_text(facts.lot)
    if not text:
        return None
    return Particular(
        kind="lot",
        runs=(TextRun(text),),
        citation=Citation(LOT_REGS, "regs 3 and 4"),
        minimum_x_height_mm=minimum_x_height_mm,
    )


@rule(LOT_REGS, "reg. 3 and reg. 4(c) and (g)", since=LOT_APPLIES)
def the_lot_is_there_unless_the_date_shows_the_day(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """A lot is marked, unless the date shows at least day and month, in that order, uncoded."""
    if any(sign.isalnum() for sign in facts.lot) or not is_lot_needed(facts):
        return None
    return Finding(
        message="This label states no day and month, so a lot code is needed.",
        hint="Enter the lot, or choose the full form of the date and keep one batch record a day.",
        where="lot",
    )


@rule(LOT_REGS, "reg. 3(2)", since=LOT_APPLIES)
def the_lot_can_be_read_back(facts: LabelFacts, printed: PrintedText | None) -> Finding | None:
    """A lot is a short code of letters and figures that can be read over the telephone."""
    lot = one_line(facts.lot)
    if not lot or (len(lot) <= LONGEST and re.fullmatch(r"[\w .:/\-]+", lot)):
        return None
    return Finding(
        message=f"The lot “{lot[:LONGEST]}” is hard to read back.",
        hint=f"Use letters, figures and dashes, {LONGEST} of them at most.",
        level=LOOK,
        where="lot",
    )
