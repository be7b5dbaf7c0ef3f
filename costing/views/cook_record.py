"""The record of a batch: what went in, what was read and corrected, what came out, what it cost."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal
from typing import Any

from django.http import HttpResponse
from django.shortcuts import render

from costing.models import Batch, BatchReading, Kitchen
from costing.product_kinds import LOW_ACID
from costing.reckoning.book import CostSheet
from costing.reckoning.coming_out import LOW_ACID_PH
from costing.reckoning.stove import Event, curve
from costing.selectors.batch_corrections import Change, corrections_of
from costing.selectors.batches import BatchPage
from costing.selectors.kitchens import people
from costing.selectors.moulds import moulds_of
from costing.services.batch_costs import Happened, what_happened
from costing.services.batch_differences import Beside, beside_plan, differences
from costing.services.batch_stove import stove_plan
from costing.services.batches import planned_cost
from costing.views.access import KitchenRequest
from costing.views.cook_curve import curve_picture
from costing.views.cook_keeping import setting_chapter
from costing.views.cook_waterfall import waterfall_picture
from costing.views.recipe_words import NBSP, NOT_PROOF, Pen
from costing.views.recipes import sees_money

_UNITS = {"temperature": "°C", "brix": "Brix"}
_LATE = timedelta(minutes=1)
"""A reading that reached us later than this after it was read is told with both times."""
_BESIDE = {
    "ingoing": ("Went in", "kilos"),
    "evaporated": ("Boiled off", "kilos"),
    "pot": ("In the pan when done", "kilos"),
    "finished": ("Finished", "kilos"),
    "yield": ("Finished of what went in", "percent"),
    "brix": ("End Brix", "number"),
    "minutes": ("Minutes at the pan", "number"),
    "cost": ("A kilo costs", "money"),
}
_CALLED = {
    "net_g": "Finished", "pot_g": "Food in the pan", "end_brix": "End Brix",
    "end_reading_c": "Last temperature, °C", "ph": "pH", "fill_c": "Filled at, °C",
    "attended_minutes": "Minutes at the pan", "texture": "Set and texture", "taste": "Taste",
    "deviations": "What was different", "mould": "Mould", "moulds_filled": "Moulds filled",
    "cooked_by": "Cooked by", "inputs": "What went in", "yields": "What it became",
    "water_reading_c": "Boiling water, °C",
}  # fmt: skip


@dataclass(frozen=True)
class ReadingRow:
    """One event for the page. received: when it reached us, where that was later."""

    row: BatchReading
    words: str
    counts: bool
    received: datetime | None


def reading_in_words(row: BatchReading, *, pen: Pen) -> str:
    """A reading with its unit, as it was typed."""
    if row.kind == BatchReading.Kind.WEIGHT:
        return pen.kilos(row.value)
    return f"{pen.number(row.value)}{NBSP}{_UNITS.get(row.kind, 'g')}"


def record(request: KitchenRequest, kitchen: Kitchen, page: BatchPage) -> HttpResponse:
    """The page of a batch that is not on the fire any more."""
    pen, batch = Pen(kitchen), page.batch
    is_finished = batch.status == Batch.Status.FINISHED
    readings = _readings(page, pen=pen)
    context: dict[str, Any] = {
        "batch": batch,
        "figure": "" if batch.net_g is None else pen.number(batch.net_g / 1000, places=2),
        "is_finished": is_finished,
        "inputs": page.inputs,
        "yields": page.yields,
        "used_in": page.used_in,
        "corrections": _corrections(kitchen, page, pen=pen),
        "readings": readings,
        "all_at_once": _all_at_once(readings),
        "measured": _measured(batch, pen=pen),
        "low_acid": LOW_ACID if batch.ph is not None and batch.ph > LOW_ACID_PH else "",
        "picture": _curve(page, pen=pen),
        "setting": setting_chapter(batch.recipe.kind, poured_at=batch.finished_at),
        "sees_money": sees_money(request),
        "not_proof": NOT_PROOF,
    }
    if is_finished:
        context |= _against_plan(batch, pen=pen, with_money=context["sees_money"])
    return render(request, "costing/cook_record.html", context)


def _readings(page: BatchPage, *, pen: Pen) -> list[ReadingRow]:
    counts = {row.pk for row in page.in_force}
    return [
        ReadingRow(
            row=row,
            words=reading_in_words(row, pen=pen),
            counts=row.pk in counts,
            received=row.received_at if row.received_at - row.read_at > _LATE else None,
        )
        for row in page.events
    ]


def _all_at_once(readings: Sequence[ReadingRow]) -> datetime | None:
    """When everything reached us, where it came together later: a copy from paper, as a rule."""
    times = [one.received for one in readings if one.received is not None]
    if not times or len(times) < len(readings) or max(times) - min(times) > _LATE:
        return None
    return max(times)


def _curve(page: BatchPage, *, pen: Pen) -> Any:
    """The cook as it went, where there is something to draw it by."""
    events = [
        Event(
            kind=row.kind, value=row.value, at=row.read_at, tare_g=row.tare_g,
            sample_c=row.sample_c,
        )
        for row in page.in_force
    ]  # fmt: skip
    return curve_picture(curve(stove_plan(page.batch), events), pen=pen)


def _measured(batch: Batch, *, pen: Pen) -> list[tuple[str, str]]:
    """What does not stand beside the plan."""
    figures = (
        ("Last temperature", batch.end_reading_c, "°C"),
        ("pH", batch.ph, ""),
        ("Filled at", batch.fill_c, "°C"),
        ("In boiling water the thermometer read", batch.water_reading_c, "°C"),
        ("Air pressure at sea level", batch.report_hpa, "hPa"),
    )
    told = [
        (name, f"{pen.number(value)}{NBSP}{unit}".strip())
        for name, value, unit in figures
        if value is not None
    ]
    if batch.mould is not None and batch.moulds_filled is not None:
        told.append((f"Filled, {batch.mould.name}", f"{batch.moulds_filled}"))
    return told


# --- Beside the plan ------------------------------------------------------------------------------


def _against_plan(batch: Batch, *, pen: Pen, with_money: bool) -> dict[str, Any]:
    """Planned and actual side by side; what a kilo cost, and why, for the owner only."""
    happened = what_happened(batch)
    planned, actual = planned_cost(happened.book, happened.plan.id), happened.sheet()
    ingoing_g = happened.filling().ingoing_g
    rows = beside_plan(batch, planned=planned, actual=actual, ingoing_g=ingoing_g)
    shown = [row for row in rows if with_money or row.kind != "cost"]
    told = {"beside": _beside(shown, pen=pen)}
    return told | _money(happened, planned, actual, pen=pen) if with_money else told


def _beside(rows: Sequence[Beside], *, pen: Pen) -> list[tuple[str, str, str]]:
    """Name, planned and actual, without rows of which nobody knows anything."""
    told = []
    for row in rows:
        name, way = _BESIDE[row.kind]
        was, is_now = (_figure(value, way, pen=pen) for value in (row.planned, row.actual))
        if was or is_now:
            told.append((name, was, is_now))
    return told


def _figure(value: Decimal | None, way: str, *, pen: Pen) -> str:
    if value is None:
        return ""
    if way == "kilos":
        return pen.kilos(value)
    if way == "percent":
        return pen.percent(value, places=1)
    return pen.money(value) if way == "money" else pen.number(round(value, 1))


def _money(
    happened: Happened, planned: CostSheet, actual: CostSheet, *, pen: Pen
) -> dict[str, Any]:
    per_kg, plans = actual.cost_per_kg_finished, planned.cost_per_kg_finished
    steps = None
    if plans is not None:
        steps = waterfall_picture(differences(happened), planned=plans, pen=pen)
    return {
        "per_kg": "" if per_kg is None else pen.money(per_kg),
        "total": pen.money(actual.cost_total),
        "is_complete": actual.is_complete,
        "questions": [one.sentence for one in actual.questions],
        "steps": steps,
    }


# --- Corrections ----------------------------------------------------------------------------------


def _corrections(kitchen: Kitchen, page: BatchPage, *, pen: Pen) -> list[dict[str, Any]]:
    """What was put right, oldest first: who, when, why, and each figure before and after."""
    found = corrections_of(page.changes)
    names = _names(kitchen) if found else {}
    return [
        {
            "by": one.by,
            "at": one.at,
            "reason": one.reason,
            "changes": [
                (
                    _CALLED.get(change.field, change.field),
                    _written(change, change.old, names=names, pen=pen),
                    _written(change, change.new, names=names, pen=pen),
                )
                for change in one.changes
            ],
        }
        for one in found
    ]


def _names(kitchen: Kitchen) -> dict[tuple[str, str], str]:
    """What the history keeps by number, by the names of today."""
    moulds = {("mould", str(one.pk)): one.name for one in moulds_of(kitchen, with_archived=True)}
    cooks = {("cooked_by", str(one.user_id)): one.user.get_username() for one in people(kitchen)}
    return moulds | cooks


def _written(change: Change, value: str, *, names: dict[tuple[str, str], str], pen: Pen) -> str:
    """A figure of the history as the page writes figures."""
    if not value:
        return "nothing"
    if change.field in ("net_g", "pot_g"):
        return pen.mass(Decimal(value))
    if change.field == "mould":
        return names.get((change.field, value), "a mould")
    if change.field == "cooked_by":
        return names.get((change.field, value), "somebody who does not work here any more")
    return value
