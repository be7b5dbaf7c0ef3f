"""What a recipe costs: lines, labour, energy and overhead over what is left in the pan."""

from collections.abc import Iterable, Mapping
from decimal import Decimal

from costing.reckoning.book import (
    ENERGY,
    LABOUR,
    MATERIALS,
    NATURES,
    NO_COOK,
    OVERHEAD,
    WEIGHED_OUT,
    Book,
    CostedLine,
    CostSheet,
    IngredientRecord,
    LineRecord,
    MassBalance,
    Question,
    RecipeRecord,
)
from costing.reckoning.cook import Cooked, cook_pan
from costing.reckoning.errors import MassUnknown, RecipeLoop, ReckoningError
from costing.reckoning.lines import (
    HUNDRED,
    WeighedLines,
    is_bought_whole,
    line_name,
    weigh_lines,
)
from costing.reckoning.pan import PanLine, ingredient_in_pan, scaled, settled
from costing.reckoning.purchases import G_PER_KG, day_in_words

MINUTES_PER_H = Decimal(60)
_KJ_PER_KWH = Decimal(3600)
_NOTHING: Mapping[str, Decimal] = dict.fromkeys(NATURES, Decimal(0))


def cost_recipe(
    book: Book, recipe_id: int, *, known: dict[int, CostSheet] | None = None
) -> CostSheet:
    """Cost one batch of a recipe at the prices of the book's day, preparations included.

    known: sheets already worked out over the same book; it is read and added to.
    Unknown is not zero: what is not known stands in `questions`, and totals are lower bounds.
    Raises RecipeLoop for a preparation that needs itself, ReckoningError for contradictions.
    """
    return _Run(book, {} if known is None else known).sheet(recipe_id)


def cost_all(book: Book) -> dict[int, CostSheet | ReckoningError]:
    """Cost every recipe of a book, each preparation once; a faulty recipe gives its error."""
    run = _Run(book, {})
    answers: dict[int, CostSheet | ReckoningError] = {}
    for recipe_id in book.recipes:
        try:
            answers[recipe_id] = run.sheet(recipe_id)
        except ReckoningError as refused:
            answers[recipe_id] = refused
    return answers


