"""Prepare a label, say what is wrong with it, and print it once nothing must be mended."""

import hashlib
from collections.abc import Sequence
from dataclasses import asdict, dataclass, is_dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Any

from django.db import transaction

from costing.models import Batch, RecipeVersion
from costing.services.recipes import freeze_version
from labels import law
from labels.facts import LabelCode, LabelFace, LabelFacts, Particular
from labels.models import LabelDesign, PrintedLabel, QuantifiedIngredient
from labels.rendering.codes import ean13, qr
from labels.rendering.fonts import RenderingUnavailable
from labels.rendering.layout import FittedLabel, fit_label
from labels.rendering.pdf import label_pdf
from labels.rendering.sheet import impose
from labels.rulebook import LOOK, Finding, check
from labels.services.allergens import cross_contact_of
from labels.services.batch_facts import food_of_batch, read_batch, why_no_label
from labels.services.dates import keeps_until, lot_of
from labels.services.facts import FoodFacts, declared_of, label_facts
from labels.services.nutrition import nutrition_of
from labels.services.packs import layout_of, paper_of
from labels.stock import LabelSheet


@dataclass(frozen=True)
class LabelOrder:
    """What is to be printed: which batch, by which day's law, on which paper.

    on: the day whose law and prices apply. best_before: None means by the design's shelf life.
    start_at: first free label on the sheet, counted from 1. offsets: the printer's error [mm].
    printed_on: the day they leave the printer, which is held against `on`; None means `on`.
    batch: a finished one, whose lot, day and weights then stand in place of `lot`, `made_on` and
        the recipe.
    market: where they are sold; empty means the market of the design. way_of_sale: as in the facts.
    net_quantity_g: of a piece that was weighed; None means what the product says. prices: what it
        costs, as statements.
    """

    on: date
    made_on: date
    sheet: LabelSheet
    lot: str = ""
    best_before: date | None = None
    copies: int = 1
    start_at: int = 1
    offset_x_mm: Decimal = Decimal(0)
    offset_y_mm: Decimal = Decimal(0)
    printed_on: date | None = None
    batch: Batch | None = None
    market: str = ""
    way_of_sale: str = "prepacked"
    net_quantity_g: Decimal | None = None
    prices: tuple[Particular, ...] = ()

    def facts_of(self, design: LabelDesign) -> dict[str, Any]:
        """Lot and days as the label of a design says them: the batch's own, where there is one."""
        made_on = self.made_on if self.batch is None else self.batch.made_on
        lot = self.lot if self.batch is None else self.batch.lot
        usual = keeps_until(made_on, months=design.shelf_life_months, days=design.shelf_life_days)
        return {
            "made_on": made_on,
            "lot": lot or lot_of(made_on, prefix=design.lot_prefix),
            "best_before": usual if self.batch is not None else self.best_before or usual,
        }


@dataclass(frozen=True)
class PreparedLabel:
    """A label as it would be: its facts, its statements, its setting, and every finding.

    unavailable: why nothing can be drawn on this machine; empty when drawing works.
    """

    facts: LabelFacts
    food: FoodFacts
    particulars: tuple[Particular, ...]
    fitted: FittedLabel | None
    findings: tuple[Finding, ...]
    unavailable: str = ""

    @property
    def may_print(self) -> bool:
        """Whether this label may leave as more than a proof."""
        return (
            self.fitted is not None
            and not self.food.questions
            and not any(f.stops_printing for f in self.findings)
        )


class LabelRefused(Exception):
    """A label with something that must be mended was sent to the printer."""

    def __init__(self, findings: tuple[Finding, ...], *, unavailable: str = "") -> None:
        self.findings = tuple(f for f in findings if f.stops_printing)
        self.unavailable = unavailable
        super().__init__(unavailable or " ".join(f.message for f in self.findings))


