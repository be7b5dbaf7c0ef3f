"""The starter pantry against USDA SR28 and the law, and what adding from it leaves alone."""

import csv
import hashlib
from collections import Counter
from decimal import Decimal

import pytest
from django.contrib.auth import get_user_model
from django.core.exceptions import ValidationError

from costing.models import AllergenAnswer, Ingredient
from costing.services.ingredients import add_from_pantry, save_ingredient
from costing.services.kitchens import create_kitchen
from costing.services.pantry import FOLDER, NUTRITION, pantry_items

D = Decimal
ITEMS = {item.slug: item for item in pantry_items()}


@pytest.fixture
def maker(db):
    return get_user_model().objects.create_user("maker")


@pytest.fixture
def kitchen(maker):
    return create_kitchen(by=maker, trading_name="A kitchen", country="IE")


# --- The figures ---------------------------------------------------------------------------------

# Read from the USDA's own SR28 record, not from our extract:
# slug, record, field, per 100 g.
SPOT_VALUES = [
    ("strawberry", "09316", "sugars_g", "4.89"),
    ("strawberry", "09316", "fibre_g", "2.0"),
    ("strawberry", "09316", "carbohydrate_g", "5.68"),  # 7.68 by difference - 2.0
    ("apricot", "09021", "sugars_g", "9.24"),
    ("almonds", "12061", "fat_g", "49.93"),
    ("almonds", "12061", "saturates_g", "3.802"),
    ("almonds", "12061", "carbohydrate_g", "9.05"),  # 21.55 - 12.5
    ("sugar-white", "19335", "carbohydrate_g", "99.98"),
    ("salt", "02047", "salt_g", "96.895"),  # 38 758 mg of sodium x 2.5
    ("butter", "01145", "saturates_g", "50.489"),
    ("honey", "19296", "carbohydrate_g", "82.20"),  # 82.40 - 0.2
]


@pytest.mark.parametrize(("slug", "record", "field", "expected"), SPOT_VALUES)
def test_figures_are_those_of_usda_sr28(slug, record, field, expected):
    item = ITEMS[slug]
    assert item.record == record
    assert item.values[field] == D(expected)


@pytest.mark.parametrize(("record", "water_g"), [("09316", "90.95"), ("09021", "86.35")])
def test_water_is_that_of_usda_sr28(record, water_g):
    with (FOLDER / "sr28.csv").open(newline="", encoding="utf-8") as file:
        rows = {row["ndb_number"]: row for row in csv.DictReader(file)}
    assert rows[record]["water_g"] == water_g


def test_the_extract_is_the_one_that_was_compared_with_the_source():
    """Every figure was compared with the two files of USDA (SOURCES.md) when this was noted."""
    extract = (FOLDER / "sr28.csv").read_bytes()
    assert (
        hashlib.sha256(extract).hexdigest()
        == "6dc48347f23781d3c83452a7ec18d62d3ac2813504fcc67053047f8dfc68feef"
    )


def test_granulated_sugar_gives_1700_kj_with_the_factors_of_the_eu():
    """SR28 prints 1 618 kJ; Regulation (EU) No 1169/2011, Annex XIV: 17 kJ/g, 99.98 g."""
    assert round(ITEMS["sugar-white"].values["carbohydrate_g"] * 17) == 1700


def test_energy_is_never_copied():
    assert not [name for item in ITEMS.values() for name in item.values if "energy" in name]
    header = (FOLDER / "sr28.csv").read_text(encoding="utf-8").splitlines()[0]
    assert "kcal" not in header
    assert "energy" not in header


def test_what_sr28_does_not_give_stays_empty():
    assert "sugars_g" not in ITEMS["quince"].values
    assert "carbohydrate_g" not in ITEMS["blackcurrant"].values  # no fibre, so no remainder
    assert "fibre_g" not in ITEMS["blackcurrant"].values
    assert ITEMS["quince"].sources["sugars_g"].startswith("Not in USDA SR28")


@pytest.mark.parametrize("slug", ["pectin", "citric-acid", "agar", "star-anise", "damson"])
def test_a_food_without_a_record_has_no_nutrition(slug):
    assert not ITEMS[slug].has_nutrition
    assert "Ask your supplier" in ITEMS[slug].sources["fat_g"]


