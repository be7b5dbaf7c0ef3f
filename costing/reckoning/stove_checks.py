"""Readings that cannot be: asked about in a sentence and left out of the sums, never refused."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from costing.physics import STANDARD_PRESSURE_PA, standard_pressure_pa
from costing.reckoning.book import KitchenRecord, Solids
from costing.reckoning.stove_plan import (
    INSTRUMENTS,
    REFRACTOMETER,
    SUGAR,
    TEMPERATURE,
    WATER,
    WEIGHT,
    Ask,
    Event,
    StovePlan,
    say,
    solids_with,
    water_reads_c,
)
from costing.units import as_float, exact

HOTTEST_C = Decimal(130)
_SEEN_C = Decimal("0.3")
_FAHRENHEIT = (Decimal(190), Decimal(266))
_HEAVIER_SHARE = Decimal("1.01")
_COLDEST_DROP_C, _WARMEST_DROP_C = Decimal(10), Decimal(30)
_THICKEST_BRIX = Decimal(85)


@dataclass(frozen=True)
class Checked:
    """Readings that can be true, and questions about those that cannot."""

    events: tuple[Event, ...]
    asks: tuple[Ask, ...]


def check(plan: StovePlan, events: Sequence[Event]) -> Checked:
    """Sort the readings of a pan in time; keep what can be, ask about the rest."""
    kept: list[Event] = []
    asks: list[Ask] = []
    for event in sorted(events, key=lambda one: one.at):
        if event.kind not in (*INSTRUMENTS, WATER, SUGAR):
            continue
        ask = _ask(plan, event, kept)
        if ask is None:
            kept.append(event)
        else:
            asks.append(ask)
    return Checked(tuple(kept), tuple(asks))


def added_g(events: Sequence[Event], kind: str) -> Decimal:
    """Grams of water or sugar put in after the start."""
    return sum((event.value for event in events if event.kind == kind), Decimal(0))


def net_g(event: Event) -> Decimal:
    """Food in the pan by a weight event."""
    return event.value - (event.tare_g or Decimal(0))


def _ask(plan: StovePlan, event: Event, before: Sequence[Event]) -> Ask | None:
    if not event.value.is_finite() or event.value <= 0:
        return Ask("That is not a figure above zero. Type it again.", "again", event)
    if event.kind == TEMPERATURE:
        return _ask_temperature(plan, event)
    if event.kind == REFRACTOMETER:
        return _ask_refractometer(event)
    if event.kind == WEIGHT:
        return _ask_weight(plan, event, before)
    return None


def _ask_temperature(plan: StovePlan, event: Event) -> Ask | None:
    water_c = water_reads_c(plan)
    value = event.value
    if _FAHRENHEIT[0] <= value <= _FAHRENHEIT[1]:
        celsius = ((value - 32) / Decimal("1.8")).quantize(Decimal("0.1"))
        return Ask(
            f"{say(value)} °C is far above any preserve. Is that Fahrenheit? It would be "
            f"{say(celsius)} °C.",
            "fahrenheit",
            event,
            replace(event, value=celsius),
        )
    if value > HOTTEST_C:
        return Ask(
            f"{say(value)} °C: above {HOTTEST_C} °C sugar browns and burns, and no preserve goes "
            "there. If it is true, take the pan off the fire now. Otherwise type it again.",
            "too hot",
            event,
        )
    if value < water_c - _SEEN_C:
        return Ask(
            f"{say(value)} °C is below boiling water, which this thermometer shows at "
            f"{say(water_c)} °C. Is the pan boiling, the tip deep in it and stirred? Nothing is "
            "told from it.",
            "below water",
            event,
        )
    return None


def _ask_refractometer(event: Event) -> Ask | None:
    if event.sample_c is not None and event.sample_c > _WARMEST_DROP_C:
        return Ask(
            f"Read at {say(event.sample_c)} °C: a hot drop shows too little, its steam too much. "
            "Cool a covered drop to 18-25 °C and read again.",
            "read hot",
            event,
        )
    if event.sample_c is not None and event.sample_c < _COLDEST_DROP_C:
        return Ask(
            f"A drop at {say(event.sample_c)} °C is colder than the correction reaches: let it "
            "come to 18-25 °C and read again.",
            "range",
            event,
        )
    if event.value > _THICKEST_BRIX:
        return Ask(
            f"{say(event.value)} Brix is above {_THICKEST_BRIX}, beyond this scale. Thin the drop "
            "with its own weight of water and double the reading.",
            "range",
            event,
        )
    return None


@dataclass(frozen=True)
class _Limits:
    solids_g: Decimal
    most_g: Decimal
    lately_g: Decimal | None

    def hold(self, mass_g: Decimal) -> bool:
        return self.solids_g < mass_g <= self.most_g and not self.is_heavier(mass_g)

    def is_heavier(self, mass_g: Decimal) -> bool:
        return self.lately_g is not None and mass_g > self.lately_g * _HEAVIER_SHARE


def _ask_weight(plan: StovePlan, event: Event, before: Sequence[Event]) -> Ask | None:
    limits = _limits(plan, before)
    net = net_g(event)
    if limits.hold(net):
        return None
    if (suggestion := _other_tare(plan, event, limits)) is not None:
        fits = say(net_g(suggestion), places=0)
        if suggestion.tare_g is None:
            sentence = (
                f"With the pan taken off, {say(event.value, places=0)} g leaves "
                f"{say(max(net, Decimal(0)), places=0)} g, less than can be. Was the scale set to "
                f"zero with the empty pan? Then there are {fits} g in it."
            )
        else:
            sentence = (
                f"{say(event.value, places=0)} g of food cannot be in this pan. Is the pan itself "
                f"in that weight ({say(suggestion.tare_g, places=0)} g)? Then there are {fits} g "
                "in it."
            )
        return Ask(sentence, "tare", event, suggestion)
    return _ask_impossible(event, net, limits)


def _limits(plan: StovePlan, before: Sequence[Event]) -> _Limits:
    sugar_g = added_g(before, SUGAR)
    most_g = (plan.ingoing_g + sugar_g + added_g(before, WATER)) * _HEAVIER_SHARE
    if plan.ingoing_g <= 0:  # nothing weighed in yet: no weight is too much
        most_g = Decimal("Infinity")
    lately_g = None
    for position, one in enumerate(before):
        if one.kind == WEIGHT:
            after = before[position + 1 :]
            lately_g = net_g(one) + added_g(after, WATER) + added_g(after, SUGAR)
    return _Limits(_dry_g(solids_with(plan, sugar_g=sugar_g)), most_g, lately_g)


def _dry_g(solids: Solids | None) -> Decimal:
    return Decimal(0) if solids is None else solids.soluble_g + solids.insoluble_g


def _other_tare(plan: StovePlan, event: Event, limits: _Limits) -> Event | None:
    """The same weight with the pan's tare taken off, or put back, where only that can be."""
    if event.tare_g is not None:
        other = replace(event, tare_g=None)
    elif plan.pan_tare_g is not None:
        other = replace(event, tare_g=plan.pan_tare_g)
    else:
        return None
    return other if limits.hold(net_g(other)) else None


