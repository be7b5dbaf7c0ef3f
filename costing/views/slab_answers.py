"""The answer to a plan of slabs, as a page tells it: one number, rows, cautions, the picture."""

from dataclasses import dataclass, field
from decimal import Decimal

from costing.forms.planners import BY_MOULDS, SlabForm
from costing.models import Kitchen, Mould
from costing.reckoning.cutting import Cutting, Tray, both_cuttings
from costing.reckoning.errors import ReckoningError
from costing.reckoning.moulds import (
    SlabPlan,
    fill_line_mm,
    piece_at_densities,
    plan_slabs,
    slab_depth_mm,
    slab_mass_g,
)
from costing.reckoning.pan import settled
from costing.reckoning.paste_density import Strength, paste_g_per_ml
from costing.reckoning.piece_wish import Wish, settle_piece
from costing.reckoning.weights import EU, GB, safe_mean, underweight_risk
from costing.views.charts import share
from costing.views.recipe_words import NBSP, Pen
from costing.views.tray_picture import Depths, TrayPicture, tray_picture

KILO = Decimal(1000)
SOURCES = {EU: "Directive 76/211/EEC, Annex I", GB: "SI 2006/659, Schedule 3"}
WRONG_BY = (Decimal("0.96"), Decimal("0.98"), Decimal("1.02"))
"""Densities that a guess may have missed by 4 % light, 2 % light, 2 % heavy."""


@dataclass(frozen=True)
class Heavy:
    """Grams a millilitre, set and as poured. hot is None where the Brix is not known."""

    cold: Decimal
    hot: Decimal | None
    source: str
    is_reckoned: bool


def heavy(
    *, typed: Decimal | None, strength: Strength | None, fill_c: Decimal, whose: str, pen: Pen
) -> Heavy:
    """The density to plan with. Raises ReckoningError where neither it nor a Brix is known.

    whose: the recipe whose Brix it is; empty where it was typed.
    """
    reckoned = None if strength is None else paste_g_per_ml(strength)
    if typed is None and reckoned is None:
        lacking = f"The Brix of {whose} is not known yet. " if whose else ""
        raise ReckoningError(
            f"{lacking}Type what a millilitre weighs, or the Brix; or do the density test with a "
            "small tub.",
            field="density_g_per_ml",
        )
    cold = typed if typed is not None else reckoned
    hot = None
    if strength is not None and reckoned and cold is not None:
        hot = cold * paste_g_per_ml(strength, temperature_c=fill_c) / reckoned
    if typed is not None:
        return Heavy(typed, hot, "as typed", is_reckoned=False)
    brix = "" if strength is None else f"{pen.number(round(strength.brix, 1))} Brix"
    named = f"reckoned from {brix}{f' of {whose}' if whose else ''}"
    return Heavy(reckoned or Decimal(0), hot, named, is_reckoned=True)


@dataclass(frozen=True)
class Way:
    """One way round to lay the pieces."""

    name: str
    grid: str
    pieces: int
    is_taken: bool


@dataclass(frozen=True)
class SlabAnswer:
    """What the page shows. masses: part, mass, share; facts: what, figure, note."""

    figure: str
    unit: str
    sentence: str
    picture: TrayPicture
    masses: tuple[tuple[str, str, str], ...]
    ways: tuple[Way, ...]
    facts: tuple[tuple[str, str, str], ...]
    wrong: tuple[tuple[str, str, str], ...]
    risk: tuple[tuple[str, str], ...] = ()
    risk_says: str = ""
    cautions: tuple[str, ...] = field(default=())


def slab_answer(form: SlabForm, *, mould: Mould, weighs: Heavy, kitchen: Kitchen) -> SlabAnswer:
    """Work the plan out. Raises ReckoningError, with its field, for what cannot be."""
    pen = Pen(kitchen)
    wish, declared_g = _wish(form, weighs), _declared_g(form)
    plan = _plan(form, mould, wish, weighs=weighs, declared_g=declared_g)
    hot_mm = None
    if weighs.hot is not None:
        hot_mm = fill_line_mm(wish.depth_mm, cold_g_per_ml=weighs.cold, hot_g_per_ml=weighs.hot)
    figure, unit, sentence = _headline(plan, hot_mm, by=form.cleaned_data["by"], pen=pen)
    risk, risk_says = _risk(plan, declared_g, form.figure("spread_g"), kitchen=kitchen, pen=pen)
    return SlabAnswer(
        figure=figure,
        unit=unit,
        sentence=sentence,
        picture=tray_picture(
            plan.cutting,
            depths=Depths(mould.depth_mm, wish.depth_mm, hot_mm),
            piece_g=plan.piece_g,
            pen=pen,
        ),
        masses=_masses(plan, pen),
        ways=_ways(wish, plan.cutting),
        facts=_facts(plan, wish, hot_mm, weighs=weighs, fill_c=form.figure("fill_c"), pen=pen),
        wrong=_wrong(plan, declared_g, pen),
        risk=risk,
        risk_says=risk_says,
        cautions=_cautions(plan, mould, hot_mm, pen),
    )


