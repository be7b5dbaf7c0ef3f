"""What was typed of thermometer and weather, said back: where water boils here today."""

from decimal import Decimal

from costing.forms.cook_start import StartForm
from costing.models import Kitchen
from costing.physics.air_pressure import (
    local_pressure_pa,
    standard_pressure_pa,
    water_boiling_point_c,
)
from costing.units import as_float, exact
from costing.views.recipe_words import NBSP, Pen

_PA_PER_HPA = 100
_SEA_LEVEL_HPA, _HILL_M = Decimal("1013.25"), Decimal(100)
_SEEN_K = Decimal("0.05")
_DOUBTFUL_K = Decimal(2)
"""A thermometer further out than this was held wrongly, or is broken (judgement)."""


def thermometer_words(kitchen: Kitchen, form: StartForm, *, pen: Pen) -> list[str]:
    """What a reading in water and an air pressure mean; nothing where neither was typed."""
    if not form.is_bound:
        return []
    data = getattr(form, "cleaned_data", {})
    hpa, water_c = data.get("report_hpa"), data.get("water_reading_c")
    if hpa is None and water_c is None:
        return []
    boils_c, here_hpa = _boils(kitchen, hpa)
    told = []
    boils = f"{pen.number(round(boils_c, 1), places=1)}{NBSP}°C"
    if hpa is not None:
        told.append(
            f"{_hpa(hpa, pen)} at sea level is {_hpa(here_hpa, pen)} in this kitchen: water boils"
            f" at {boils}."
        )
        told += _is_it_reduced(kitchen, hpa, pen=pen)
    if water_c is not None:
        weather = "" if hpa is not None else " in ordinary weather"
        told.append(_thermometer(water_c - boils_c, boils=f"{boils}{weather}", pen=pen))
    return told


def _thermometer(off_k: Decimal, *, boils: str, pen: Pen) -> str:
    """How far a thermometer is out, or that the reading is to be taken again."""
    shown = f"{pen.number(round(abs(off_k), 1))}{NBSP}°C"
    if abs(off_k) > _DOUBTFUL_K:
        return (
            f"Your thermometer shows {shown} {'more' if off_k > 0 else 'less'} than water boils at"
            f" here ({boils}). Was the water rolling and the tip off the bottom? If it stays so,"
            " the stop is still right on this thermometer, and on no other."
        )
    if abs(off_k) < _SEEN_K:
        return f"Your thermometer agrees with {boils}."
    return (
        f"Water here boils at {boils}; yours shows {shown} {'more' if off_k > 0 else 'less'}. The"
        " stop takes that into account."
    )


def _is_it_reduced(kitchen: Kitchen, hpa: Decimal, *, pen: Pen) -> list[str]:
    """A report that looks like a barometer of this kitchen: deep weather, or the classic slip."""
    usual_pa = float(standard_pressure_pa(altitude_m=as_float(kitchen.altitude_m)))
    usual_hpa = exact(usual_pa / _PA_PER_HPA, step="0.1")
    if kitchen.altitude_m < _HILL_M or abs(hpa - usual_hpa) > abs(hpa - _SEA_LEVEL_HPA):
        return []
    sentence = (
        f"{_hpa(hpa, pen)} at sea level is stormy weather, but {_hpa(usual_hpa, pen)} is usual on"
        " a barometer here. If that is where it comes from, say so."
    )
    return [sentence]


def _boils(kitchen: Kitchen, hpa: Decimal | None) -> tuple[Decimal, Decimal]:
    """Where water boils in the kitchen [C], and the pressure there [hPa]."""
    altitude_m = as_float(kitchen.altitude_m)
    if hpa is None:
        here_pa = float(standard_pressure_pa(altitude_m=altitude_m))
    else:
        sea_pa = as_float(hpa) * _PA_PER_HPA
        here_pa = float(local_pressure_pa(sea_level_pressure_pa=sea_pa, altitude_m=altitude_m))
    boils_c = exact(float(water_boiling_point_c(pressure_pa=here_pa)), step="0.01")
    return boils_c, exact(here_pa / _PA_PER_HPA, step="0.1")


def _hpa(hpa: Decimal, pen: Pen) -> str:
    return f"{pen.number(round(hpa, 1))}{NBSP}hPa"
