"""Where this law reaches: England, Wales and Scotland, and not Northern Ireland."""

from labels.facts import LabelFacts, PrintedText
from labels.law.gb.acts import FIC, FIC_APPLIES, nation_of
from labels.rulebook import LOOK, Finding, rule

GREAT_BRITAIN = frozenset(("GB", "UK"))
"""The country code of a kitchen there; "UK" is what people type."""


@rule(FIC, "assimilated law: extent", since=FIC_APPLIES, mark="from memory")
def the_food_is_sold_where_this_law_applies(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """The assimilated regulation holds in England, Wales and Scotland only."""
    country = facts.country_of_sale.strip().upper()
    if not country or country in GREAT_BRITAIN:
        return None
    return Finding(
        message=f"This label is for {nation_of(facts).name}, but your kitchen sells in {country}: "
        "by these rules it may be sold in Great Britain only.",
        hint="If you do sell in Great Britain, nothing to mend; who answers for the food must have "
        "an address in the British Islands. For sale at home choose the market of your country.",
        level=LOOK,
        where="market",
    )