def test_sugars_never_exceed_carbohydrate():
    """Eight records of SR28 would, after fibre is taken off; there carbohydrate is left empty."""
    for item in ITEMS.values():
        if {"sugars_g", "carbohydrate_g"} <= set(item.values):
            assert item.values["sugars_g"] <= item.values["carbohydrate_g"], item.slug
    odd = [item.slug for item in ITEMS.values() if "cannot be" in item.sources["carbohydrate_g"]]
    assert len(odd) == 8
    assert "apricot" in odd


@pytest.mark.parametrize("item", ITEMS.values(), ids=ITEMS)
def test_every_figure_says_where_it_comes_from(item):
    texts = {"name", "label_name", "category", "additive_class", "additive_number", "note"}
    for name in set(item.values) - texts:
        assert item.sources.get(name), f"{item.slug}: {name}"
    assert set(NUTRITION) <= set(item.sources)
    if item.allergens:
        assert item.sources["allergens"]


@pytest.mark.parametrize("item", ITEMS.values(), ids=ITEMS)
def test_figures_are_possible(item):
    """100 g hold no more than 100 g; typical Brix lies in its range; pH runs upward."""
    values = item.values
    whole = [values.get(n, D(0)) for n in ("fat_g", "carbohydrate_g", "fibre_g", "protein_g")]
    assert sum(whole) <= D("100.1")
    if item.brix_low:
        assert item.brix_low < values["brix"] < item.brix_high
    if "ph_low" in values:
        assert values["ph_low"] < values["ph_high"]


# Minimum Brix of single-strength juice, 21 CFR 101.30 (read in a reprint).
SINGLE_STRENGTH = {
    "apple": "11.5", "apricot": "11.7", "blackberry": "10.0", "blueberry": "10.0",
    "cherry-sour": "14.0", "crab-apple": "15.4", "cranberry": "7.5", "elderberry": "11.0",
    "fig": "18.2", "gooseberry": "8.3", "grapefruit": "10.0", "grape": "16.0", "guava": "7.7",
    "mango": "13.0", "nectarine": "11.8", "orange": "11.8", "papaya": "11.5", "peach": "10.5",
    "pear": "12.0", "pineapple": "12.8", "plum": "14.3", "pomegranate": "16.0",
    "quince": "13.3", "raspberry": "9.2", "rhubarb": "5.7", "strawberry": "8.0", "carrot": "8.0",
    "tomato": "5.0",
}  # fmt: skip


@pytest.mark.parametrize(("slug", "brix"), SINGLE_STRENGTH.items())
def test_the_brix_range_holds_the_legal_minimum_of_single_strength_juice(slug, brix):
    assert ITEMS[slug].brix_low <= D(brix) <= ITEMS[slug].brix_high


def test_solids_of_a_dried_fruit_add_up_to_what_is_not_water():
    """Raisins: 100 - 15.43 g of water = 84.57 g of solids, dissolved or not (SR28 09298)."""
    raisins = ITEMS["raisins"].values
    dissolved = raisins["brix"] * (100 - raisins["insoluble_pct"]) / 100
    assert abs(dissolved + raisins["insoluble_pct"] - D("84.57")) < D("0.1")


def test_additives_carry_class_and_number():
    """Class names of Annex VII, part C, to Regulation (EU) No 1169/2011."""
    additives = {
        slug: (ITEMS[slug].values["additive_class"], ITEMS[slug].values["additive_number"])
        for slug in ("pectin", "citric-acid", "agar")
    }
    assert additives == {
        "pectin": ("gelling agent", "E 440"),
        "citric-acid": ("acid", "E 330"),
        "agar": ("gelling agent", "E 406"),
    }


def test_densities_lie_near_the_handbook():
    """At 20 C: honey 1.42, cider vinegar 1.01, orange juice of 11.8 Brix 1.047 (sucrose table)."""
    for slug, expected in (("honey", "1.42"), ("vinegar-cider", "1.01"), ("orange-juice", "1.047")):
        assert abs(ITEMS[slug].values["density_kg_per_l"] - D(expected)) < D("0.02")


# --- Allergens -----------------------------------------------------------------------------------

CONTAINS = {
    "mustard-seed": ("mustard", "mustard"),
    "celery": ("celery", "celery"),
    "celery-seed": ("celery", "celery"),
    "almonds": ("nuts", "almonds"),
    "walnuts": ("nuts", "walnuts"),
    "hazelnuts": ("nuts", "hazelnuts"),
    "pecans": ("nuts", "pecan nuts"),
    "pistachios": ("nuts", "pistachio nuts"),
    "cashews": ("nuts", "cashews"),
    "sesame": ("sesame", "sesame"),
    "butter": ("milk", "milk"),
    "cream": ("milk", "milk"),
}
"""Foods of the pantry that are themselves in Annex II to Regulation (EU) No 1169/2011."""


