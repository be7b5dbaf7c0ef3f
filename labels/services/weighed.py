"""Labels for pieces cut to size: each with its own weight and price, drawn in steps.

A step is short enough for one answer of the web server, so that a page can show how far it has come
and a person can cancel between two steps.
"""

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Any

from django.db import IntegrityError, transaction

from costing.models import Batch, Kitchen, Product
from costing.money import currency_places, format_money, round_money
from costing.services.audit import record_changes
from costing.services.recipes import freeze_version
from labels import law
from labels.facts import LabelFace, Particular, TextRun
from labels.mechanics.offers import Offer
from labels.models import LabelDesign, PrintedLabel, WeighedPart, WeighedRun
from labels.rendering.imposition import impose_distinct
from labels.rendering.joining import joined
from labels.rendering.pdf import label_pdf
from labels.rendering.series import fit_series, render_pdf_pages
from labels.rulebook import Finding, check
from labels.services.price_words import unit_price_text
from labels.services.printing import (
    LabelOrder,
    LabelRefused,
    PreparedLabel,
    look_of,
    plain,
    prepare_label,
)
from labels.services.sheets_kept import kept_sheet
from labels.stock import LabelSheet

__all__ = [
    "A_STEP",
    "Left",
    "cancel_run",
    "left_of",
    "prepare_pieces",
    "price_of",
    "sheets_of",
    "start_run",
    "step",
    "usual_price_per_kg",
]

A_STEP = 250
"""Pieces that one step draws: one to three seconds on a small machine."""

_KILO = Decimal(1000)
_WITH_A_RUN = ("design__product__recipe", "design__kitchen", "batch__recipe")


@dataclass(frozen=True)
class Left:
    """What a batch still has by weight [g]: what was cut, less what was labelled."""

    net_g: Decimal
    labelled_g: Decimal

    @property
    def grams(self) -> Decimal:
        """What is left; less than nothing where more was labelled than there was."""
        return self.net_g - self.labelled_g


def usual_price_per_kg(product: Product, design: LabelDesign) -> Decimal | None:
    """What was typed last, else what the product's price makes of a kilo; None without a price."""
    if design.price_per_kg:
        return design.price_per_kg
    if not product.stall_price:
        return None
    places = currency_places(product.kitchen.currency)
    return round_money(product.stall_price * _KILO / product.net_quantity_g, places=places)


def price_of(net_g: Decimal, *, price_per_kg: Decimal, currency: str) -> Decimal:
    """What a piece costs, rounded once, to what changes hands.

    >>> price_of(Decimal(124), price_per_kg=Decimal("19.80"), currency="EUR")
    Decimal('2.46')
    """
    return round_money(price_per_kg * net_g / _KILO, places=currency_places(currency))


def left_of(batch: Batch) -> Left:
    """What a batch still has: filled, less what labels were printed for, weighed or not."""
    runs = PrintedLabel.objects.filter(kitchen_id=batch.kitchen_id, batch=batch)
    labelled = Decimal(0)
    for copies, net_g in runs.filter(weighed=None).values_list("copies", "facts__net_quantity_g"):
        labelled += copies * Decimal(net_g or 0)
    weighed = WeighedRun.objects.filter(kitchen_id=batch.kitchen_id, batch=batch)
    for pieces in weighed.exclude(status=WeighedRun.Status.CANCELLED).values_list(
        "pieces", flat=True
    ):
        labelled += sum((Decimal(net_g) for net_g, _ in pieces), start=Decimal(0))
    return Left(batch.net_g or Decimal(0), labelled)


def prices_of_piece(
    kitchen: Kitchen, *, net_g: Decimal, price_per_kg: Decimal, market: str, on: date
) -> tuple[Particular, ...]:
    """What a piece costs and what a kilo costs, and who asks for both to be told."""
    offer = Offer(price_per_kg=price_per_kg, net_quantity_g=net_g)
    answer = law.prices(market, offer, on=on, country=kitchen.country)
    if answer.unit_price is None:
        raise LabelRefused((_no_price_law(answer.ask or answer.not_needed),))
    amount = price_of(net_g, price_per_kg=price_per_kg, currency=kitchen.currency)
    per = unit_price_text(kitchen, answer.unit_price, market=market)
    citation = answer.unit_price.citation
    return (
        Particular("unit_price", (TextRun(per),), citation),
        Particular("price", (TextRun(_money(kitchen, amount)),), citation),
    )


def _money(kitchen: Kitchen, amount: Decimal) -> str:
    return format_money(amount, currency=kitchen.currency, locale=kitchen.number_format)


def _no_price_law(why: str) -> Finding:
    return Finding(message=f"No price of a kilo can be told: {why}", hint="Choose another day.")


