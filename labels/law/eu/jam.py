"""Jam and its kin in the European Union: the figures, and the fruit that counts for them.

Directive 2001/113/EC, read in its text of 2013; the figures of Directive (EU) 2024/1438, which
apply from 14 June 2026, as read in the Spanish transposition and an Irish official summary. Minima
are grams of fruit used for 1 000 g of the finished product.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from datetime import date
from decimal import Decimal

from labels.facts import LabelFacts, UsedIngredient
from labels.law.eu.acts import JAM_2024_APPLIES
from labels.law.eu.jam_words import (
    ALONE_IN_EXTRA,
    AS_FRUIT,
    CITRUS,
    EXTRA_JELLY,
    FORMS,
    JELLY,
    JELLY_MARMALADE,
    MARMALADE,
    MINIMA_KINDS,
    OTHER_KNOWN,
    kind_in,
    says_one_of,
)
from labels.rulebook import Dated

THOUSAND = Decimal(1000)
OTHER_FRUIT = "other fruit"
Minima = Mapping[str, Decimal]


def _minima(
    general: int, six: int, *, ginger: int, cashew_apple: int, passion_fruit: int
) -> Minima:
    of_six = ("redcurrant", "rowanberry", "sea buckthorn", "blackcurrant", "rosehip", "quince")
    return {
        OTHER_FRUIT: Decimal(general),
        **dict.fromkeys(of_six, Decimal(six)),
        "ginger": Decimal(ginger),
        "cashew apple": Decimal(cashew_apple),
        "passion fruit": Decimal(passion_fruit),
    }


# The Spanish text of 2025 says gooseberry where the English has sea buckthorn; gooseberry is held
# to the general rule here.
JAM_MINIMA_G = Dated(
    _minima(350, 250, ginger=150, cashew_apple=160, passion_fruit=60),
    {JAM_2024_APPLIES: _minima(450, 350, ginger=180, cashew_apple=230, passion_fruit=80)},
)
"""Jam and jelly (Annex I, Part I)."""
EXTRA_MINIMA_G = Dated(
    _minima(450, 350, ginger=250, cashew_apple=230, passion_fruit=80),
    {JAM_2024_APPLIES: _minima(500, 450, ginger=280, cashew_apple=290, passion_fruit=100)},
)
"""Extra jam and extra jelly."""
CITRUS_G, ENDOCARP_G = Decimal(200), Decimal(75)
CHESTNUT_G = Decimal(380)
SOLIDS_PCT = Decimal(60)
SUGAR_TOLERANCE = Decimal(3)
"""How far the declared total sugar might lie from the reading, in degrees (to 13 June 2026)."""
REDUCED_SUGAR_EXCUSES = Dated(False, {JAM_2024_APPLIES: True})
"""Whether the claim "reduced sugars" excuses a jam from 60 % soluble solids."""

PUREE_IN_EXTRA = ("rosehip", "raspberry", "blackberry", "blackcurrant", "blueberry", "redcurrant")
"""Extra jam is made of pulp; of these, the berries without seeds, a puree will do."""


def law_day(facts: LabelFacts) -> date:
    """The day whose law judges the food; the latest law where none is named."""
    return facts.law_on or date.max


def form_of(ingredient: UsedIngredient) -> str:
    """In which form the fruit went in, as told or as its name says; "" if neither does."""
    if ingredient.fruit_form:
        return ingredient.fruit_form
    return next((form for form, said in FORMS.items() if says_one_of(ingredient.name, said)), "")


def counts_as_fruit(ingredient: UsedIngredient) -> bool:
    """Fruit of any form, the roots and vegetables that count as such, but no added aroma."""
    if ingredient.is_processing_aid or ingredient.additive_class or ingredient.category == "spice":
        return False
    if ingredient.category == "fruit" or ingredient.fruit_form:
        return True
    return not ingredient.parts and says_one_of(ingredient.name, AS_FRUIT)


def _leaves(ingredients: Iterable[UsedIngredient], *, form: str = "") -> Iterator[UsedIngredient]:
    """What the pan holds, preparations opened; fruit keeps the form its preparation names."""
    for ingredient in ingredients:
        own = form_of(ingredient) or form
        if ingredient.parts and not counts_as_fruit(ingredient):
            yield from _leaves(ingredient.parts, form=own)
        elif counts_as_fruit(ingredient):
            yield replace(ingredient, fruit_form=own)


def bears_fruit(ingredient: UsedIngredient, facts: LabelFacts, *, name: str) -> bool:
    """Whether an ingredient, or a part of it, is among the fruit that counts for a name."""
    return bool(fruits(replace(facts, ingredients=(ingredient,)), name=name))


def fruits(facts: LabelFacts, *, name: str) -> tuple[UsedIngredient, ...]:
    """The ingredients whose mass counts for a product name, the heaviest first.

    Juice counts for jellies; for the others it is an addition. Citrus alone counts for marmalade.
    """
    found = list(_leaves(facts.ingredients))
    if name in {MARMALADE, JELLY_MARMALADE}:
        found = [i for i in found if is_citrus(i)]
    elif name in {JELLY, EXTRA_JELLY}:
        found = [i for i in found if form_of(i) in {"juice", "extract"}]
    else:
        found = [i for i in found if form_of(i) not in {"juice", "extract", "peel"}]
    return tuple(sorted(found, key=counted_g, reverse=True))


def counted_g(ingredient: UsedIngredient) -> Decimal:
    """The mass that counts [g]: as before drying or concentrating, less the water of extraction.

    Water that went into a puree is no fruit: never more than the fruit the puree came from.
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


