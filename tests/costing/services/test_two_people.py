"""Two people at the same moment, each with a connection of their own."""

import threading
from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from django.db import connection

from costing.models import Member, Recipe, RecipeVersion, SupplierPrice
from costing.selectors.recipes import current_version, edit_stamp
from costing.services.kitchens import remove_person
from costing.services.purchases import void_supplier_price
from costing.services.recipes import LineInput, cost_recipes, freeze_version, save_recipe
from tests.builders import TODAY, a_kitchen, a_member, a_price, a_recipe, sugar

pytestmark = pytest.mark.django_db(transaction=True)
TWO = Decimal(2)


def at_once(*acts):
    """Run the acts together; the sentences of those that were refused, None for the others."""
    ready = threading.Barrier(len(acts))
    outcomes = [None] * len(acts)

    def run(position, act):
        ready.wait(timeout=10)
        try:
            act()
        except ValidationError as error:
            outcomes[position] = " ".join(error.messages)
        except Exception as error:
            outcomes[position] = repr(error)
        finally:
            connection.close()

    threads = [threading.Thread(target=run, args=pair) for pair in enumerate(acts)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(timeout=60)
    return outcomes


def saving(recipe, what, amount, *, expected=None):
    link = {"recipe_id": what.pk} if isinstance(what, Recipe) else {"ingredient_id": what.pk}
    return lambda: save_recipe(
        recipe.kitchen,
        by=None,
        recipe=Recipe.objects.get(pk=recipe.pk),
        values={"name": recipe.name},
        version_values={},
        lines=[LineInput(amount=amount, **link)],
        expected_version=expected,
    )


def test_of_two_who_save_one_recipe_one_is_told():
    kitchen = a_kitchen()
    white = sugar(kitchen)
    recipe = a_recipe(kitchen, lines=[(white, 1)])
    opened = edit_stamp(current_version(recipe))
    outcomes = at_once(*(saving(recipe, white, TWO + n, expected=opened) for n in range(2)))

    (refused,) = [outcome for outcome in outcomes if outcome is not None]
    assert refused.startswith("Somebody saved this recipe while you had it open")
    assert current_version(recipe).revision == 2


def test_two_recipes_saved_together_do_not_become_each_others_preparation():
    kitchen = a_kitchen()
    white = sugar(kitchen)
    first, second = (a_recipe(kitchen, lines=[(white, 1)]) for _ in range(2))
    outcomes = at_once(saving(first, second, TWO), saving(second, first, TWO))

    (refused,) = [outcome for outcome in outcomes if outcome is not None]
    assert "needs itself" in refused
    sheets = cost_recipes(kitchen, None, on=TODAY)
    assert "contradiction" not in {q.about for sheet in sheets.values() for q in sheet.questions}


def test_a_recipe_printed_from_while_it_is_saved_keeps_one_current_version():
    kitchen = a_kitchen()
    white = sugar(kitchen)
    recipe = a_recipe(kitchen, lines=[(white, 1)])
    version = current_version(recipe)
    outcomes = at_once(saving(recipe, white, TWO), lambda: freeze_version(version))

    assert outcomes == [None, None]
    assert RecipeVersion.objects.get(recipe=recipe, is_current=True).lines.get().amount == TWO
    assert RecipeVersion.objects.exclude(frozen_at=None).count() == 1


def test_two_owners_cannot_remove_each_other():
    kitchen = a_kitchen()
    owners = [a_member(kitchen), a_member(kitchen)]
    at_once(*(lambda member=member: remove_person(member, by=None) for member in owners))
    assert Member.objects.filter(kitchen=kitchen, role="owner").count() == 1


def test_a_price_is_voided_by_one_of_two():
    price = a_price()

    def voiding(reason):
        return lambda: void_supplier_price(
            SupplierPrice.objects.get(pk=price.pk), by=None, reason=reason
        )

    outcomes = at_once(voiding("mine"), voiding("theirs"))
    assert sorted(outcome is None for outcome in outcomes) == [False, True]
    price.refresh_from_db()
    assert price.void_reason == ["mine", "theirs"][outcomes.index(None)]