def ask_doubtful_tare(
    plan: StovePlan, event: Event, before: Sequence[Event], *, fits: tuple[Decimal, Decimal]
) -> Ask | None:
    """Asks about a weight that can be, where with the pan's tare changed it would agree better.

    fits: lowest and highest food in the pan that the other instruments allow [g].
    """
    other = _other_tare(plan, event, _limits(plan, before))
    if other is None or not fits[0] <= net_g(other) <= fits[1]:
        return None
    how = "included" if event.tare_g is None else "not included"
    return Ask(
        f"{say(event.value, places=0)} g does not go with the other readings, but would with the "
        f"pan {how}: {say(net_g(other), places=0)} g in it. Is that so?",
        "tare",
        event,
        other,
    )


def _ask_impossible(event: Event, net: Decimal, limits: _Limits) -> Ask:
    here = say(net, places=0)
    if net <= limits.solids_g:
        return Ask(
            f"{here} g in the pan is no more than the {say(limits.solids_g, places=0)} g of solids "
            "that went in: no water would be left. Check the weight, the tare, the recipe and the "
            "Brix of the fruit.",
            "below solids",
            event,
        )
    if net > limits.most_g:
        most = say(limits.most_g / _HEAVIER_SHARE, places=0)
        return Ask(
            f"{here} g in the pan is more than the {most} g that went in. Is the pan in that "
            "weight, or was something put in that is not noted?",
            "above ingoing",
            event,
        )
    lately = say(limits.lately_g or Decimal(0), places=0)
    return Ask(
        f"{here} g is heavier than the {lately} g it weighed before. Was something put in? Note "
        "it; otherwise weigh again.",
        "heavier",
        event,
    )


# --- Air pressure ---------------------------------------------------------------------------------

_REPORTS_HPA = (Decimal(920), Decimal(1065))
_LOCAL_HPA = (Decimal(600), Decimal(1080))
_FLAT_M = Decimal(50)
_WEATHER_HPA = Decimal(45)


def air_pressure(
    kitchen: KitchenRecord, *, hpa: Decimal, is_local: bool = False
) -> tuple[Decimal | None, Ask | None]:
    """The sea-level pressure for `StovePlan.report_hpa`, or the question that comes first.

    hpa: as typed. is_local: the maker says it was measured in this room, not reported.
    Source: weather reports are reduced to sea level (ISO 2533:1975 for the reduction).
    """
    share = _standard_share(kitchen.altitude_m)
    here = share * Decimal("1013.25")
    low, high = _LOCAL_HPA if is_local else _REPORTS_HPA
    if is_local and kitchen.altitude_m > _FLAT_M and hpa - here > _WEATHER_HPA:
        return None, Ask(
            f"{say(hpa)} hPa in a kitchen at {say(kitchen.altitude_m)} m? There it is about "
            f"{say(here, places=0)} hPa. That looks like a weather report, which is reduced to sea "
            "level: enter it as such.",
            "pressure",
        )
    if not is_local and hpa < low and abs(hpa - here) <= _WEATHER_HPA:
        return None, Ask(
            f"{say(hpa)} hPa is too low for a weather report, which is reduced to sea level, but "
            f"fits {say(kitchen.altitude_m)} m. Was it measured in the kitchen? Then say so.",
            "pressure",
        )
    if not low <= hpa <= high or (is_local and abs(hpa - here) > 2 * _WEATHER_HPA):
        return None, Ask(
            f"{say(hpa)} hPa is not an air pressure of this place. Reports lie near 1013 hPa; or "
            "leave it empty and read your thermometer in boiling water.",
            "pressure",
        )
    return (hpa / share if is_local else hpa), None


def _standard_share(altitude_m: Decimal) -> Decimal:
    standard = standard_pressure_pa(altitude_m=as_float(altitude_m))
    return exact(standard / STANDARD_PRESSURE_PA, step="0.000001")
