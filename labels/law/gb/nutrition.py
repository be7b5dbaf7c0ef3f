"""The nutrition declaration: that it is there, which exemption is claimed, and what ends one."""

from decimal import Decimal

from labels.facts import LabelFacts, PrintedText
from labels.law.gb.acts import CLAIMS_REG, FIC, NUTRITION_APPLIES
from labels.law.gb.small_packs import SMALL_CM2, is_under_cm2
from labels.law.gb.words import one_line
from labels.rulebook import INFORMATION, LOOK, Finding, rule

EXEMPTIONS = {
    "unprocessed single ingredient": "Annex V, point 1",
    "herbs and spices": "Annex V, point 4",
    "vinegar": "Annex V, point 9",
    "small pack": "Annex V, point 18",
    "small quantities": "Annex V, point 19",
}
"""The exemptions that a small kitchen meets, by the words in which they are claimed."""

# Department of Health, technical guidance of September 2016, as restated (second-hand). Of the
# distance one restatement says 30 miles, another 35; both give 50 km, which is what is held here.
FEWER_STAFF_THAN = 10
MOST_TURNOVER_GBP = Decimal(1_400_000)
MOST_KM_BEYOND_THE_COUNTY = Decimal(50)


def is_small_maker(*, staff: int, turnover_gbp: Decimal) -> bool:
    """Whether guidance counts a maker as one of small quantities: a micro-business.

    Source: Department of Health guidance, 2016 (second-hand). Turnover or balance sheet total.
    """
    return staff < FEWER_STAFF_THAN and turnover_gbp < MOST_TURNOVER_GBP


def is_local_shop(*, in_own_county: bool, in_next_county: bool, km_from_border: Decimal) -> bool:
    """Whether guidance counts a shop as local: own county, or a near part of the next.

    km_from_border: from the border of the maker's county [km].
    Source: Department of Health guidance, 2016 (second-hand).
    """
    return in_own_county or (in_next_county and km_from_border <= MOST_KM_BEYOND_THE_COUNTY)


def is_exempt_by_size(facts: LabelFacts) -> bool:
    """Whether the largest surface is under 25 cm2 (Annex V, point 18)."""
    return is_under_cm2(facts, SMALL_CM2)


@rule(FIC, "Art. 9(1)(l), Art. 16(3) and Annex V", since=NUTRITION_APPLIES)
def nutrition_is_declared_or_exempt(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """A nutrition declaration is there, or the maker says which exemption applies."""
    if facts.shows_nutrition or facts.way_of_sale != "prepacked" or is_exempt_by_size(facts):
        return None
    claimed = one_line(facts.nutrition_exemption).casefold()
    if claimed == "small pack":
        surface = facts.largest_surface_cm2
        known = "not known" if surface is None else f"{surface} cm²"
        return Finding(
            message="The small-pack exemption is claimed, but the largest surface is "
            f"{known}; it must be under 25 cm².",
            hint="Measure the pack, declare nutrition, or claim another exemption.",
            where="nutrition",
        )
    if claimed in EXEMPTIONS:
        return None
    return Finding(
        message="There is no nutrition declaration, and no exemption is stated."
        if not claimed
        else f"“{one_line(facts.nutrition_exemption)}” is not an exemption known here.",
        hint=f"Say which applies: {', '.join(EXEMPTIONS)}. Nobody assumes one for you.",
        where="nutrition",
    )


@rule(CLAIMS_REG, "Art. 7, with assimilated Regulation (EU) No 1169/2011, Art. 49",
      since=NUTRITION_APPLIES)  # fmt: skip
def a_claim_ends_every_exemption(facts: LabelFacts, printed: PrintedText | None) -> Finding | None:
    """Who makes a nutrition or health claim declares nutrition, however small maker or pack."""
    claims = [one_line(text) for text in facts.claims if one_line(text)]
    if not claims or facts.shows_nutrition:
        return None
    return Finding(
        message=f"“{claims[0]}” is a claim, so the nutrition declaration is required and no "
        "exemption holds.",
        hint="Print the nutrition declaration, or take the claim off the label.",
        where="nutrition",
    )


@rule(FIC, "Annex V, point 19", since=NUTRITION_APPLIES, mark="second-hand")
def small_quantities_are_those_of_a_micro_business(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """Small quantities go straight to consumers or local shops, from a micro-business."""
    if facts.shows_nutrition or facts.way_of_sale != "prepacked":
        return None
    if one_line(facts.nutrition_exemption).casefold() != "small quantities":
        return None
    return Finding(
        message="No nutrition declaration, because small quantities are sold directly or to local "
        f"shops. Guidance reads this as fewer than {FEWER_STAFF_THAN} staff and under "
        f"£{MOST_TURNOVER_GBP / 1_000_000:f} million, and shops in your county or the next, no "
        f"more than {MOST_KM_BEYOND_THE_COUNTY} km beyond its border.",
        hint="Guidance is not law: ask trading standards. A claim on the label, such as “source "
        "of fibre”, ends the exemption.",
        level=INFORMATION,
        where="nutrition",
    )


@rule(FIC, "Arts. 29 to 35", since=NUTRITION_APPLIES)
def the_nutrition_table_is_looked_at(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """A nutrition declaration has its own form and rounding."""
    if not facts.shows_nutrition:
        return None
    return Finding(
        message="The nutrition declaration is said to be on the pack; its figures are not part of "
        "this check.",
        hint="Compare the table with its record, and see that it is on the pack.",
        level=LOOK,
        where="nutrition",
    )
