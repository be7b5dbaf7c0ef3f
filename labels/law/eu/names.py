"""The name of the food: that there is one, and words that other law reserves."""

from collections.abc import Iterator
from decimal import Decimal

from labels.facts import LabelFacts, Particular, PrintedText, TextRun
from labels.law.eu.acts import (
    CHOCOLATE_DIR,
    FIC,
    FIC_APPLIES,
    HONEY_DIR,
    JUICE_DIR,
    MARKETS_REG,
)
from labels.law.eu.words import one_line, says_something, words_of
from labels.rulebook import INFORMATION, LOOK, Citation, Finding, rule

OTHER_RESERVED = (
    (("chocolate", "cocoa"), Citation(CHOCOLATE_DIR, "Art. 3 and Annex I", "from memory")),
    (("honey",), Citation(HONEY_DIR, "Art. 2 and Annex I", "from memory")),
    (("juice", "nectar"), Citation(JUICE_DIR, "Art. 3 and Annex I", "from memory")),
    (
        ("milk", "cream", "butter", "yoghurt", "cheese"),
        Citation(MARKETS_REG, "Art. 78 and Annex VII, Part III", "from memory"),
    ),
)


def statement(facts: LabelFacts, *, minimum_x_height_mm: Decimal) -> Particular | None:
    """The name of the food, as typed."""
    name = one_line(facts.name_of_food)
    if not name:
        return None
    return Particular(
        kind="name",
        runs=(TextRun(name),),
        citation=Citation(FIC, "Art. 9(1)(a) and Art. 17"),
        same_field=True,
        minimum_x_height_mm=minimum_x_height_mm,
    )


@rule(FIC, "Art. 9(1)(a) and Art. 17(1)", since=FIC_APPLIES)
def the_food_has_a_name(facts: LabelFacts, printed: PrintedText | None) -> Finding | None:
    """The label names the food: by its legal name, else its customary name, else in plain words."""
    if says_something(facts.name_of_food):
        return None
    return Finding(
        message="The name of the food is missing.",
        hint="Say what it is in plain words: “damson paste”, “tomato chutney”.",
        where="name",
    )


@rule(FIC, "Art. 17(4)", since=FIC_APPLIES)
def a_brand_is_not_a_name(facts: LabelFacts, printed: PrintedText | None) -> Finding | None:
    """A brand or fancy name may stand beside the name of the food, never in its place."""
    name, brand = one_line(facts.name_of_food), one_line(facts.brand_name)
    if not name or words_of(name) != words_of(brand):
        return None
    return Finding(
        message=f"“{name}” is the brand; it does not say what the food is.",
        hint="Keep the brand and add the name of the food.",
        where="name",
    )


@rule(FIC, "Art. 17(1) and (5)", since=FIC_APPLIES)
def another_reserved_name_is_looked_at(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """Chocolate, honey, juice and the words of the dairy are reserved by acts of their own."""
    said = set(words_of(facts.name_of_food))
    for names, citation in OTHER_RESERVED:
        for name in names:
            if name not in said:
                continue
            is_customary = name in {"cheese", "butter"} and not _has_milk(facts)
            yield Finding(
                message=f"“{name}” is a name that other law reserves; that law is not checked by "
                "this version.",
                hint="Fruit cheese, lemon cheese and fruit butter are customary names (Decision "
                "2010/791/EU, from memory); ask the local authority if in doubt."
                if is_customary
                else "Ask the local authority whether the food may bear it.",
                level=INFORMATION if is_customary else LOOK,
                where="name",
                citation=citation,
            )


def _has_milk(facts: LabelFacts) -> bool:
    return any(
        allergen.group == "milk"
        for ingredient in facts.ingredients
        for each in ingredient.with_parts()
        for allergen in each.allergens
    )