def minimum_g_per_kg(parts: Iterable[UsedIngredient], minima: Minima) -> Decimal:
    """Least fruit of a mixture: each kind's minimum, weighted by its share.

    Source: Directive 2001/113/EC, Annex I, Part III.
    """
    kinds = tuple(parts)
    total_g = sum(map(counted_g, kinds), start=Decimal(0))
    if not total_g:
        return minima[OTHER_FRUIT]
    weighted = (counted_g(i) * minima[minimum_kind(i)] for i in kinds)
    return sum(weighted, start=Decimal(0)) / total_g


def _said(ingredient: UsedIngredient) -> str:
    return f"{ingredient.name} | {ingredient.called}"


def minimum_kind(ingredient: UsedIngredient) -> str:
    """The row of the table of minima that a fruit falls under."""
    return kind_in(_said(ingredient), MINIMA_KINDS) or OTHER_FRUIT


def alone_in_extra(ingredient: UsedIngredient) -> str:
    """The fruit of the list that is never mixed in extra jam, or ""."""
    said = _said(ingredient)
    other = minimum_kind(ingredient) != OTHER_FRUIT or says_one_of(said, ("prickly pear",))
    return "" if other else kind_in(said, ALONE_IN_EXTRA)


def is_citrus(ingredient: UsedIngredient) -> bool:
    """Whether a fruit is a citrus fruit by its name."""
    return says_one_of(_said(ingredient), CITRUS)


def is_known_fruit(ingredient: UsedIngredient) -> bool:
    """Whether the name tells which fruit it is; "summer fruit" does not."""
    said = _said(ingredient)
    if minimum_kind(ingredient) != OTHER_FRUIT or alone_in_extra(ingredient):
        return True
    return is_citrus(ingredient) or says_one_of(said, OTHER_KNOWN)


def within_sugar_tolerance(*, declared_g: Decimal, reading: Decimal) -> bool:
    """Whether an official reading bears out the declared total sugar: 3 degrees either way.

    Source: Directive 2001/113/EC, Art. 2(4), to 13 June 2026.
    """
    return abs(reading - declared_g) <= SUGAR_TOLERANCE