def prepare_pieces(
    design: LabelDesign, *, order: LabelOrder, weights: Sequence[Decimal], price_per_kg: Decimal
) -> PreparedLabel:
    """The label of the heaviest piece, with what is wrong with it or with the lightest one's.

    Raises LabelRefused for a batch that gets no label of this product.
    """
    heaviest = prepare_label(design, order=_of_piece(design, order, max(weights), price_per_kg))
    if min(weights) == max(weights):
        return heaviest
    lightest = prepare_label(design, order=_of_piece(design, order, min(weights), price_per_kg))
    both = tuple(dict.fromkeys((*heaviest.findings, *lightest.findings)))
    return replace(heaviest, findings=both)


def _of_piece(
    design: LabelDesign, order: LabelOrder, net_g: Decimal, price_per_kg: Decimal
) -> LabelOrder:
    prices = prices_of_piece(
        design.kitchen, net_g=net_g, price_per_kg=price_per_kg,
        market=order.market or design.market, on=order.on,
    )  # fmt: skip
    return replace(order, net_quantity_g=net_g, prices=prices)


@transaction.atomic
def start_run(
    design: LabelDesign,
    *,
    by: Any,
    order: LabelOrder,
    weights: Sequence[Decimal],
    price_per_kg: Decimal,
) -> WeighedRun:
    """Keep what is to be printed; nothing is drawn yet. Raises LabelRefused while faults are open.

    A price that was typed is kept with the design, and who typed it.
    """
    if order.batch is None:
        raise ValueError("Weighed pieces are of a batch.")
    prepared = prepare_pieces(design, order=order, weights=weights, price_per_kg=price_per_kg)
    if not prepared.may_print:
        raise LabelRefused(prepared.findings, unavailable=prepared.unavailable)
    _keep_price(design, by=by, price_per_kg=price_per_kg)
    currency = design.kitchen.currency
    run = WeighedRun(
        kitchen=design.kitchen,
        design=design,
        batch=order.batch,
        price_per_kg=price_per_kg,
        currency=currency,
        pieces=[
            [str(net_g), str(price_of(net_g, price_per_kg=price_per_kg, currency=currency))]
            for net_g in weights
        ],
        order=_as_kept(order),
        started_by=by,
    )
    run.full_clean()
    run.save()
    return run


def _keep_price(design: LabelDesign, *, by: Any, price_per_kg: Decimal) -> None:
    if price_per_kg == usual_price_per_kg(design.product, design):
        return
    before = {"price_per_kg": design.price_per_kg}
    design.price_per_kg = price_per_kg
    design.full_clean()
    design.save(update_fields=["price_per_kg"])
    record_changes(design, by=by, before=before, after={"price_per_kg": price_per_kg})


def _as_kept(order: LabelOrder) -> dict[str, Any]:
    return {
        "on": str(order.on),
        "printed_on": str(order.printed_on or order.on),
        "market": order.market,
        "way_of_sale": order.way_of_sale,
        "sheet": plain(order.sheet)
        | {
            "start_at": order.start_at,
            "offset_x_mm": str(order.offset_x_mm),
            "offset_y_mm": str(order.offset_y_mm),
        },
    }


def _order_of(run: WeighedRun) -> LabelOrder:
    kept = run.order
    return LabelOrder(
        on=date.fromisoformat(kept["on"]),
        printed_on=date.fromisoformat(kept["printed_on"]),
        made_on=run.batch.made_on,
        batch=run.batch,
        market=kept["market"],
        way_of_sale=kept["way_of_sale"],
        sheet=_sheet_of(run),
        copies=len(run.pieces),
        start_at=kept["sheet"]["start_at"],
        offset_x_mm=Decimal(kept["sheet"]["offset_x_mm"]),
        offset_y_mm=Decimal(kept["sheet"]["offset_y_mm"]),
    )


def _sheet_of(run: WeighedRun) -> LabelSheet:
    return kept_sheet(run.order["sheet"])


def step(run: WeighedRun, *, by: Any) -> WeighedRun:
    """Draw the next pieces of a run; with the last of them it is put together and recorded.

    Nothing happens to a run that is finished or cancelled, nor where another page drew the same
    pieces meanwhile. Raises LabelRefused where the batch or the law now stands against it.
    """
    try:
        return _step(run, by=by)
    except IntegrityError:
        stands = WeighedRun.objects.select_related(*_WITH_A_RUN).get(pk=run.pk)
        if stands.done == run.done and not stands.parts.filter(number=run.done).exists():
            raise
        return stands


