"""What can be wrong with an ingredient list, before and after it is set."""

from collections.abc import Iterator

from labels.facts import LabelFacts, PrintedText
from labels.law.eu.acts import FIC, FIC_APPLIES
from labels.law.eu.ingredient_list import (
    GROUPS_UP_TO_2_PCT,
    MIXES,
    SMALL_SHARE_PCT,
    added_water_g,
    is_water_listed,
    listed,
    may_be_grouped,
    statement,
)
from labels.law.eu.legibility import minimum_x_height_mm
from labels.law.eu.voices import voices
from labels.law.eu.words import ADDITIVE_CLASSES, one_line
from labels.mechanics.listing import by_mix
from labels.mechanics.masses import share_pct
from labels.rulebook import INFORMATION, LOOK, MUST_MEND, Finding, rule


@rule(FIC, "Art. 9(1)(b) and Art. 18(1)", since=FIC_APPLIES)
def something_is_in_the_food(facts: LabelFacts, printed: PrintedText | None) -> Finding | None:
    """A food has ingredients, and the label lists them."""
    if listed(facts):
        return None
    return Finding(
        message="There is no ingredient to list.",
        hint="Enter the recipe with its ingredients.",
        where="ingredients",
    )


@rule(FIC, "Art. 18(1)", since=FIC_APPLIES)
def every_ingredient_has_a_weight(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """The order is by weight as used, so a weight of nothing has no place in it."""
    for ingredient in facts.ingredients:
        if not ingredient.used_g > 0:
            yield Finding(
                message=f"{ingredient.name} is in the recipe, but with no weight, so its place in "
                "the list is a guess.",
                hint="Enter how much goes in, or take it out of the recipe.",
                where="ingredients",
            )


@rule(FIC, "Annex VII, Part A, point 1", since=FIC_APPLIES)
def no_more_comes_out_than_went_in(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """The finished food weighs no more than all that was put in."""
    finished_g = facts.usable_finished_g
    # A gram in a thousand may be rounding on the way here.
    if finished_g is None or finished_g * 1000 <= facts.ingoing_g * 1001:
        return None
    return Finding(
        message=f"The finished food is given as {finished_g:.0f} g, but only "
        f"{facts.ingoing_g:.0f} g went in.",
        hint="Something is missing from the recipe, often water or frying oil, or a weight is "
        "wrong.",
        where="finished_g",
    )


@rule(FIC, "Annex VII, Part A, point 1", since=FIC_APPLIES)
def added_water_can_be_worked_out(facts: LabelFacts, printed: PrintedText | None) -> Finding | None:
    """Added water is what is left in the finished food, and is listed above 5 % of it."""
    if not any(i.category == "water" and not i.is_processing_aid for i in facts.ingredients):
        return None
    water_g, finished_g = added_water_g(facts), facts.usable_finished_g
    if water_g is None or finished_g is None:
        return Finding(
            message="Water was added, but the finished mass is not known, so nobody can say "
            "whether water must be listed, and where.",
            hint="Enter how the cook ends, or weigh the finished batch.",
            where="ingredients",
        )
    if is_water_listed(facts):
        return None
    share = f"{water_g:.0f} g of it, {water_g * 100 / finished_g:.1f} % of the finished food"
    return Finding(
        message=f"Added water is left out of the list: {share}, is 5 % or less."
        if water_g
        else "The added water has boiled away, so it is not in the list.",
        hint="Nothing to do.",
        level=INFORMATION,
        where="ingredients",
    )


@rule(FIC, "Annex VII, Part C", since=FIC_APPLIES)
def an_additive_is_named_with_one_class(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """An additive stands under one class of the list, the one for its main job."""
    classes = ADDITIVE_CLASSES["en"]
    for whole in facts.ingredients:
        for each in whole.with_parts():
            kind = one_line(each.additive_class).casefold()
            if kind and kind not in classes:
                yield Finding(
                    message=f"{each.name}: “{one_line(each.additive_class)}” is not one of the "
                    "classes of additives.",
                    hint=f"Choose the one for its main job: {', '.join(classes)}.",
                    where="ingredients",
                )
            elif not kind and each.additive_number and not each.is_processing_aid:
                yield Finding(
                    message=f"{each.name} has the number {one_line(each.additive_number)} but no "
                    "class.",
                    hint="An additive is listed as class, then name or number: for example "
                    "“gelling agent: pectin”.",
                    where="ingredients",
                )


@rule(FIC, "Annex VII, Part A, points 4 and 5", since=FIC_APPLIES)
def a_varying_mix_is_one(facts: LabelFacts, printed: PrintedText | None) -> Iterator[Finding]:
    """Only fruit, vegetables, spices or herbs stand as a mix, none of them predominating."""
    for name, members in by_mix(listed(facts)).items():
        categories = {i.category for i in members}
        if len(categories) != 1 or not categories <= set(MIXES):
            yield Finding(
                message=f"The mix “{name}” is not all fruit, all vegetables, all spices or all "
                "herbs, so it may not be listed as one.",
                hint="List its ingredients each in its own place, or set their kind.",
                where="ingredients",
            )
        total = sum(i.used_g for i in members)
        # The law gives no figure for "significantly predominates": ours is a fifth over even.
        for i in members:
            if len(members) > 1 and i.used_g * len(members) * 5 > total * (5 + len(members)):
                yield Finding(
                    message=f"{i.name} is {i.used_g * 100 / total:.0f} % of the mix “{name}”; a "
                    "mix in varying proportions has none that predominates.",
                    hint="List the kinds each in its own place, with its quantity if the name or "
                    "a picture calls for it.",
                    level=LOOK,
                    where="ingredients",
                )


@rule(FIC, "Annex VII, Part B, points 7 and 8", since=FIC_APPLIES)
def spices_above_two_per_cent_are_named(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """“Spices” and “herbs” may stand for each up to 2 % of the food; above, each is named."""
    for category in GROUPS_UP_TO_2_PCT if facts.groups_spices else ():
        share = share_pct((i for i in listed(facts) if i.category == category), facts)
        if share and not may_be_grouped(category, facts):
            yield Finding(
                message=f"The {category}s are {share:.1f} % of the food, over 2 %, so each is "
                "named in the list.",
                hint="Nothing to do.",
                level=INFORMATION,
                where="ingredients",
            )


@rule(FIC, "Annex VII, Part E, point 1", since=FIC_APPLIES)
def the_parts_of_a_compound_make_it_up(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """The parts of a compound ingredient come at least to what was used of it."""
    for whole in facts.ingredients:
        for each in whole.with_parts():
            inside = sum(part.used_g for part in each.parts)
            if each.parts and inside * 100 < each.used_g * 98:
                yield Finding(
                    message=f"{each.name}: its parts come to {inside:.0f} g of the "
                    f"{each.used_g:.0f} g used.",
                    hint="Enter every part with its share, heaviest first, from the supplier's "
                    "list.",
                    level=LOOK,
                    where="ingredients",
                )


@rule(FIC, "Art. 18(4) and Annex VII, Part E, point 1", since=FIC_APPLIES)
def a_compound_comes_with_its_list(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """What is made of several ingredients is listed with them, so they must be known."""
    for whole in facts.ingredients:
        share = share_pct((whole,), facts)
        is_small = share is not None and share < SMALL_SHARE_PCT
        for each in whole.with_parts():
            if not each.lacks_its_list:
                continue
            may_fall_away = is_small and each.composition_fixed_by_law
            yield Finding(
                message=f"{each.name} is itself made of several ingredients, and they are not "
                "entered.",
                hint="Below 2 % of the food its list may fall away, but not its allergens and the "
                "additives at work: read the supplier's list."
                if may_fall_away
                else "Enter them from the supplier's list, heaviest first. Each allergen hides in "
                "one of them.",
                level=LOOK if may_fall_away else MUST_MEND,
                where="ingredients",
                about=each.key,
            )


@rule(FIC, "Art. 21(1)(b)", since=FIC_APPLIES, needs_print=True)
def allergens_are_set_apart_in_print(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """Exactly the allergens' names are set apart in the printed list."""
    assert printed is not None  # noqa: S101 - the rule is only called with type set
    smallest = minimum_x_height_mm(facts, on=facts.printed_on or FIC_APPLIES)
    lists = [statement(voice, minimum_x_height_mm=smallest) for voice in voices(facts)]
    expected = [each for each in lists if each is not None]
    blocks = [block for block in printed.blocks if block.kind == "ingredients"]
    if not expected or not blocks:
        return None
    found = [one_line(text).casefold() for block in blocks for text in block.emphasised]
    wanted = [one_line(text).casefold() for each in expected for text in each.emphasised]
    if found == wanted:
        return None
    return Finding(
        message=f"In print {', '.join(found) or 'nothing'} is set apart in the ingredient list; "
        f"it must be {', '.join(wanted) or 'nothing'}.",
        hint="Set the names of the allergens, and nothing else, in bold.",
        where="ingredients",
    )
