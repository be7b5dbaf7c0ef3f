"""The nutrition declaration: that it is there, which exemption is claimed, and what ends one."""

from collections.abc import Iterator
from decimal import Decimal

from labels.facts import LabelFacts, PrintedText
from labels.law.gb.acts import CLAIMS_REG, FIC, NUTRITION_APPLIES
from labels.law.gb.nutrition_table import DUE, portions
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

PART_OF = {"saturates": "fat", "sugars": "carbohydrate", "polyols": "carbohydrate"}
"""What is a part of what (Annex I, points 3, 7, 8 and 9)."""


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


@rule(FIC, "Art. 30(1) and Art. 31(4)", since=NUTRITION_APPLIES)
def every_value_declared_is_known(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """Declared are averages: analysed, or from known or accepted values of all that went in."""
    if not facts.shows_nutrition:
        return
    nutrition = facts.nutrition
    if nutrition is None or not (nutrition.per_100_g or nutrition.questions):
        yield Finding(
            message="Nutrition is to be declared, but its figures are not worked out.",
            hint="Enter what goes in and what comes out, or claim an exemption that holds.",
            where="nutrition",
        )
        return
    keys = {source.question: source.key for source in nutrition.sources if source.question}
    for question in nutrition.questions:
        yield Finding(
            message=question,
            hint="Enter it from the supplier's specification, or claim an exemption that holds.",
            where="nutrition",
            about=keys.get(question, ""),
        )
    absent = [name for name in DUE if name not in nutrition.grams]
    if absent and not nutrition.questions:
        yield Finding(
            message=f"The declaration has no figure for {', '.join(absent)}.",
            hint="Each of the mandatory amounts is declared; none of something is 0 g, and said.",
            where="nutrition",
        )


@rule(FIC, "Annex I, points 2 to 10", since=NUTRITION_APPLIES)
def no_part_is_more_than_its_whole(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """Saturates are part of fat, sugars and polyols part of carbohydrate."""
    if not facts.shows_nutrition or facts.nutrition is None or not facts.nutrition.is_complete:
        return
    grams = facts.nutrition.grams
    for part, whole in PART_OF.items():
        if grams.get(part, Decimal(0)) > grams.get(whole, Decimal(0)) + Decimal("0.05"):
            yield Finding(
                message=f"There is more {part} ({grams[part]:.1f} g) than {whole} "
                f"({grams.get(whole, Decimal(0)):.1f} g) in 100 g.",
                hint="One of the values that went in is wrong: compare them with the "
                "specifications.",
                where="nutrition",
            )


@rule(FIC, "Art. 33(1)", since=NUTRITION_APPLIES)
def a_portion_comes_with_their_number(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """Amounts per portion stand beside those per 100 g, with how many portions the pack holds."""
    wanted = facts.nutrition.portion_g if facts.nutrition else None
    if not facts.shows_nutrition or wanted is None or portions(facts) is not None:
        return None
    return Finding(
        message=f"A portion of {wanted} g is not told: how many of them are in the pack cannot be "
        "said.",
        hint="State the net quantity, and a portion that is not larger; or leave the portion out.",
        level=LOOK,
        where="nutrition",
    )


@rule(FIC, "Art. 31(4)", since=NUTRITION_APPLIES)
def the_declaration_says_how_it_was_found(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """Averages reckoned from known values of the ingredients may be declared, and can be wrong."""
    if not facts.shows_nutrition or facts.nutrition is None or not facts.nutrition.is_complete:
        return None
    return Finding(
        message="The figures are averages reckoned from the values of the ingredients and the "
        "mass that came out; none was analysed.",
        hint="Keep the record with its sources. Rounding follows guidance, read second-hand; a "
        "control allows for tolerances, which the record shows.",
        level=INFORMATION,
        where="nutrition",
    )
