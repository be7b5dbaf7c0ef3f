"""Today: what needs the maker, in plain sentences, worst first; or the one way to begin."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from urllib.parse import urlencode

from django.http import HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone

from costing.models import Kitchen, Member
from costing.selectors.attention import Attention, attention
from costing.selectors.ingredients import ingredients_of
from costing.selectors.price_book import OLD_AFTER_DAYS, without_price
from costing.selectors.recipes import recipes_of
from costing.views.access import KitchenRequest, kitchen_view
from costing.views.menu import ACCOUNTANT, COOK, OWNER

FIRST_PRICES = 3
NAMED = 3


@dataclass(frozen=True)
class Need:
    """One sentence of the list, what to do about it, and where."""

    sentence: str
    do: str
    url: str


Watcher = Callable[[Kitchen, Member, date], Sequence[Need]]
watchers: list[Watcher] = []
"""Others who have something to say on this page; labels adds itself, costing does not know it."""


@kitchen_view(COOK, ACCOUNTANT)
def today(request: KitchenRequest, kitchen: Kitchen) -> HttpResponse:
    """The start page of a kitchen."""
    on = timezone.localdate()
    known = attention(kitchen, on=on)
    needs = needs_of(known, kitchen=kitchen, role=request.member.role)
    for watcher in watchers:
        needs += watcher(kitchen, request.member, on)
    is_owner = request.member.role == OWNER
    is_starting = is_owner and not kitchen.is_demo and not (known.recipes and known.priced)
    page = {
        "on": on,
        "needs": needs,
        "known": known,
        "steps": first_steps(known, kitchen=kitchen, on=on) if is_starting else [],
        "tour": demo_tour(kitchen) if kitchen.is_demo and is_owner else [],
    }
    return render(request, "costing/today.html", page)


def needs_of(known: Attention, *, kitchen: Kitchen, role: str) -> list[Need]:
    """What is missing or old, worst first, as far as this role has to do with it."""
    sees_money = role in {OWNER, ACCOUNTANT}
    found = []
    if sees_money and known.unpriced:
        found.append(_unpriced(known, kitchen=kitchen, may_enter=role == OWNER))
    if role in {OWNER, COOK} and known.unanswered:
        names = [ingredient.name for ingredient in known.unanswered]
        first = known.unanswered[0]
        found.append(
            Need(
                f"Nobody has answered yet which allergens are in {listed(names)}.",
                f"Answer for {first.name}",
                reverse("ingredient_edit", args=[kitchen.pk, first.pk]) + "#allergens",
            )
        )
    if role == OWNER:
        found += _of_the_kitchen(known, kitchen=kitchen)
    if sees_money and known.old:
        found.append(_old(known, kitchen=kitchen, may_enter=role == OWNER))
    if role == OWNER and known.products_without_price:
        names = [product.name for product in known.products_without_price]
        found.append(
            Need(
                f"{listed(names)}: no stall price is decided.",
                "Decide it",
                reverse("product", args=[kitchen.pk, known.products_without_price[0].pk]),
            )
        )
    return found


def _of_the_kitchen(known: Attention, *, kitchen: Kitchen) -> list[Need]:
    """What only the owner can say: the rates, what is sold, the address."""
    found = []
    rates = unknown_rates(kitchen)
    if rates and known.recipes:
        cost = "costs" if len(rates) == 1 else "cost"
        said = f"Nobody has said what {listed(rates)} {cost}, so every cost is only “at least”."
        found.append(Need(said, "Say it", rates_page(kitchen)))
    if known.recipes and not known.products:
        found += _not_sold(kitchen)
    if not kitchen.address:
        found.append(
            Need(
                "Your address is not filled in, and no label can be printed without it.",
                "Fill in the address",
                reverse("kitchen", args=[kitchen.pk]),
            )
        )
    return found


def _unpriced(known: Attention, *, kitchen: Kitchen, may_enter: bool) -> Need:
    names = [ingredient.name for ingredient in known.unpriced]
    has = "has" if len(names) == 1 else "have"
    first = known.unpriced[0]
    page = "price_new" if may_enter else "ingredient"
    return Need(
        f"{listed(names)} {has} no price, so every cost with {_them(names)} is only “at least”.",
        f"Enter the price of {first.name}" if may_enter else f"Look at {first.name}",
        reverse(page, args=[kitchen.pk, first.pk]),
    )


def _old(known: Attention, *, kitchen: Kitchen, may_enter: bool) -> Need:
    oldest = sorted(known.old, key=lambda line: -(line.age_days or 0))
    names = [line.ingredient.name for line in oldest]
    is_one = len(names) == 1
    page = "price_new" if may_enter else "ingredient"
    return Need(
        f"The {'price' if is_one else 'prices'} of {listed(names)} "
        f"{'is' if is_one else 'are'} older than {OLD_AFTER_DAYS} days.",
        f"Ask again for {names[0]}" if may_enter else f"Look at {names[0]}",
        reverse(page, args=[kitchen.pk, oldest[0].ingredient.pk]),
    )


def unknown_rates(kitchen: Kitchen) -> list[str]:
    """What every cost needs from the kitchen itself and nobody has said; nought is an answer."""
    rates = {
        "an hour of work": kitchen.labour_rate_per_h,
        "the rent and the rest of an hour": kitchen.overhead_rate_per_h,
        "a kilowatt-hour": kitchen.energy_price_per_kwh,
    }
    return [words for words, rate in rates.items() if rate is None]


def rates_page(kitchen: Kitchen) -> str:
    """The three boxes among the kitchen's settings; keeping them leads back to Today."""
    back = urlencode({"back": reverse("today", args=[kitchen.pk])})
    return f"{reverse('kitchen', args=[kitchen.pk])}?{back}#id_labour_rate_per_h"


