"""Where the food comes from, and its main ingredient if that comes from elsewhere."""

from collections.abc import Iterator
from decimal import Decimal

from labels.facts import LabelFacts, Particular, PrintedText, TextRun, UsedIngredient
from labels.law.gb.acts import FIC, ORIGIN_APPLIES, ORIGIN_REG
from labels.law.gb.quid import is_in_name
from labels.law.gb.words import one_line
from labels.mechanics.origins import is_from_elsewhere, with_other_origins
from labels.rulebook import LOOK, Citation, Finding, rule


def primary_ingredients(facts: LabelFacts) -> tuple[UsedIngredient, ...]:
    """Those over half of the food, or bound up with its name.

    Source: assimilated Regulation (EU) No 1169/2011, Art. 2(2)(q), second-hand. Of what went in,
    since the Regulation does not say whether before or after cooking; the name decides for most
    foods.
    """
    total_g = facts.ingoing_g
    return tuple(
        i
        for i in facts.ingredients
        if i.category != "water" and (i.used_g * 2 > total_g or is_in_name(i, facts))
    )


def statement(facts: LabelFacts, *, minimum_x_height_mm: Decimal) -> Particular | None:
    """The origin given, followed by that of a primary ingredient known to be another."""
    given = one_line(facts.origin)
    if not given:
        return None
    text = with_other_origins(given, ingredients=primary_ingredients(facts))
    return Particular(
        kind="origin",
        runs=(TextRun(text),),
        citation=Citation(FIC, "Art. 9(1)(i) and Art. 26"),
        minimum_x_height_mm=minimum_x_height_mm,
    )


@rule(ORIGIN_REG, "Arts. 1 to 3, with SI 2021/632, reg. 8",
      since=ORIGIN_APPLIES)  # fmt: skip
def the_main_ingredient_does_not_hide_behind_an_origin(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """Who gives an origin also says where a primary ingredient from elsewhere comes from."""
    given = one_line(facts.origin)
    for ingredient in primary_ingredients(facts) if given else ():
        if not one_line(ingredient.origin):
            yield Finding(
                message=f"The label says “{given}”, but where the {ingredient.name} comes from is "
                "not known.",
                hint="Enter its origin: a country, “UK”, “non-UK” or “UK and non-UK”. If it "
                "differs, it is printed beside that of the food.",
                level=LOOK,
                where="origin",
            )
        elif is_from_elsewhere(ingredient, given=given):
            yield Finding(
                message=f"The {ingredient.name} comes from {one_line(ingredient.origin)}, not from "
                f"where the label says (“{given}”), so its origin is printed as well.",
                hint="See that a flag or a landscape on the label does not say otherwise.",
                level=LOOK,
                where="origin",
            )
