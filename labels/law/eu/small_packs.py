"""What the size of a pack changes: what may be left off it, and below which surface."""

from decimal import Decimal

from labels.facts import Citation, LabelFacts, PrintedText
from labels.law.eu.acts import FIC, FIC_APPLIES
from labels.packs import Relief
from labels.rulebook import LOOK, Finding, rule

TINY_CM2 = Decimal(10)
SMALL_CM2 = Decimal(25)
SMALL_PRINT_CM2 = Decimal(80)

RELIEFS = (
    Relief(
        SMALL_PRINT_CM2,
        "Nothing may be left off, but letters may be smaller: an x-height of 0.9 mm in place of "
        "1.2 mm.",
        Citation(FIC, "Art. 13(3)"),
    ),
    Relief(
        SMALL_CM2,
        "The nutrition declaration may be left off, unless the label makes a claim.",
        Citation(FIC, "Art. 16(3) and Annex V, point 18"),
    ),
    Relief(
        TINY_CM2,
        "Only the name, the allergens, the net quantity and the date must stand on the pack. The "
        "ingredient list is given by other means or on request.",
        Citation(FIC, "Art. 16(2)"),
    ),
    Relief(
        TINY_CM2,
        "The name and the net quantity need not be seen at one glance.",
        Citation(FIC, "Art. 13(6)"),
    ),
)
"""What small packs are spared, the largest limit first."""

KEPT_ON_TINY_PACKS = frozenset({"name", "allergens", "cross_contact", "net_quantity", "date"})
"""What stays on a pack under 10 cm2 (Art. 16(2)); a risk that was found to remain is kept too."""


def is_under_cm2(facts: LabelFacts, limit_cm2: Decimal) -> bool:
    """Whether the largest surface is known to be smaller; an unknown one is never small."""
    surface = facts.largest_surface_cm2
    return surface is not None and surface.is_finite() and 0 < surface < limit_cm2


def keeps_list_off_the_pack(facts: LabelFacts) -> bool:
    """Under 10 cm2 the ingredient list is given by other means."""
    return is_under_cm2(facts, TINY_CM2)


@rule(FIC, "Art. 13(3)", since=FIC_APPLIES)
def the_largest_surface_is_known(facts: LabelFacts, printed: PrintedText | None) -> Finding | None:
    """Type size and reliefs for small packs hang on the largest surface of the pack."""
    surface = facts.largest_surface_cm2
    if surface is not None and surface.is_finite() and surface > 0:
        return None
    return Finding(
        message="The largest surface of the pack is not known, so the larger type is used: "
        "x-height 1.2 mm.",
        hint="Measure it: for a jar, the height of the straight wall times its circumference. "
        "Under 80 cm² the type may be 0.9 mm.",
        level=LOOK,
        where="largest_surface_cm2",
    )


@rule(FIC, "Art. 16(2)", since=FIC_APPLIES)
def a_tiny_pack_has_its_list_elsewhere(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """Under 10 cm2 the ingredient list is given by other means or at the consumer's request."""
    if not is_under_cm2(facts, TINY_CM2) or facts.way_of_sale != "prepacked":
        return None
    return Finding(
        message="On a pack whose largest surface is under 10 cm² only the name, the allergens, "
        "the net quantity and the date are printed.",
        hint="Keep the ingredient list at hand: a leaflet, a sign, or on request.",
        level=LOOK,
        where="ingredients",
    )
