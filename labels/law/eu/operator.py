"""Who answers for the food."""

import re
from collections.abc import Iterator
from decimal import Decimal

from labels.facts import LabelFacts, Particular, PrintedText, TextRun
from labels.law.eu.acts import FIC, FIC_APPLIES
from labels.law.eu.ways_of_sale import UNPACKED
from labels.law.eu.words import one_line, says_something
from labels.rulebook import Citation, Finding, rule

# Mail, web and telephone with the words that go before them: none of it is a place.
_NO_PLACE = re.compile(
    r"\S*(?:@|www\.|https?:)\S*|\b(?:tel|telephone|phone|mobile|e-?mail|web)\b", re.IGNORECASE
)


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
    if facts.way_of_sale in UNPACKED:
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
