"""Sums over ingredients; each worked by hand in a comment."""

from decimal import Decimal

from labels.facts import LabelFacts, UsedIngredient
from labels.mechanics.masses import (
    counted_g,
    least_sulphite_mg_per_kg,
    left_of_it_g,
    share_pct,
    sulphite_mg,
    sulphite_mg_per_kg,
    with_all_parts,
)


def used(name, grams, so2=0, **more):
    so2 = None if so2 is None else Decimal(so2)
    return UsedIngredient(name, Decimal(grams), sulphite_mg_per_kg=so2, **more)


def test_a_residue_is_a_sum_over_the_finished_mass():
    # 200 g x 1500 mg/kg = 300 mg in 1 kg
    facts = LabelFacts(ingredients=(used("apricot", 200, 1500),), finished_g=Decimal(1000))
    assert sulphite_mg_per_kg(facts) == 300


def test_one_that_is_not_known_makes_the_sum_not_known_but_not_the_least():
    both = (used("apricot", 200, 1500), used("wine", 50, None))
    facts = LabelFacts(ingredients=both, finished_g=Decimal(1000))
    assert sulphite_mg_per_kg(facts) is None
    assert least_sulphite_mg_per_kg(facts) == 300
    assert least_sulphite_mg_per_kg(LabelFacts(ingredients=both)) is None


def test_a_compound_holds_the_larger_of_its_two_answers():
    # own figure 10 mg/kg x 100 g = 1 mg; its part 50 g x 100 mg/kg = 5 mg
    assert sulphite_mg(used("mix", 100, 10, parts=(used("fig", 50, 100),))) == 5


def test_a_share_is_of_the_finished_food():
    pepper = used("pepper", 20)
    assert share_pct((pepper,), LabelFacts(finished_g=Decimal(1000))) == 2
    assert share_pct((pepper,), LabelFacts()) is None


def test_parts_are_found_however_deep():
    deep = used("a", 3, parts=(used("b", 2, parts=(used("c", 1),)),))
    assert [i.name for i in with_all_parts((deep,))] == ["a", "b", "c"]


def test_what_is_left_counts_before_what_it_was_when_fresh_and_that_before_what_was_used():
    dried = {"fresh_equivalent_g": Decimal(300)}
    assert counted_g(used("fig", 100)) == 100
    assert counted_g(used("fig", 100, **dried)) == 300
    assert counted_g(used("brandy", 100, remaining_g=Decimal(0), **dried)) == 0


def test_what_is_left_is_the_finished_mass_less_the_others_and_never_below_nought():
    # 1000 - (600 + 300) = 100; 1000 - (600 + 500) would be -100
    facts = LabelFacts(finished_g=Decimal(1000))
    assert left_of_it_g(facts, others=(used("fig", 600), used("sugar", 300))) == 100
    assert left_of_it_g(facts, others=(used("fig", 600), used("sugar", 500))) == 0
    assert left_of_it_g(LabelFacts(), others=()) is None
