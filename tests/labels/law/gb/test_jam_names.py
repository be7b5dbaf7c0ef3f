"""Which reserved names a food has earned: SI 2003/3120, Sch. 1 [R], and its sister acts."""

from decimal import Decimal

import pytest

from labels.law.gb.jam_names import verdict, verdicts
from tests.labels.law.gb.builders import a_label, used


def pan(*fruit, solids="62", finished_g=1000, **changed):
    """One kilo of something boiled with sugar."""
    more = {"soluble_solids_pct": None if solids is None else Decimal(solids)}
    sugar = used("sugar", 600, category="sugar")
    return a_label(*fruit, sugar, finished_g=finished_g, **more, **changed)


def fruit(name, grams, **more):
    return used(name, grams, category="fruit", **more)


def may_be(name, facts):
    return verdict(name, facts).is_lawful


@pytest.mark.parametrize("market", ["gb-eng", "gb-wls", "gb-sct"])
def test_case_54_420_g_of_strawberries_is_jam_and_not_extra_jam(market):
    facts = pan(fruit("strawberries", 420), market=market)
    assert may_be("jam", facts)
    assert not may_be("extra jam", facts)


@pytest.mark.parametrize(
    ("name", "kind", "least"),
    [
        ("jam", "strawberries", 350), ("extra jam", "strawberries", 450),
        ("jam", "blackcurrants", 250), ("extra jam", "blackcurrants", 350),
        ("jam", "ginger", 150), ("extra jam", "ginger", 250),
        ("jelly", "redcurrant juice", 250), ("extra jelly", "redcurrant juice", 350),
    ],
)  # fmt: skip
def test_each_minimum_is_met_at_the_gram_and_missed_below_it(name, kind, least):
    assert may_be(name, pan(fruit(kind, least)))
    assert not may_be(name, pan(fruit(kind, Decimal(least) - Decimal("0.1"))))


def test_case_59_apple_is_not_mixed_in_extra_jam():
    # Sch. 1, item 2 [R]
    mixed = pan(fruit("apple", 300), fruit("blackberries", 300))
    assert verdict("extra jam", mixed).against == ("apple may not be mixed with other fruit in it",)
    assert may_be("jam", mixed)


def test_case_60_apple_alone_may_be_extra_jam():
    assert may_be("extra jam", pan(fruit("apple", 600)))


@pytest.mark.parametrize(
    ("juice", "is_lawful"),
    [("lemon juice", True), ("redcurrant juice", True), ("apple juice", False)],
)
def test_sch_2_extra_jam_takes_citrus_and_red_juice_and_jam_any(juice, is_lawful):
    # SSI 2004/133, Sch. 2, para. 1(b) to (d) as made [R]
    facts = pan(fruit("strawberries", 600), fruit(juice, 30))
    assert may_be("extra jam", facts) is is_lawful
    assert may_be("jam", facts)


def test_extra_jam_is_of_pulp_unless_the_fruit_has_seeds_to_lose():
    assert not may_be("extra jam", pan(fruit("damson puree", 600)))
    assert may_be("extra jam", pan(fruit("raspberry puree", 600)))
    assert may_be("jam", pan(fruit("damson puree", 600)))


@pytest.mark.parametrize(("so2", "is_lawful"), [(0, True), (1, False)])
def test_extra_jam_holds_no_sulphited_fruit(so2, is_lawful):
    assert may_be("extra jam", pan(fruit("plums", 600, sulphite_mg_per_kg=so2))) is is_lawful


@pytest.mark.parametrize(
    ("endocarp", "citrus", "is_lawful"),
    [
        # case 70: 210 g of citrus, 70 g of it inner flesh; it needs 200 and 75 (item 5 [R])
        (70, 210, False), (75, 210, True), ("74.9", 210, False), (75, 200, True),
        (75, "199.9", False),
    ],
)  # fmt: skip
def test_case_70_marmalade_needs_its_citrus_and_its_inner_flesh(endocarp, citrus, is_lawful):
    oranges = fruit("Seville oranges", citrus, endocarp_g=Decimal(str(endocarp)))
    assert may_be("marmalade", pan(oranges)) is is_lawful


