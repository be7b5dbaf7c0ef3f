"""The net quantity: whether it must be there, how it is written, how high its figures are.

Two laws ask for it. Prepacked food states it under the assimilated regulation, and the heights of
the packaged goods regulations bind it only with the e mark (reg. 3(6)). A pack of constant weight
for direct sale is no "pre-packed food" in those regulations, so there they bind by themselves.
"""

from collections.abc import Iterator
from decimal import Decimal

from labels.facts import LabelFacts, Particular, PrintedText, TextRun
from labels.law.gb.acts import FIC, FIC_APPLIES, PGR, PGR_APPLIES
from labels.law.gb.words import figure
from labels.rulebook import INFORMATION, LOOK, Citation, Finding, rule

FIGURE_HEIGHTS_MM = (
    (Decimal(50), Decimal(2)),
    (Decimal(200), Decimal(3)),
    (Decimal(1000), Decimal(4)),
)
"""Up to and including so many g or ml: so many mm (PGR 8(3)(d)). Above the last: 6 mm."""
HIGHEST_FIGURES_MM = Decimal(6)
E_MARK = "℮"
E_MARK_HEIGHT_MM = Decimal(3)
E_MARK_FROM, E_MARK_TO = Decimal(5), Decimal(10_000)
CONSTANT_FROM_G, CONSTANT_TO_G = Decimal(5), Decimal(25_000)
"""Packs of constant weight that the packaged goods regulations reach (PGR 3(1))."""

THOUSAND = Decimal(1000)


def minimum_figure_height_mm(quantity: Decimal) -> Decimal:
    """Smallest height of the figures for a nominal quantity in g or ml [mm].

    Source: SI 2006/659, reg. 8(3)(d).

    >>> [int(minimum_figure_height_mm(Decimal(g))) for g in (50, 51, 200, 201, 1000, 1001)]
    [2, 3, 3, 4, 4, 6]
    """
    for up_to, height_mm in FIGURE_HEIGHTS_MM:
        if quantity <= up_to:
            return height_mm
    return HIGHEST_FIGURES_MM


def quantity(facts: LabelFacts) -> tuple[Decimal, str] | None:
    """The nominal quantity and whether it is "g" or "ml"; None if there is no usable one."""
    for amount, unit in ((facts.net_quantity_g, "g"), (facts.net_quantity_ml, "ml")):
        if amount is not None and amount.is_finite() and amount > 0:
            return amount, unit
    return None


def quantity_text(amount: Decimal, unit: str) -> str:
    """The quantity as printed: grams and millilitres below a thousand, then kilograms and litres.

    >>> quantity_text(Decimal(340), "g"), quantity_text(Decimal(1250), "g")
    ('340 g', '1.25 kg')
    """
    if amount >= THOUSAND:
        amount, unit = amount / THOUSAND, {"g": "kg", "ml": "l"}[unit]
    return f"{figure(amount)} {unit}"


def heights_bind(facts: LabelFacts) -> bool:
    """Whether the millimetre table binds: with the e mark, or on a pack for direct sale."""
    return facts.has_e_mark or facts.way_of_sale == "direct"


def statement(facts: LabelFacts, *, minimum_x_height_mm: Decimal) -> Particular | None:
    """The net quantity as it is to be printed, with the e mark if there is one."""
    known = quantity(facts)
    if known is None:
        return None
    text, height_mm = quantity_text(*known), minimum_figure_height_mm(known[0])
    if facts.has_e_mark:
        text = f"{text} {E_MARK}"
        height_mm = max(height_mm, E_MARK_HEIGHT_MM)
    by_weights_law = facts.way_of_sale == "direct"
    return Particular(
        kind="net_quantity",
        runs=(TextRun(text),),
        citation=Citation(PGR, "reg. 5(1)(a)")
        if by_weights_law
        else Citation(FIC, "Art. 9(1)(e) and Art. 23"),
        same_field=True,
        minimum_x_height_mm=minimum_x_height_mm,
        minimum_figure_height_mm=height_mm if heights_bind(facts) else None,
    )


