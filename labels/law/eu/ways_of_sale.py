"""What each way of selling asks for: prepacked, for direct sale, loose, packed on request.

Regulation (EU) No 1169/2011, Art. 44, asks for the allergens of all that is not prepacked and
leaves the rest to each country; the rows of countries are those that were read.
"""

from dataclasses import dataclass

from labels.facts import Act, Citation, LabelFacts, PrintedText
from labels.law.eu.acts import FIC, FIC_APPLIES
from labels.rulebook import LOOK, Finding, rule

PREPACKED, DIRECT, LOOSE, ON_REQUEST = "prepacked", "direct", "loose", "on request"
WAYS = (PREPACKED, DIRECT, LOOSE, ON_REQUEST)
UNPACKED = frozenset((LOOSE, ON_REQUEST))
DUE_UNPACKED = frozenset({"name", "allergens", "cross_contact"})
"""What is printed of food that is not prepacked, if national law asks no more (Art. 44(1))."""

_LMIDV = Act(
    "Lebensmittelinformations-Durchführungsverordnung (Germany)",
    "https://www.gesetze-im-internet.de/lmidv/",
)


@dataclass(frozen=True)
class NationalWay:
    """What a country asks of one way of selling, as a sentence."""

    country: str
    ways: tuple[str, ...]
    asks: str
    citation: Citation


NATIONAL_WAYS = (
    NationalWay(
        "DE", (DIRECT,),
        "Germany: packed for direct sale and sold by self-service, all of Art. 9(1) but the net "
        "quantity and the nutrition declaration; quantities of ingredients too.",
        Citation(_LMIDV, "§ 4(1)"),
    ),
    NationalWay(
        "DE", (LOOSE, ON_REQUEST),
        "Germany: the allergens in writing, or by word of mouth with a written record at hand and "
        "a notice that says so.",
        Citation(_LMIDV, "§ 4(2) to (4)"),
    ),
)  # fmt: skip


@rule(FIC, "Art. 44", since=FIC_APPLIES)
def the_way_of_selling_is_known(facts: LabelFacts, printed: PrintedText | None) -> Finding | None:
    """Food is sold prepacked, prepacked for direct sale, loose, or packed on request."""
    if facts.way_of_sale in WAYS:
        return None
    return Finding(
        message=f"“{facts.way_of_sale}” is no way of selling known here.",
        hint="Choose prepacked, direct (packed where it is sold), loose, or on request.",
        where="way_of_sale",
    )


@rule(FIC, "Art. 44", since=FIC_APPLIES)
def national_rules_decide_what_is_not_prepacked(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """Loose and direct-sale food needs the allergens; the rest is for each country to say."""
    if facts.way_of_sale == PREPACKED or facts.way_of_sale not in WAYS:
        return None
    row = national_way(facts)
    return Finding(
        message="For food sold loose or packed where it is sold, each country decides what more "
        f"than the allergens must be told, and how.{f' {row.asks}' if row else ''}",
        hint="Ask the local authority. Packed at home and sold at a stall is usually prepacked; on "
        "another's shelf or sent by post it always is.",
        level=LOOK,
        where="way_of_sale",
        citation=row.citation if row else None,
    )


def national_way(facts: LabelFacts) -> NationalWay | None:
    """What the country of sale is known to ask of this way of selling."""
    country = facts.country_of_sale.strip().upper()
    rows = (r for r in NATIONAL_WAYS if r.country == country and facts.way_of_sale in r.ways)
    return next(rows, None)
