"""Words, numbers and dates of a label by language, held against Unicode CLDR (through Babel)."""

from datetime import date
from decimal import Decimal

import pytest
from babel.dates import format_date, format_skeleton
from babel.numbers import format_decimal

from labels.law.eu.language import OFFICIAL
from labels.law.eu.word_tables import WORDS
from labels.law.eu.words import (
    additive_class,
    date_text,
    figure,
    figure_where_sold,
    has_additive_class,
    unconfirmed,
)
from tests.labels.law.eu.builders import a_label, text_of, used

CLDR = {"en": "en_IE", "es": "es_ES", "fr": "fr_FR", "it": "it_IT", "pt": "pt_PT", "de": "de_DE"}


@pytest.mark.parametrize("language", CLDR)
def test_every_month_stands_in_a_date_as_cldr_has_it(language):
    for number in range(1, 13):
        day = date(2027, number, 5)
        parts = {"day": 5, "month_number": number, "year": 2027, "language": language}
        assert date_text("full", **parts) == format_date(day, "long", locale=CLDR[language])
        for form, skeleton in (("day", "MMMMd"), ("month", "yMMMM")):
            expected = format_skeleton(skeleton, day, locale=CLDR[language])
            assert date_text(form, **parts) == expected


@pytest.mark.parametrize("language", CLDR)
def test_a_number_has_the_decimal_sign_of_its_language(language):
    assert figure(Decimal("1.25"), language=language) == format_decimal(
        Decimal("1.25"), locale=CLDR[language]
    )


@pytest.mark.parametrize("country", OFFICIAL)
def test_a_number_said_once_has_the_form_of_the_country(country):
    # CLDR names a locale by language and country; Irish English and Maltese have the point.
    tongue = {"IE": "en", "MT": "mt"}.get(country, min(OFFICIAL[country]))
    expected = format_decimal(Decimal("1.25"), locale=f"{tongue}_{country}")
    assert figure_where_sold(Decimal("1.25"), country=country, language="en") == expected


def test_where_the_country_is_not_known_the_language_decides():
    assert figure_where_sold(Decimal("1.5"), country="", language="de") == "1,5"
    assert figure_where_sold(Decimal("1.5"), country="US", language="en") == "1.5"


def test_the_net_quantity_of_an_english_label_in_portugal_has_a_comma():
    assert text_of("net_quantity", a_label(net_quantity_g=1250, country_of_sale="PT")) == "1,25 kg"
    assert text_of("net_quantity", a_label(net_quantity_g=1250, country_of_sale="IE")) == "1.25 kg"


# Regulation (EU) No 1169/2011, Annex X, in each language: marks as in the table of words,
# [R] the Regulation in that language, [N] the same words in a national act.
BEFORE = {
    "en": ("Best before end November 2027", "Best before 20 November 2027", "read"),
    "es": (
        "Consumir preferentemente antes del fin de noviembre de 2027",
        "Consumir preferentemente antes del 20 de noviembre de 2027",
        "read in national law",
    ),
    "fr": (
        "À consommer de préférence avant fin novembre 2027",
        "À consommer de préférence avant le 20 novembre 2027",
        "read",
    ),
    "it": (
        "Da consumarsi preferibilmente entro fine novembre 2027",
        "Da consumarsi preferibilmente entro il 20 novembre 2027",
        "read in national law",
    ),
    "pt": (
        "Consumir de preferência antes do fim de novembro de 2027",
        "Consumir de preferência antes de 20 de novembro de 2027",
        "read in national law",
    ),
    "de": (
        "Mindestens haltbar bis Ende November 2027",
        "Mindestens haltbar bis 20. November 2027",
        "read in national law",
    ),
}


@pytest.mark.parametrize("language", BEFORE)
def test_annex_x_the_date_follows_the_words_of_the_language(language):
    by_month, by_day, mark = BEFORE[language]
    facts = a_label(language=language, best_before=date(2027, 11, 30))
    assert text_of("date", facts) == by_month
    facts = a_label(language=language, date_form="full")
    assert text_of("date", facts) == by_day
    assert WORDS[language]["best before"].mark == WORDS[language]["best before end"].mark == mark


@pytest.mark.parametrize(
    ("language", "heading", "per"),
    [
        ("es", "Ingredientes:", "77 g por 100 g"),
        ("fr", "Ingrédients :", "77 g pour 100 g"),
        ("it", "Ingredienti:", "77 g per 100 g"),
        ("pt", "Ingredientes:", "77 g por 100 g"),
        ("de", "Zutaten:", "77 g je 100 g"),
    ],
)
def test_the_list_stands_in_the_words_of_its_language(language, heading, per):
    facts = a_label(
        used("X", 5000, quid_reason="in the name"),
        used("Y", 4000, quid_reason="stressed"),
        language=language,
    )
    # 5 000 / 6 500 = 76.9 g in 100 g; both together are over 100 % (Annex VIII, point 4(a)).
    assert text_of("ingredients", facts) == f"{heading} X ({per}), Y ({per.replace('77', '62')})"


def test_english_was_read_and_what_is_due_a_native_check_is_told():
    assert unconfirmed("en") == ()
    due = {w.text: w.mark for w in unconfirmed("fr")}
    assert due["Ingrédients :"] == "from memory"
    assert due["gélifiant"] == "read in national law"
    assert "À consommer de préférence avant fin" not in due


def test_annex_vii_c_an_additive_has_the_class_of_the_language():
    assert additive_class("gelling agent", language="de") == "Geliermittel"
    assert additive_class("acid", language="it") == "acidificante"
    assert has_additive_class("acid", language="it")
    assert not has_additive_class("raising agent", language="it")