@transaction.atomic
def _step(run: WeighedRun, *, by: Any) -> WeighedRun:
    run = (
        WeighedRun.objects.select_for_update(of=("self",))
        .select_related(*_WITH_A_RUN)
        .get(pk=run.pk)
    )
    if run.status != WeighedRun.Status.OPEN:
        return run
    order = _order_of(run)
    weights = [Decimal(net_g) for net_g, _ in run.pieces]
    model = prepare_pieces(run.design, order=order, weights=weights, price_per_kg=run.price_per_kg)
    if not model.may_print:
        raise LabelRefused(model.findings, unavailable=model.unavailable)
    some = weights[run.done : run.done + A_STEP]
    part = WeighedPart(
        kitchen=run.kitchen,
        run=run,
        number=run.done,
        pages_pdf=_pages(run, model, some, order=order),
    )
    part.save()
    run.done += len(some)
    if run.done == len(weights):
        _finish(run, model, by=by, order=order)
    run.save()
    return run


def _pages(
    run: WeighedRun, model: PreparedLabel, weights: Sequence[Decimal], *, order: LabelOrder
) -> bytes:
    """A page for each of some pieces, in the type of the heaviest. Raises LabelRefused."""
    assert model.fitted is not None  # noqa: S101 - it may print
    like = model.fitted.face
    facts = [replace(model.facts, net_quantity_g=net_g, law_on=None) for net_g in weights]
    faces = [
        _face(like, run, each.net_quantity_g or Decimal(0), law.particulars(each, on=order.on),
              order=order)
        for each in facts
    ]  # fmt: skip
    fitted = fit_series(faces, box=model.fitted.box, like=like)
    rules = law.rules_in_force(model.facts.market, on=order.on)
    for each, label in zip(facts, fitted, strict=True):
        faults = [f for f in check(rules, each, label.printed, on=order.on) if f.stops_printing]
        if faults:
            raise LabelRefused(tuple(faults))
    return render_pdf_pages(fitted, title=model.facts.name_of_food)


def _face(
    like: LabelFace, run: WeighedRun, net_g: Decimal, particulars: tuple[Particular, ...], *,
    order: LabelOrder,
) -> LabelFace:  # fmt: skip
    prices = prices_of_piece(
        run.design.kitchen, net_g=net_g, price_per_kg=run.price_per_kg,
        market=order.market or run.design.market, on=order.on,
    )  # fmt: skip
    return replace(like, particulars=(*particulars, *prices))


def _finish(run: WeighedRun, model: PreparedLabel, *, by: Any, order: LabelOrder) -> None:
    """Put the parts together and record the labels as printed."""
    assert model.fitted is not None  # noqa: S101 - it may print
    parts = run.parts.order_by("number")
    pages = joined(bytes(part.pages_pdf) for part in parts.iterator(chunk_size=1))
    single = label_pdf(model.fitted, title=model.facts.name_of_food, language=model.facts.language)
    version = run.batch.version
    freeze_version(version)
    printed = PrintedLabel(
        kitchen=run.kitchen,
        design=run.design,
        product=run.design.product,
        recipe_version=version,
        batch=run.batch,
        lot=model.facts.lot,
        best_before=model.facts.best_before,
        printed_by=by,
        rule_date=order.on,
        market=model.facts.market,
        facts=plain(model.facts),
        sheet=run.order["sheet"],
        copies=len(run.pieces),
        label_sha256=hashlib.sha256(single).hexdigest(),
        pdf_sha256=hashlib.sha256(pages).hexdigest(),
        label_pdf=single,
        look=look_of(run.design),
    )
    printed.full_clean()
    printed.save()
    parts.delete()
    run.printed, run.pages_pdf, run.status = printed, pages, WeighedRun.Status.PRINTED


@transaction.atomic
def cancel_run(run: WeighedRun, *, by: Any) -> WeighedRun:
    """Stop a run that is not finished: nothing counts as printed, and what was drawn is gone."""
    run = WeighedRun.objects.select_for_update(of=("self",)).get(pk=run.pk)
    if run.status == WeighedRun.Status.OPEN:
        run.parts.all().delete()
        run.status = WeighedRun.Status.CANCELLED
        run.save(update_fields=["status"])
        record_changes(run, by=by, before={"status": "open"}, after={"status": "cancelled"})
    return run


def sheets_of(run: WeighedRun) -> bytes:
    """The sheets of a run that is printed; the same again however often it is asked for."""
    kept = run.order["sheet"]
    return impose_distinct(
        bytes(run.pages_pdf or b""),
        sheet=_sheet_of(run),
        start_at=kept["start_at"],
        offset_x_mm=Decimal(kept["offset_x_mm"]),
        offset_y_mm=Decimal(kept["offset_y_mm"]),
    )
