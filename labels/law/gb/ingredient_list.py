"""The ingredient list: what stands in it, in which order, and how each entry is set."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from decimal import Decimal

from labels.facts import Allergen, LabelFacts, Particular, UsedIngredient
from labels.law.gb.acts import FIC
from labels.law.gb.allergens import (
    all_allergens,
    allergens_of,
    key_of,
    set_apart,
    sulphites_shown_above,
)
from labels.law.gb.quid import declared
from labels.law.gb.small_packs import keeps_list_off_the_pack
from labels.law.gb.ways_of_sale import lists_ingredients
from labels.law.gb.words import one_line, word
from labels.mechanics.listing import Entry, Group, ListSetter, ListTerms, by_mix
from labels.mechanics.masses import counted_g, left_of_it_g, share_pct
from labels.mechanics.runs import join
from labels.rulebook import Citation

WATER_IGNORED_PCT = Decimal(5)
SMALL_SHARE_PCT = Decimal(2)
GROUPS_UP_TO_2_PCT = ("spice", "herb")
MIXES = {
    "fruit": "in varying proportions",
    "vegetable": "in varying proportions",
    "spice": "in variable proportion",
    "herb": "in variable proportion",
}
"""Categories that may stand as a mix, and the words of Annex VII, Part A, points 4 and 5."""


def added_water_g(facts: LabelFacts) -> Decimal | None:
    """Water still in the food [g]: the finished mass less all other ingredients used.

    Never under 0; None if the finished mass is not known.
    Source: assimilated Regulation (EU) No 1169/2011, Annex VII, Part A, point 1.
    """
    # Water that only brought a dried food back is not listed, but it is in the food all the same.
    return left_of_it_g(
        facts,
        others=(
            i
            for i in facts.ingredients
            if not _is_added_water(i) and (not _is_hidden(i) or i.category == "water")
        ),
    )


def is_water_listed(facts: LabelFacts) -> bool:
    """Added water is left out when it is 5 % of the finished food or less."""
    water_g, finished_g = added_water_g(facts), facts.usable_finished_g
    if water_g is None or finished_g is None:
        return True
    return water_g * 100 > WATER_IGNORED_PCT * finished_g


def _is_added_water(ingredient: UsedIngredient) -> bool:
    """Plain water; what brings an allergen is listed however little is left (Art. 21)."""
    is_water = ingredient.category == "water" and not ingredient.is_processing_aid
    return is_water and not ingredient.allergens


def _is_hidden(ingredient: UsedIngredient) -> bool:
    """A processing aid is no ingredient, unless it brings an allergen (Art. 20, first words)."""
    return ingredient.is_processing_aid and not any(i.allergens for i in ingredient.with_parts())


def listed(facts: LabelFacts) -> tuple[UsedIngredient, ...]:
    """The ingredients that stand in the list, in the order of the recipe."""
    has_water = is_water_listed(facts)
    return tuple(
        i for i in facts.ingredients if not _is_hidden(i) and (has_water or not _is_added_water(i))
    )


def needs_list(facts: LabelFacts) -> bool:
    """Whether there is to be a list; a single ingredient that the name tells needs none.

    Source: assimilated Regulation (EU) No 1169/2011, Art. 19(1)(e); for food that is
    not prepacked the food information regulations of each nation.
    """
    present = listed(facts)
    if not present or not lists_ingredients(facts):
        return False
    if len(present) > 1 or present[0].parts or present[0].additive_class:
        return True
    return one_line(present[0].name).casefold() != one_line(facts.name_of_food).casefold()


def may_follow_in_any_order(facts: LabelFacts) -> tuple[str, ...]:
    """Names of those below 2 % of the finished food, which may follow the rest as one likes.

    The list keeps them in falling weight all the same: that is always lawful.
    Source: assimilated Regulation (EU) No 1169/2011, Annex VII, Part A, point 6 ("less than 2 %").
    """
    small = []
    for ingredient in listed(facts):
        share = share_pct((ingredient,), facts)
        if share is not None and share < SMALL_SHARE_PCT:
            small.append(ingredient.name)
    return tuple(small)


def entries(facts: LabelFacts) -> tuple[Entry, ...]:
    """The list as it is to be printed, heaviest first; equals keep the order of the recipe."""
    present = listed(facts)
    return ListSetter(_terms(facts)).in_order(present, _groups(facts, present))


def _groups(facts: LabelFacts, present: Sequence[UsedIngredient]) -> Iterator[Group]:
    """Ingredients that share one place in the list, with the words for that place."""
    for name, members in by_mix(present).items():
        category = members[0].category if members[0].category in MIXES else ""
        label = word(category) if category else name
        words = word(MIXES.get(category, "in varying proportions"))
        if len(members) > 1:
            yield Group(tuple(members), f"{label} {words}", names_members=True)
    free = [i for i in present if not one_line(i.varying_mix)]
    for category in GROUPS_UP_TO_2_PCT if facts.groups_spices else ():
        if may_be_grouped(category, facts):
            yield from _plain_group(category, free, facts)
    if facts.groups_sugars:
        yield from _plain_group("sugar", free, facts)


def _plain_group(category: str, free: list[UsedIngredient], facts: LabelFacts) -> Iterator[Group]:
    """Two or more of a category under its name; one that must be seen stays by itself."""
    quantified = [i for d in declared(facts) for i in d.ingredients]
    sulphites_above = sulphites_shown_above(facts)
    members = tuple(
        i
        for i in free
        if i.category == category
        and not i.parts
        and i not in quantified
        and not allergens_of(i, sulphites_above=sulphites_above)
    )
    if len(members) > 1:
        yield Group(members, word(category), names_members=False)


def may_be_grouped(category: str, facts: LabelFacts) -> bool:
    """Spices, and herbs, may stand under one word up to 2 % of the food (Annex VII, Part B)."""
    share = share_pct((i for i in listed(facts) if i.category == category), facts)
    return share is not None and share <= SMALL_SHARE_PCT


def _terms(facts: LabelFacts) -> ListTerms:
    """What this law says to each question of setting the list."""
    sulphites_above = sulphites_shown_above(facts)
    shares = {
        id(each.ingredients[0]): each.shown
        for each in declared(facts)
        if not each.category and not each.is_in_name
    }

    def told_with(ingredient: UsedIngredient) -> tuple[Allergen, ...]:
        # Its own allergens, and those of its parts if their list falls away.
        who = ingredient if _drops_list(ingredient, facts) else replace(ingredient, parts=())
        return all_allergens((who,), sulphites_above=sulphites_above)

    return ListTerms(
        name=lambda ingredient: _name(ingredient, facts),
        weight_g=lambda ingredient: _weight_g(ingredient, facts),
        figure=lambda ingredient: shares.get(id(ingredient), ""),
        inside=lambda ingredient: _inside(ingredient, facts),
        allergens=told_with,
        set_apart=set_apart,
        key_of=key_of,
    )


def _weight_g(ingredient: UsedIngredient, facts: LabelFacts) -> Decimal:
    if _is_added_water(ingredient):
        water_g = added_water_g(facts)
        return ingredient.used_g if water_g is None else water_g
    return counted_g(ingredient)


def _inside(ingredient: UsedIngredient, facts: LabelFacts) -> list[UsedIngredient]:
    """The list within a compound; of a dropped one, the additives at work remain."""
    parts = [p for p in ingredient.parts if not _is_hidden(p)]
    if _drops_list(ingredient, facts):
        return [p for p in parts if p.additive_class and not p.is_processing_aid]
    return parts


def _drops_list(ingredient: UsedIngredient, facts: LabelFacts) -> bool:
    """Whether a compound's own list may fall away (Annex VII, Part E, point 2)."""
    if not ingredient.parts:
        return False
    if ingredient.needs_no_list:
        return True
    share = share_pct((ingredient,), facts)
    lawful = ingredient.composition_fixed_by_law or ingredient.category in GROUPS_UP_TO_2_PCT
    return lawful and share is not None and share < SMALL_SHARE_PCT


def _name(ingredient: UsedIngredient, facts: LabelFacts) -> str:
    """The name; of an additive its class, then its name or number (Annex VII, Part C)."""
    name, kind = one_line(ingredient.name), one_line(ingredient.additive_class)
    if not kind:
        return name
    if kind == word("modified starch"):
        return kind
    number = one_line(ingredient.additive_number)
    return f"{kind}: {number if number and facts.additives_by_number else name}"


def statement(facts: LabelFacts, *, minimum_x_height_mm: Decimal) -> Particular | None:
    """The list as it is to be printed on the pack; None where there is none."""
    if not needs_list(facts) or keeps_list_off_the_pack(facts):
        return None
    return Particular(
        kind="ingredients",
        heading=word("ingredients"),
        runs=join(entry.runs for entry in entries(facts)),
        citation=Citation(FIC, "Art. 9(1)(b), Art. 18 and Annex VII"),
        minimum_x_height_mm=minimum_x_height_mm,
    )
