"""Jam and its kin in Great Britain: what a reserved name asks of the food.

The three nations agree in their figures: Jam and Similar Products (England) Regulations 2003,
Sch. 1; (Wales) Regulations 2018, Sch. 1; (Scotland) Regulations 2004, Sch. 1. Minima are grams of
fruit used for 1 000 g of the finished product.
"""

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from decimal import Decimal

from labels.facts import LabelFacts, UsedIngredient
from labels.mechanics.text import names_one_of, one_line, words_of

THOUSAND = Decimal(1000)
OTHER_FRUIT = "other fruit"

_SIX = ("redcurrant", "rowanberry", "sea buckthorn", "blackcurrant", "rosehip", "quince")
JAM_MINIMA_G = {
    OTHER_FRUIT: Decimal(350), **dict.fromkeys(_SIX, Decimal(250)),
    "ginger": Decimal(150), "cashew apple": Decimal(160), "passion fruit": Decimal(60),
}  # fmt: skip
"""Jam and jelly (Sch. 1, items 1 and 3)."""
EXTRA_MINIMA_G = {
    OTHER_FRUIT: Decimal(450), **dict.fromkeys(_SIX, Decimal(350)),
    "ginger": Decimal(250), "cashew apple": Decimal(230), "passion fruit": Decimal(80),
}  # fmt: skip
"""Extra jam and extra jelly (Sch. 1, items 2 and 4)."""
CITRUS_G, ENDOCARP_G = Decimal(200), Decimal(75)
CHESTNUT_G = Decimal(380)

SOLIDS_PCT = Decimal(60)
CURD_SOLIDS_PCT = Decimal(65)
REDUCED_SUGAR_PCT = (Decimal(25), Decimal(50))
SUGAR_TOLERANCE = Decimal(3)
"""How far the declared total sugar may lie from the reading, in degrees."""

CURD_FAT_G, CURD_YOLK_G = Decimal(40), Decimal("6.5")
MINCE_FRUIT_AND_PEEL_G, MINCE_VINE_FRUIT_G, MINCE_FAT_G = Decimal(300), Decimal(200), Decimal(25)

NOT_MIXED_IN_EXTRA = ("apple", "pear", "clingstone plum", "melon", "watermelon", "grape",
                      "pumpkin", "cucumber", "tomato")  # fmt: skip
PUREE_IN_EXTRA = ("rosehip", "raspberry", "blackberry", "blackcurrant", "blueberry", "redcurrant")
"""Extra jam is made of pulp; of these, the berries without seeds, a puree will do."""
CITRUS = ("orange", "lemon", "lime", "grapefruit", "mandarin", "clementine", "tangerine",
          "satsuma", "bergamot", "citron", "kumquat", "yuzu", "pomelo")  # fmt: skip
RED_FRUIT = ("redcurrant", "raspberry", "strawberry", "cherry", "cranberry", "blackcurrant",
             "elderberry", "beetroot")  # fmt: skip
"""Whose juice may go into some extra jams (Sch. 2; which fruits are red is not said there)."""
AS_FRUIT = ("ginger", "tomato", "rhubarb", "carrot", "sweet potato", "cucumber", "pumpkin", "melon",
            "watermelon")  # fmt: skip
"""Roots, stalks and vegetables that count as fruit (reg. 2)."""

JAM, EXTRA_JAM, JELLY, EXTRA_JELLY = "jam", "extra jam", "jelly", "extra jelly"
MARMALADE, JELLY_MARMALADE = "marmalade", "jelly marmalade"
CHESTNUT_PUREE = "sweetened chestnut puree"
CURD, LEMON_CHEESE, MINCEMEAT = "curd", "lemon cheese", "mincemeat"
FLAVOUR_CURD = "flavour curd"
WITH_STATEMENTS = (JAM, EXTRA_JAM, JELLY, EXTRA_JELLY, MARMALADE, JELLY_MARMALADE, CHESTNUT_PUREE)
"""Items 1 to 7 of the Schedule: the names that bring fruit and sugar statements."""
NAMES = (*WITH_STATEMENTS, CURD, LEMON_CHEESE, FLAVOUR_CURD, MINCEMEAT)

_SAVOURY = ("chilli", "chili", "pepper", "onion", "garlic", "bacon", "mint", "tomato chilli",
            "horseradish", "herb", "wine", "port", "sage", "rosemary")  # fmt: skip


def reserved_name(name_of_food: str) -> str:
    """The reserved description that a name ends in, or ""; the last word says what a food is.

    >>> reserved_name("Strawberry extra jam"), reserved_name("Damson cheese")
    ('extra jam', '')
    >>> reserved_name("Lemon cheese"), reserved_name("Jam tart"), reserved_name("Orange curd")
    ('lemon cheese', '', 'curd')
    """
    plain = re.sub(r"\(.*?\)", " ", one_line(name_of_food)).replace("é", "e")
    said = words_of(plain)
    if not said:
        return ""
    last = JELLY if said[-1] == "jellies" else said[-1].removesuffix("s")
    others = set(said[:-1])
    reserved = {
        JAM: EXTRA_JAM if "extra" in others else JAM,
        JELLY: EXTRA_JELLY if "extra" in others else JELLY,
        MARMALADE: JELLY_MARMALADE if JELLY in others else MARMALADE,
        "puree": CHESTNUT_PUREE if {"chestnut", "sweetened"} <= others else "",
        "cheese": LEMON_CHEESE if said[-2:-1] == ("lemon",) else "",
        CURD: FLAVOUR_CURD if {"flavour", "flavoured"} & others else CURD,
        MINCEMEAT: MINCEMEAT,
    }
    # Bean curd and the curd of milk are other foods.
    if last == CURD and others & {"bean", "milk", "cheese"}:
        return ""
    return reserved.get(last, "")