def _plan(
    form: SlabForm, mould: Mould, wish: Wish, *, weighs: Heavy, declared_g: Decimal | None
) -> SlabPlan:
    trim_mm, kerf_mm = form.cleaned_data["trim_mm"], form.cleaned_data["kerf_mm"]
    return plan_slabs(
        _net_g(form, mould, wish, weighs),
        tray=Tray(mould.length_mm, mould.width_mm, trim_mm=trim_mm, rim_mm=mould.depth_mm),
        piece=wish.piece,
        depth_mm=wish.depth_mm,
        density_g_per_ml=weighs.cold,
        kerf_mm=kerf_mm,
        declared_g=declared_g,
        moulds_at_hand=None if form.cleaned_data["by"] == BY_MOULDS else mould.owned,
    )


def _declared_g(form: SlabForm) -> Decimal | None:
    """The weight on the label: typed, or the product's own."""
    typed = form.figure("declared_g")
    return form.product.net_quantity_g if typed is None and form.product is not None else typed


def _wish(form: SlabForm, weighs: Heavy) -> Wish:
    """Size, depth, weight; a product gives the weight where one of the three is left open."""
    length_mm, width_mm = form.figure("piece_length_mm"), form.figure("piece_width_mm")
    depth_mm, piece_g = form.figure("depth_mm"), form.figure("piece_g")
    is_sized = length_mm is not None or width_mm is not None
    if piece_g is None and form.product is not None and is_sized != (depth_mm is not None):
        piece_g = form.product.fill_g
    return settle_piece(
        length_mm=length_mm,
        width_mm=width_mm,
        depth_mm=depth_mm,
        piece_g=piece_g,
        density_g_per_ml=weighs.cold,
    )


def _net_g(form: SlabForm, mould: Mould, wish: Wish, weighs: Heavy) -> Decimal:
    if form.cleaned_data["by"] != BY_MOULDS:
        return Decimal(form.cleaned_data["net_kg"] * KILO)
    one_g = slab_mass_g(
        length_mm=mould.length_mm,
        width_mm=mould.width_mm,
        depth_mm=wish.depth_mm,
        density_g_per_ml=weighs.cold,
    )
    return settled(one_g) * int(form.cleaned_data["moulds"])


def _headline(plan: SlabPlan, hot_mm: Decimal | None, *, by: str, pen: Pen) -> tuple[str, str, str]:
    pour = f"pour each {_mm(hot_mm, pen)} high, it sets to {_mm(plan.depth_mm, pen)}"
    if hot_mm is None:
        pour = f"each {_mm(plan.depth_mm, pen)} deep when set"
    pieces = f"{plan.pieces} pieces of {_g(plan.piece_g, pen)}; {pour}."
    if by == BY_MOULDS:
        kilos = pen.number(plan.net_g / KILO, places=2)
        return kilos, "kg of paste", f"For {plan.moulds} full moulds: {pieces}"
    unit = "mould to fill" if plan.moulds == 1 else "moulds to fill"
    return str(plan.moulds), unit, pieces


def _masses(plan: SlabPlan, pen: Pen) -> tuple[tuple[str, str, str], ...]:
    parts = (
        ("Pieces", plan.shares.pieces_g),
        ("Trimmed edge", plan.shares.trim_g),
        ("Taken by the cuts", plan.shares.kerf_g),
        ("Offcuts beside the grid", plan.shares.offcuts_g),
        ("Left over, not poured", plan.remainder_g),
    )
    return tuple(
        (name, pen.mass(grams), share(grams, of=plan.net_g)) for name, grams in parts if grams > 0
    )


def _ways(wish: Wish, taken: Cutting) -> tuple[Way, ...]:
    """Both ways round; one is enough for a square."""
    both = both_cuttings(taken.tray, piece=wish.piece, kerf_mm=taken.kerf_mm)
    shown = both[:1] if both[0].piece.length_mm == both[0].piece.width_mm else both
    return tuple(
        Way(
            name="Turned" if one.is_turned else "As typed",
            grid=f"{one.along} × {one.across}",
            pieces=one.pieces,
            is_taken=one.is_turned == taken.is_turned,
        )
        for one in shown
    )


