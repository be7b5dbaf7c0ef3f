"""The stove: a drawn cook and its curve against bare numpy, an answer to a reading against none."""

import uuid
from collections.abc import Mapping
from datetime import date, datetime, timedelta
from decimal import Decimal
from pathlib import Path

from django.http import HttpResponse
from django.test import Client, override_settings
from django.urls import path, reverse
from django.utils import timezone

from costing.models import Kitchen
from costing.physics import (
    FRUIT,
    PRESERVE,
    Composition,
    Normal,
    StopAtTemperature,
    Triangular,
    UncertainCook,
    UncertainFruit,
    cook_down_curve,
    draw_cook,
)
from costing.services.batches import start_batch
from costing.views.access import KitchenRequest, kitchen_view
from costing.views.cook_stove import BY_SCRIPT
from costing.views.menu import COOK
from producer.benchmarks.cook_floor import BareCook, bare_bands, bare_curve
from producer.benchmarks.made_up_kitchen import make_kitchen
from producer.benchmarks.reporting import Table, in_ms, in_ratio, verdict
from producer.benchmarks.throwaway_database import fresh_database, using
from producer.benchmarks.timing import Maker, Work, always, medians_ms, repeated
from producer.urls import urlpatterns as of_the_site

MOST_RATIO = 2.0
DRAWS, POINTS = 10_000, 200
SEED = 20_260_302
_FIRST_C = Decimal("100.5")


def _shares(composition: Composition) -> tuple[float, float, float]:
    return float(composition.sucrose), float(composition.hexose), float(composition.acid)


# 2000 g of damson puree, 1400 g of sugar and 40 g of water, to a reading of 104.8 C.
BARE = BareCook(
    ingoing_g=3440.0, fruit_g=2000.0, fruit_brix=(11.0, 12.5, 14.0),
    fruit_fibre_pct=(1.2, 1.8, 2.4), fruit_shares=_shares(FRUIT),
    sucrose_g=1400.0, inverted_share=(0.10, 0.25, 0.45), pan_loss_g=(15.0, 30.0, 60.0),
    temperature_c=(104.8, 0.25), pressure_pa=(101_325.0, 800.0),
)  # fmt: skip
COOK_DRAWN = UncertainCook(
    ingoing_g=BARE.ingoing_g,
    fruits=(
        UncertainFruit(
            mass_g=BARE.fruit_g,
            brix=Triangular(*BARE.fruit_brix),
            insoluble_pct=Triangular(*BARE.fruit_fibre_pct),
        ),
    ),
    sucrose_g=BARE.sucrose_g,
    inverted_share=Triangular(*BARE.inverted_share),
    pan_loss_g=Triangular(*BARE.pan_loss_g),
    stop=StopAtTemperature(Normal(*BARE.temperature_c), Normal(*BARE.pressure_pa)),
)
_SOLUBLE_G, _FIBRE_G, _STOP_BRIX, _PRESSURE_PA = 1667.81, 36.0, 66.0, 101_325.0


@kitchen_view(COOK)
def nothing(_request: KitchenRequest, _kitchen: Kitchen) -> HttpResponse:
    """Let somebody of the kitchen in, and answer with nothing."""
    return HttpResponse()


urlpatterns = [*of_the_site, path("k/<int:kitchen_id>/nothing/", nothing, name="nothing")]


def cook_tables(folder: Path, *, on: date, is_quick: bool) -> list[Table]:
    """Ratios of the band and the curve of a cook, and of the answer to a reading."""
    return [_physics(is_quick=is_quick), _answers(folder, on=on, is_quick=is_quick)]


def curve() -> object:
    """The curve of the damson paste, as the stove page asks for it."""
    return cook_down_curve(
        ingoing_g=BARE.ingoing_g, soluble_solids_g=_SOLUBLE_G, insoluble_solids_g=_FIBRE_G,
        finishing_brix=_STOP_BRIX, pressure_pa=_PRESSURE_PA, composition=PRESERVE, points=POINTS,
    )  # fmt: skip


def floor_of_the_curve() -> object:
    """The same curve, bare."""
    return bare_curve(
        ingoing_g=BARE.ingoing_g, soluble_g=_SOLUBLE_G, fibre_g=_FIBRE_G,
        finishing_brix=_STOP_BRIX, pressure_pa=_PRESSURE_PA,
        shares=_shares(PRESERVE), points=POINTS,
    )  # fmt: skip


