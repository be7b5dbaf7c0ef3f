"""From a finished batch to the food on its labels: what really went in, over what came out."""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from decimal import Decimal

from costing.models import Batch, BatchInput, Product
from costing.reckoning.book import CostedLine, CostSheet, Question
from costing.reckoning.composition import Used, composition, kept_share, sieved_g
from costing.reckoning.errors import ReckoningError
from costing.reckoning.lines import HUNDRED, is_bought_whole
from costing.reckoning.recipes import cost_recipe
from costing.services.batch_costs import Happened, what_happened
from labels.models import QuantifiedIngredient
from labels.rulebook import INFORMATION, LOOK, Finding
from labels.services.facts import FoodFacts, Larder, as_listed, larder_of

ADDED_WATER = "water"


@dataclass(frozen=True)
class PanMade:
    """What a batch became, read once for all labels of it.

    used: what really went in; planned: the same by the recipe it was lit with, None where that
    contradicts itself. notes: what was taken as planned, or stands in place of the plan.
    """

    batch: Batch
    used: Used
    sheet: CostSheet
    questions: tuple[Question, ...]
    notes: tuple[Finding, ...]
    planned: Used | None
    planned_sheet: CostSheet | None
    larder: Larder

    @property
    def brix(self) -> Decimal | None:
        """Brix at the end, as measured; None where nobody measured."""
        return self.batch.end_brix

    @property
    def planned_brix(self) -> Decimal | None:
        """Brix the plan was to stop at."""
        balance = None if self.planned_sheet is None else self.planned_sheet.balance
        return None if balance is None else balance.finishing_brix


@dataclass
class _Opened:
    """What is gathered on the way down through the batches a pan was filled from."""

    notes: list[Finding] = field(default_factory=list)
    questions: list[Question] = field(default_factory=list)


def why_no_label(batch: Batch, product: Product) -> str:
    """Why a batch gets no label of this product; empty when it may have one."""
    if batch.kitchen_id != product.kitchen_id or batch.recipe_id != product.recipe_id:
        return (
            f"Lot {batch.lot} is {batch.recipe.name}, and {product.name} is not made of that. "
            "Choose a lot of its own recipe."
        )
    return why_no_labels(batch)


def why_no_labels(batch: Batch) -> str:
    """Why a batch gets no labels at all; empty when it may have some."""
    if batch.status == Batch.Status.ON_THE_FIRE:
        return (
            f"Lot {batch.lot} is still on the fire, so nobody knows yet what came of it. Call it "
            "done, then print its labels."
        )
    if batch.status == Batch.Status.GIVEN_UP:
        return f"Lot {batch.lot} was given up. Nothing of it is sold, so it gets no labels."
    return ""


def read_batch(batch: Batch) -> PanMade:
    """A finished batch with all that labels ask of it, through the batches it was filled from.

    Ingredients and allergens are those of what was really used, as answered today.
    """
    happened = what_happened(batch)
    opened = _Opened()
    sheet, parts = _made_of(happened, opened)
    finished_g = sheet.balance.finished_g if sheet.balance else None
    used = Used(
        None, batch.recipe_id, batch.recipe.name, finished_g, parts,
        kept_share=kept_share(sheet), sieved_g=sieved_g(sheet),
    )  # fmt: skip
    planned, planned_sheet = _planned(happened)
    if batch.pot_g is None and sheet.balance is not None:
        opened.notes.append(_pan_not_weighed(sheet.balance.pot_g))
    both = [used] if planned is None else [used, planned]
    asked = [question for question in sheet.questions if question.blocks == "mass"]
    return PanMade(
        batch=batch,
        used=used,
        sheet=sheet,
        questions=tuple(dict.fromkeys([*asked, *opened.questions])),
        notes=tuple(dict.fromkeys(opened.notes)),
        planned=planned,
        planned_sheet=planned_sheet,
        larder=larder_of(batch.kitchen, both),
    )


def food_of_batch(made: PanMade, *, quantified: Iterable[QuantifiedIngredient]) -> FoodFacts:
    """The food of a batch for a label that declares these quantities.

    The divisor of each quantity is the mass in the pan when it was done, before anything stuck
    to it: Regulation (EU) No 1169/2011, Annex VIII, point 4(a).
    """
    balance = made.sheet.balance
    return FoodFacts(
        # A line nobody weighed is missing from what was used, so that would be part of a list.
        ingredients=()
        if made.questions
        else as_listed(made.used, made.larder.declaring(quantified)),
        finished_g=balance.pot_g if balance else None,
        sheet=made.sheet,
        questions=made.questions,
        used=made.used,
        larder=made.larder,
    )


def planned_food(made: PanMade, *, quantified: Iterable[QuantifiedIngredient]) -> FoodFacts | None:
    """The food as the recipe had it when the fire was lit, to set beside what came of it."""
    if made.planned is None or made.planned_sheet is None:
        return None
    balance = made.planned_sheet.balance
    return FoodFacts(
        ingredients=as_listed(made.planned, made.larder.declaring(quantified)),
        finished_g=balance.pot_g if balance else None,
        sheet=made.planned_sheet,
        questions=(),
    )


def _planned(happened: Happened) -> tuple[Used | None, CostSheet | None]:
    known: dict[int, CostSheet] = {}
    try:
        sheet = cost_recipe(happened.book, happened.plan.id, known=known)
        return composition(happened.book, happened.plan.id, known=known), sheet
    except ReckoningError:
        return None, None


