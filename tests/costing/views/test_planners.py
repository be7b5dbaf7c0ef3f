"""Pages of the planners: slabs, jars, the density test. They answer, and keep nothing."""

import re
from decimal import Decimal
from urllib.parse import parse_qs, urlsplit

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from costing.models import AuditEntry
from costing.product_kinds import HOT_SUGAR
from tests.builders import (
    a_cook,
    a_damson_paste,
    a_fruit,
    a_kitchen,
    a_line,
    a_mould,
    a_product,
    an_owner,
)

pytestmark = pytest.mark.django_db
SLABS = {
    "by": "net", "net_kg": "11,8903", "piece_length_mm": "50", "piece_width_mm": "50",
    "depth_mm": "30", "density": "1.38",
}  # fmt: skip
JARS = {"net_kg": "30.7590", "brimful_ml": "282", "declared_g": "340", "density": "1.33"}
TUB = {"tub_g": "12", "with_water_g": "212", "with_product_g": "288"}


@pytest.fixture
def kitchen():
    return a_kitchen()


@pytest.fixture
def mould(kitchen):
    return a_mould(kitchen, name="Steel tray", owned=5)


@pytest.fixture
def cook(client, kitchen):
    client.force_login(a_cook(kitchen))
    return client


def _text(client, name, kitchen, *more, **typed):
    answer = client.get(reverse(name, args=[kitchen.pk, *more]), typed)
    assert answer.status_code == 200
    text = answer.content.decode().replace("\u00a0", " ").replace("&nbsp;", " ")
    return " ".join(re.sub(r"<[^>]+>", " ", text).split())


# --- Slabs (constructed; the sums stand in tests/costing/reckoning/test_moulds.py) ----------------


def test_a_pan_is_planned_into_moulds(cook, kitchen, mould):
    text = _text(cook, "mould_plan", kitchen, mould.pk, **SLABS, declared_g="100", spread_g="3")
    # 11890.3 = 4 x 2695.14 + 1109.74; 24 pieces each; 5 x 5 x 3 x 1.38 = 103.5 g
    assert "4 moulds to fill" in text
    assert "96 pieces of 103.5 g" in text
    assert "Left over, not poured 1.11 kg" in text
    # 8.2951 kg if spread over five: 26.471 mm, 91.32 g
    assert "only 26.47 mm deep, and a piece weighs 91.32 g, below the label" in text
    # z = -3.5/3 gives 12.17 % below 100 g; z = -8/3 gives 0.38 % below 95.5 g (normal table)
    assert "below the 100 g of the label 12.17 %" in text
    assert "below 95.5 g 0.38 %" in text
    # 4 % lighter: 75 ml x 1.3248 = 99.36 g
    assert "99.36 g below its label" in text
    assert not AuditEntry.objects.exists()


def test_a_kitchen_in_great_britain_is_told_its_own_law(client):
    kitchen = a_kitchen(country="GB")
    client.force_login(a_cook(kitchen))
    tray = a_mould(kitchen)
    text = _text(client, "mould_plan", kitchen, tray.pk, **SLABS, declared_g="100", spread_g="3")
    assert "SI 2006/659" in text
    assert "76/211" not in text


def test_moulds_wanted_give_the_kilos_needed(cook, kitchen, mould):
    typed = SLABS | {"by": "moulds", "moulds": "6"}
    text = _text(cook, "mould_plan", kitchen, mould.pk, **typed)
    assert "16.17 kg of paste For 6 full moulds: 144 pieces" in text  # 6 x 2.69514 = 16.17084
    assert "You have 5 of these moulds, and this needs 6." in text


def test_moulds_at_hand_are_not_exceeded(cook, kitchen, mould):
    text = _text(cook, "mould_plan", kitchen, mould.pk, **SLABS | {"net_kg": "20"})
    assert "5 moulds to fill" in text  # 20000 / 2695.14 = 7.4
    assert "Have them ready before pouring" in text


def test_a_product_gives_its_weight_its_label_and_its_brix(cook, kitchen, mould):
    product = a_product(
        a_damson_paste(kitchen), form="piece", net_quantity_g=100, fill_g=102, name="Damson piece"
    )
    typed = {"by": "net", "net_kg": "12", "piece_length_mm": "50", "piece_width_mm": "50"}
    text = _text(cook, "mould_plan", kitchen, mould.pk, **typed, of=f"product-{product.pk}")
    # 75 Brix is 1.379 g/ml (sucrose tables); 102 / (25 x 1.379) = 2.9587 cm, up to 29.6 mm
    assert "1.379 g" in text
    assert "reckoned from 75 Brix of Damson cheese" in text
    assert "Depth, when set rounded up to a tenth of a millimetre 29.6 mm" in text
    assert "Test it with a small tub" in text


def test_without_density_and_brix_the_tub_is_pointed_to(cook, kitchen, mould):
    text = _text(cook, "mould_plan", kitchen, mould.pk, **SLABS | {"density": ""})
    assert "Type what a millilitre weighs, or the Brix; or do the density test" in text
    assert "moulds to fill" not in text