@pytest.mark.parametrize(("grams", "is_lawful"), [("75", True), ("74.9", False)])
def test_case_70_the_inner_flesh_may_be_told_of_the_food_itself(grams, is_lawful):
    facts = pan(fruit("lemons", 300), contents_g_per_kg=(("inner flesh", Decimal(grams)),))
    assert may_be("marmalade", facts) is is_lawful


def test_what_is_not_known_of_a_marmalade_neither_passes_nor_fails_it():
    found = verdict("marmalade", pan(fruit("Seville oranges", 300)))
    assert (found.is_lawful, found.against) == (False, ())
    assert found.missing == ("how much of the citrus fruit is its inner flesh",)


@pytest.mark.parametrize(
    ("solids", "claims", "is_lawful"),
    [
        # cases 67 and 68 (Sch. 1, note 2 [R]); thresholds in pairs
        ("58", (), False), ("59.9", (), False), ("60", (), True),
        ("45", ("reduced sugar",), True), ("50", ("reduced sugar",), True),
        ("50.1", ("reduced sugar",), False), ("25", ("reduced sugar",), True),
        ("24.9", ("reduced sugar",), False), ("45", (), False),
    ],
)  # fmt: skip
def test_cases_67_68_soluble_solids_are_sixty_or_reduced(solids, claims, is_lawful):
    facts = pan(fruit("strawberries", 500), solids=solids, claims=claims)
    assert may_be("jam", facts) is is_lawful


def test_sugar_replaced_by_a_sweetener_frees_from_the_sixty():
    sweet = used("sorbitol", 50, additive_class="sweetener")
    assert may_be("jam", pan(fruit("strawberries", 500), sweet, solids="40"))


def test_a_reading_that_nobody_took_is_named():
    assert verdict("jam", pan(fruit("plum", 500), solids=None)).missing == (
        "the soluble solids of the finished food, by refractometer at 20 °C",
    )


def curd(fat="40", yolk="6.5", solids="65"):
    contents = (("fat", Decimal(fat)), ("egg yolk solids", Decimal(yolk)))
    return pan(fruit("lemon juice", 200), solids=solids, contents_g_per_kg=contents)


@pytest.mark.parametrize(
    ("changed", "is_lawful"),
    [
        ({}, True), ({"fat": "30"}, False), ({"fat": "39.9"}, False), ({"yolk": "6.4"}, False),
        ({"solids": "64.9"}, False),
    ],
)  # fmt: skip
@pytest.mark.parametrize("name", ["lemon cheese", "curd"])
def test_case_72_lemon_cheese_has_the_composition_of_a_curd(name, changed, is_lawful):
    # fat 40 g, egg yolk solids 6.5 g, 65 % (Sch. 1, items 8 and 9, and notes [R])
    assert may_be(name, curd(**changed)) is is_lawful


@pytest.mark.parametrize(
    ("vine", "peel", "suet", "is_lawful"),
    [
        (250, 50, 25, True), (200, 100, 25, True), (199, 101, 25, False), (250, 49, 25, False),
        (250, 50, 24, False),
    ],
)  # fmt: skip
def test_mincemeat_needs_fruit_peel_and_suet(vine, peel, suet, is_lawful):
    # vine fruit and peel 300 g, of it 200 g vine fruit, 25 g fat, 65 % (item 11 [R])
    held = {"vine fruit": vine, "peel": peel, "suet": suet}
    contents = tuple((what, Decimal(grams)) for what, grams in held.items())
    facts = pan(used("raisins", 250), solids="65", contents_g_per_kg=contents)
    assert may_be("mincemeat", facts) is is_lawful


@pytest.mark.parametrize(("grams", "is_lawful"), [(380, True), (379, False)])
def test_chestnut_puree_needs_its_chestnuts(grams, is_lawful):
    facts = pan(used("chestnut puree", grams, category="fruit"))
    assert may_be("sweetened chestnut puree", facts) is is_lawful


def test_every_name_is_judged_at_once():
    found = {v.name: v.is_lawful for v in verdicts(pan(fruit("strawberries", 420)))}
    assert found["jam"]
    assert not any(lawful for name, lawful in found.items() if name != "jam")


def test_no_fruit_is_no_jam():
    assert not may_be("jam", pan(used("cocoa", 400)))
