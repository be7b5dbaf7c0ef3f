"""The quantity of certain ingredients: which, how much, in which form, and where it is not due."""

from collections.abc import Iterator
from decimal import ROUND_HALF_UP, Decimal

from labels.facts import LabelFacts, Particular, PrintedText, TextRun, UsedIngredient
from labels.law.gb.acts import FIC, FIC_APPLIES
from labels.law.gb.jam_rules import is_fruit_stated, states_fruit
from labels.law.gb.words import figure, forms, one_line, word, words_of
from labels.mechanics.masses import counted_g
from labels.mechanics.quantities import (
    Declared,
    Due,
    categories_named,
    figure_beside,
    telling_words,
    what_is_due,
)
from labels.rulebook import INFORMATION, LOOK, Citation, Finding, rule

HUNDRED = Decimal(100)

NOT_BY_THEMSELVES = (
    "the food as sold pictured", "serving suggestion", "all ingredients pictured alike",
    "preparation pictured",
)  # fmt: skip
"""Pictures that do not call for a quantity (Commission Notice 2017/C 393/05, second-hand).

In Great Britain the Notice is guidance of before 2021.
"""

EXEMPTIONS = {
    "drained weight shown": "point 1(a)(i)",
    "stated by jam law": "point 1(a)(ii)",
    "flavouring": "point 1(a)(iii)",
    "does not sway choice": "point 1(a)(iv)",
    "fixed by law": "point 1(b)",
    "varying mix": "point 1(c)",
}
"""Reasons of Annex VIII, point 1, for not declaring a quantity."""

CHARACTERISED_BY = {"marzipan": "almond", "mayonnaise": "egg"}
"""Foods told from others by one ingredient (Art. 22(1)(c); national guidance and the Notice)."""

# Words that say in what form or of what kind something is, not what it is.
_OF_FORM = {
    "and", "with", "without", "in", "of", "the", "from", "a", "or", "style", "type", "made",
    "home", "juice", "juices", "puree", "purée", "pulp", "paste", "pieces", "dried", "fresh",
    "frozen", "whole", "ground", "powder", "powdered", "syrup", "concentrate", "concentrated",
    "oil", "water", "seed", "seeds", "zest", "peel", "rind", "flour", "starch", "extract",
    "flavouring", "flavour", "natural", "organic", "raw", "roasted", "chopped", "sliced",
    "cooked", "candied", "ripe", "pure", "bitter", "sweet", "sour", "red", "white", "black",
    "green", "dark", "brown", "light", "hot", "mild", "mixed", "fruit", "fruits", "vegetable",
    "vegetables", "berries", "nut", "nuts", "spice", "spices", "herb", "herbs",
}  # fmt: skip

_CATEGORY_WORDS = {
    "fruit": {"fruit", "fruits"},
    "vegetable": {"vegetable", "vegetables"},
}


def divisor_g(facts: LabelFacts) -> Decimal | None:
    """What the used quantity is related to [g]: the finished food if it lost moisture.

    Source: assimilated Regulation (EU) No 1169/2011, Annex VIII, points 3(a) and 4(a).
    """
    finished_g = facts.usable_finished_g
    if finished_g is None or facts.ingoing_g <= 0:
        return None
    return min(finished_g, facts.ingoing_g)


def quantity_g(ingredient: UsedIngredient) -> Decimal:
    """The mass that counts [g]: as used; volatile as left; concentrated as before.

    Source: assimilated Regulation (EU) No 1169/2011, Annex VIII, points 3(a), 4(b) and 4(c).
    """
    return counted_g(ingredient)


def rounded_pct(exact_pct: Decimal, *, rounding: str) -> Decimal:
    """The figure to print: whole per cent, under 5 the nearest half; or one decimal.

    No act sets a rule, so it is a setting (United Kingdom guidance, from memory). What would round
    to nothing keeps its first digit.

    >>> [str(rounded_pct(Decimal(x), rounding="whole")) for x in ("76.92", "4.6", "0.2")]
    ['77', '4.5', '0.2']
    """
    if rounding == "one decimal":
        shown = exact_pct.quantize(Decimal("0.1"), ROUND_HALF_UP)
    elif exact_pct >= 5:
        shown = exact_pct.quantize(Decimal(1), ROUND_HALF_UP)
    else:
        shown = (exact_pct * 2).quantize(Decimal(1), ROUND_HALF_UP) / 2
    if shown == 0 and exact_pct > 0:
        return exact_pct.quantize(Decimal(1).scaleb(exact_pct.adjusted()), ROUND_HALF_UP)
    return shown