def prepare_label(
    design: LabelDesign,
    *,
    order: LabelOrder,
    quantified: Sequence[QuantifiedIngredient] | None = None,
) -> PreparedLabel:
    """Facts, then what law makes us say, then type, then what law thinks of the type.

    Raises LabelRefused for a batch that gets no label of this product.
    """
    facts, food, notes = facts_and_food(design, order=order, quantified=quantified)
    particulars = law.particulars(facts, on=order.on)
    face = LabelFace(
        particulars=(*particulars, *order.prices),
        brand_name=design.brand_name,
        tagline=facts.tagline,
        colour=design.colour,
        layout=layout_of(design, is_weighed=order.net_quantity_g is not None),
        language=facts.language,
        codes=codes_of(design),
    )
    fitted, unavailable = None, ""
    try:
        fitted = fit_label(face, box=paper_of(design, order.sheet))
    except RenderingUnavailable as reason:
        unavailable = str(reason)
    findings = check(
        law.rules_in_force(facts.market, on=order.on),
        facts,
        fitted.printed if fitted else None,
        on=order.on,
    )
    findings = (*_by_an_older_law(order), *_code_left_out(fitted), *findings, *notes)
    return PreparedLabel(facts, food, particulars, fitted, findings, unavailable)


def facts_and_food(
    design: LabelDesign,
    *,
    order: LabelOrder,
    quantified: Sequence[QuantifiedIngredient] | None = None,
    planned: FoodFacts | None = None,
) -> tuple[LabelFacts, FoodFacts, tuple[Finding, ...]]:
    """What is true of the food as ordered, and what the maker should know of where it is from.

    planned: the recipe's own food, where it was read already. Raises LabelRefused for a batch that
    gets no label of this product.
    """
    food, notes = _food_of(design, order.batch, quantified)
    food = food or planned
    facts, food = label_facts(
        design, on=order.on, quantified=quantified, food=food, **order.facts_of(design)
    )
    facts = replace(
        facts,
        printed_on=order.printed_on or order.on,
        market=order.market or facts.market,
        way_of_sale=order.way_of_sale,
        net_quantity_g=order.net_quantity_g or facts.net_quantity_g,
    )
    if order.batch is not None:
        facts = replace(facts, soluble_solids_pct=order.batch.end_brix)
    facts = replace(
        facts,
        nutrition=nutrition_of(design, food),
        cross_contact=cross_contact_of(design.product, food, on=facts.printed_on or order.on),
    )
    return facts, food, notes


def codes_of(design: LabelDesign) -> tuple[LabelCode, ...]:
    """The codes that the maker wants on the label."""
    bars = (ean13(design.gtin),) if design.gtin else ()
    return (*bars, qr(design.qr_text)) if design.qr_text else bars


def _code_left_out(fitted: FittedLabel | None) -> tuple[Finding, ...]:
    """The law asks for no code, so it does not miss one; the maker would."""
    if fitted is None or "code" not in fitted.printed.does_not_fit:
        return ()
    return (
        Finding(
            message="There is no room on this paper for the code, so it is left out.",
            hint="Choose a larger label, or take the code out of the design.",
            level=LOOK,
            where="codes",
        ),
    )


def _food_of(
    design: LabelDesign,
    batch: Batch | None,
    quantified: Sequence[QuantifiedIngredient] | None,
) -> tuple[FoodFacts | None, tuple[Finding, ...]]:
    """The food of a batch, and what the maker should know of it; None for the recipe's own."""
    if batch is None:
        return None, ()
    if refusal := why_no_label(batch, design.product):
        hint = "Choose another lot."
        raise LabelRefused((Finding(message=refusal, hint=hint, where="lot"),))
    made = read_batch(batch)
    return food_of_batch(made, quantified=declared_of(design, quantified)), made.notes


def _by_an_older_law(order: LabelOrder) -> tuple[Finding, ...]:
    """A label that leaves today obeys today's law; that of another day is only to look at."""
    if order.printed_on is None or order.on >= order.printed_on:
        return ()
    return (
        Finding(
            message=f"This is judged by the law of {order.on}, but the labels are printed on "
            f"{order.printed_on}.",
            hint="Set the day of the law to today, or to the day they go on sale.",
            where="date",
        ),
    )


def proof_pdf(prepared: PreparedLabel) -> bytes:
    """One label to look at: marked as a proof while anything must be mended."""
    if prepared.fitted is None:
        raise LabelRefused((), unavailable=prepared.unavailable)
    return label_pdf(
        prepared.fitted,
        proof=not prepared.may_print,
        title=prepared.facts.name_of_food or "Label",
        language=prepared.facts.language,
    )