class _Run:
    """One pass over a book: sheets already made, and the recipes now being worked out."""

    def __init__(self, book: Book, known: dict[int, CostSheet]) -> None:
        self.book = book
        self.known = known
        self.path: list[int] = []

    def sheet(self, recipe_id: int) -> CostSheet:
        found = self.known.get(recipe_id)
        if found is not None:
            return found
        if recipe_id not in self.book.recipes:
            raise ReckoningError("That recipe is not known here.", field="recipe")
        if recipe_id in self.path:
            ids = [*self.path[self.path.index(recipe_id) :], recipe_id]
            raise RecipeLoop(tuple(self.book.recipes[i].name for i in ids))
        self.path.append(recipe_id)
        try:
            made = self._make(self.book.recipes[recipe_id])
        except ReckoningError as refused:
            if not refused.recipe:
                refused.recipe = self.book.recipes[recipe_id].name
            raise
        finally:
            self.path.pop()
        self.known[recipe_id] = made
        return made

    def _make(self, recipe: RecipeRecord) -> CostSheet:
        weighed = weigh_lines(recipe, book=self.book)
        lines: list[CostedLine] = []
        pan: list[PanLine] = []
        questions = list(weighed.questions)
        for line, mass_g in zip(recipe.lines, weighed.masses_g, strict=True):
            costed, in_pan, asked = self._line(recipe, line, mass_g, base_g=weighed.base_g)
            lines.append(costed)
            questions += asked
            if in_pan is not None:
                pan.append(in_pan)
        cooked = self._cook(recipe, pan, questions)
        energy_kwh, cost_of_energy = self._energy(recipe, cooked, questions)
        breakdown = _summed(line.natures for line in lines)
        breakdown[ENERGY] += cost_of_energy
        minutes = self._minutes(recipe, questions)
        kitchen = self.book.kitchen
        for nature, about, rate in (
            (LABOUR, "labour rate", kitchen.labour_rate_per_h),
            (OVERHEAD, "overhead rate", kitchen.overhead_rate_per_h),
        ):
            if minutes > 0 and rate is None:
                questions.append(_rate_question(about))
            breakdown[nature] += minutes * (rate or Decimal(0)) / MINUTES_PER_H
        return self._assembled(
            recipe, lines, weighed, cooked, breakdown, energy_kwh=energy_kwh, questions=questions
        )

    def _assembled(
        self,
        recipe: RecipeRecord,
        lines: list[CostedLine],
        weighed: WeighedLines,
        cooked: Cooked | None,
        breakdown: dict[str, Decimal],
        *,
        energy_kwh: Decimal | None,
        questions: list[Question],
    ) -> CostSheet:
        total = sum(breakdown.values(), Decimal(0))
        balance = None if cooked is None else cooked.balance
        is_weighed = bool(lines) and all(line.used_g is not None for line in lines)
        ingoing_g = sum((line.used_g or Decimal(0) for line in lines), Decimal(0))
        return CostSheet(
            recipe=recipe,
            on=self.book.on,
            currency=self.book.kitchen.currency,
            lines=tuple(lines),
            ingoing_g=settled(ingoing_g) if is_weighed else None,
            balance=balance,
            breakdown=breakdown,
            cost_total=total,
            cost_per_kg_finished=None if balance is None else total * G_PER_KG / balance.finished_g,
            cost_per_kg_ingoing=total * G_PER_KG / ingoing_g if is_weighed else None,
            energy_kwh=energy_kwh,
            questions=tuple(dict.fromkeys(questions)),
            policy=self.book.policy,
            base_g=weighed.base_g,
            solids=None if cooked is None else cooked.solids,
        )

    # --- lines ------------------------------------------------------------------------------------

    def _line(
        self,
        recipe: RecipeRecord,
        line: LineRecord,
        mass_g: Decimal | None,
        *,
        base_g: Decimal | None,
    ) -> tuple[CostedLine, PanLine | None, tuple[Question, ...]]:
        if line.ingredient_id is None:
            return self._preparation(line, mass_g, base_g=base_g)
        ingredient = self.book.ingredients[line.ingredient_id]
        _refuse_unusable(ingredient)
        used_g = purchased_g = edible_g = mass_g
        if mass_g is not None and is_bought_whole(line):
            edible_g = mass_g * ingredient.usable_pct / HUNDRED
            # What is weighed out at the end goes in whole; the sieve takes stones and skins.
            used_g = mass_g if recipe.cook.kind == WEIGHED_OUT else edible_g
        elif mass_g is not None:
            purchased_g = mass_g * HUNDRED / ingredient.usable_pct
        price = self.book.prices.get(ingredient.id)
        cost, asked = self._material(ingredient.id, purchased_g)
        costed = CostedLine(
            line=line,
            name=ingredient.name,
            used_g=used_g,
            purchased_g=purchased_g,
            cost=cost,
            per_kg_used=cost * G_PER_KG / used_g if cost is not None and used_g else None,
            price=price,
            usable_pct=ingredient.usable_pct,
            natures={**_NOTHING, MATERIALS: cost or Decimal(0)},
            pct_of_base=used_g * HUNDRED / base_g if used_g is not None and base_g else None,
        )
        if used_g is None:
            return costed, None, asked
        return costed, ingredient_in_pan(ingredient, mass_g=used_g, edible_g=edible_g), asked

    def _material(
        self, ingredient_id: int, purchased_g: Decimal | None
    ) -> tuple[Decimal | None, tuple[Question, ...]]:
        price = self.book.prices.get(ingredient_id)
        ingredient = self.book.ingredients[ingredient_id]
        if price is not None:
            cost = None if purchased_g is None else purchased_g * price.per_kg / G_PER_KG
            return cost, ()
        if ingredient.is_water:
            return Decimal(0), ()
        question = Question(
            sentence=f"{ingredient.name}: what does a kilo cost? No price is known on "
            f"{day_in_words(self.book.on)}.",
            about="price",
            ingredient_id=ingredient_id,
            name=ingredient.name,
        )
        return None, (question,)

    def _preparation(
        self, line: LineRecord, mass_g: Decimal | None, *, base_g: Decimal | None
    ) -> tuple[CostedLine, PanLine | None, tuple[Question, ...]]:
        name = line_name(line, book=self.book)
        recipe_id = line.recipe_id if line.recipe_id is not None else -1
        made = self.sheet(recipe_id)
        natures = dict(_NOTHING)
        if made.finished_g is not None and mass_g is not None:
            share = mass_g / made.finished_g
            natures = {nature: cost * share for nature, cost in made.breakdown.items()}
        is_told = made.is_complete and made.finished_g is not None and mass_g is not None
        costed = CostedLine(
            line=line,
            name=name,
            used_g=mass_g,
            purchased_g=mass_g,
            cost=sum(natures.values(), Decimal(0)) if is_told else None,
            per_kg_used=made.cost_per_kg_finished if made.is_complete else None,
            price=None,
            usable_pct=HUNDRED,
            natures=natures,
            pct_of_base=mass_g * HUNDRED / base_g if mass_g is not None and base_g else None,
        )
        if mass_g is None:
            return costed, None, made.questions
        solids = None
        if made.solids is not None and made.finished_g is not None:
            solids = scaled(made.solids, factor=mass_g / made.finished_g)
        cautions: tuple[str, ...] = ()
        if made.balance is not None and made.recipe.cook.kind == WEIGHED_OUT:
            cautions = made.balance.cautions
        in_pan = PanLine(name, mass_g, mass_g, solids, recipe_id=recipe_id, cautions=cautions)
        return costed, in_pan, made.questions

    # --- cook, energy, time -----------------------------------------------------------------------

    def _cook(
        self, recipe: RecipeRecord, pan: list[PanLine], questions: list[Question]
    ) -> Cooked | None:
        if not recipe.lines:
            questions.append(_nothing_in(recipe))
            return None
        if len(pan) < len(recipe.lines):
            return None  # a line's mass is asked for already
        try:
            cooked = cook_pan(
                pan,
                cook=recipe.cook,
                kitchen=self.book.kitchen,
                name=recipe.name,
                recipe_id=recipe.id,
            )
        except MassUnknown as unknown:
            questions += unknown.questions
            return None
        questions += cooked.questions
        return cooked

    def _energy(
        self, recipe: RecipeRecord, cooked: Cooked | None, questions: list[Question]
    ) -> tuple[Decimal | None, Decimal]:
        if recipe.cook.kind == NO_COOK or not recipe.cook.is_heated:
            return Decimal(0), Decimal(0)
        if cooked is None or not cooked.evaporated_is_known:
            return None, Decimal(0)
        energy_kwh = heat_bill_kwh(cooked.balance, book=self.book)
        price = self.book.kitchen.energy_price_per_kwh
        if price is None:
            questions.append(_rate_question("energy price"))
            return energy_kwh, Decimal(0)
        return energy_kwh, energy_kwh * price

    def _minutes(self, recipe: RecipeRecord, questions: list[Question]) -> Decimal:
        minutes = recipe.attended_minutes
        if minutes is None:
            questions.append(
                Question(
                    sentence=f"How many minutes does someone stand at {recipe.name}?",
                    about="minutes",
                    recipe_id=recipe.id,
                    name=recipe.name,
                )
            )
            return Decimal(0)
        if minutes < 0:
            raise ReckoningError("Minutes cannot be negative.", field="attended_minutes")
        return minutes


