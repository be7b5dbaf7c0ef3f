"""Allergens: which are in the food, how they are set apart, and what nobody has answered yet."""

import re
from collections.abc import Iterable, Iterator
from decimal import Decimal

from labels.facts import Allergen, LabelFacts, PrintedText, TextRun, UsedIngredient
from labels.law.gb.acts import FIC, FIC_APPLIES
from labels.law.gb.words import forms, one_line, word, words_of
from labels.mechanics import allergens as mechanics
from labels.mechanics import sulphites
from labels.mechanics.masses import sulphite_mg_per_kg, with_all_parts
from labels.mechanics.runs import whole_words
from labels.mechanics.text import names_one_of
from labels.rulebook import INFORMATION, LOOK, MUST_MEND, Finding, rule

SULPHITE_LIMIT_MG_PER_KG = Decimal(10)

CEREALS = ("wheat", "spelt", "khorasan", "kamut", "durum", "rye", "barley", "oat", "triticale")
NUTS = ("almond", "hazelnut", "walnut", "cashew", "pecan", "brazil nut", "pistachio", "macadamia",
        "queensland nut")  # fmt: skip
OTHER_NUTS = ("chestnut", "coconut", "pine nut")
"""Called nuts, but none of Annex II: set apart for nothing, which misleads nobody."""
SULPHITE_WORDS = ("sulphur dioxide", "sulphite")

# Words that, standing in an ingredient's name, speak of an allergen: its own name, and foods that
# are made of it.
TELLING: dict[str, tuple[str, ...]] = {
    "gluten": (*CEREALS, "malt", "semolina", "couscous", "bulgur"),
    "crustaceans": ("crab", "prawn", "shrimp", "lobster", "crayfish"),
    "eggs": ("egg", "albumen", "meringue", "mayonnaise"),
    "fish": ("fish", "anchovy", "tuna", "salmon", "cod", "worcestershire", "worcester"),
    "peanuts": ("peanut",),
    "soybeans": ("soya", "soy", "soybean", "tofu", "miso"),
    "milk": ("milk", "cream", "butter", "cheese", "whey", "yoghurt", "buttermilk", "lactose",
             "ghee"),
    "nuts": (*NUTS, "cobnut", "filbert", "marzipan", "praline"),
    "celery": ("celery", "celeriac"),
    "mustard": ("mustard",),
    "sesame": ("sesame", "tahini"),
    "sulphites": (*SULPHITE_WORDS, "metabisulphite"),
    "lupin": ("lupin",),
    "molluscs": ("mussel", "oyster", "squid", "clam"),
}  # fmt: skip
_TOLD_BY_KIND = {"gluten", "nuts"}
"""Groups in which each cereal, each nut is an allergen of its own (Annex II, points 1 and 8)."""
_MANY_KINDS = {"fish", "crustaceans", "molluscs"}
"""Too many kinds to know the name of each."""
_INNOCENT = re.compile(
    r"\b(?:crab apple|oyster mushroom|egg plum|mussel plum|egg plant|butter bean|butter pear"
    r"|milk thistle)s?\b",
    re.IGNORECASE,
)
# Beside these the word may mean something else, or an exception of Annex II may apply.
_DAIRY_LIKE = {"coconut", "cocoa", "shea", "peanut", "oat", "rice", "tartar", "bean", "beans"}
_DAIRY_LIKE |= {form for nut in NUTS for form in forms(nut)}
_EXCEPTED = {"flavouring", "flavour", "glucose", "dextrose", "maltodextrin", "refined",
             "distilled", "tocopherol", "tocopherols", "lactitol", "plant"}  # fmt: skip


def declares_sulphites(facts: LabelFacts) -> bool:
    """Whether sulphites must be shown: over 10 mg/kg, or present and nobody knows how much."""
    return sulphites.are_over(facts, limit_mg_per_kg=SULPHITE_LIMIT_MG_PER_KG)


