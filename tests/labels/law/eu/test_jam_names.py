"""Which names a food has earned: Directive 2001/113/EC, Annex I [R]; its change of 2026 [N]."""

from datetime import date
from decimal import Decimal

import pytest

from labels.law.eu.jam_names import holds_fruit, verdict, verdicts
from tests.labels.law.eu.builders import a_label, used

EVE, DAY = date(2026, 6, 13), date(2026, 6, 14)


def pan(*fruits, solids="62", finished_g=1000, **changed):
    """One kilo of something boiled with sugar."""
    more = {"soluble_solids_pct": None if solids is None else Decimal(solids)}
    sugar = used("sugar", 600, category="sugar")
    return a_label(*fruits, sugar, finished_g=finished_g, **more, **changed)


def fruit(name, grams, **more):
    return used(name, grams, category="fruit", **more)


def may_be(name, facts):
    return verdict(name, facts).is_lawful


def test_case_53_420_g_in_july_2026_is_no_jam_in_spain():
    # RD 863/2003, annex, point 3.1, as changed by RD 1026/2025 [N]
    facts = pan(fruit("strawberries", 420), country_of_sale="ES", law_on=date(2026, 7, 1))
    found = verdict("jam", facts)
    assert found.against == ("420 g of fruit per kg; it needs 450 g",)
    assert "2024/1438" in found.citation.act.title
    assert found.citation.mark == "second-hand"


@pytest.mark.parametrize(("on", "is_lawful"), [(EVE, True), (DAY, False)])
def test_case_53_the_day_before_the_same_jar_was_jam(on, is_lawful):
    assert may_be("jam", pan(fruit("strawberries", 420), law_on=on)) is is_lawful


@pytest.mark.parametrize(
    ("kind", "grams", "is_jam", "is_extra"),
    [
        # cases 55, 56, 57 [N]
        ("strawberries", 460, True, False), ("rosehips", 380, True, False),
        ("ginger", 185, True, False),
    ],
)  # fmt: skip
def test_cases_55_56_57_jam_yes_extra_jam_no(kind, grams, is_jam, is_extra):
    facts = pan(fruit(kind, grams), law_on=date(2026, 7, 1))
    assert (may_be("jam", facts), may_be("extra jam", facts)) == (is_jam, is_extra)


@pytest.mark.parametrize(
    ("name", "kind", "on", "least"),
    [
        ("jam", "strawberries", EVE, 350), ("jam", "strawberries", DAY, 450),
        ("extra jam", "strawberries", EVE, 450), ("extra jam", "strawberries", DAY, 500),
        ("jam", "rosehips", DAY, 350), ("extra jam", "rosehips", DAY, 450),
        ("jam", "ginger", DAY, 180), ("extra jam", "ginger", DAY, 280),
        ("jelly", "redcurrant juice", DAY, 350), ("extra jelly", "redcurrant juice", DAY, 450),
    ],
)  # fmt: skip
def test_each_minimum_is_met_at_the_gram_and_missed_below_it(name, kind, on, least):
    assert may_be(name, pan(fruit(kind, least), law_on=on))
    assert not may_be(name, pan(fruit(kind, Decimal(least) - Decimal("0.1")), law_on=on))


def test_case_59_apple_is_not_mixed_in_extra_jam():
    mixed = pan(fruit("apple", 300), fruit("blackberries", 300))
    assert verdict("extra jam", mixed).against == ("apple may not be mixed with other fruit in it",)
    assert may_be("jam", mixed)


def test_case_60_apple_alone_may_be_extra_jam():
    assert may_be("extra jam", pan(fruit("apple", 600)))


def test_a_plum_in_a_mixture_is_asked_about():
    found = verdict("extra jam", pan(fruit("plums", 300), fruit("blackberries", 300)))
    assert (found.state, found.against) == ("ask", ())
    assert "clingstone" in found.asks[0]


def test_extra_jam_is_of_pulp_unless_the_fruit_has_seeds_to_lose():
    assert not may_be("extra jam", pan(fruit("damson puree", 600)))
    assert may_be("extra jam", pan(fruit("raspberry puree", 600)))
    assert may_be("jam", pan(fruit("damson puree", 600)))


@pytest.mark.parametrize(
    ("kind", "juice", "state"),
    [
        # Annex II: juice in jam only; citrus in jam and extra jam of other fruit; red fruit juice
        # with seven fruits (read in the schedules of the nations that repeat it)
        ("apricots", "lemon juice", "lawful"), ("apricots", "apple juice", "refused"),
        ("raspberries", "redcurrant juice", "ask"), ("apricots", "redcurrant juice", "refused"),
    ],
)  # fmt: skip
def test_annex_ii_says_which_juices_extra_jam_may_hold(kind, juice, state):
    facts = pan(fruit(kind, 600), fruit(juice, 40))
    assert verdict("extra jam", facts).state == state
    assert may_be("jam", facts)