def _refuse_unusable(ingredient: IngredientRecord) -> None:
    if not 0 < ingredient.usable_pct <= HUNDRED:
        raise ReckoningError(
            f"{ingredient.name}: {ingredient.usable_pct} % usable must be more than 0 and at "
            "most 100 %.",
            field="usable_pct",
        )


def heat_bill_kwh(balance: MassBalance, *, book: Book) -> Decimal:
    """Energy bought to heat a pan to the boil and boil water off.

    (kg in x heat capacity x degrees + kg evaporated x latent heat) / 3600 / efficiency.
    Source: heat balance; latent heat of water 2257 kJ/kg at 100 C, IAPWS-95.
    """
    kitchen = book.kitchen
    if not 0 < kitchen.hob_efficiency_pct <= HUNDRED:
        raise ReckoningError(
            "The hob passes on more than 0 and at most 100 % of its energy.",
            field="hob_efficiency_pct",
        )
    degrees = max(kitchen.boils_at_c - kitchen.start_temperature_c, Decimal(0))
    warming_kj = balance.ingoing_g / G_PER_KG * kitchen.heat_capacity_kj_per_kg_k * degrees
    boiling_kj = balance.evaporated_g / G_PER_KG * kitchen.latent_heat_kj_per_kg
    return (warming_kj + boiling_kj) / _KJ_PER_KWH * HUNDRED / kitchen.hob_efficiency_pct


def _summed(natures: Iterable[Mapping[str, Decimal]]) -> dict[str, Decimal]:
    total = dict(_NOTHING)
    for one in natures:
        for nature, cost in one.items():
            total[nature] += cost
    return total


def _nothing_in(recipe: RecipeRecord) -> Question:
    return Question(
        sentence=f"What goes into {recipe.name}? It has no lines yet.",
        about="lines",
        recipe_id=recipe.id,
        blocks="mass",
        name=recipe.name,
    )


_RATE_SENTENCES = {
    "labour rate": "What is an hour of work worth in this kitchen? Yours too, even if unpaid.",
    "overhead rate": "What overhead does an hour carry? Yearly rent, insurance and equipment over "
    "the hours you plan; 0 if you count none.",
    "energy price": "What does a kilowatt-hour cost? It is on the energy bill.",
}


def _rate_question(about: str) -> Question:
    return Question(sentence=_RATE_SENTENCES[about], about=about)
