"""The net quantity: whether it must be there, how it is written, how high its figures are.

Figure heights stand in the directive on packs of constant weight. They bind every pack with the
e mark, and in Germany and Austria every pack. Here they are asked for on every label: the layout
honours them anyway, and a label then passes in each member state.
"""

from collections.abc import Iterator
from decimal import Decimal

from labels.facts import LabelFacts, Particular, PrintedText, TextRun
from labels.law.eu.acts import AVG_APPLIES, AVG_DIR, FIC, FIC_APPLIES
from labels.law.eu.metrology import tolerable_negative_error_g
from labels.law.eu.ways_of_sale import UNPACKED
from labels.law.eu.words import figure, figure_where_sold
from labels.rulebook import LOOK, MUST_MEND, Citation, Finding, rule

FIGURE_HEIGHTS_MM = (
    (Decimal(50), Decimal(2)),
    (Decimal(200), Decimal(3)),
    (Decimal(1000), Decimal(4)),
)
"""Up to and including so many g or ml: so many mm. Above the last: 6 mm."""
HIGHEST_FIGURES_MM = Decimal(6)
E_MARK = "℮"
E_MARK_HEIGHT_MM = Decimal(3)
E_MARK_FROM, E_MARK_TO = Decimal(5), Decimal(10_000)
NOT_NEEDED_UNDER = Decimal(5)
HEIGHTS_BIND_WITHOUT_E_MARK = frozenset(("DE", "AT"))
"""Where the national rules on prepacks were read to set the heights for every pack."""

THOUSAND = Decimal(1000)


def minimum_figure_height_mm(quantity: Decimal) -> Decimal:
    """Smallest height of the figures for a nominal quantity in g or ml [mm].

    Source: Directive 76/211/EEC, Annex I, point 3.1, as read in national rules.

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


def quantity_text(amount: Decimal, unit: str, *, language: str, country: str = "") -> str:
    """The quantity as printed: grams and millilitres below a thousand, then kilograms and litres.

    >>> quantity_text(Decimal(340), "g", language="en")
    '340 g'
    >>> quantity_text(Decimal(1250), "g", language="en")
    '1.25 kg'
    """
    if amount >= THOUSAND:
        amount, unit = amount / THOUSAND, {"g": "kg", "ml": "l"}[unit]
    return f"{figure_where_sold(amount, country=country, language=language)} {unit}"


def statement(facts: LabelFacts, *, minimum_x_height_mm: Decimal) -> Particular | None:
    """The net quantity as it is to be printed, with the e mark if there is one."""
    known = quantity(facts)
    if known is None:
        return None
    text = quantity_text(*known, language=facts.language, country=facts.country_of_sale)
    height_mm = minimum_figure_height_mm(known[0])
    if facts.has_e_mark:
        text = f"{text} {E_MARK}"
        height_mm = max(height_mm, E_MARK_HEIGHT_MM)
    return Particular(
        kind="net_quantity",
        runs=(TextRun(text),),
        citation=Citation(FIC, "Art. 9(1)(e) and Art. 23"),
        same_field=True,
        minimum_x_height_mm=minimum_x_height_mm,
        minimum_figure_height_mm=height_mm,
    )


@rule(FIC, "Art. 9(1)(e), Art. 23 and Annex IX", since=FIC_APPLIES)
def the_net_quantity_is_stated(facts: LabelFacts, printed: PrintedText | None) -> Finding | None:
    """Weight in g or kg, or volume of a liquid in ml or l; not needed under 5 g or 5 ml."""
    if facts.way_of_sale in UNPACKED:
        return None
    known = quantity(facts)
    if known is None:
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


@rule(AVG_DIR, "Art. 1 and Annex I, point 3.3", since=AVG_APPLIES, mark="second-hand")
def the_e_mark_is_for_5_g_to_10_kg(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """The e mark stands only on packs of a constant 5 g to 10 kg, or 5 ml to 10 l."""
    known = quantity(facts)
    if not facts.has_e_mark or known is None or E_MARK_FROM <= known[0] <= E_MARK_TO:
        return None
    text = quantity_text(*known, language=facts.language)
    return Finding(
        message=f"The e mark is for 5 g to 10 kg; this pack is {text}.",
        hint="Take the e mark off this label.",
        where="net_quantity",
    )


@rule(AVG_DIR, "Annex I", since=AVG_APPLIES, mark="second-hand")
def the_e_mark_is_a_promise(facts: LabelFacts, printed: PrintedText | None) -> Finding | None:
    """With the e mark the packer answers for the mean, the shortfalls and the records."""
    if not facts.has_e_mark:
        return None
    return Finding(
        message="The e mark says that the batch meets the packers' rules on weight: the mean not "
        f"below the label, few packs short{_by_how_much(facts)}, checks on record.",
        hint="Keep the mark only if the packs are checked by weight and the checks are kept; ask "
        "the local weights and measures authority.",
        level=LOOK,
        where="net_quantity",
    )


def _by_how_much(facts: LabelFacts) -> str:
    """The tolerance of this pack in words, where there is one."""
    known = quantity(facts)
    if known is None or not E_MARK_FROM <= known[0] <= E_MARK_TO:
        return ", none badly short"
    amount, unit = known
    error = figure(tolerable_negative_error_g(amount), language="en")
    twice = figure(2 * tolerable_negative_error_g(amount), language="en")
    return f" by more than {error} {unit}, none by more than {twice} {unit}"


@rule(AVG_DIR, "Annex I, point 3.1", since=AVG_APPLIES, needs_print=True, mark="second-hand")
def the_figures_of_the_quantity_are_high_enough(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """Figures 2 mm up to 50 g, 3 up to 200 g, 4 up to 1 000 g, 6 above; the e mark 3 mm."""
    assert printed is not None  # noqa: S101 - the rule is only called with type set
    wanted = statement(facts, minimum_x_height_mm=Decimal(0))
    if wanted is None or wanted.minimum_figure_height_mm is None:
        return
    country = facts.country_of_sale.strip().upper()
    is_bound = facts.has_e_mark or not country or country in HEIGHTS_BIND_WITHOUT_E_MARK
    for block in printed.blocks:
        if (
            block.kind != "net_quantity"
            or block.figure_height_mm >= wanted.minimum_figure_height_mm
        ):
            continue
        yield Finding(
            message=f"The figures of the net quantity are {block.figure_height_mm} mm high; "
            f"{wanted.minimum_figure_height_mm} mm is asked for.",
            hint="Choose larger label stock."
            if is_bound
            else "Without the e mark the height is a matter of national law: choose larger label "
            "stock, or ask the local authority.",
            level=MUST_MEND if is_bound else LOOK,
            where="net_quantity",
        )