@rule(FIC, "Art. 9(1)(e), Art. 23 and Annex IX", since=FIC_APPLIES)
def the_net_quantity_is_stated(facts: LabelFacts, printed: PrintedText | None) -> Finding | None:
    """Weight in g or kg, or volume of a liquid in ml or l."""
    if facts.way_of_sale != "prepacked":
        return None
    if quantity(facts) is None:
        return Finding(
            message="The net quantity is missing.",
            hint="Enter the weight of the food in the pack, without jar and wrap.",
            where="net_quantity",
        )
    if facts.net_quantity_g is None:
        return Finding(
            message="The quantity is given by volume, which is only for liquids.",
            hint="Jam, paste, chutney and sweets go by weight: enter grams.",
            level=LOOK,
            where="net_quantity",
        )
    return None


@rule(PGR, "reg. 5(1)(a), with reg. 3(1)", since=PGR_APPLIES)
def a_constant_pack_for_direct_sale_shows_its_weight(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """A pack made up to a constant 5 g to 25 kg shows its nominal quantity, at a stall too."""
    if facts.way_of_sale != "direct" or quantity(facts) is not None:
        return None
    return Finding(
        message="The food information regulations ask no weight of food packed for direct sale, "
        "but a pack made up to a constant weight must show it.",
        hint="Enter the weight. If each piece is cut and weighed, it is labelled with its own "
        "weight and price instead.",
        level=LOOK,
        where="net_quantity",
    )


@rule(PGR, "reg. 3(1) and reg. 5(3)(b)", since=PGR_APPLIES)
def the_e_mark_is_for_5_g_to_10_kg(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """The e mark stands only on packs of a constant 5 g to 10 kg, or 5 ml to 10 l."""
    known = quantity(facts)
    if not facts.has_e_mark or known is None or E_MARK_FROM <= known[0] <= E_MARK_TO:
        return None
    return Finding(
        message=f"The e mark is for 5 g to 10 kg; this pack is {quantity_text(*known)}.",
        hint="Take the e mark off this label.",
        where="net_quantity",
    )


@rule(PGR, "reg. 4, reg. 9 and reg. 11", since=PGR_APPLIES)
def the_e_mark_is_a_promise(facts: LabelFacts, printed: PrintedText | None) -> Finding | None:
    """With the e mark the packer answers for the packers' rules and records."""
    if not facts.has_e_mark:
        return None
    return Finding(
        message="The e mark says that the packers' rules on weight are kept and on record. Who "
        "uses it for export tells the local authority first.",
        hint="Keep the mark only if the packs are checked by weight and the checks are kept; ask "
        "trading standards.",
        level=LOOK,
        where="net_quantity",
    )


@rule(PGR, "reg. 4", since=PGR_APPLIES)
def the_packers_rules_hold_without_the_mark_too(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """Packs of a constant 5 g to 25 kg keep the three packers' rules, e mark or not."""
    known = quantity(facts)
    if facts.has_e_mark or known is None or facts.way_of_sale in {"loose", "on request"}:
        return None
    if not CONSTANT_FROM_G <= known[0] <= CONSTANT_TO_G:
        return None
    return Finding(
        message=f"Packs of {quantity_text(*known)} must hold on average no less than the label "
        "says, few may be short by more than the tolerance, and none by more than twice.",
        hint="Weigh every pack, or sample and keep the record. Pieces cut to different weights "
        "and labelled one by one are outside this rule.",
        level=INFORMATION,
        where="net_quantity",
    )


@rule(PGR, "reg. 8(3)(d), with reg. 3(6)", since=PGR_APPLIES, needs_print=True)
def the_figures_of_the_quantity_are_high_enough(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """With the e mark or for direct sale: 2 mm up to 50 g, 3 to 200, 4 to 1 000 g, 6 above."""
    assert printed is not None  # noqa: S101 - the rule is only called with type set
    wanted = statement(facts, minimum_x_height_mm=Decimal(0))
    if wanted is None or wanted.minimum_figure_height_mm is None:
        return
    for block in printed.blocks:
        if (
            block.kind != "net_quantity"
            or block.figure_height_mm >= wanted.minimum_figure_height_mm
        ):
            continue
        yield Finding(
            message=f"The figures of the net quantity are {block.figure_height_mm} mm high; "
            f"{wanted.minimum_figure_height_mm} mm is asked for.",
            hint="Choose larger label stock.",
            where="net_quantity",
        )