def sulphites_shown_above(facts: LabelFacts) -> Decimal | None:
    """From which figure on an ingredient is marked with sulphites [mg/kg]; None if none is.

    Annex II, point 12 begins above 10 mg/kg, so where some ingredient holds more than that, sugar
    with its lawful trace is not marked beside it. Where only traces add up, each is marked (our
    reading of Art. 21(1)).
    """
    return sulphites.shown_above(facts, limit_mg_per_kg=SULPHITE_LIMIT_MG_PER_KG)


def _all(facts: LabelFacts) -> tuple[UsedIngredient, ...]:
    return with_all_parts(facts.ingredients)


def allergens_of(
    ingredient: UsedIngredient, *, sulphites_above: Decimal | None
) -> tuple[Allergen, ...]:
    """The allergens to show with one ingredient itself, its parts left aside."""
    return sulphites.allergens_shown(
        ingredient, sulphites_above=sulphites_above, called=word("sulphur dioxide")
    )


def all_allergens(
    ingredients: Iterable[UsedIngredient], *, sulphites_above: Decimal | None
) -> tuple[Allergen, ...]:
    """Every allergen in some ingredients and all their parts, each once."""
    return mechanics.each_once(
        ingredients,
        shown=lambda each: allergens_of(each, sulphites_above=sulphites_above),
        key=key_of,
    )


def key_of(allergen: Allergen) -> tuple[str, str]:
    """What makes two allergens the same: the group, but each cereal and each nut by its name."""
    return mechanics.key_of(allergen, told_by_kind=_TOLD_BY_KIND)


def set_apart(
    text: str, allergens: Iterable[Allergen]
) -> tuple[tuple[TextRun, ...], tuple[Allergen, ...]]:
    """The text with the allergens' names emphasised, and the allergens it does not name.

    Only whole words count: "mustard seed" names mustard, "goats' cheese" does not name oats.
    """
    return mechanics.set_apart(text, allergens, pattern=_named)


def _named(allergen: Allergen) -> re.Pattern[str]:
    others = SULPHITE_WORDS if allergen.group == "sulphites" else ()
    return whole_words((allergen.named_as, *others))


def is_told_by(name_of_food: str, allergen: Allergen) -> bool:
    """Whether the name of the food itself clearly names the allergen."""
    return _named(allergen).search(name_of_food) is not None


