"""What a batch really cost: its own weights and its own end, at the prices of its day."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal

from costing.models import Batch, BatchInput, BatchReading
from costing.reckoning.book import (
    NO_COOK,
    PREPARED,
    WEIGHED_OUT,
    Book,
    CookRecord,
    CostSheet,
    IngredientRecord,
    LineRecord,
    PriceRecord,
    Question,
    RecipeRecord,
)
from costing.reckoning.lines import HUNDRED, is_bought_whole
from costing.reckoning.pan import scaled
from costing.selectors.batches import (
    additions_of,
    events_in_force,
    inputs_of,
    inputs_of_all,
    still_in_force,
    thrown_away_g,
)
from costing.selectors.ingredients import ingredient_record
from costing.services.batch_plans import book_of, planned_masses
from costing.services.recipe_costs import sheet_of

NEARLY_ALL_SUGAR = Decimal(95)
THIS = -1
"""Id of the batch among the recipes of its own book; its inputs follow with -2, -3 ... No row of
the database has such an id, so a question about one is known to be ours."""


def planned_cost(book: Book, recipe_id: int) -> CostSheet:
    """What a recipe of a kept book costs by that book."""
    return sheet_of(book, recipe_id)


def cost_of_a_kilo(sheet: CostSheet) -> Decimal | None:
    """None where something is not known; eight decimals are kept."""
    if not sheet.is_complete or sheet.cost_per_kg_finished is None:
        return None
    return sheet.cost_per_kg_finished.quantize(Decimal("1e-8"))


def batch_cost(batch: Batch) -> CostSheet:
    """What a batch cost: own prices, own weights, own end; never moved by what changes later.

    What was not weighed counts as planned. What is not known stands in `questions`; before it is
    finished, the finished weight is one of them. A preparation's own batch counts with what that
    batch cost.
    """
    return what_happened(batch).sheet()


def costs_of(batches: Iterable[Batch]) -> dict[int, CostSheet]:
    """What each of many batches of one kitchen cost, in as many queries as two of them take.

    One query for what was added at the stove, one for what was thrown away, and one for the inputs
    of each level: the batches, the batches they were filled from, and so on down.
    """
    told = list(batches)
    inputs = _inputs_to_the_bottom(told)
    every = {batch.pk: batch for batch in told}
    for rows in inputs.values():
        every |= {row.from_batch.pk: row.from_batch for row in rows if row.from_batch is not None}
    events: dict[int, list[BatchReading]] = {pk: [] for pk in every}
    for event in additions_of(list(every.values())):
        events[event.batch_id].append(event)
    known: dict[int, CostSheet] = {}
    thrown_g = thrown_away_g(every.values())
    for batch in every.values():
        _cost_into(known, batch, inputs=inputs, events=events, thrown_g=thrown_g)
    return {batch.pk: known[batch.pk] for batch in told}


def _inputs_to_the_bottom(batches: Sequence[Batch]) -> dict[int, list[BatchInput]]:
    """What went into batches and into those they were filled from, by batch."""
    found: dict[int, list[BatchInput]] = {}
    level = list(batches)
    while level:
        found |= {batch.pk: [] for batch in level}
        below: dict[int, Batch] = {}
        for row in inputs_of_all(level):
            found[row.batch_id].append(row)
            if row.from_batch is not None and row.from_batch.pk not in found:
                below[row.from_batch.pk] = row.from_batch
        level = list(below.values())
    return found


def _cost_into(
    known: dict[int, CostSheet],
    batch: Batch,
    *,
    inputs: Mapping[int, Sequence[BatchInput]],
    events: Mapping[int, Sequence[BatchReading]],
    thrown_g: Mapping[int, Decimal],
) -> None:
    """Cost a batch after those it was filled from.

    This ends: only a finished batch is filled from, and nothing is put into a finished one.
    """
    if batch.pk in known:
        return
    for row in inputs[batch.pk]:
        if row.from_batch is not None:
            _cost_into(known, row.from_batch, inputs=inputs, events=events, thrown_g=thrown_g)
    in_force = still_in_force(events[batch.pk])
    happened = _happened(
        batch, inputs=inputs[batch.pk], events=in_force, sources=known, thrown_g=thrown_g
    )
    known[batch.pk] = happened.sheet()


@dataclass
class Filling:
    """Lines of a pan with whatever they need to be costed, each under a number of its own."""

    lines: list[LineRecord] = field(default_factory=list)
    ingredients: dict[int, IngredientRecord] = field(default_factory=dict)
    prices: dict[int, PriceRecord] = field(default_factory=dict)
    made: dict[int, CostSheet] = field(default_factory=dict)
    real_ids: dict[int, int] = field(default_factory=dict)
    unweighed: list[str] = field(default_factory=list)

    @property
    def ingoing_g(self) -> Decimal:
        """Everything in the pan before the fire."""
        return sum((line.amount for line in self.lines), Decimal(0))


@dataclass(frozen=True)
class Happened:
    """A batch with its plan, what was put in and what was told, read once.

    sources: what the batches it was filled from cost, by their ids. thrown_away_g: offcuts.
    """

    batch: Batch
    book: Book
    plan: RecipeRecord
    planned_g: tuple[Decimal | None, ...]
    inputs: tuple[BatchInput, ...]
    added_g: Mapping[str, Decimal]
    sources: Mapping[int, CostSheet]
    thrown_away_g: Decimal

    def sheet(self) -> CostSheet:
        """The cost of it all, as it happened."""
        filling = self.filling()
        return self.cost(filling, cook=self.cook(filling.ingoing_g), minutes=self.minutes)

    @property
    def minutes(self) -> Decimal | None:
        """Minutes somebody stood at it; as planned where nobody noted them."""
        noted = self.batch.attended_minutes
        return self.plan.attended_minutes if noted is None else noted

    def cook(self, ingoing_g: Decimal) -> CookRecord:
        """The cook as weighed: what steam took, what stayed in the pan, what is left."""
        plan, batch = self.plan.cook, self.batch
        brix = batch.end_brix
        if brix is None and plan.kind == WEIGHED_OUT:
            brix = plan.measured_brix
        ended = replace(plan, kind=WEIGHED_OUT, finished_g=batch.net_g, measured_brix=brix)
        if plan.kind == NO_COOK:
            left = ingoing_g - (batch.net_g or Decimal(0))
            return _all_told(ended, evaporated_g=Decimal(0), residue_g=left, is_heated=False)
        if plan.kind == WEIGHED_OUT:  # what is weighed in the pan is weighed before the sieve
            return (
                ended
                if batch.pot_g is None
                else replace(ended, evaporated_g=ingoing_g - batch.pot_g)
            )
        if batch.net_g is None:
            return ended
        if batch.pot_g is not None:
            residue_g = batch.pot_g - batch.net_g
            return _all_told(ended, evaporated_g=ingoing_g - batch.pot_g, residue_g=residue_g)
        came_g = batch.net_g + self.thrown_away_g
        before_g = came_g * HUNDRED / (HUNDRED - plan.handling_loss_pct)
        pot_g = (before_g + plan.pan_residue_g) * HUNDRED / (HUNDRED - plan.pan_residue_pct)
        return _all_told(ended, evaporated_g=ingoing_g - pot_g, residue_g=pot_g - batch.net_g)

    def filling(
        self, *, masses_g: Mapping[int, Decimal | None] | None = None, as_planned: bool = False
    ) -> Filling:
        """What went in, as lines. masses_g: other masses by row, for "what if it had been so".

        as_planned: solids as the plan had them, and nothing that was added at the stove.
        """
        filling = Filling()
        for number, row in enumerate(self.inputs, start=2):
            mass_g = masses_g[row.pk] if masses_g is not None else _weighed(row)
            if mass_g is None:
                filling.unweighed.append(str(row.ingredient or row.preparation))
            elif mass_g > 0:
                self._put(filling, row, -number, mass_g, as_planned=as_planned)
        if not as_planned:
            self._add(filling, first=-len(self.inputs) - 2)
        return filling

    def _put(
        self, filling: Filling, row: BatchInput, number: int, mass_g: Decimal, *, as_planned: bool
    ) -> None:
        if row.preparation_id is not None:
            filling.real_ids[number] = row.preparation_id
            filling.made[number] = self._made(row, as_planned=as_planned)
            filling.lines.append(LineRecord(mass_g, "g", recipe_id=number))
            return
        record = self.book.ingredients.get(row.ingredient_id or 0)
        if record is None and row.ingredient is not None:
            record = ingredient_record(row.ingredient)  # it was not in the plan
        if record is None:
            return
        if row.measured_brix is not None and not as_planned:
            record = replace(record, brix=row.measured_brix)
        filling.real_ids[number] = record.id
        filling.ingredients[number] = replace(record, id=number)
        if row.per_kg is not None:
            filling.prices[number] = PriceRecord(number, row.per_kg)
        state = self._state(row)
        if state != PREPARED and self.plan.cook.kind != WEIGHED_OUT:
            # Stones and skins stay out of this pan; only what is weighed out goes in whole.
            mass_g, state = mass_g * record.usable_pct / HUNDRED, PREPARED
        filling.lines.append(LineRecord(mass_g, "g", ingredient_id=number, state=state))

    def _state(self, row: BatchInput) -> str:
        if row.position >= len(self.plan.lines):
            return PREPARED
        line = self.plan.lines[row.position]
        return "as purchased" if is_bought_whole(line) else PREPARED

    def _made(self, row: BatchInput, *, as_planned: bool) -> CostSheet:
        """Of its own batch where that is known, else as the recipe was when the fire was lit."""
        by_plan = sheet_of(self.book, row.preparation_id or 0)
        if row.from_batch is None:
            return by_plan
        own = self.sources[row.from_batch.pk]
        if as_planned and own.finished_g and by_plan.finished_g and by_plan.solids is not None:
            share = own.finished_g / by_plan.finished_g
            return replace(own, solids=scaled(by_plan.solids, factor=share))
        return own

    def _add(self, filling: Filling, *, first: int) -> None:
        """Water and sugar added at the stove: water is free, sugar costs what the plan's does."""
        water_g, sugar_g = self.added_g["water"], self.added_g["sugar"]
        if water_g:
            filling.ingredients[first] = IngredientRecord(
                first, "Water added", brix=Decimal(0), is_water=True
            )
            filling.lines.append(LineRecord(water_g, "g", ingredient_id=first))
        if not sugar_g:
            return
        number = first - 1
        filling.lines.append(LineRecord(sugar_g, "g", ingredient_id=number))
        for key, record in list(filling.ingredients.items()):
            if record.brix is not None and record.brix >= NEARLY_ALL_SUGAR:
                filling.ingredients[number] = replace(record, id=number)
                filling.real_ids[number] = filling.real_ids[key]
                if key in filling.prices:
                    filling.prices[number] = replace(filling.prices[key], ingredient_id=number)
                return
        filling.ingredients[number] = IngredientRecord(
            number,
            "Sugar added",
            brix=Decimal(100),
            insoluble_pct=Decimal(0),
            sucrose_share=Decimal(1),
        )

    def cost(self, filling: Filling, *, cook: CookRecord, minutes: Decimal | None) -> CostSheet:
        """The sheet of a filling that was cooked in some way, under the ids everybody knows."""
        recipe = replace(
            self.plan,
            id=THIS,
            lines=tuple(filling.lines),
            base_g=None,
            cook=cook,
            attended_minutes=minutes,
        )
        recipes = {key: replace(made.recipe, id=key) for key, made in filling.made.items()}
        book = replace(
            self.book,
            ingredients=filling.ingredients,
            recipes={**recipes, THIS: recipe},
            prices=filling.prices,
        )
        sheet = sheet_of(book, THIS, known=dict(filling.made))
        ids = {**filling.real_ids, THIS: self.plan.id}
        questions = [_known_by(question, ids) for question in sheet.questions]
        questions += [_unweighed(name) for name in filling.unweighed]
        lines = tuple(replace(line, line=_line_known_by(line.line, ids)) for line in sheet.lines)
        kept = tuple(line.line for line in lines) or recipe.lines
        return replace(
            sheet,
            recipe=replace(recipe, id=self.plan.id, lines=kept),
            lines=lines,
            questions=tuple(questions),
        )


