"""Pans for the tests at the stove: a damson paste and a strawberry jam, worked out by hand."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from decimal import Decimal

from costing.reckoning.book import BOIL_DOWN, BRIX, CookRecord, KitchenRecord, RecipeRecord, Solids
from costing.reckoning.stove import Event, Spreads, StovePlan

D = Decimal
NINE = datetime(2027, 10, 1, 9, 0, tzinfo=UTC)
AT_SEA = KitchenRecord(altitude_m=D(0))
# Only what the damson example states is uncertain: a checked thermometer of 0.25 K, no more.
AS_STATED = Spreads(stirring_k=D(0), model_k=D(0))


def a_plan(*, ingoing, solids, form=BRIX, stop, cook=None, **more):
    record = CookRecord(
        kind=BOIL_DOWN,
        stop_form=form,
        stop_value=D(str(stop)),
        **{"pan_residue_g": D(30), **(cook or {})},
    )
    return StovePlan(
        recipe=RecipeRecord(1, "Paste", cook=record),
        kitchen=more.pop("kitchen", AT_SEA),
        ingoing_g=D(ingoing),
        solids=solids,
        **{
            "pan_tare_g": D(1500),
            "evaporation_g_per_min": D(30),
            "water_reading_c": D("99.97"),
            **more,
        },
    )


# 2000 g puree (12.5 Brix, 1.8 % fibre), 1400 g sugar, 40 g lemon juice (8.5 Brix):
# fibre 36, fruit 0.125 x 1964 = 245.50 (15 / 75 / 10 %), juice 3.40 (0 / 30 / 70 %).
DAMSON_SOLIDS = Solids(D("1648.90"), D(36), D("1436.825"), D("185.145"), D("26.930"))


def damson(*, form=BRIX, stop=66, **more):
    return a_plan(
        ingoing=3440, solids=DAMSON_SOLIDS, form=form, stop=stop,
        fruit_soluble_g=D("245.50"), **more,
    )  # fmt: skip


def strawberry(*, stop=65, inverted_pct=0, **more):
    """1000 g berries (8.0 Brix, 2.0 % fibre) and 1000 g sugar: 78.4 + 1000 g dissolved."""
    solids = Solids(D("1078.4"), D(20), D("1011.76"), D("58.80"), D("7.84"))
    return a_plan(
        ingoing=2000, solids=solids, stop=stop, cook={"inverted_pct": D(inverted_pct)}, **more
    )


def at(minutes):
    return NINE + timedelta(minutes=minutes)


def weighed(gross, *, minutes=0, tare=1500):
    return Event("weight", D(str(gross)), at(minutes), tare_g=None if tare is None else D(tare))


def hot(reading, *, minutes=0):
    return Event("temperature", D(str(reading)), at(minutes))


def lens(reading, *, minutes=0, sample="20"):
    sample_c = None if sample is None else D(sample)
    return Event("brix", D(str(reading)), at(minutes), sample_c=sample_c)


def put_in(kind, grams, *, minutes=0):
    return Event(kind, D(str(grams)), at(minutes))


def changed(plan, **facts):
    return replace(plan, **facts)