def _facts(
    plan: SlabPlan, wish: Wish, hot_mm: Decimal | None, *, weighs: Heavy,
    fill_c: Decimal | None, pen: Pen,
) -> tuple[tuple[str, str, str], ...]:  # fmt: skip
    side = wish.piece
    size = f"{pen.number(side.length_mm)} × {_mm(side.width_mm, pen)}"
    up = "rounded up to a tenth of a millimetre"
    rows = [
        ("A piece", size, f"square, {up}" if wish.follows == "size" else ""),
        ("It weighs", _g(plan.piece_g, pen), "by its depth and density"),
        ("Depth, when set", _mm(plan.depth_mm, pen), up if wish.follows == "depth" else ""),
    ]  # fmt: skip
    if hot_mm is None:
        why = "type the Brix, and the density at pouring is reckoned"
        rows.append(("Poured hot", "not known", why))
    else:
        more = pen.number(round((hot_mm / plan.depth_mm - 1) * 100, 1))
        why = f"at {pen.number(fill_c or Decimal(0))}{NBSP}°C it takes {more}{NBSP}% more room"
        rows.append(("Poured hot", _mm(hot_mm, pen), why))
    rows.append(("A full mould", pen.mass(plan.mould_g), f"{plan.cutting.pieces} pieces"))
    rows.append(("A millilitre", f"{pen.number(round(weighs.cold, 3))}{NBSP}g", weighs.source))
    return tuple(rows)


def _wrong(
    plan: SlabPlan, declared_g: Decimal | None, pen: Pen
) -> tuple[tuple[str, str, str], ...]:
    """What the same cut weighs if the density is not what was thought."""
    others = piece_at_densities(
        plan.cutting.piece,
        depth_mm=plan.depth_mm,
        assumed_g_per_ml=plan.density_g_per_ml,
        densities=[plan.density_g_per_ml * one for one in WRONG_BY],
        declared_g=declared_g,
    )
    words = {True: "below its label", False: "not below its label", None: ""}
    return tuple(
        (f"{pen.number(round(one.density_g_per_ml, 3))}{NBSP}g/ml", _g(one.piece_g, pen),
         words[one.is_short])
        for one in others
    )  # fmt: skip


def law_of(kitchen: Kitchen) -> str:
    """The rules on average weight that a kitchen's country has; the Union's where it has none."""
    return GB if kitchen.country == "GB" else EU


def _risk(
    plan: SlabPlan, declared_g: Decimal | None, spread_g: Decimal | None, *, kitchen: Kitchen,
    pen: Pen,
) -> tuple[tuple[tuple[str, str], ...], str]:  # fmt: skip
    """How many pieces come out short, and the depth that is safe."""
    if declared_g is None or spread_g is None:
        return (), ""
    law = law_of(kitchen)
    risk = underweight_risk(mean_g=plan.piece_g, spread_g=spread_g, declared_g=declared_g, law=law)
    rows = (
        (f"below the {_g(declared_g, pen)} of the label", _share(risk.below_declared_pct, pen)),
        (f"short by more than the law tolerates, below {_g(risk.limits.t1_g, pen)}",
         _share(risk.below_t1_pct, pen)),
        (f"never to be sold at that weight, below {_g(risk.limits.t2_g, pen)}",
         _share(risk.below_t2_pct, pen)),
    )  # fmt: skip
    safe = safe_mean(declared_g=declared_g, spread_g=spread_g, law=law)
    deep_mm = slab_depth_mm(
        mass_g=safe.mean_g,
        length_mm=plan.cutting.piece.length_mm,
        width_mm=plan.cutting.piece.width_mm,
        density_g_per_ml=plan.density_g_per_ml,
    )
    return rows, (
        f"An average of {_g(safe.mean_g, pen)} keeps both the average and the short pieces right: "
        f"{pen.number(round(deep_mm, 2))}{NBSP}mm deep. After {SOURCES[law]}; a share of 2.5 % "
        "short is common practice. Pieces weighed one by one, none below the label, need none of "
        "this."
    )


def _cautions(plan: SlabPlan, mould: Mould, hot_mm: Decimal | None, pen: Pen) -> tuple[str, ...]:
    said = list(plan.cautions)
    if hot_mm is not None and hot_mm > mould.depth_mm:
        said.append(
            f"Hot it would stand {_mm(hot_mm, pen)} high, above the rim of "
            f"{_mm(mould.depth_mm, pen)}: it runs over. Pour in two goes, or shallower."
        )
    if mould.owned is not None and plan.moulds > mould.owned:
        said.append(f"You have {mould.owned} of these moulds, and this needs {plan.moulds}.")
    if plan.spread is not None and plan.spread.depth_mm <= mould.depth_mm and plan.moulds:
        short = ", below the label" if plan.spread.is_short else ""
        said.append(
            f"Spread evenly over {plan.spread.moulds} moulds instead, it stands only "
            f"{pen.number(round(plan.spread.depth_mm, 2))}{NBSP}mm deep, and a piece weighs "
            f"{_g(plan.spread.piece_g, pen)}{short}."
        )
    return tuple(said)


def _mm(value: Decimal | None, pen: Pen) -> str:
    return "" if value is None else f"{pen.number(round(value, 1))}{NBSP}mm"


def _g(value: Decimal, pen: Pen) -> str:
    return f"{pen.number(round(value, 2))}{NBSP}g"


def _share(pct: Decimal, pen: Pen) -> str:
    if 0 < pct < Decimal("0.01"):
        return f"under 0.01{NBSP}%"
    return f"{pen.number(round(pct, 2))}{NBSP}%"