def _not_sold(kitchen: Kitchen) -> list[Need]:
    """The way on from a first cost: a price, and a label."""
    recipe = recipes_of(kitchen).filter(is_preparation=False).first()
    if recipe is None:
        return []
    there = reverse("product_new", args=[kitchen.pk])
    return [
        Need(
            f"{recipe.name} has its cost, but no price and no label yet.",
            "Say in what you sell it",
            f"{there}?{urlencode({'recipe': recipe.pk})}",
        )
    ]


def listed(names: Sequence[str]) -> str:
    """Names as a sentence has them: the first three, then how many more.

    >>> listed(["sugar", "salt"]), listed(["a", "b", "c", "d", "e"])
    ('sugar and salt', 'a, b, c and 2 more')
    """
    if len(names) == 1:
        return names[0]
    if len(names) <= NAMED:
        return f"{', '.join(names[:-1])} and {names[-1]}"
    return f"{', '.join(names[:NAMED])} and {len(names) - NAMED} more"


def _them(names: Sequence[str]) -> str:
    return "it" if len(names) == 1 else "one of them"


# --- The first ten minutes ------------------------------------------------------------------------


@dataclass(frozen=True)
class Step:
    """One step of a path: what, how long, whether it is done, and the way there."""

    title: str
    text: str
    minutes: str
    state: str
    do: str = ""
    url: str = ""


def first_steps(known: Attention, *, kitchen: Kitchen, on: date) -> list[Step]:
    """Kitchen, three prices, the rates, one recipe, the cost; only the next one has a button."""
    here = [kitchen.pk]
    wanted = max(0, FIRST_PRICES - known.priced)
    steps = [
        ("Your kitchen", f"{kitchen.trading_name} is open.", "", True, "", ""),
        (
            "Three prices",
            "Fruit, sugar, lemon: what your supplier asks for a pack of each."
            + (f" {wanted} to go." if 0 < wanted < FIRST_PRICES else ""),
            "4 minutes",
            wanted == 0,
            *_to_the_next_price(known, kitchen=kitchen, on=on),
        ),
        (
            "Your hour and your flame",
            "What your work, the rent and a kilowatt-hour cost; 0 for what you do not count.",
            "1 minute",
            not unknown_rates(kitchen),
            "Say what they cost",
            rates_page(kitchen),
        ),
        (
            "One recipe",
            "What goes into the pan, and when you stop.",
            "4 minutes",
            known.recipes > 0,
            "Write the recipe",
            reverse("recipe_new", args=here),
        ),
        ("What a kilo costs", "It stands beside the recipe as you type.", "", False, "", ""),
    ]
    return _laid_out(steps)


def _to_the_next_price(known: Attention, *, kitchen: Kitchen, on: date) -> tuple[str, str]:
    """Straight to the price that is missing; where none is, to something else to price."""
    unpriced = without_price(ingredients_of(kitchen), on=on).first()
    if unpriced is not None:
        return "Enter the next price", reverse("price_new", args=[kitchen.pk, unpriced.pk])
    count = "another ingredient" if known.ingredients else "three ingredients"
    return f"Choose {count}", reverse("pantry", args=[kitchen.pk])


def _laid_out(steps: Sequence[tuple[str, str, str, bool, str, str]]) -> list[Step]:
    """Done, next or later: only the first that is not done can be opened."""
    found, next_is_open = [], True
    for title, text, minutes, is_done, do, url in steps:
        state = "done" if is_done else ("next" if next_is_open else "later")
        next_is_open = next_is_open and is_done
        is_next = state == "next"
        found.append(
            Step(title, text, minutes, state, do if is_next else "", url if is_next else "")
        )
    return found


def demo_tour(kitchen: Kitchen) -> list[Step]:
    """What to look at first in the demo kitchen."""
    here = [kitchen.pk]
    damson = recipes_of(kitchen).filter(name="Damson cheese").first()
    recipe = (
        reverse("recipe", args=[kitchen.pk, damson.pk]) if damson else reverse("recipes", args=here)
    )
    return [
        Step(
            "See what a kilo costs",
            "Damson cheese: steam takes part of the pan, and what is left carries the whole cost.",
            "",
            "next",
            "Open the recipe",
            recipe,
        ),
        Step(
            "Change a price",
            "Sugar rose by a quarter this season. Enter another price and watch the cost.",
            "",
            "later",
            "Look at the prices",
            reverse("ingredients", args=here),
        ),
        Step(
            "Price it, and label it",
            "What to ask at the stall, and what the label must say.",
            "",
            "later",
            "Look at the products",
            reverse("products", args=here),
        ),
    ]