def what_happened(batch: Batch) -> Happened:
    """A batch read as a whole: three queries, and a fixed number for all it was filled from."""
    inputs = tuple(inputs_of(batch))
    sources = {row.from_batch.pk: row.from_batch for row in inputs if row.from_batch is not None}
    known = costs_of(sources.values()) if sources else {}
    return _happened(
        batch,
        inputs=inputs,
        events=events_in_force(batch),
        sources=known,
        thrown_g=thrown_away_g([batch]),
    )


def _happened(
    batch: Batch,
    *,
    inputs: Sequence[BatchInput],
    events: Sequence[BatchReading],
    sources: Mapping[int, CostSheet],
    thrown_g: Mapping[int, Decimal],
) -> Happened:
    book = book_of(batch.plan)
    recipe_id = batch.plan["recipe_id"]
    added = {BatchReading.Kind.WATER.value: Decimal(0), BatchReading.Kind.SUGAR.value: Decimal(0)}
    for event in events:
        if event.kind in added:
            added[event.kind] += event.value
    return Happened(
        batch=batch,
        book=book,
        plan=book.recipes[recipe_id],
        planned_g=tuple(planned_masses(book, recipe_id=recipe_id)),
        inputs=tuple(inputs),
        added_g=added,
        sources=sources,
        thrown_away_g=thrown_g.get(batch.pk, Decimal(0)),
    )


