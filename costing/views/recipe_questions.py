"""What is not known of a cost, said where it bites, with the place that answers it."""

from dataclasses import dataclass
from decimal import Decimal

from django.urls import reverse

from costing.models import Kitchen
from costing.reckoning.book import CostSheet, Question
from costing.views.recipe_words import Pen

_HUNDRED = Decimal(100)
_KITCHEN_ASKS = {"labour rate", "overhead rate", "energy price"}
OF_MONEY = {"price"} | _KITCHEN_ASKS


@dataclass(frozen=True)
class Asked:
    """A question as the page shows it: the sentence, and where it is answered."""

    sentence: str
    url: str = ""


def asked(
    questions: tuple[Question, ...],
    *,
    kitchen: Kitchen,
    sees_money: bool,
    here: int | None = None,
) -> list[Asked]:
    """Questions with the place that answers each; those about money only for who may see it.

    here: the recipe that is being edited, whose own questions are answered on the page itself.
    """
    return [
        Asked(question.sentence, _answered_at(question, kitchen=kitchen, here=here))
        for question in questions
        if sees_money or question.about not in OF_MONEY
    ]


def _answered_at(question: Question, *, kitchen: Kitchen, here: int | None) -> str:
    if question.about in _KITCHEN_ASKS:
        return reverse("kitchen", args=[kitchen.pk])
    if question.ingredient_id is not None:
        name = "price_new" if question.about == "price" else "ingredient_edit"
        return reverse(name, args=[kitchen.pk, question.ingredient_id])
    if question.recipe_id is None or question.recipe_id == here:
        return ""
    return reverse("recipe_edit", args=[kitchen.pk, question.recipe_id])


def missing_in_words(sheet: CostSheet, *, pen: Pen) -> str:
    """What the bound means: "Two prices are missing, so this is at least 8.20 a kilo."."""
    if sheet.is_complete:
        return ""
    if any(question.about == "contradiction" for question in sheet.questions):
        return "Two figures contradict each other, so what a kilo costs cannot be told."
    prices = len(sheet.unpriced)
    others = len(sheet.questions) - sum(one.about == "price" for one in sheet.questions)
    parts = [_counted(prices, "price is missing", "prices are missing")] if prices else []
    if others:
        word = ("other " if prices else "") + "thing"
        parts.append(_counted(others, f"{word} is not known", f"{word}s are not known"))
    said = " and ".join(parts)
    said = said[:1].upper() + said[1:]
    if sheet.cost_per_kg_finished is None:
        return f"{said}, so what a kilo costs cannot be told yet."
    return f"{said}, so this is at least {pen.money(sheet.cost_per_kg_finished)} a kilo."


_FEW = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")


def _counted(count: int, one: str, many: str) -> str:
    number = _FEW[count] if count < len(_FEW) else str(count)
    return f"{number} {one if count == 1 else many}"


def forgotten_water(sheet: CostSheet, *, pen: Pen) -> str:
    """What a kilo would seem to cost to whoever divides by what went in."""
    low, true = sheet.cost_per_kg_ingoing, sheet.cost_per_kg_finished
    if low is None or true is None or sheet.ingoing_g is None or sheet.balance is None:
        return ""
    if true <= 0 or sheet.balance.finished_g >= sheet.ingoing_g:
        return ""
    off = (true - low) * _HUNDRED / true
    gone = "the water that boils off" if sheet.balance.evaporated_g > 0 else "what is lost"
    if sheet.balance.sieved_out_g > 0:
        gone = "what boils off and what the sieve keeps"
    bound = "" if sheet.is_complete else "at least "
    return (
        f"Divided by the {pen.kilos(sheet.ingoing_g)} that went in, forgetting {gone}, a kilo "
        f"would seem to cost {bound}{pen.money(low)}: {pen.number(off, places=0)} % too little."
    )
