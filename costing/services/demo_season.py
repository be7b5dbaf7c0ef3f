"""The demo kitchen's season at the stove, told the way a maker would tell it: pan by pan."""

from collections.abc import Mapping, Sequence
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from uuid import NAMESPACE_URL, uuid5

from django.contrib.auth.models import AbstractBaseUser
from django.utils import timezone

from costing.models import Batch, Ingredient, Kitchen, Mould, Pan, Product, Recipe, Supplier
from costing.selectors.moulds import moulds_of
from costing.selectors.recipes import current_version
from costing.services.batches import (
    InputGiven,
    YieldGiven,
    correct_event,
    finish_batch,
    give_up,
    note_event,
    start_batch,
)
from costing.services.pans import save_pan
from costing.services.rookfold_season import COOKS, ON_THE_FIRE, PANS, TRAY, Cook, Filled

GRAMS = Decimal(1000)
USUAL_HOUR = time(12)


class Season:
    """The demo kitchen while its cooks are entered. shift: from the season's days to the demo's."""

    def __init__(
        self,
        kitchen: Kitchen,
        *,
        people: Mapping[str, AbstractBaseUser],
        suppliers: Mapping[str, Supplier],
        ingredients: Mapping[str, Ingredient],
        recipes: Mapping[str, Recipe],
        products: Mapping[str, Product],
    ) -> None:
        self.kitchen = kitchen
        self.people = people
        self.suppliers = suppliers
        self.ingredients = ingredients
        self.recipes = recipes
        self.products = products
        self.pans: dict[str, Pan] = {}
        self.tray: Mould | None = None
        self.batches: dict[str, Batch] = {}
        self.places: dict[str, Mapping[tuple[str, int], int]] = {}

    def load(self, *, on: date, shift: timedelta, at: datetime | None = None) -> None:
        """Enter pans and cooks; one pan is left on the fire, lit a while before `at`."""
        owner = next(iter(self.people.values()))
        for name, values in PANS.items():
            self.pans[name] = save_pan(
                self.kitchen, by=owner, values={"name": name, **_figures(values)}
            )
        self.tray = moulds_of(self.kitchen).get(name=TRAY)
        for cook in COOKS:
            day = cook.day + shift
            self._cook(cook, on=day, started_at=_aware(day, cook.at))
        lit = (at or _aware(on, USUAL_HOUR)) - timedelta(minutes=ON_THE_FIRE.minutes)
        self._cook(ON_THE_FIRE, on=on, started_at=lit.replace(second=0, microsecond=0))

    def _cook(self, cook: Cook, *, on: date, started_at: datetime) -> None:
        by = self.people[cook.by]
        batch = start_batch(
            self.recipes[cook.dish],
            by=by,
            on=on,
            started_at=started_at,
            pan=self.pans[cook.pan],
            lot=_lot(cook, on=on),
            water_reading_c=Decimal(cook.water_c) if cook.water_c else None,
            inputs=self._inputs(cook),
        )
        self.batches[cook.key] = batch
        self._read(batch, cook, by=by)
        if cook.given_up:
            give_up(batch, by=by, reason=cook.given_up)
        elif cook.end:
            self._finish(batch, cook, by=by)

    def _inputs(self, cook: Cook) -> list[InputGiven]:
        """Lines in the order of the recipe; what is not named is left as planned."""
        lines = list(
            self.recipes[cook.dish].versions.get(is_current=True).lines.order_by("position")
        )
        places: dict[int | tuple[str, int | None], int] = {}
        for number, line in enumerate(lines):
            places["ingredient", line.ingredient_id] = number
            places["recipe", line.preparation_id] = number
        return [self._input(one, places) for one in cook.inputs]

    def _input(self, one: Filled, places: Mapping[int | tuple[str, int | None], int]) -> InputGiven:
        own = self.ingredients.get(one.of)
        key = ("ingredient", own.pk) if own else ("recipe", self.recipes[one.of].pk)
        return InputGiven(
            position=places[key],
            weighed_g=Decimal(one.kg) * GRAMS,
            from_batch=self.batches[one.batch] if one.batch else None,
            supplier=self.suppliers[one.supplier] if one.supplier else None,
            supplier_lot=one.lot,
        )

    def _read(self, batch: Batch, cook: Cook, *, by: AbstractBaseUser) -> None:
        tare_g = self.pans[cook.pan].tare_g
        for number, (minute, kind, value) in enumerate(cook.readings):
            read_at = batch.started_at + timedelta(minutes=minute)
            event = note_event(
                batch,
                by=by,
                kind=kind,
                value=Decimal(value),
                key=_key(cook, number),
                read_at=read_at,
                tare_g=tare_g if kind == "weight" else None,
            )
            if number in cook.corrected:
                right, reason = cook.corrected[number]
                correct_event(
                    event, by=by, value=Decimal(right), reason=reason, key=_key(cook, 100 + number)
                )

    def _finish(self, batch: Batch, cook: Cook, *, by: AbstractBaseUser) -> None:
        yields: Sequence[YieldGiven] = [
            *(YieldGiven(product=self.products[name], units=units) for name, units in cook.units),
            *(YieldGiven(mass_g=Decimal(kg) * GRAMS, what=what) for what, kg in cook.kept),
        ]
        poured = {"mould": self.tray, "moulds_filled": cook.trays} if cook.trays else {}
        told = {"attended_minutes": Decimal(cook.minutes), **cook.words, **poured}
        finish_batch(
            batch,
            by=by,
            finished_at=batch.started_at + timedelta(minutes=cook.minutes),
            values=_figures(cook.end) | told,
            yields=yields,
        )


def _places(recipe: Recipe) -> dict[tuple[str, int], int]:
    """Which line of a recipe holds an ingredient or a preparation."""
    places = {}
    for number, line in enumerate(current_version(recipe).lines.order_by("position", "pk")):
        if line.ingredient_id is not None:
            places["ingredient", line.ingredient_id] = number
        elif line.preparation_id is not None:
            places["recipe", line.preparation_id] = number
    return places


def _lot(cook: Cook, *, on: date) -> str:
    """This kitchen writes the letters of what it sells, the year and the day: DC-27248."""
    return f"{cook.key.split('-')[0]}-{on:%y}{on.timetuple().tm_yday:03d}"


def _figures(values: Mapping[str, str]) -> dict[str, Decimal]:
    return {name: Decimal(value) for name, value in values.items()}


def _aware(day: date, at: time) -> datetime:
    return timezone.make_aware(datetime.combine(day, at))


def _key(cook: Cook, number: int) -> str:
    """The mark a device would have made, the same at every loading."""
    return str(uuid5(NAMESPACE_URL, f"{cook.key}/{number}"))
