"""Where this law reaches: a label that obeys it may still be unlawful elsewhere."""

from datetime import date

from labels.facts import LabelFacts, PrintedText
from labels.law.eu.acts import FIC, FIC_APPLIES
from labels.law.eu.language import OFFICIAL
from labels.rulebook import LOOK, MUST_MEND, Finding, rule

ECONOMIC_AREA = frozenset(("IS", "LI", "NO"))
"""Where the Regulation applies by the Agreement on the European Economic Area (from memory)."""
KEPT_IT = frozenset(("GB",))
"""Where its text was kept as national law and changed since (from memory)."""
# End of the transition period of the withdrawal agreement.
FRAMEWORK_APPLIES = date(2021, 1, 1)
NORTHERN_IRELAND = "gb-nir"


@rule(FIC, "Windsor Framework, Art. 5(4) and Annex 2", since=FRAMEWORK_APPLIES, mark="from memory")
def northern_ireland_follows_this_law(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """The law of the Union on food labels and composition holds in Northern Ireland too."""
    if facts.market != NORTHERN_IRELAND:
        return None
    return Finding(
        message="Northern Ireland follows the label and composition law of the European Union, so "
        "this is checked by it: the address must be there or in the Union.",
        hint="Goods moved from Great Britain under the retail scheme have rules of their own, and "
        "Northern Ireland its own regulations on allergens, jam names and prices: ask the local "
        "authority.",
        level=LOOK,
        where="market",
    )


@rule(FIC, "Art. 55, closing words", since=FIC_APPLIES)
def the_food_is_sold_where_this_law_applies(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """The Regulation is directly applicable in all member states, and nowhere else by itself."""
    if facts.market == NORTHERN_IRELAND:
        return None
    country = facts.country_of_sale.strip().upper()
    if not country or country in OFFICIAL or country in ECONOMIC_AREA:
        return None
    if country in KEPT_IT:
        return Finding(
            message="You sell in the United Kingdom; this is checked against the text of the "
            "European Union, which was kept there and has changed since.",
            hint="Choose England, Wales, Scotland or Northern Ireland as the market of this label: "
            "the address, food packed where it is sold and names of the jam family differ.",
            level=LOOK,
            where="operator",
        )
    return Finding(
        message=f"You sell in {country}, and the label law of that country is not known to this "
        "program: only that of the European Union is.",
        hint="There is a proof to start from. Have the label checked where you sell; if you do "
        "sell in the Union, choose that country under Kitchen.",
        level=MUST_MEND,
        where="operator",
    )
