"""The nutrition declaration: that it is there, or which exemption is claimed."""

from labels.facts import LabelFacts, PrintedText
from labels.law.eu.acts import FIC, NUTRITION_APPLIES
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
    return Finding(
        message="No nutrition declaration, because small quantities are sold directly or to local "
        "shops. What is small and local differs from country to country.",
        hint="Ask the local authority for its limits. Any nutrition or health claim on the label, "
        "such as “source of fibre”, ends the exemption.",
        level=INFORMATION,
        where="nutrition",
    )


@rule(FIC, "Arts. 29 to 35", since=NUTRITION_APPLIES)
def the_nutrition_table_is_looked_at(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """A nutrition declaration has its own form and rounding, which is not checked yet."""
    if not facts.shows_nutrition:
        return None
    return Finding(
        message="The nutrition declaration is said to be on the pack; this version neither prints "
        "nor checks it.",
        hint="Have the table made and checked elsewhere, and see that it is on the pack.",
        level=LOOK,
        where="nutrition",
    )