def test_an_unknown_hot_height_is_said_not_guessed(cook, kitchen, mould):
    assert "density at pouring is reckoned not known" in _text(
        cook, "mould_plan", kitchen, mould.pk, **SLABS
    )
    hot = _text(cook, "mould_plan", kitchen, mould.pk, **SLABS, brix="66", fill_c="90")
    # 66 Brix: 1.3227 cold, 1.2810 at 90 °C (ICUMSA SPS-4): 1.3227 / 1.2810 = 1.0326; x 30 = 31.0
    assert "Poured hot at 90 °C it takes 3.3 % more room 31 mm" in hot
    assert HOT_SUGAR in hot


@pytest.mark.parametrize(
    ("depth", "runs_over"), [("38.7", False), ("38.8", True)]
)  # 40 / 1.0326 = 38.74 mm cold is 40 mm hot
def test_what_runs_over_the_rim_hot_is_said(cook, kitchen, mould, depth, runs_over):
    typed = SLABS | {"depth_mm": depth, "brix": "66"}
    text = _text(cook, "mould_plan", kitchen, mould.pk, **typed)
    assert ("it runs over" in text) is runs_over


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        ({"depth_mm": "41"}, "does not fit: the rim of the mould is 40 mm high"),
        ({"piece_g": "100"}, "leave no choice"),
        ({"piece_length_mm": "400"}, "does not fit into the 300 x 200 mm"),
        ({"piece_width_mm": ""}, "A piece has two sides"),
        ({"trim_mm": "105"}, "leaves nothing of a tray"),
        ({"density": "1380"}, "Is 1380 in kilos a cubic metre?"),
        ({"net_kg": "eleven"}, "not a number"),
        ({"by": "guess"}, "Choose one of the two."),
        ({"of": "product-999999"}, "Choose one of the list."),
        ({"piece_length_mm": "2", "piece_width_mm": "2"}, "Lengths are in millimetres"),
        ({"declared_g": "4", "spread_g": "1"}, "rules on average weight"),
        ({"net_kg": "1\x00"}, "One thing needs another look"),
    ],
)
def test_what_cannot_be_is_said_in_a_sentence_and_stays_typed(
    cook, kitchen, mould, wrong, sentence
):
    address = reverse("mould_plan", args=[kitchen.pk, mould.pk])
    answer = cook.get(address, SLABS | wrong)
    text = answer.content.decode()
    assert answer.status_code == 200
    assert sentence in text
    assert "One thing needs another look" in text
    assert 'value="50"' in text or "piece_length_mm" in wrong
    assert "<svg" not in text


def test_figures_that_a_link_brings_along_stand_in_the_boxes(cook, kitchen, mould):
    address = reverse("mould_plan", args=[kitchen.pk, mould.pk])
    text = cook.get(address, {"density": "1.38", "net_kg": "12,4"}).content.decode()
    assert 'value="12,4"' in text
    assert 'value="1.38"' in text
    assert "another look" not in text


def test_another_kitchens_product_is_not_offered(cook, kitchen, mould):
    other = a_product(form="slab", name="Not ours")
    text = _text(cook, "mould_plan", kitchen, mould.pk, **SLABS, of=f"product-{other.pk}")
    assert "Not ours" not in text
    assert "Choose one of the list." in text


def test_a_plan_asks_the_database_the_same_however_much_there_is(
    cook, kitchen, mould, django_assert_num_queries
):
    product = a_product(a_damson_paste(kitchen), form="piece", fill_g=342)
    a_mould(kitchen)
    address = reverse("mould_plan", args=[kitchen.pk, mould.pk])
    typed = SLABS | {"of": f"product-{product.pk}"}
    cook.get(address, typed)
    with CaptureQueriesContext(connection) as few:
        cook.get(address, typed)
    for _ in range(4):
        a_product(product.recipe, form="piece")
        a_mould(kitchen)
    with django_assert_num_queries(len(few)):
        assert "moulds to fill" in cook.get(address, typed).content.decode()


# --- Jars (constructed; sums in tests/costing/reckoning/test_jars.py) -----------------------------


def test_a_pan_is_planned_into_jars(cook, kitchen):
    text = _text(cook, "jars", kitchen, **JARS, fill_g="342", height_mm="95")
    assert "89 jars 342 g in each, 321 g left over." in text  # 30759 - 89 x 342 = 321
    assert "91.19 % of the jar 257.14 ml" in text  # 342 / 1.33 = 257.14; / 282
    assert "Headspace cold 24.86 ml" in text
    assert "Suggested every jar is weighed: one step of the scale over the label 341 g" in text


def test_without_a_fill_the_suggested_one_is_taken(cook, kitchen):
    text = _text(cook, "jars", kitchen, **JARS)
    assert "90 jars 341 g in each, 69 g left over." in text  # 30759 = 90 x 341 + 69
    assert "as suggested" in text


def test_jars_at_hand_are_not_exceeded(cook, kitchen):
    assert "12 jars" in _text(cook, "jars", kitchen, **JARS, at_hand="12")