@rule(FIC, "Art. 9(1)(c) and Art. 21(1)", since=FIC_APPLIES)
def every_allergen_question_is_answered(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """An ingredient whose allergens nobody has confirmed cannot be on a label."""
    for each, open_groups in mechanics.unanswered(facts.ingredients):
        yield Finding(
            message=f"{each.name}: nobody has said yet whether it contains "
            f"{', '.join(open_groups)}.",
            hint="Ask the supplier or read the specification, then answer yes or no for "
            "each group. A guess can hurt somebody.",
            where="allergens",
            about=each.key,
        )


@rule(FIC, "Annex II, point 12", since=FIC_APPLIES)
def sulphites_of_every_ingredient_are_known(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """Sulphites count over the whole food, so each ingredient's amount must be known."""
    for each in _all(facts):
        named = any(a.group == "sulphites" for a in each.allergens)
        if each.sulphite_mg_per_kg is None and not named:
            yield Finding(
                message=f"{each.name}: how much sulphite (SO2) it holds is not known.",
                hint="Enter the mg per kg from the supplier's specification, or 0 if none is "
                "added. Dried fruit, wine, vinegar and bottled lemon juice often hold some.",
                where="allergens",
                about=each.key,
            )
        elif named and not each.sulphite_mg_per_kg:
            yield Finding(
                message=f"{each.name} is said to contain sulphites, without an amount; they are "
                "declared to be on the safe side.",
                hint="Enter the mg per kg. At 10 mg/kg or less in the finished food they need "
                "not be declared.",
                level=LOOK,
                where="allergens",
                about=each.key,
            )


@rule(FIC, "Annex II, point 12", since=FIC_APPLIES)
def sulphites_are_declared_above_ten(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """Sulphites are declared above 10 mg/kg of the food, and not at 10 or less."""
    amount = sulphite_mg_per_kg(facts)
    if not amount:
        return None
    over = amount > SULPHITE_LIMIT_MG_PER_KG
    return Finding(
        message=f"The ingredients bring {amount:.2f} mg of sulphites per kg of the finished food: "
        f"{'declared' if over else 'not declared'}, the line is 10 mg/kg.",
        hint="What evaporates is not deducted. Check the suppliers' figures if it is close."
        if over
        else "Check the suppliers' figures: a higher one could bring the declaration back.",
        level=INFORMATION,
        where="allergens",
    )


@rule(FIC, "Art. 21(1)(a) and Annex II, points 1 and 8", since=FIC_APPLIES)
def cereals_and_nuts_are_named_by_kind(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """The cereal or nut itself is named; "nuts" or "gluten" alone does not tell which."""
    vague = {form for name in ("nut", "tree nut", "gluten", "cereal") for form in forms(name)}
    for each in _all(facts):
        for allergen in each.allergens:
            if allergen.group not in _TOLD_BY_KIND:
                continue
            named = one_line(allergen.named_as)
            known = CEREALS if allergen.group == "gluten" else NUTS
            if named.casefold() in vague:
                yield Finding(
                    message=f"{each.name}: the allergen is called “{named}”, which does not say "
                    "which one.",
                    hint=f"Name the kind itself: {', '.join(known)}.",
                    where="allergens",
                    about=each.key,
                )
            elif not names_one_of(named, known):
                yield Finding(
                    message=f"{each.name}: “{named}” is not in the closed list of this group.",
                    hint=f"The list is {', '.join(known)}. Chestnut, coconut and pine nut are not "
                    "in it and need no emphasis.",
                    level=LOOK if names_one_of(named, OTHER_NUTS) else MUST_MEND,
                    where="allergens",
                    about=each.key,
                )


@rule(FIC, "Art. 21(1)(a) and Annex II", since=FIC_APPLIES)
def an_allergen_is_called_by_its_name(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """The word set apart refers clearly to the allergen as Annex II lists it."""
    for each in _all(facts):
        for allergen in each.allergens:
            group, named = allergen.group, one_line(allergen.named_as)
            # Cereals and nuts have a rule of their own.
            if group in _TOLD_BY_KIND or names_one_of(named, (group, *TELLING[group])):
                continue
            yield Finding(
                message=f"{each.name}: “{named}” does not say that it contains {group}.",
                hint="Print the name itself on the ingredient's allergen line, such as "
                f"“{TELLING[group][0]}”.",
                level=LOOK if group in _MANY_KINDS else MUST_MEND,
                where="allergens",
                about=each.key,
            )


@rule(FIC, "Art. 21(1)", since=FIC_APPLIES)
def an_ingredient_that_names_an_allergen_is_marked(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """A name such as "walnut pieces" with no walnut marked is a mistake until explained."""
    asked = mechanics.unmarked(facts.ingredients, groups=TELLING, speaks_of=_speaks_of)
    for each, group, telling in asked:
        may_be_innocent = bool(_EXCEPTED & set(words_of(telling)))
        may_be_innocent |= _is_fruit_butter(telling, group)
        yield Finding(
            message=f"{telling}: the name speaks of {group}, but the ingredient is not "
            "marked with it.",
            hint="Mark the allergen on the ingredient. If one of the exceptions of Annex II "
            "applies (glucose syrup from wheat), or it is a fruit butter, nothing needs doing."
            if may_be_innocent
            else "Mark the allergen on the ingredient, or call the ingredient what it is.",
            level=LOOK if may_be_innocent else MUST_MEND,
            where="allergens",
            about=each.key,
        )


def _speaks_of(group: str, name: str) -> bool:
    plain = _INNOCENT.sub("", name)
    if group == "milk" and set(words_of(plain)) & _DAIRY_LIKE:
        return False
    return names_one_of(plain, TELLING[group])


def _is_fruit_butter(name: str, group: str) -> bool:
    """Damson cheese, apple butter and fruit cream need hold no milk; plain butter does."""
    said = words_of(name)
    return group == "milk" and len(said) > 1 and not {"milk", "whey", "yoghurt"} & set(said)
