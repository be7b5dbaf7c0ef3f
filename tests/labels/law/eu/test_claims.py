"""Claims: Regulation (EC) No 1924/2006, Annex [R, text of 2006]; Regulation (EU) No 1169/2011,
Arts 7, 36 and 49 [R]; gluten: Implementing Regulation (EU) No 828/2014, Annex [R].
"""

from decimal import Decimal

import pytest

from labels.law.eu import claims
from tests.labels.law.eu.builders import a_label, by_rule, faults, used

NONE_ADDED = "no_added_sugar_means_nothing_that_sweetens"
TABLE = "a_claim_calls_for_the_nutrition_table"
FREE = "free_from_is_true_of_every_ingredient"


def pears(*more, **changed):
    return a_label(used("pears", 900, category="fruit"), *more, **changed)


def test_case_132_apple_concentrate_ends_no_added_sugar():
    said = {"claims": ("with no added sugar",), "shows_nutrition": True}
    assert NONE_ADDED in faults(pears(used("apple juice concentrate", 100), **said))
    plain = by_rule(NONE_ADDED, pears(**said))
    # what is left is the reminder of "contains naturally occurring sugars"
    assert [f.level for f in plain] == ["look at this"]
    told = pears(**said | {"claims": ("no added sugar, contains naturally occurring sugars",)})
    assert by_rule(NONE_ADDED, told) == []


@pytest.mark.parametrize("where", ["name_of_food", "tagline"])
@pytest.mark.parametrize(
    "text", ["All fruit, no sugar added", "Sin azúcares añadidos", "Ohne Zuckerzusatz", "No sugar"]
)
def test_the_claim_is_found_where_the_maker_writes(where, text):
    facts = pears(used("honey", 50), **{where: f"Pear paste. {text}"})
    assert NONE_ADDED in faults(facts)


def test_sugar_inside_a_preparation_counts():
    syrup = used("house base", 100, parts=(used("white sugar", 60, category="sugar"),))
    assert NONE_ADDED in faults(pears(syrup, tagline="no added sugar"))


@pytest.mark.parametrize(
    ("amount", "pct", "may"),
    [
        # cases 133 and 134, against 60 g; and the threshold itself
        (41, "31.7", True), (43, "28.3", False), (42, "30.0", True), ("42.1", "29.8", False),
    ],
)  # fmt: skip
def test_cases_133_134_reduced_is_thirty_per_cent_less(amount, pct, may):
    both = {"amount": Decimal(str(amount)), "in_like_product": Decimal(60)}
    assert round(claims.reduction_pct(**both), 1) == Decimal(pct)
    assert claims.may_say_reduced(**both) is may


@pytest.mark.parametrize(
    ("changed", "stops"),
    [
        # case 100: an exempt jar with "source of fibre"
        ({"tagline": "A source of fibre"}, True), ({"tagline": "Made in Ponte"}, False),
        ({"tagline": "A source of fibre", "shows_nutrition": True}, False),
        ({"claims": ("rich in vitamin C",)}, True), ({"name_of_food": "Light pear paste"}, True),
        ({"name_of_food": "Pear and light muscovado paste"}, False),
        ({"tagline": "Delightful with cheese, without fuss"}, False),
    ],
)  # fmt: skip
def test_case_100_a_claim_brings_the_nutrition_table_back(changed, stops):
    facts = pears(nutrition_exemption="small quantities", **changed)
    assert (TABLE in faults(facts)) is stops
    assert all("Art. 49" in f.citation.provision for f in by_rule(TABLE, facts))


@pytest.mark.parametrize(
    ("text", "condition"),
    [
        ("reduced sugar", "30 %"), ("Light", "30 % less"), ("low sugar", "5 g"),
        ("sugar free", "0.5 g"), ("source of fibre", "3 g of fibre"),
        ("high in fibre", "6 g of fibre"), ("our own words", "only those of the list"),
    ],
)  # fmt: skip
def test_every_claim_is_shown_with_its_condition(text, condition):
    (found,) = by_rule("a_claim_is_one_of_the_list", pears(claims=(text, " ")))
    assert condition in found.message
    assert found.level == "look at this"


@pytest.mark.parametrize("text", ["nut free", "contains naturally occurring sugars"])
def test_what_is_no_nutrition_claim_brings_no_table(text):
    facts = pears(claims=(text,), nutrition_exemption="small quantities")
    assert by_rule(TABLE, facts) == []
    assert by_rule("a_claim_is_one_of_the_list", facts) == []


def test_a_health_claim_stops_printing_and_a_brand_is_asked_about():
    health = "a_health_claim_is_authorised"
    assert health in faults(pears(tagline="Good for you"))
    (found,) = by_rule(health, pears(brand_name="Healthy Hill"))
    assert (found.level, found.citation.provision) == ("look at this", "Art. 10(1) and (3)")


WALNUTS = used("walnuts", 50, allergens={"nuts": "walnuts"})


@pytest.mark.parametrize(
    ("more", "level", "words"),
    [
        ([WALNUTS], "must mend", "walnuts contains nuts"),
        ([used("praline", 50, parts=(WALNUTS,))], "must mend", "walnuts contains nuts"),
        ([used("praline", 50, allergens_not_known=("nuts",), key="7")], "must mend", "nobody has"),
        ([], "look at this", "none gets in from the kitchen"),
    ],
)  # fmt: skip
@pytest.mark.parametrize("where", ["name_of_food", "tagline", "brand_name"])
def test_nut_free_is_held_against_every_ingredient(more, level, words, where):
    facts = pears(*more, **{where: "Nut free pear paste"})
    (found,) = by_rule(FREE, facts)
    assert (found.level, words in found.message) == (level, True)
    assert found.citation.provision == "Arts 7(1) and 36(2)"


@pytest.mark.parametrize(
    ("text", "group"),
    [
        ("Gluten-free", "gluten"), ("free from milk", "milk"), ("Dairy free", "milk"),
        ("without eggs", "eggs"), ("No nuts", "nuts"), ("Vegan", "milk"),
        ("Free from gluten, milk and nuts", "nuts"), ("Sin gluten", "gluten"),
        ("Sans lactose", "milk"), ("Senza glutine", "gluten"), ("Sem glúten", "gluten"),
        ("Glutenfrei", "gluten"), ("Ohne Nüsse", "nuts"), ("contains no peanuts", "peanuts"),
    ],
)  # fmt: skip
def test_the_words_that_deny_an_allergen_are_understood(text, group):
    facts = pears(used("x", 1, allergens={group: "x"}), tagline=text)
    assert FREE in faults(facts)


@pytest.mark.parametrize(
    "text",
    ["Handmade without hurry, with milk", "Feel free", "", "No. 7 paste", "Sugar free", "Nuts"],
)
def test_other_words_deny_nothing(text):
    assert claims.groups_denied(pears(tagline=text)) == ()


def test_gluten_free_is_reminded_of_its_limit():
    (found,) = by_rule("gluten_free_means_20_mg_per_kg", pears(tagline="gluten free"))
    assert ("20 mg" in found.message, found.citation.mark) == (True, "read")


@pytest.mark.parametrize(
    ("name", "text", "level"),
    [("pine nuts", "Nut free", "look at this"), ("honey", "Vegan", "must mend"),
     ("gelatine", "vegan", "must mend")],
)  # fmt: skip
def test_what_a_buyer_would_not_expect_misleads(name, text, level):
    (found,) = by_rule("free_from_does_not_mislead", pears(used(name, 20), tagline=text))
    assert found.level == level
