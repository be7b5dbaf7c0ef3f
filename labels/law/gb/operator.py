"""Who answers for the food: a business with an address in the British Islands."""

import re
from collections.abc import Iterator
from decimal import Decimal

from labels.facts import LabelFacts, Particular, PrintedText, TextRun
from labels.law.gb.acts import BRITISH_ADDRESS_APPLIES, FIC, FIC_APPLIES
from labels.law.gb.reach import GREAT_BRITAIN
from labels.law.gb.words import one_line, says_something
from labels.rulebook import LOOK, MUST_MEND, Citation, Finding, rule

# Mail, web and telephone with the words that go before them: none of it is a place.
_NO_PLACE = re.compile(
    r"\S*(?:@|www\.|https?:)\S*|\b(?:tel|telephone|phone|mobile|e-?mail|web)\b", re.IGNORECASE
)
# Postcodes of the United Kingdom, Jersey, Guernsey and the Isle of Man have one shape.
_POSTCODE = re.compile(r"\b[A-Z]{1,2}\d[A-Z\d]?\s*\d[A-Z]{2}\b", re.IGNORECASE)
_PLACES = re.compile(
    r"\b(?:united kingdom|great britain|england|scotland|wales|northern ireland|jersey|guernsey"
    r"|alderney|sark|isle of man)\b",
    re.IGNORECASE,
)


def is_in_the_british_islands(address: str) -> bool:
    """Whether an address shows by postcode or name that it is in the British Islands.

    They are the United Kingdom, the Channel Islands and the Isle of Man. "New England" and such
    are not thought of: the answer is that of the text.

    >>> is_in_the_british_islands("2 Mill Lane, Ludlow SY8 1AA")
    True
    >>> is_in_the_british_islands("2 Mill Lane, 4990-100 Ponte")
    False
    """
    return bool(_POSTCODE.search(address) or _PLACES.search(address))


def statement(facts: LabelFacts, *, minimum_x_height_mm: Decimal) -> Particular | None:
    """Name and address of the operator; what is missing of the two is left out."""
    text = ", ".join(filter(None, map(one_line, (facts.operator_name, facts.operator_address))))
    if not text:
        return None
    return Particular(
        kind="operator",
        runs=(TextRun(text),),
        citation=Citation(FIC, "Art. 9(1)(h) and Art. 8(1)"),
        minimum_x_height_mm=minimum_x_height_mm,
    )


@rule(FIC, "Art. 9(1)(h) and Art. 8(1)", since=FIC_APPLIES)
def the_operator_is_named_with_an_address(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """The business under whose name the food is sold stands there with its address."""
    if facts.way_of_sale != "prepacked":
        return
    if not any(sign.isalnum() for sign in facts.operator_name):
        yield Finding(
            message="The name of the business is missing.",
            hint="Enter the trading name under which you sell.",
            where="operator",
        )
    address = one_line(facts.operator_address)
    if not address:
        yield Finding(
            message="The address of the business is missing.",
            hint="Enter a postal address; a telephone number or web page does not replace it.",
            where="operator",
        )
    elif not says_something(_NO_PLACE.sub("", address)):
        yield Finding(
            message=f"“{address}” is not a postal address.",
            hint="Give street or place, and town; a web page or number may stand beside it.",
            where="operator",
        )


@rule(FIC, "Art. 8(1), as changed by SI 2021/632, reg. 6", since=BRITISH_ADDRESS_APPLIES)
def the_address_is_in_the_british_islands(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """The operator, or else the importer, has an address in the British Islands."""
    address = one_line(facts.operator_address)
    if facts.way_of_sale != "prepacked" or not address or is_in_the_british_islands(address):
        return None
    is_at_home = facts.country_of_sale.strip().upper() in GREAT_BRITAIN
    return Finding(
        message=f"“{address}” does not show that it is in the British Islands: the United Kingdom, "
        "the Channel Islands or the Isle of Man.",
        hint="Add the postcode."
        if is_at_home
        else "Give the importer's name and address in the British Islands; your own may stand "
        "beside it.",
        level=LOOK if is_at_home else MUST_MEND,
        where="operator",
    )
