"""Allergens by their names in each language: Regulation (EU) No 1169/2011, Annex II.

English [R]; Spanish [N] a regional list and a consumer body; French [N] the consumer code, from
Brazil nuts on [2]; Italian and Portuguese [2]; German [R] cereals to soya, the rest [N].
"""

import pytest

from labels.facts import Allergen
from labels.law.eu.annex_ii import ROWS, groups_named_in, row_of, said_in, unconfirmed_allergens

TABLE = {
    ("gluten", "wheat"): ("trigo", "blé", "grano", "trigo", "Weizen"),
    ("gluten", "barley"): ("cebada", "orge", "orzo", "cevada", "Gerste"),
    ("eggs", "egg"): ("huevos", "œufs", "uova", "ovos", "Eier"),
    ("peanuts", "peanuts"): ("cacahuetes", "arachides", "arachidi", "amendoins", "Erdnüsse"),
    ("milk", "butter"): ("leche", "lait", "latte", "leite", "Milch"),
    ("nuts", "almonds"): ("almendras", "amandes", "mandorle", "amêndoas", "Mandeln"),
    ("nuts", "hazelnut"): ("avellanas", "noisettes", "nocciole", "avelãs", "Haselnüsse"),
    ("nuts", "walnuts"): ("nueces", "noix", "noci", "nozes", "Walnüsse"),
    ("nuts", "cashews"): (
        "anacardos", "noix de cajou", "noci di acagiù", "castanhas de caju", "Kaschunüsse",
    ),
    ("celery", "celery"): ("apio", "céleri", "sedano", "aipo", "Sellerie"),
    ("mustard", "mustard"): ("mostaza", "moutarde", "senape", "mostarda", "Senf"),
    ("sulphites", "sulphites"): ("sulfitos", "sulfites", "solfiti", "sulfitos", "Sulfite"),
    ("lupin", "lupin"): ("altramuces", "lupin", "lupini", "tremoço", "Lupinen"),
    ("molluscs", "molluscs"): (
        "moluscos", "mollusques", "molluschi", "moluscos", "Weichtiere",
    ),
}  # fmt: skip


@pytest.mark.parametrize(("group", "named"), TABLE, ids=lambda value: value)
def test_annex_ii_in_every_language(group, named):
    allergen = Allergen(group, named)
    for language, expected in zip(("es", "fr", "it", "pt", "de"), TABLE[group, named], strict=True):
        assert said_in(allergen, language=language).named_as == expected


def test_the_marks_of_the_table_are_kept():
    marks = {r.english[0]: {t: w.mark for t, w in r.in_languages.items()} for r in ROWS}
    assert marks["wheat"]["de"] == "read"
    assert marks["wheat"]["fr"] == "read in national law"
    assert marks["Brazil nuts"]["fr"] == "second-hand"
    assert {marks[name][t] for name in marks for t in ("it", "pt")} == {"second-hand"}
    assert {m["en"] for m in marks.values()} == {"read"}


def test_a_word_already_in_the_language_stays_and_a_foreign_one_is_told_in_english():
    assert said_in(Allergen("nuts", "nuez"), language="es").named_as == "nuez"
    assert said_in(Allergen("nuts", "nuez"), language="en").named_as == "walnuts"
    assert said_in(Allergen("milk", "cream"), language="en").named_as == "cream"
    assert said_in(Allergen("gluten", "spelt flour"), language="fr").named_as == "blé"


def test_what_is_in_no_row_of_the_closed_list_has_no_name():
    assert row_of(Allergen("nuts", "chestnut")) is None
    assert said_in(Allergen("nuts", "chestnut"), language="es") is None


def test_the_words_that_a_native_reader_has_to_check():
    allergens = (Allergen("gluten", "rye"), Allergen("milk", "milk"))
    assert [w.text for w in unconfirmed_allergens(allergens, language="de")] == ["Milch"]


@pytest.mark.parametrize(
    ("name", "language", "groups"),
    [
        ("nueces picadas", "es", {"nuts"}),
        ("nuez moscada", "es", set()),
        ("noix de coco râpée", "fr", set()),
        ("noix de cajou", "fr", {"nuts"}),
        ("farina di grano saraceno", "it", set()),
        ("leite em pó", "pt", {"milk"}),
        ("Zucker", "de", set()),
    ],
)
def test_a_name_that_speaks_of_an_allergen(name, language, groups):
    assert groups_named_in(name, language=language) == groups