def declared(facts: LabelFacts) -> tuple[Declared, ...]:
    """Every quantity to declare, largest claim first decided: per cent, or all by weight.

    Once one of them, or their total, is over 100 %, every one goes as grams used per 100 g of
    finished food. A part of a declared compound is not counted twice in the total.
    """
    base_g = divisor_g(facts)
    if base_g is None or facts.way_of_sale != "prepacked":
        return ()
    due = _due(facts)
    exact = [sum(map(quantity_g, d.ingredients), start=Decimal(0)) * HUNDRED / base_g for d in due]
    total = sum((e for d, e in zip(due, exact, strict=True) if not d.is_part), start=Decimal(0))
    by_weight = total > HUNDRED or any(e > HUNDRED for e in exact)
    return tuple(
        Declared(
            ingredients=each.ingredients,
            exact_pct=exact_pct,
            shown=_shown(exact_pct, facts, by_weight=by_weight),
            why=each.why,
            of="of",
            category=each.category,
            is_by_weight=by_weight,
            is_in_name=not by_weight and _figure_in_name(facts, each) is not None,
        )
        for each, exact_pct in zip(due, exact, strict=True)
    )


def _shown(exact_pct: Decimal, facts: LabelFacts, *, by_weight: bool) -> str:
    number = figure(rounded_pct(exact_pct, rounding=facts.quid_rounding))
    if by_weight:
        return f"{number} g {word('per 100 g')}"
    return f"{number} %"


def _due(facts: LabelFacts) -> list[Due]:
    """What must be declared, categories last, in the order of the recipe."""
    real = [
        i
        for i in facts.ingredients
        if not i.is_processing_aid and (i.category != "water" or one_line(i.quid_reason))
    ]
    if len(real) == 1 and not real[0].parts:
        return []
    # The fruit of a jam has its own statement, which excludes another (Annex VIII, 1(a)(ii)).
    real = [i for i in real if not is_fruit_stated(i, facts)]
    named = _stems(facts.name_of_food)
    due = what_is_due(real, named=named, why=_why, telling=_stems, why_grouped="a category")
    # One figure for "fruit" in "fruit tart": no kind of it is named by itself.
    return due + categories_named(
        real,
        due=due,
        said=facts.name_of_food,
        words=_CATEGORY_WORDS,
        label=word,
        why="in the name",
    )


def _why(ingredient: UsedIngredient, named: frozenset[str]) -> str:
    """What makes a quantity due for one ingredient; empty if nothing does (Art. 22(1))."""
    if ingredient.quid_exemption or ingredient.varying_mix:
        return ""
    reason = one_line(ingredient.quid_reason)
    if reason.casefold() in NOT_BY_THEMSELVES:
        reason = ""
    if reason or ingredient.additive_class or "flavouring" in words_of(ingredient.name):
        return reason
    own = _stems(f"{ingredient.name} {ingredient.called}")
    if own & named:
        return "in the name"
    if any(food in named and own & forms(mark) for food, mark in CHARACTERISED_BY.items()):
        return "what tells the food from others"
    return ""


def is_in_name(ingredient: UsedIngredient, facts: LabelFacts) -> bool:
    """Whether the name of the food speaks of this ingredient."""
    return bool(_stems(ingredient.name) & _stems(facts.name_of_food))


def _stems(text: str) -> frozenset[str]:
    """The telling words of a name, each as singular and plural."""
    return telling_words(text, of_form=_OF_FORM)


def _figure_in_name(facts: LabelFacts, due: Due) -> Decimal | None:
    """The per cent that the typed name already states beside this ingredient's word."""
    mine = _stems(due.category or due.ingredients[0].name) | forms(due.category)
    return figure_beside(facts.name_of_food, names=mine)


def statements(facts: LabelFacts, *, minimum_x_height_mm: Decimal) -> tuple[Particular, ...]:
    """Quantities of whole categories, to stand next to the name: they have no place in the list."""
    return tuple(
        Particular(
            kind="quid",
            runs=(TextRun(each.sentence),),
            citation=Citation(FIC, "Art. 22 and Annex VIII, point 3(b)"),
            same_field=True,
            minimum_x_height_mm=minimum_x_height_mm,
        )
        for each in declared(facts)
        if each.category and not each.is_in_name
    )


