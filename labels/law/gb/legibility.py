"""How large the print must be, and what must be seen at one glance."""

from collections.abc import Iterator
from datetime import date
from decimal import Decimal

from labels.facts import LabelFacts, PrintedText
from labels.law.gb.acts import FIC, FIC_APPLIES
from labels.law.gb.small_packs import SMALL_PRINT_CM2, TINY_CM2, is_under_cm2
from labels.rulebook import Dated, Finding, rule

X_HEIGHT_MM = Dated(Decimal("1.2"))
X_HEIGHT_ON_SMALL_PACKS_MM = Dated(Decimal("0.9"))

SAME_FIELD = {
    "name": "the name",
    "net_quantity": "the net quantity",
    "extra": "what the jam regulations ask for",
}
STATEMENTS = frozenset(
    ("name", "ingredients", "allergens", "quid", "net_quantity", "date", "lot", "storage",
     "instructions", "origin", "operator", "nutrition", "extra")
)  # fmt: skip


def minimum_x_height_mm(facts: LabelFacts, *, on: date) -> Decimal:
    """Smallest lawful x-height [mm]: 1.2, or 0.9 if the largest surface is under 80 cm2.

    A surface that is not known is taken as large.
    Source: assimilated Regulation (EU) No 1169/2011, Art. 13(2) and (3), Annex IV.
    """
    if is_under_cm2(facts, SMALL_PRINT_CM2):
        return X_HEIGHT_ON_SMALL_PACKS_MM.on(on)
    return X_HEIGHT_MM.on(on)


@rule(FIC, "Art. 13(2) and (3), Annex IV", since=FIC_APPLIES, needs_print=True)
def small_print_is_legible(facts: LabelFacts, printed: PrintedText | None) -> Iterator[Finding]:
    """Lower-case x at least 1.2 mm high; 0.9 mm if the largest surface is under 80 cm2."""
    assert printed is not None  # noqa: S101 - the rule is only called with type set
    required_mm = minimum_x_height_mm(facts, on=facts.printed_on or FIC_APPLIES)
    for block in printed.blocks:
        if block.kind in STATEMENTS and block.x_height_mm < required_mm:
            yield Finding(
                message=f"The x-height of “{block.kind}” is {block.x_height_mm} mm; this pack "
                f"needs {required_mm} mm.",
                hint="Choose larger label stock or shorten the text.",
                where=block.kind,
            )


@rule(FIC, "Art. 13(5)", since=FIC_APPLIES, needs_print=True)
def name_and_net_quantity_are_seen_together(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """The name, the net quantity and what the jam law asks for stand in one field of vision."""
    assert printed is not None  # noqa: S101 - the rule is only called with type set
    if is_under_cm2(facts, TINY_CM2):  # waived by Art. 13(6) with Art. 16(2)
        return
    faces = {kind: {b.panel for b in printed.blocks if b.kind == kind} for kind in SAME_FIELD}
    for kind, words in SAME_FIELD.items():
        if kind != "name" and faces[kind] and faces["name"] and not faces[kind] <= faces["name"]:
            yield Finding(
                message=f"The name of the food and {words} are not on the same face of the pack.",
                hint=f"Put {words} on the face that carries the name.",
                where=kind,
            )


@rule(FIC, "Art. 13(1)", since=FIC_APPLIES, needs_print=True)
def every_character_can_be_read(facts: LabelFacts, printed: PrintedText | None) -> Finding | None:
    """What is stated is there to be read: no character is missing from the type."""
    assert printed is not None  # noqa: S101 - the rule is only called with type set
    if not printed.missing_glyphs:
        return None
    return Finding(
        message=f"Our type has no drawing for {' '.join(printed.missing_glyphs)}.",
        hint="Write it in other words or letters.",
        where="label",
    )
