"""Claims against declared figures: Regulation (EC) No 1924/2006, Annex [R, text of 2006]."""

import pytest

from tests.labels.law.eu.builders import by_rule
from tests.labels.law.eu.test_nutrition import a_declared_label, declared

RULE = "a_claim_agrees_with_what_is_declared"


def is_refused(claim, **grams):
    facts = a_declared_label(claims=(claim,), nutrition=declared(**grams))
    found = by_rule(RULE, facts)
    assert all(f.stops_printing and f.citation.provision == "Annex" for f in found)
    return bool(found)


@pytest.mark.parametrize(
    ("claim", "grams", "refused"),
    [
        # 72 g of carbohydrate are over 288 kcal: by energy no fibre claim could stand here
        ("source of fibre", {"fibre": "3"}, False),
        ("source of fibre", {"fibre": "2.99"}, True),
        ("high fibre", {"fibre": "6"}, False),
        ("high fibre", {"fibre": "5.99"}, True),
        ("low sugar", {"sugars": "5"}, False),
        ("low sugar", {"sugars": "5.01"}, True),
        ("sugar-free", {"sugars": "0.5"}, False),
        ("sugar-free", {"sugars": "0.51"}, True),
        ("homemade", {"fibre": 0}, False),
    ],
)
def test_what_is_claimed_is_true_of_the_figures_beside_it(claim, grams, refused):
    assert is_refused(claim, **grams) is refused


@pytest.mark.parametrize(("fibre", "refused"), [("1.5", False), ("1.47", True)])
def test_fibre_may_be_reckoned_by_energy_instead(fibre, refused):
    # 24.2 x 4 + 1.5 x 2 = 99.8 kcal: 1.503 g in 100 kcal; with 1.47 g 99.74 kcal: 1.474 g
    lean = {"fat": 0, "saturates": 0, "carbohydrate": "24.2", "sugars": 5, "protein": 0}
    assert is_refused("source of fibre", fibre=fibre, **lean) is refused


def test_without_complete_figures_nothing_is_held_against_a_claim():
    facts = a_declared_label(claims=("low sugar",), nutrition=declared(questions=("Pectin?",)))
    assert not by_rule(RULE, facts)