@rule(FIC, "Annex VIII, points 3(a) and 4(a)", since=FIC_APPLIES)
def declared_quantities_can_be_worked_out(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """A quantity is a share of the finished food, so the finished mass must be known."""
    if facts.way_of_sale != "prepacked":
        return
    due = _due(facts)
    if due and divisor_g(facts) is None:
        names = ", ".join(one_line(d.category or d.ingredients[0].name) for d in due)
        yield Finding(
            message=f"The quantity of {names} must be declared, but the finished mass is not "
            "known.",
            hint="Enter how the cook ends, or weigh the finished batch before it leaves the pan.",
            where="quid",
        )
    for each in due:
        if each.ingredients[0].used_g == 0 and divisor_g(facts) is not None:
            yield Finding(
                message=f"{each.ingredients[0].name} must be declared, but how much of it was used "
                "is not known.",
                hint="Enter its share of the ingredient it is part of, or its weight.",
                where="quid",
            )


@rule(FIC, "Art. 22(1)(a)", since=FIC_APPLIES)
def what_the_name_promises_is_quantified(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """An ingredient in the name is declared, unless an exemption is stated for it."""
    for each in declared(facts):
        if any(one_line(i.quid_reason) for i in each.ingredients):
            continue
        yield Finding(
            message=f"{each.name}: {each.shown} is printed, because it is {each.why}.",
            hint="If it is only a flavouring amount, or another exemption of Annex VIII, point 1 "
            "applies, say so with the ingredient and the figure goes.",
            level=INFORMATION,
            where="quid",
        )


@rule(FIC, "Annex VIII, point 4(a)", since=FIC_APPLIES)
def more_than_a_hundred_goes_by_weight(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """Over 100 % in one or in total, each quantity is given as grams used for 100 g of food."""
    by_weight = [each for each in declared(facts) if each.is_by_weight]
    if not by_weight:
        return None
    return Finding(
        message="The food lost water, and the declared quantities come to more than 100 %: "
        f"{'; '.join(each.sentence for each in by_weight)}.",
        hint="Nothing to do: each is printed by weight instead of as a percentage.",
        level=INFORMATION,
        where="quid",
    )


@rule(FIC, "Annex VIII, point 3(b)", since=FIC_APPLIES)
def a_figure_in_the_name_is_the_true_one(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """A percentage typed into the name is the quantity of that ingredient."""
    for each in declared(facts):
        stated = _figure_in_name(facts, Due(each.ingredients, each.why, each.category))
        if stated is None:
            continue
        allowed = {rounded_pct(each.exact_pct, rounding=r) for r in ("whole", "one decimal")}
        if each.is_by_weight or stated not in allowed:
            yield Finding(
                message=f"The name says {stated} % of {each.name}; it is {each.shown}.",
                hint="Correct the figure in the name, or take it out: it is then printed in the "
                "ingredient list.",
                where="name",
            )


@rule(FIC, "Annex VIII, point 1", since=FIC_APPLIES)
def an_exemption_from_quantities_is_a_real_one(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """A quantity is left out only for a reason of Annex VIII, point 1."""
    base_g = divisor_g(facts)
    for ingredient in facts.ingredients:
        stated = one_line(ingredient.quid_exemption).casefold()
        if stated and stated not in EXEMPTIONS:
            yield Finding(
                message=f"{ingredient.name}: “{one_line(ingredient.quid_exemption)}” is not one of "
                "the reasons for leaving its quantity out.",
                hint=f"The reasons are: {', '.join(EXEMPTIONS)}.",
                where="quid",
            )
        elif stated == "flavouring" and base_g and quantity_g(ingredient) * 50 > base_g:
            yield Finding(
                message=f"{ingredient.name} is called a flavouring, yet it is more than 2 % of the "
                "food.",
                hint="“Small” is not defined by law; ask the local authority, or declare it.",
                level=LOOK,
                where="quid",
            )
        elif stated == "stated by jam law" and not states_fruit(facts):
            yield Finding(
                message=f"{ingredient.name}: its quantity is left out as stated by jam law, but "
                "the name is no reserved one, so nothing states it.",
                hint="Declare the quantity, or use the reserved name if the food has earned it.",
                where="quid",
            )