def _weighed(row: BatchInput) -> Decimal | None:
    return row.planned_g if row.weighed_g is None else row.weighed_g


def _all_told(
    cook: CookRecord, *, evaporated_g: Decimal, residue_g: Decimal, is_heated: bool | None = None
) -> CookRecord:
    """Losses as weighed, in place of the usual shares."""
    return replace(
        cook,
        evaporated_g=evaporated_g,
        pan_residue_g=residue_g,
        pan_residue_pct=Decimal(0),
        handling_loss_pct=Decimal(0),
        is_heated=cook.is_heated if is_heated is None else is_heated,
    )


def _unweighed(name: str) -> Question:
    return Question(
        sentence=f"How much {name} went in? Weigh it.", about="lines", blocks="mass", name=name
    )


def _known_by(question: Question, ids: Mapping[int, int]) -> Question:
    return replace(
        question,
        ingredient_id=_real(question.ingredient_id, ids),
        recipe_id=_real(question.recipe_id, ids),
    )


def _line_known_by(line: LineRecord, ids: Mapping[int, int]) -> LineRecord:
    return replace(
        line, ingredient_id=_real(line.ingredient_id, ids), recipe_id=_real(line.recipe_id, ids)
    )


def _real(number: int | None, ids: Mapping[int, int]) -> int | None:
    return number if number is None or number >= 0 else ids.get(number)
