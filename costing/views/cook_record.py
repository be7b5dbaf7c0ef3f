"""The record of a batch: what went in, what was read and corrected, what came out, what it cost."""

from typing import Any

from django.http import HttpResponse
from django.shortcuts import render

from costing.models import Batch, BatchReading, Kitchen
from costing.selectors.batches import BatchPage
from costing.services.batches import against_plan, batch_cost
from costing.views.access import KitchenRequest
from costing.views.cook_keeping import setting_chapter
from costing.views.recipe_words import NBSP, NOT_PROOF, Pen
from costing.views.recipes import sees_money

_UNITS = {"temperature": "°C", "brix": "Brix"}
_BESIDE_PLAN = 0.005
"""Parts of a kilo's price smaller than this would be shown as nothing."""


def reading_in_words(row: BatchReading, *, pen: Pen) -> str:
    """A reading with its unit, as it was typed."""
    if row.kind == BatchReading.Kind.WEIGHT:
        return pen.kilos(row.value)
    return f"{pen.number(row.value)}{NBSP}{_UNITS.get(row.kind, 'g')}"


def record(request: KitchenRequest, kitchen: Kitchen, page: BatchPage) -> HttpResponse:
    """The page of a batch that is not on the fire any more."""
    pen, batch = Pen(kitchen), page.batch
    counts = {row.pk for row in page.in_force}
    context: dict[str, Any] = {
        "batch": batch,
        "figure": "" if batch.net_g is None else pen.number(batch.net_g / 1000, places=2),
        "inputs": page.inputs,
        "yields": page.yields,
        "used_in": page.used_in,
        "changes": page.changes,
        "readings": [
            (row, reading_in_words(row, pen=pen), row.pk in counts)
            for row in page.events
            if row.kind != BatchReading.Kind.STRUCK
        ],
        "measured": _measured(batch, pen=pen),
        "setting": setting_chapter(batch.recipe.kind, poured_at=batch.finished_at),
        "sees_money": sees_money(request),
        "not_proof": NOT_PROOF,
    }
    is_finished = batch.status == Batch.Status.FINISHED
    if context["sees_money"] and is_finished:
        context |= _money(batch, pen=pen)
    return render(request, "costing/cook_record.html", context)


def _measured(batch: Batch, *, pen: Pen) -> list[tuple[str, str]]:
    figures = (
        ("Food in the pan when done", batch.pot_g, "kilos"),
        ("Last temperature", batch.end_reading_c, "°C"),
        ("End Brix", batch.end_brix, "Brix"),
        ("pH", batch.ph, ""),
        ("Filled at", batch.fill_c, "°C"),
        ("In boiling water the thermometer read", batch.water_reading_c, "°C"),
        ("Somebody stood at it", batch.attended_minutes, "minutes"),
    )
    told = []
    for name, value, unit in figures:
        if value is None:
            continue
        shown = pen.kilos(value) if unit == "kilos" else f"{pen.number(value)}{NBSP}{unit}".strip()
        told.append((name, shown))
    return told


def _money(batch: Batch, *, pen: Pen) -> dict[str, Any]:
    """What a kilo cost and why it differs from the plan, for the owner only."""
    sheet = batch_cost(batch)
    parts = [
        (one.sentence, ("+" if one.per_kg > 0 else "") + pen.money(one.per_kg))
        for one in against_plan(batch)
        if abs(one.per_kg) >= _BESIDE_PLAN
    ]
    per_kg = sheet.cost_per_kg_finished
    return {
        "per_kg": "" if per_kg is None else pen.money(per_kg),
        "total": pen.money(sheet.cost_total),
        "is_complete": sheet.is_complete,
        "questions": [one.sentence for one in sheet.questions],
        "differences": parts,
    }
