"""Who declares nutrition, which exemption is claimed, and whether what is declared can stand."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from labels.facts import LabelFacts, PrintedText
from labels.law.eu.acts import FIC, NUTRITION_APPLIES
from labels.law.eu.nutrition_table import portion_of
from labels.law.eu.nutrition_values import PARTS_OF
from labels.law.eu.nutrition_words import unconfirmed_nutrition
from labels.law.eu.small_packs import SMALL_CM2, is_under_cm2
from labels.law.eu.words import one_line
from labels.rulebook import INFORMATION, LOOK, Finding, rule

EXEMPTIONS = {
    "unprocessed single ingredient": "Annex V, point 1",
    "herbs and spices": "Annex V, point 4",
    "vinegar": "Annex V, point 9",
    "small pack": "Annex V, point 18",
    "small quantities": "Annex V, point 19",
}
"""The exemptions that a small kitchen meets, by the words in which they are claimed."""


@dataclass(frozen=True)
class SmallQuantities:
    """What one country takes as small and as local (Annex V, point 19).

    in_words: its limits. source: where they stand, and how they were read.
    """

    in_words: str
    source: str


NATIONAL = {
    "IE": SmallQuantities(
        "In Ireland: 250 kg or l a week, or 13 000 a year, or 500 units a week, or 26 000 a year; "
        "shops within 100 km of where it is made.",
        "S.I. No. 559 of 2016, by the Food Safety Authority's page",
    ),
    "IT": SmallQuantities(
        "In Italy: micro-enterprises, to shops of their own and the neighbouring provinces.",
        "ministry circular of 16 November 2016, second-hand",
    ),
}
"""Countries whose limits are known here; every other has limits of its own."""

# Ireland, S.I. No. 559 of 2016, by the Food Safety Authority's page. The maker chooses the measure.
IRISH_KG_A_WEEK, IRISH_KG_A_YEAR = Decimal(250), Decimal(13_000)
IRISH_UNITS_A_WEEK, IRISH_UNITS_A_YEAR = 500, 26_000
IRISH_KM = Decimal(100)
_WEEKS = 52


def is_small_in_ireland(
    *, kg_a_week: Decimal, units_a_week: int | None = None, km_to_shops: Decimal = Decimal(0)
) -> bool:
    """Whether Irish law takes a maker's sales as small and local.

    kg_a_week: all products of the maker together [kg or l]. units_a_week: None where not counted.
    km_to_shops: to the farthest shop supplied [km]; 0 for sales to consumers only.
    Source: S.I. No. 559 of 2016, by the Food Safety Authority's page (second-hand).
    """
    by_mass = kg_a_week <= IRISH_KG_A_WEEK or kg_a_week * _WEEKS <= IRISH_KG_A_YEAR
    by_count = units_a_week is not None and (
        units_a_week <= IRISH_UNITS_A_WEEK or units_a_week * _WEEKS <= IRISH_UNITS_A_YEAR
    )
    return (by_mass or by_count) and km_to_shops <= IRISH_KM


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


@rule(FIC, "Annex V, point 19", since=NUTRITION_APPLIES)
def small_quantities_are_a_matter_of_the_country(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """Small quantities go straight to consumers or local shops; each country says how small."""
    if facts.shows_nutrition or facts.way_of_sale != "prepacked":
        return None
    if one_line(facts.nutrition_exemption).casefold() != "small quantities":
        return None
    national = NATIONAL.get(facts.country_of_sale.strip().upper())
    limits = (
        f"{national.in_words} ({national.source}.)"
        if national
        else "What is small and local differs from country to country."
    )
    return Finding(
        message="No nutrition declaration, because small quantities are sold directly or to local "
        f"shops. {limits}",
        hint="Ask the local authority for its limits. Any nutrition or health claim on the label, "
        "such as “source of fibre”, ends the exemption.",
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
    hint = "Enter it from the supplier's specification, or claim an exemption that holds."
    asked = [each for each in nutrition.sources if each.question] if nutrition else []
    for source in asked:
        yield Finding(message=source.question, hint=hint, where="nutrition", about=source.key)
    told = {source.question for source in asked}
    rest = [text for text in nutrition.questions if text not in told] if nutrition else []
    for text in rest:
        yield Finding(message=text, hint="Find it out; nothing is taken as none.",
                      where="nutrition")  # fmt: skip
    if nutrition is None or not (nutrition.is_complete or asked or rest):
        yield Finding(
            message="Nutrition is to be declared, but its figures are not worked out.",
            hint="Enter what goes in and what comes out, or claim an exemption that holds.",
            where="nutrition",
        )


@rule(FIC, "Annex I, points 2 to 10", since=NUTRITION_APPLIES)
def no_part_is_more_than_its_whole(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """Saturates are part of fat, sugars and polyols part of carbohydrate, all part of 100 g."""
    if not facts.shows_nutrition or facts.nutrition is None or not facts.nutrition.is_complete:
        return
    grams = facts.nutrition.grams
    hint = "One of the values that went in is wrong: compare them with the specifications."
    for part, whole in PARTS_OF.items():
        if grams.get(part, Decimal(0)) > grams.get(whole, Decimal(0)) + Decimal("0.05"):
            yield Finding(
                message=f"There is more {part} ({grams[part]:.1f} g) than {whole} "
                f"({grams.get(whole, Decimal(0)):.1f} g) in 100 g.",
                hint=hint,
                where="nutrition",
            )
    whole_g = sum((g for name, g in grams.items() if name not in PARTS_OF), Decimal(0))
    if whole_g > Decimal(100):
        yield Finding(
            message=f"The nutrients add up to {whole_g:.1f} g in 100 g of food.",
            hint=f"{hint} Or the finished mass is too small.",
            where="nutrition",
        )


@rule(FIC, "Art. 33(1)", since=NUTRITION_APPLIES)
def a_portion_comes_with_their_number(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """Amounts per portion stand beside those per 100 g, with how many portions the pack holds."""
    wanted = facts.nutrition.portion_g if facts.nutrition else None
    if not facts.shows_nutrition or wanted is None or portion_of(facts) is not None:
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
    nutrition = facts.nutrition
    if not facts.shows_nutrition or nutrition is None or not nutrition.is_complete:
        return None
    second = facts.in_second_language
    languages = [facts.language, *([second.language] if second else [])]
    words = [each for language in languages for each in unconfirmed_nutrition(language)]
    native = f" Not read in the official text: {', '.join(words)}." if words else ""
    return Finding(
        message="The figures are averages reckoned from the values of the ingredients and the "
        "mass that came out; none was analysed." + native,
        hint="Keep the record with its sources. Rounding follows guidance of the Commission, "
        "read second-hand; a control allows for tolerances, which the record shows.",
        level=LOOK if words else INFORMATION,
        where="nutrition",
    )