def _physics(*, is_quick: bool) -> Table:
    times, rounds = (2, 3) if is_quick else (20, 25)
    works: Mapping[str, tuple[Work, Work]] = {
        f"{DRAWS} draws of a cook, with the bands of seven figures": (
            lambda: draw_cook(COOK_DRAWN, seed=SEED, draws=DRAWS).summary(),
            lambda: bare_bands(BARE, seed=SEED, draws=DRAWS),
        ),
        f"curve of a cook, {POINTS} points": (curve, floor_of_the_curve),
    }
    rows = []
    for name, pair in works.items():
        found = medians_ms(*(always(repeated(work, times)) for work in pair), rounds=rounds)
        ours, floor = (time_ms / times for time_ms in found)
        rows.append((name, in_ratio(ours, floor), verdict(is_met=ours <= MOST_RATIO * floor),
                     in_ms(ours), in_ms(floor)))  # fmt: skip
    return Table(
        "A cook drawn many times and along its curve, against the same sums in bare numpy",
        ("what", "ratio", "goal", "ours", "floor"),
        tuple(rows),
        (
            f"Goal: at most {MOST_RATIO:g} x. Floor: the same draws, the same equations solved to",
            "the same figures, over whole arrays; no range is checked and nothing is held.",
        ),
    )


def _answers(folder: Path, *, on: date, is_quick: bool) -> Table:
    rounds = 3 if is_quick else 25
    with (
        # The site's own settings, but for what keeps a browser of no host and no HTTPS out.
        override_settings(
            ALLOWED_HOSTS=["testserver"], SECURE_SSL_REDIRECT=False, DEBUG=False,
            ROOT_URLCONF=__name__,
        ),
        using(fresh_database(folder, "cooks")),
    ):  # fmt: skip
        made = make_kitchen(recipes=10, on=on)
        lit = timezone.now() - timedelta(hours=2)
        batch = start_batch(
            made.recipe, by=made.owner, on=on, started_at=lit, water_reading_c=Decimal("99.8")
        )
        client = Client()
        client.force_login(made.owner)
        stove = reverse("cook", args=[made.kitchen.pk, batch.pk])
        events = reverse("cook_event", args=[made.kitchen.pk, batch.pk])
        empty = reverse("nothing", args=[made.kitchen.pk])
        whats = {
            "answer to a reading, by script": _readings(client, events, since=lit),
            "the stove page, opened": always(lambda: _fetched(client, stove)),
        }
        times_ms = medians_ms(
            always(lambda: _fetched(client, empty)), *whats.values(), rounds=rounds
        )
    floor_ms, *found_ms = times_ms
    return Table(
        f"The server's answer at the stove, over {rounds} readings, against an empty view",
        ("what", "ratio", "answer", "empty view"),
        tuple(
            (what, in_ratio(ms, floor_ms), in_ms(ms), in_ms(floor_ms))
            for what, ms in zip(whats, found_ms, strict=True)
        ),
        (
            "Empty view: the same person let into the same kitchen, and nothing rendered. An",
            "answer keeps the reading, with its audit row, works out the panel again and draws it.",
        ),
    )


def _fetched(client: Client, address: str) -> object:
    """Fetch a page. Raises: RuntimeError unless it is there."""
    answer = client.get(address)
    if answer.status_code != 200:
        raise RuntimeError(f"{address} answered {answer.status_code}, so it was not measured.")
    return answer


def _readings(client: Client, address: str, *, since: datetime) -> Maker:
    """The work of entering one more reading, each a little hotter and later than the last."""

    def maker(number: int) -> Work:
        said = {
            "kind": "temperature",
            "value": f"{_FIRST_C + Decimal(number) / 10}",
            "key": uuid.uuid4().hex,
            "read_at": (since + timedelta(minutes=number + 1)).strftime("%Y-%m-%dT%H:%M:%S.%f%z"),
        }

        def enter() -> None:
            answer = client.post(address, said, headers={"X-Requested-With": BY_SCRIPT})
            if answer.status_code != 200:
                raise RuntimeError(f"The reading was refused: {answer.content.decode()[:300]}")

        return enter

    return maker
