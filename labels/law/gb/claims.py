"""Claims that a fruit product is likely to make, and what each asks of the food."""

from collections.abc import Iterator
from decimal import Decimal

from labels.facts import LabelFacts, PrintedText
from labels.law.gb.acts import CLAIMS_REG, FIC_APPLIES
from labels.law.gb.words import one_line, words_of
from labels.mechanics.text import names_one_of
from labels.rulebook import LOOK, Finding, rule

REDUCED_BY_PCT = Decimal(30)
LOW_SUGAR_G, SUGAR_FREE_G = Decimal(5), Decimal("0.5")
FIBRE_SOURCE_G, HIGH_FIBRE_G = Decimal(3), Decimal(6)
"""For 100 g of a solid (Annex)."""

SWEETENING = ("sugar", "honey", "syrup", "glucose", "fructose", "dextrose", "molasses", "treacle",
              "agave", "juice concentrate", "concentrate")  # fmt: skip
"""Words of foods used to sweeten: any of them ends "no added sugar"."""


def reduction_pct(*, amount: Decimal, in_like_product: Decimal) -> Decimal:
    """By how much an amount is below that of a similar product [%]."""
    return (in_like_product - amount) * 100 / in_like_product


def may_say_reduced(*, amount: Decimal, in_like_product: Decimal) -> bool:
    """Whether "reduced" may be said: at least 30 % less than a similar product.

    Source: assimilated Regulation (EC) No 1924/2006, Annex.
    """
    return reduction_pct(amount=amount, in_like_product=in_like_product) >= REDUCED_BY_PCT


def _claims(facts: LabelFacts) -> list[str]:
    return [one_line(text) for text in (facts.name_of_food, *facts.claims) if one_line(text)]


@rule(CLAIMS_REG, "Annex, “with no added sugars”", since=FIC_APPLIES)
def no_added_sugar_means_nothing_that_sweetens(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """No sugar is added, nor any other food used to sweeten, such as honey or concentrate."""
    said = [
        c for c in _claims(facts) if {"no", "added"} <= set(words_of(c)) and "sugar" in c.lower()
    ]
    if not said:
        return
    for ingredient in facts.ingredients:
        if ingredient.category == "sugar" or names_one_of(ingredient.name, SWEETENING):
            yield Finding(
                message=f"“{said[0]}” cannot stand: {ingredient.name} sweetens.",
                hint="Take the claim off the label. Where nothing sweetens and the fruit's own "
                "sugar remains, add “contains naturally occurring sugars”.",
                where="claims",
            )


@rule(CLAIMS_REG, "Art. 8 and Annex", since=FIC_APPLIES)
def a_claim_is_one_of_the_list(facts: LabelFacts, printed: PrintedText | None) -> Iterator[Finding]:
    """Only the claims of the list may be made, each under its condition."""
    for claim in facts.claims:
        if one_line(claim):
            yield Finding(
                message=f"“{one_line(claim)}” is a nutrition or health claim: only those of the "
                "list are lawful, each under its own condition.",
                hint="Reduced: 30 % less than the like product. Source of fibre: 3 g in 100 g. Ask "
                "trading standards before printing another.",
                level=LOOK,
                where="claims",
            )