def is_savoury_custom(name_of_food: str) -> bool:
    """Chilli jam, mint jelly: customary names of relishes that nobody takes for jam.

    Source: guidance notes of the Food Standards Agency on the regulations, section 2.2.
    """
    return names_one_of(name_of_food, _SAVOURY) and reserved_name(name_of_food) in {JAM, JELLY}


def says_reduced_sugar(facts: LabelFacts) -> bool:
    """Whether the label calls it "reduced sugar"."""
    return any(
        "reduced sugar" in " ".join(words_of(text))
        for text in (facts.name_of_food, facts.brand_name, *facts.claims)
    )


def form_of(ingredient: UsedIngredient) -> str:
    """In which form the fruit went in, as told or as its name says; "" if neither does."""
    if ingredient.fruit_form:
        return ingredient.fruit_form
    said = set(words_of(ingredient.name.replace("é", "e")))
    return next((f for f in ("juice", "extract", "puree", "pulp", "peel") if f in said), "")


def counts_as_fruit(ingredient: UsedIngredient) -> bool:
    """Fruit of any form, the roots and vegetables that count as such, but no added aroma."""
    if ingredient.is_processing_aid or ingredient.additive_class:
        return False
    if ingredient.category == "fruit" or ingredient.fruit_form:
        return True
    is_plain = not ingredient.parts and ingredient.category not in {"spice", "herb"}
    return is_plain and names_one_of(ingredient.name, AS_FRUIT)


def _leaves(ingredient: UsedIngredient, *, form: str = "") -> Iterator[UsedIngredient]:
    """What a preparation holds, opened; its fruit keeps the form that the preparation names."""
    form = form_of(ingredient) or form
    if ingredient.parts and not counts_as_fruit(ingredient):
        for part in ingredient.parts:
            yield from _leaves(part, form=form)
    elif counts_as_fruit(ingredient):
        yield replace(ingredient, fruit_form=form)
    else:
        yield ingredient


def bears_fruit(ingredient: UsedIngredient, facts: LabelFacts, *, name: str) -> bool:
    """Whether an ingredient, or a part of it, is among the fruit that counts for a name."""
    alone = replace(facts, ingredients=(ingredient,))
    return bool(fruits(alone, name=name))


def fruits(facts: LabelFacts, *, name: str) -> tuple[UsedIngredient, ...]:
    """The ingredients whose mass counts for a reserved name, the heaviest first.

    Juice counts for jellies; for the others it is an addition. Citrus alone counts for marmalade.
    """
    is_jelly = name in {JELLY, EXTRA_JELLY}
    found = [leaf for i in facts.ingredients for leaf in _leaves(i) if counts_as_fruit(leaf)]
    if name in {MARMALADE, JELLY_MARMALADE}:
        found = [i for i in found if names_one_of(f"{i.name} {i.called}", CITRUS)]
    elif is_jelly:
        found = [i for i in found if form_of(i) in {"juice", "extract"}]
    else:
        found = [i for i in found if form_of(i) not in {"juice", "extract", "peel"}]
    return tuple(sorted(found, key=counted_g, reverse=True))


def counted_g(ingredient: UsedIngredient) -> Decimal:
    """The mass that counts [g]: as before drying or concentrating, less the water of extraction.

    Never more than the fruit it came from: water that went into a puree is no fruit.
    """
    fresh = ingredient.fresh_equivalent_g
    whole_g = ingredient.used_g if fresh is None else fresh
    if ingredient.fruit_from_g is not None:
        whole_g = min(whole_g, ingredient.fruit_from_g)
    return max(whole_g - (ingredient.extraction_water_g or Decimal(0)), Decimal(0))


def fruit_g_per_kg(facts: LabelFacts, *, name: str) -> Decimal | None:
    """Fruit used for 1 000 g of the finished food [g]; None if the finished mass is not known."""
    finished_g = facts.usable_finished_g
    if finished_g is None:
        return None
    return sum(map(counted_g, fruits(facts, name=name)), start=Decimal(0)) * THOUSAND / finished_g


def minimum_g_per_kg(parts: Iterable[UsedIngredient], minima: Mapping[str, Decimal]) -> Decimal:
    """Least fruit of a mixture: each kind's minimum, weighted by its share (Sch. 1, note 1)."""
    kinds = tuple(parts)
    total_g = sum(map(counted_g, kinds), start=Decimal(0))
    if not total_g:
        return minima[OTHER_FRUIT]
    weighted = (counted_g(i) * minima[kind_of(i, minima)] for i in kinds)
    return sum(weighted, start=Decimal(0)) / total_g


def kind_of(ingredient: UsedIngredient, minima: Mapping[str, Decimal]) -> str:
    """The row of the table that a fruit falls under."""
    name = f"{ingredient.name} {ingredient.called}".replace("rose hip", "rosehip")
    name = name.replace("sea-buckthorn", "sea buckthorn").replace("passionfruit", "passion fruit")
    return next((kind for kind in minima if names_one_of(name, (kind,))), OTHER_FRUIT)


def within_sugar_tolerance(*, declared_g: Decimal, reading: Decimal) -> bool:
    """Whether an official reading bears out the declared total sugar: 3 degrees either way.

    Source: SI 2003/3120, reg. 5(2)(c).
    """
    return abs(reading - declared_g) <= SUGAR_TOLERANCE