def test_extra_jam_holds_no_dried_fruit():
    dried = pan(fruit("apricots", 200, fresh_equivalent_g=700))
    assert not may_be("extra jam", dried)
    assert may_be("jam", dried)


@pytest.mark.parametrize(
    ("on", "so2", "state"),
    [
        # Annex III, Part B [R] to 13 June 2026; the line left the act then [N]
        (EVE, "1", "refused"), (DAY, "1", "ask"), (DAY, "0", "lawful"), (DAY, None, "not known"),
    ],
)  # fmt: skip
def test_extra_jam_and_sulphited_fruit(on, so2, state):
    apricots = fruit("apricots", 600, sulphite_mg_per_kg=so2)
    assert verdict("extra jam", pan(apricots, law_on=on)).state == state


@pytest.mark.parametrize(("grams", "state"), [(500, "lawful"), (449, "not known"), (79, "refused")])
def test_a_fruit_nobody_named_is_asked_for_where_its_kind_decides(grams, state):
    # 450 g by the general rule, 80 g for the least of the table
    found = verdict("jam", pan(fruit("summer fruit", grams), law_on=DAY))
    assert found.state == state
    if state == "not known":
        assert "which fruit “summer fruit” is" in found.missing[0]


@pytest.mark.parametrize(
    ("endocarp", "citrus", "is_lawful"),
    [
        # case 70: 210 g of citrus, 70 g of it endocarp; it needs 200 and 75
        (70, 210, False), (75, 210, True), ("74.9", 210, False), (75, 200, True),
        (75, "199.9", False),
    ],
)  # fmt: skip
def test_case_70_marmalade_needs_its_citrus_and_its_inner_flesh(endocarp, citrus, is_lawful):
    oranges = fruit("Seville oranges", citrus, endocarp_g=Decimal(str(endocarp)))
    assert may_be("citrus marmalade", pan(oranges)) is is_lawful


@pytest.mark.parametrize(("grams", "is_lawful"), [("75", True), ("74.9", False)])
def test_case_70_the_inner_flesh_may_be_told_of_the_food_itself(grams, is_lawful):
    facts = pan(fruit("lemons", 300), contents_g_per_kg=(("inner flesh", Decimal(grams)),))
    assert may_be("citrus marmalade", facts) is is_lawful


def test_inner_flesh_that_nobody_told_is_asked_for():
    found = verdict("citrus marmalade", pan(fruit("lemons", 300)))
    assert (found.against, found.state) == ((), "not known")


@pytest.mark.parametrize(("name", "state"), [("oranges", "ask"), ("orange juice", "lawful")])
def test_jelly_marmalade_holds_no_solids_but_a_little_peel(name, state):
    # Annex I.I, jelly marmalade [R]
    facts = pan(fruit(name, 300), contents_g_per_kg=(("inner flesh", Decimal(100)),))
    assert verdict("jelly marmalade", facts).state == state
    assert verdict("citrus marmalade", facts).state == "lawful"


def test_marmalade_holds_citrus_fruit_alone():
    facts = pan(fruit("oranges", 300, endocarp_g=Decimal(100)), fruit("quince", 100))
    assert verdict("citrus marmalade", facts).against == (
        "quince: it is made of citrus fruit alone",
    )


@pytest.mark.parametrize(("grams", "is_lawful"), [("380", True), ("379.9", False)])
def test_chestnut_puree_holds_380_g_of_it(grams, is_lawful):
    facts = pan(used("chestnut puree", grams), used("sugar", 500))
    assert may_be("sweetened chestnut puree", facts) is is_lawful
    assert holds_fruit(facts)


@pytest.mark.parametrize(("solids", "is_lawful"), [("60", True), ("59.9", False)])
def test_annex_i_ii_soluble_solids_are_sixty_or_more(solids, is_lawful):
    assert may_be("jam", pan(fruit("damsons", 500), solids=solids)) is is_lawful


def test_sugar_replaced_by_a_sweetener_frees_from_the_sixty():
    sweet = used("sorbitol", 50, additive_class="sweetener")
    assert may_be("jam", pan(fruit("strawberries", 500), sweet, solids="40"))


@pytest.mark.parametrize(("on", "state"), [(EVE, "refused"), (DAY, "ask")])
def test_reduced_sugars_excuse_from_the_sixty_only_since_june_2026(on, state):
    # Spanish transposition and Irish summary [N]; that it is 30 % less stays to be shown
    facts = pan(fruit("damsons", 600), solids="45", claims=("reduced sugars",), law_on=on)
    assert verdict("jam", facts).state == state


def test_nothing_known_allows_no_name():
    empty = a_label(finished_g=None, ingredients=())
    assert not any(v.is_lawful for v in verdicts(empty))
    assert all(v.missing for v in verdicts(empty))