@transaction.atomic
def print_labels(design: LabelDesign, *, by: Any, order: LabelOrder) -> tuple[PrintedLabel, bytes]:
    """The sheets, and the frozen record of what they say and why. Refuses while faults are open."""
    order = _held(order)
    prepared = prepare_label(design, order=order)
    if not prepared.may_print or prepared.fitted is None:
        raise LabelRefused(prepared.findings, unavailable=prepared.unavailable)
    single = label_pdf(
        prepared.fitted,
        proof=False,
        title=prepared.facts.name_of_food,
        language=prepared.facts.language,
    )
    sheets = _imposed(single, order)
    version = _version_of(design, order)
    freeze_version(version)
    printed = PrintedLabel(
        kitchen=design.kitchen,
        design=design,
        product=design.product,
        recipe_version=version,
        batch=order.batch,
        lot=prepared.facts.lot,
        best_before=prepared.facts.best_before,
        printed_by=by,
        rule_date=order.on,
        market=prepared.facts.market,
        facts=plain(prepared.facts),
        sheet=_sheet_of(order, papers=prepared.fitted.arrangement.leaves),
        copies=order.copies,
        label_sha256=hashlib.sha256(single).hexdigest(),
        pdf_sha256=hashlib.sha256(sheets).hexdigest(),
        label_pdf=single,
        look=look_of(design),
    )
    printed.full_clean()
    printed.save()
    return printed, sheets


def _sheet_of(order: LabelOrder, *, papers: int) -> dict[str, Any]:
    """The sheet as it was printed: where it began, how it was moved, labels a pack takes."""
    moved = {"offset_x_mm": str(order.offset_x_mm), "offset_y_mm": str(order.offset_y_mm)}
    return {**plain(order.sheet), "start_at": order.start_at, **moved, "papers": papers}


def look_of(design: LabelDesign) -> dict[str, str]:
    """How the design looks, as far as the facts of a label do not tell it."""
    return {
        "colour": design.colour,
        "layout": design.layout,
        "gtin": design.gtin or "",
        "qr_text": design.qr_text or "",
    }


def _held(order: LabelOrder) -> LabelOrder:
    """The order with its batch as it stands now, which nobody corrects before it is printed."""
    if order.batch is None:
        return order
    return replace(order, batch=Batch.objects.select_for_update().get(pk=order.batch.pk))


def _version_of(design: LabelDesign, order: LabelOrder) -> RecipeVersion:
    """The version of the recipe that the label is of: the one that was cooked, else today's."""
    if order.batch is not None:
        return order.batch.version
    return design.product.recipe.versions.get(is_current=True)


def sheets_pdf(run: PrintedLabel) -> bytes:
    """The sheets of a print run again: the kept label on the kept sheet, byte for byte."""
    kept = dict(run.sheet)
    lengths: dict[str, Any] = {
        name: None if value is None else Decimal(value)
        for name, value in kept.items()
        if name.endswith("_mm")
    }
    offset_x_mm = lengths.pop("offset_x_mm") or Decimal(0)
    offset_y_mm = lengths.pop("offset_y_mm") or Decimal(0)
    sheet = LabelSheet(
        code=kept["code"],
        name=kept["name"],
        columns=kept["columns"],
        rows=kept["rows"],
        **lengths,
    )
    order = LabelOrder(
        on=run.rule_date,
        made_on=run.rule_date,
        sheet=sheet,
        copies=run.copies,
        start_at=kept["start_at"],
        offset_x_mm=offset_x_mm,
        offset_y_mm=offset_y_mm,
    )
    return _imposed(bytes(run.label_pdf), order)


def _imposed(single: bytes, order: LabelOrder) -> bytes:
    return impose(
        single,
        sheet=order.sheet,
        copies=order.copies,
        start_at=order.start_at,
        offset_x_mm=order.offset_x_mm,
        offset_y_mm=order.offset_y_mm,
    )


def plain(record: Any) -> Any:
    """A record as JSON can hold it: decimals and days as text, so that nothing is lost."""
    if is_dataclass(record) and not isinstance(record, type):
        record = asdict(record)
    if isinstance(record, dict):
        return {str(key): plain(value) for key, value in record.items()}
    if isinstance(record, list | tuple):
        return [plain(value) for value in record]
    if isinstance(record, Decimal | date):
        return str(record)
    return record
