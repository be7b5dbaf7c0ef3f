"""How heavy a paste is taken to be for a plan of slabs, and by whose law its pieces are judged."""

from decimal import Decimal

import pytest

from costing.models import Kitchen
from costing.reckoning.errors import ReckoningError
from costing.reckoning.paste_density import Strength
from costing.reckoning.weights import EU, GB
from costing.views.recipe_words import Pen
from costing.views.slab_answers import heavy, law_of

D = Decimal
PEN = Pen(Kitchen(country="IE"))
STRONG = Strength(D(75))


def taken(*, typed=None, strength=None, whose="", fill_c="90"):
    return heavy(typed=typed, strength=strength, fill_c=D(fill_c), whose=whose, pen=PEN)


def test_what_was_tested_counts_before_what_is_reckoned():
    found = taken(typed=D("1.41"), strength=STRONG)
    assert (found.cold, found.source, found.is_reckoned) == (D("1.41"), "as typed", False)
    # Hot, it takes as much more room as the syrup of its Brix does (66 Brix from 90 C: 3.2 %,
    # standard sucrose tables, from memory).
    assert D("1.025") < found.cold / found.hot < D("1.04")


def test_poured_at_room_temperature_nothing_shrinks():
    found = taken(typed=D("1.41"), strength=STRONG, fill_c="20")
    assert found.hot == found.cold


def test_from_the_brix_it_is_reckoned_and_said_of_what():
    # 75 Brix is 1.379 g/ml, standard sucrose tables (from memory).
    found = taken(strength=STRONG, whose="Damson cheese")
    assert abs(found.cold - D("1.379")) <= D("0.001")
    assert (found.source, found.is_reckoned) == ("reckoned from 75 Brix of Damson cheese", True)


def test_typed_alone_it_tells_nothing_of_the_hot_paste():
    assert taken(typed=D("1.38")).hot is None


@pytest.mark.parametrize(("whose", "is_named"), [("Damson cheese", True), ("", False)])
def test_without_density_and_brix_it_is_asked_at_its_box(whose, is_named):
    with pytest.raises(ReckoningError, match="density test") as refused:
        taken(whose=whose)
    assert refused.value.field == "density_g_per_ml"
    assert ("The Brix of Damson cheese is not known yet." in str(refused.value)) is is_named


# Directive 76/211/EEC for the Union; SI 2006/659 for Great Britain.
@pytest.mark.parametrize(("country", "law"), [("GB", GB), ("IE", EU), ("", EU)])
def test_a_kitchens_country_decides_whose_average_weight_rules_count(country, law):
    assert law_of(Kitchen(country=country)) == law
