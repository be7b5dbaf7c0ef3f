"""Where something went: through a puree of our own to every pan that was filled from it."""

import pytest

from costing.models import BatchInput, Ingredient, Recipe
from labels.services.whereabouts import everything_bought, where_it_went
from tests.builders import a_batch, a_damson_paste, a_kitchen, an_ingredient

pytestmark = pytest.mark.django_db


@pytest.fixture
def kitchen():
    """A pan of puree whose damsons are of lot D-7, and two pans of paste, one filled from it."""
    kitchen = a_kitchen()
    paste = a_damson_paste(kitchen)
    puree = a_batch(Recipe.objects.get(kitchen=kitchen, is_preparation=True), lot="PUREE-1")
    BatchInput.objects.filter(batch=puree, ingredient__name="Damsons").update(supplier_lot="D-7")
    filled = a_batch(paste, lot="PASTE-1")
    BatchInput.objects.filter(batch=filled, preparation=puree.recipe).update(from_batch=puree)
    a_batch(paste, lot="PASTE-2")
    return kitchen


def lots(found):
    return {batch.lot for batch in found.batches}


def test_a_suppliers_lot_reaches_the_pans_that_were_filled_from_its_puree(kitchen):
    assert lots(where_it_went(kitchen, lot="d-7")) == {"PUREE-1", "PASTE-1"}


def test_a_lot_of_our_own_is_in_itself_and_in_what_was_filled_from_it(kitchen):
    assert lots(where_it_went(kitchen, lot="PUREE-1")) == {"PUREE-1", "PASTE-1"}
    assert lots(where_it_went(kitchen, lot="PASTE-2")) == {"PASTE-2"}


def test_an_ingredient_and_a_lot_together_are_that_delivery_of_it(kitchen):
    damsons = Ingredient.objects.get(kitchen=kitchen, name="Damsons").pk
    sugar = Ingredient.objects.get(kitchen=kitchen, name="White sugar").pk
    assert lots(where_it_went(kitchen, ingredient=damsons, lot="D-7")) == {"PUREE-1", "PASTE-1"}
    assert lots(where_it_went(kitchen, ingredient=sugar, lot="D-7")) == set()
    assert lots(where_it_went(kitchen, ingredient=sugar)) == {"PASTE-1", "PASTE-2"}


def test_another_kitchen_finds_nothing_of_it(kitchen):
    other = an_ingredient().kitchen
    damsons = Ingredient.objects.get(kitchen=kitchen, name="Damsons").pk
    assert not where_it_went(other, lot="D-7").batches
    assert not where_it_went(other, ingredient=damsons).batches
    assert damsons not in everything_bought(other)