def test_foods_that_are_themselves_an_allergen_say_so_and_no_others():
    found = {
        item.slug: (group, named_as)
        for item in ITEMS.values()
        for group, (answer, named_as) in item.allergens.items()
        if answer == AllergenAnswer.Answer.CONTAINS
    }
    assert found == CONTAINS


def test_only_the_nature_of_the_food_makes_it_free():
    free = {
        item.slug
        for item in ITEMS.values()
        if any(answer == AllergenAnswer.Answer.FREE for answer, _ in item.allergens.values())
    }
    fresh = {i.slug for i in ITEMS.values() if i.group in {"Fruit", "Vegetables", "Herbs"}}
    assert free == fresh | {"sugar-white", "salt", "water"}
    assert all("cross-contact" in ITEMS[slug].sources["allergens"] for slug in free)


@pytest.mark.parametrize(
    "slug", ["sultanas-golden", "apricots-dried", "vinegar-red-wine", "lemon-juice", "grape"]
)
def test_sulphites_are_not_known_until_the_supplier_says(slug):
    """Annex II, part E, 04.1.1 to Regulation (EC) No 1333/2008 allows them on table grapes."""
    assert "sulphite_mg_per_kg" not in ITEMS[slug].values
    assert "sulphites" not in ITEMS[slug].allergens


def test_malt_vinegar_and_spices_are_asked_about():
    for slug in ("vinegar-distilled", "ginger-ground", "black-pepper", "raisins", "honey"):
        assert ITEMS[slug].allergens == {}


# --- Adding to a kitchen -------------------------------------------------------------------------


def test_every_food_can_be_added(kitchen, maker):
    added = add_from_pantry(kitchen, by=maker, slugs=ITEMS)
    assert len(added) == len(ITEMS) == Ingredient.objects.filter(kitchen=kitchen).count()
    assert Counter(item.group for item in ITEMS.values())["Fruit"] > 40


def test_an_added_food_carries_figures_answers_and_sources(kitchen, maker):
    (celery,) = add_from_pantry(kitchen, by=maker, slugs=["celery"])
    celery.refresh_from_db()
    assert celery.usable_pct == 89  # 11 % refuse: roots and trimmings
    assert "SR28" in celery.figure_sources["usable_pct"]
    answers = {row.group: row.answer for row in celery.allergen_answers.all()}
    assert answers.pop("celery") == "contains"
    assert set(answers.values()) == {"free"}
    assert len(answers) == 13


def test_adding_again_changes_nothing(kitchen, maker):
    (first,) = add_from_pantry(kitchen, by=maker, slugs=["quince"])
    before = Ingredient.objects.filter(pk=first.pk).values().get()
    (again,) = add_from_pantry(kitchen, by=maker, slugs=["quince", "quince"])
    assert again.pk == first.pk
    assert Ingredient.objects.filter(pk=first.pk).values().get() == before


def test_the_makers_own_figures_and_answers_stay(kitchen, maker):
    own = save_ingredient(
        kitchen,
        by=maker,
        values={"name": "quinces", "brix": D("11.4"), "usable_pct": D(70),
                "figure_sources": {"brix": "my refractometer"}},
        allergens={"sulphites": ("contains", "sulphites")},
    )  # fmt: skip
    (same,) = add_from_pantry(kitchen, by=maker, slugs=["quince"])
    same.refresh_from_db()
    assert (same.pk, same.name, same.brix, same.usable_pct) == (own.pk, "quinces", D("11.4"), 70)
    assert same.figure_sources["brix"] == "my refractometer"
    assert same.fibre_g == D("1.9")  # what was empty is filled, with its source
    assert "09296" in same.figure_sources["fibre_g"]
    assert "usable_pct" not in same.figure_sources
    answers = {row.group: row.answer for row in same.allergen_answers.all()}
    assert answers["sulphites"] == "contains"
    assert answers["milk"] == "free"


def test_a_food_that_is_not_there_is_refused_by_name(kitchen, maker):
    with pytest.raises(ValidationError, match="no “moon cheese”"):
        add_from_pantry(kitchen, by=maker, slugs=["quince", "moon cheese"])
    assert not Ingredient.objects.filter(kitchen=kitchen).exists()