def test_the_owner_sees_what_is_given_away_and_a_cook_no_money(client, kitchen):
    product = a_product(a_damson_paste(kitchen), net_quantity_g=340, fill_g=348)
    typed = {"net_kg": "31", "brimful_ml": "282", "of": f"product-{product.pk}"}
    client.force_login(an_owner(kitchen))
    text = _text(client, "jars", kitchen, **typed)
    # 31000 / 348 = 89 jars; 8 g x 89 = 712 g; x 9.1271 a kilo (test_recipe_costs) = 6.4985
    assert "Given away 8 g a jar over the label 712 g" in text
    assert "€6.50" in text
    client.force_login(a_cook(kitchen))
    text = _text(client, "jars", kitchen, **typed)
    assert "712 g" in text
    assert not re.search(r"€|EUR|cost", text)


def test_a_missing_price_makes_what_is_given_away_a_lower_bound(client, kitchen):
    paste = a_damson_paste(kitchen)
    a_line(paste.versions.get(), a_fruit(kitchen, name="Quinces"), "0.5", "kg", position=9)
    product = a_product(paste, net_quantity_g=340, fill_g=348)
    client.force_login(an_owner(kitchen))
    typed = {"net_kg": "31", "brimful_ml": "282", "of": f"product-{product.pk}"}
    assert "at least, for not all is known" in _text(client, "jars", kitchen, **typed)


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        ({"fill_g": "380"}, "Take a larger jar or fill less"),
        ({"fill_g": "339"}, "less than the 340 g on the label"),
        ({"brimful_ml": "0"}, "more than 0"),
        ({"net_kg": "30.759"}, "type 30.7590"),
        ({"density": ""}, "Type what a millilitre weighs"),
        ({"declared_g": ""}, "What weight stands on the label?"),
    ],
)
def test_what_cannot_be_filled_is_said_in_a_sentence(cook, kitchen, wrong, sentence):
    text = _text(cook, "jars", kitchen, **JARS | {"fill_g": "342"} | wrong)
    assert sentence in text
    assert "left over" not in text


def test_a_jar_that_is_full_hot_is_warned_of(cook, kitchen):
    # 370 / 1.33 = 278.2 ml of 282, 98.7 %; 3.2 % more room hot is above the brim
    text = _text(cook, "jars", kitchen, **JARS, fill_g="370", brix="66")
    assert "Hot it does not fit" in text
    assert "Hot it does not fit" not in _text(cook, "jars", kitchen, **JARS, brix="66")


# --- The density test -----------------------------------------------------------------------------


def test_three_weighings_give_the_density(cook, kitchen):
    # 276 g of paste against 200 g of water of 0.9982 g/ml (20 °C, CRC Handbook): 1.3775
    text = _text(cook, "tub_density", kitchen, **TUB)
    assert "1.378 g/ml" in text
    assert "The tub holds 200.4 ml" in text
    assert "Plan jars with it" in text


def test_the_density_goes_back_with_everything_that_was_typed(cook, kitchen, mould):
    a_mould(kitchen, name="Another")
    plan = reverse("mould_plan", args=[kitchen.pk, mould.pk])
    page = cook.get(plan, SLABS | {"density": "", "brix": "66"}).content.decode()
    there = re.search(r'href="([^"]*density/[^"]*kept=[^"]*)"', page)[1].replace("&amp;", "&")
    carried = {name: values[0] for name, values in parse_qs(urlsplit(there).query).items()}
    answer = cook.get(there, carried | TUB)
    back = re.search(r'planner-ways"><li><a href="([^"]+)"', answer.content.decode())[1]
    back = back.replace("&amp;", "&")
    assert urlsplit(back).path == plan
    figures = {name: values[0] for name, values in parse_qs(urlsplit(back).query).items()}
    assert figures["net_kg"] == "11,8903"
    assert Decimal(figures["density"]) == Decimal("1.378")
    text = cook.get(back).content.decode()
    assert "moulds to fill" in text
    assert "another look" not in text


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        ({"with_water_g": "12"}, "too little for a scale"),
        ({"with_product_g": "600"}, "denser than solid sugar"),
        ({"with_product_g": "150"}, "lighter than water"),
        ({"water_c": "90"}, "at most 40"),
        ({"tub_g": ""}, "Weigh the tub empty."),
    ],
)
def test_weighings_that_cannot_be_are_said_at_their_box(cook, kitchen, wrong, sentence):
    text = _text(cook, "tub_density", kitchen, **TUB | wrong)
    assert sentence in text
    assert "Plan jars with it" not in text


@pytest.mark.parametrize("kept", ["%", "a=b&&&=", "density=9&density=8", "x" * 3000, "by=\x00"])
def test_whatever_is_carried_along_breaks_nothing(cook, kitchen, mould, kept):
    address = reverse("tub_density", args=[kitchen.pk])
    answer = cook.get(address, TUB | {"to": str(mould.pk), "kept": kept})
    assert answer.status_code == 200
    for back in re.findall(r'planner-ways">.*?href="([^"]+)"', answer.content.decode()):
        assert cook.get(back.replace("&amp;", "&")).status_code == 200
