"""What each way of selling asks for: prepacked, for direct sale, loose, packed on request."""

from datetime import date

from labels.facts import LabelFacts, PrintedText
from labels.law.gb.acts import (
    DIRECT_SALE_LIST_APPLIES,
    ENGLAND,
    FIC_APPLIES,
    nation_of,
)
from labels.rulebook import INFORMATION, LOOK, Citation, Dated, Finding, rule

PREPACKED, DIRECT, LOOSE, ON_REQUEST = "prepacked", "direct", "loose", "on request"
WAYS = (PREPACKED, DIRECT, LOOSE, ON_REQUEST)
UNPACKED = frozenset((LOOSE, ON_REQUEST))

DUE_FOR_DIRECT_SALE = Dated(
    frozenset({"name", "allergens", "extra", "net_quantity"}),
    {DIRECT_SALE_LIST_APPLIES: frozenset(
        {"name", "ingredients", "allergens", "extra", "net_quantity"}
    )},
)  # fmt: skip
"""Regs 5 to 6A of each nation's food information regulations; the weight by packaged goods law.

The full list came with SI 2019/1218 (England), WSI 2020/295 and SSI 2021/70 on one day.
"""
DUE_UNPACKED = frozenset({"name", "allergens"})


def lists_ingredients(facts: LabelFacts) -> bool:
    """Whether this way of selling asks for the ingredient list at all."""
    if facts.way_of_sale == DIRECT:
        return "ingredients" in DUE_FOR_DIRECT_SALE.on(facts.law_on or date.max)
    return facts.way_of_sale not in UNPACKED


def is_due(kind: str, facts: LabelFacts) -> bool:
    """Whether the law asks for a kind of statement, sold this way; the rest is voluntary.

    A risk of cross-contact that was found to remain is told however it is sold.
    """
    if kind == "cross_contact":
        return True
    if facts.way_of_sale == DIRECT:
        return kind in DUE_FOR_DIRECT_SALE.on(facts.law_on or date.max)
    return facts.way_of_sale not in UNPACKED or kind in DUE_UNPACKED


@rule(ENGLAND.food_information, "regs 5 to 7", since=FIC_APPLIES)
def the_way_of_selling_is_known(facts: LabelFacts, printed: PrintedText | None) -> Finding | None:
    """Food is sold prepacked, prepacked for direct sale, loose, or packed on request."""
    if facts.way_of_sale in WAYS:
        return None
    return Finding(
        message=f"“{facts.way_of_sale}” is no way of selling known here.",
        hint="Choose prepacked, direct (packed where it is sold), loose, or on request.",
        where="way_of_sale",
        citation=Citation(nation_of(facts).food_information, "regs 5 to 7"),
    )


@rule(ENGLAND.direct_sale, "reg. 5A and reg. 6A of the food information regulations",
      since=DIRECT_SALE_LIST_APPLIES)  # fmt: skip
def food_for_direct_sale_carries_name_and_list(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """Packed where it is sold, before it is asked for: name and full list stand on the pack."""
    if facts.way_of_sale != DIRECT:
        return None
    return Finding(
        message="Packed for direct sale: the name and the full ingredient list with the allergens "
        "set apart are asked for on the pack. Date, nutrition and quantities of ingredients are "
        "not.",
        hint="This holds only where you sell it yourself, from the place where it was packed or "
        "your own stall or van. The same pack on another's shelf, or sent by post, is prepacked: "
        "print that label too.",
        level=LOOK,
        where="way_of_sale",
        citation=Citation(
            nation_of(facts).direct_sale, "regs 5A and 6A of the food information regulations"
        ),
    )


@rule(ENGLAND.food_information, "reg. 5", since=FIC_APPLIES, until=DIRECT_SALE_LIST_APPLIES)
def food_for_direct_sale_told_its_allergens_like_loose_food(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """Before October 2021 food packed for direct sale needed its allergens told, and no list."""
    if facts.way_of_sale != DIRECT:
        return None
    return Finding(
        message="By the law of that day the allergens could be told by word of mouth; there was "
        "no list on a pack for direct sale.",
        hint="From 1 October 2021 on the full list is on the pack.",
        level=INFORMATION,
        where="way_of_sale",
        citation=Citation(nation_of(facts).food_information, "reg. 5"),
    )


@rule(ENGLAND.food_information, "regs 5 and 6", since=FIC_APPLIES)
def loose_food_tells_name_and_allergens(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """Loose, or packed when the buyer asks: name in writing, allergens in writing or on asking."""
    if facts.way_of_sale not in UNPACKED:
        return None
    return Finding(
        message="Sold loose or packed on request: the name and the allergens are asked for, on a "
        "label, a notice or a ticket.",
        hint="The allergens may be told by word of mouth only if a notice says whom to ask.",
        level=LOOK,
        where="way_of_sale",
        citation=Citation(nation_of(facts).food_information, "regs 5 and 6"),
    )
