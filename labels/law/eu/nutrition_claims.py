"""Claims about sugars and fibre, held against the nutrition that is declared beside them."""

from collections.abc import Iterator
from decimal import Decimal

from labels.facts import LabelFacts, PrintedText
from labels.law.eu.acts import CLAIMS_APPLIES, CLAIMS_REG
from labels.law.eu.claims import (
    FIBRE_SOURCE_G,
    HIGH_FIBRE,
    HIGH_FIBRE_G,
    LOW_SUGAR,
    LOW_SUGAR_G,
    SOURCE_OF_FIBRE,
    SUGAR_FREE,
    SUGAR_FREE_G,
    claims_made,
)
from labels.law.eu.nutrition_values import energy
from labels.rulebook import Finding, rule

MOST_SUGARS_G = {LOW_SUGAR: LOW_SUGAR_G, SUGAR_FREE: SUGAR_FREE_G}
LEAST_FIBRE_G = {SOURCE_OF_FIBRE: FIBRE_SOURCE_G, HIGH_FIBRE: HIGH_FIBRE_G}
LEAST_FIBRE_G_IN_100_KCAL = {SOURCE_OF_FIBRE: Decimal("1.5"), HIGH_FIBRE: Decimal(3)}
"""Regulation (EC) No 1924/2006, Annex; for 100 g of a solid food, or 100 kcal."""


@rule(CLAIMS_REG, "Annex", since=CLAIMS_APPLIES)
def a_claim_agrees_with_what_is_declared(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """What is claimed of sugars and fibre is true of the figures on the same label."""
    nutrition = facts.nutrition
    if nutrition is None or not nutrition.is_complete:
        return
    grams = nutrition.grams
    sugars_g, fibre_g = grams.get("sugars", Decimal(0)), grams.get("fibre", Decimal(0))
    kcal = energy(grams)[1]
    in_100_kcal_g = fibre_g * 100 / kcal if kcal else Decimal(0)
    hint = "Take the claim off the label, or put the values right if they are wrong."
    for claim, text in claims_made(facts):
        if claim in MOST_SUGARS_G and sugars_g > MOST_SUGARS_G[claim]:
            yield Finding(
                message=f"“{text}” cannot stand: there are {sugars_g:.1f} g of sugars in 100 g, "
                f"and {MOST_SUGARS_G[claim]} g are the most.",
                hint=hint,
                where="claims",
            )
        is_short = claim in LEAST_FIBRE_G and fibre_g < LEAST_FIBRE_G[claim]
        if is_short and in_100_kcal_g < LEAST_FIBRE_G_IN_100_KCAL[claim]:
            yield Finding(
                message=f"“{text}” cannot stand: there are {fibre_g:.1f} g of fibre in 100 g, and "
                f"{in_100_kcal_g:.1f} g in 100 kcal. It needs {LEAST_FIBRE_G[claim]} g, or "
                f"{LEAST_FIBRE_G_IN_100_KCAL[claim]} g in 100 kcal.",
                hint=hint,
                where="claims",
            )