def _made_of(happened: Happened, opened: _Opened) -> tuple[CostSheet, tuple[Used, ...]]:
    """What went into a pan, each line opened down to its ingredients."""
    filling = happened.filling()
    sheet = happened.cost(filling, cook=happened.cook(filling.ingoing_g), minutes=happened.minutes)
    parts = []
    for own, costed in zip(filling.lines, sheet.lines, strict=True):
        # Each line stands under a number of its own: -2 for the first input, and so on.
        index = -2 - (own.ingredient_id or own.recipe_id or 0)
        row = happened.inputs[index] if 0 <= index < len(happened.inputs) else None
        if row is None:
            parts += _added(happened, costed, opened, is_water=index == len(happened.inputs))
            continue
        _note(happened, row, opened)
        parts.append(_part(happened, row, costed, opened))
    opened.notes += filter(None, [_as_planned(happened)])
    return sheet, tuple(parts)


def _part(happened: Happened, row: BatchInput, costed: CostedLine, opened: _Opened) -> Used:
    used_g = _edible_g(costed)
    if row.preparation_id is None:
        return Used(row.ingredient_id, None, costed.name, used_g)
    if row.from_batch is not None:
        source, inside = _made_of(what_happened(row.from_batch), opened)
        whole_g, kept, sieved = source.finished_g, kept_share(source), sieved_g(source)
    else:
        planned = composition(happened.book, row.preparation_id)
        inside, whole_g, kept = planned.parts, planned.used_g, planned.kept_share
        sieved = planned.sieved_g
        opened.notes.append(_no_batch_named(row))
    share = None if used_g is None or not whole_g else used_g / whole_g
    parts = _times(inside, share)
    return Used(None, row.preparation_id, costed.name, used_g, parts, kept, sieved)


def _edible_g(costed: CostedLine) -> Decimal | None:
    """Without what the sieve keeps back of something that went in whole."""
    if is_bought_whole(costed.line) and costed.purchased_g is not None:
        return costed.purchased_g * costed.usable_pct / HUNDRED
    return costed.used_g


def _times(parts: Iterable[Used], share: Decimal | None) -> tuple[Used, ...]:
    return tuple(
        replace(
            part,
            used_g=None if part.used_g is None or share is None else part.used_g * share,
            parts=_times(part.parts, share),
        )
        for part in parts
    )


def _added(
    happened: Happened, costed: CostedLine, opened: _Opened, *, is_water: bool
) -> list[Used]:
    """Water and sugar added at the stove; sugar must be one that the pan already holds."""
    if is_water:
        return [Used(None, None, ADDED_WATER, costed.used_g)]
    if costed.line.ingredient_id is not None:
        return [Used(costed.line.ingredient_id, None, costed.name, costed.used_g)]
    opened.questions.append(
        Question(
            sentence=f"Which sugar was added at the stove to lot {happened.batch.lot}? Nothing "
            "that went in is known to be sugar, so its name and its allergens are not known.",
            about="lines",
            blocks="mass",
            recipe_id=happened.batch.recipe_id,
            name="Sugar added",
        )
    )
    return []


# --- What the maker should know about where a figure comes from -----------------------------------


def _note(happened: Happened, row: BatchInput, opened: _Opened) -> None:
    if _is_instead(happened, row):
        name, lot = row.ingredient or row.preparation, happened.batch.lot
        opened.notes.append(
            Finding(
                message=f"Lot {lot}: {name} was not in the plan. It is listed, and its allergens "
                "count.",
                hint="Nothing to do if it really went in.",
                level=INFORMATION,
                where="ingredients",
            )
        )


def _as_planned(happened: Happened) -> Finding | None:
    """Lines whose weight nobody put down, in one sentence; those with no weight at all are asked
    for instead.
    """
    names = [
        str(row.ingredient or row.preparation)
        for row in happened.inputs
        if row.weighed_g is None and row.planned_g is not None
    ]
    if not names:
        return None
    listed = " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))
    what = "it counts" if len(names) == 1 else "they count"
    return Finding(
        message=f"Lot {happened.batch.lot}: nobody put down the weight of {listed}, so {what} as "
        "planned.",
        hint="If it was weighed, correct the record: the share and the order of the list follow "
        "from it.",
        level=LOOK,
        where="quid",
    )


def _is_instead(happened: Happened, row: BatchInput) -> bool:
    """Whether something else than the plan's line went in, or something beside the plan."""
    if row.position >= len(happened.plan.lines):
        return True
    line = happened.plan.lines[row.position]
    return (row.ingredient_id, row.preparation_id) != (line.ingredient_id, line.recipe_id)


def _no_batch_named(row: BatchInput) -> Finding:
    return Finding(
        message=f"From which batch of {row.preparation} it was filled is not noted, so the recipe "
        "of that day counts for what is in it.",
        hint="Name the batch when you fill a pan: then its own weights count.",
        level=LOOK,
        where="quid",
    )


def _pan_not_weighed(pot_g: Decimal) -> Finding:
    return Finding(
        message=f"The pan was not weighed when it was done. {pot_g / 1000:.2f} kg is reckoned from "
        "what was filled and what usually stays behind.",
        hint="Weigh the pan before you fill: every share on the label is divided by that mass.",
        level=LOOK,
        where="finished_g",
    )
