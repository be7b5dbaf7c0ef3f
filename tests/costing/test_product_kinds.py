"""The rows of product kinds hang together."""

import pytest

from costing.product_kinds import (
    HOT_SUGAR,
    JAR,
    LOW_ACID,
    PIECE,
    PRODUCT_KINDS,
    SLAB,
    product_kind,
)


def test_codes_are_unique_and_fit_their_column():
    codes = [kind.code for kind in PRODUCT_KINDS]
    assert len(codes) == len(set(codes))
    assert all(len(code) <= 20 for code in codes)


def test_a_fruit_paste_is_finished_firm_and_sold_in_slabs_and_pieces():
    paste = product_kind("fruit paste")
    assert paste.usual_brix == (66, 68)
    assert paste.forms == (SLAB, PIECE)
    assert "common practice" in paste.usual_brix_in_words


@pytest.mark.parametrize("kind", PRODUCT_KINDS, ids=lambda kind: kind.code)
def test_every_kind_has_words_known_forms_and_a_possible_brix(kind):
    assert kind.words
    assert set(kind.forms) <= {SLAB, PIECE, JAR}
    if kind.usual_brix:
        low, high = kind.usual_brix
        assert 0 < low < high <= 85
    assert all(caution.endswith(".") for caution in kind.cautions)


@pytest.mark.parametrize("code", ["fruit paste", "jam", "jelly", "marmalade", "sweets", "chutney"])
def test_whoever_boils_sugar_is_warned_of_burns(code):
    assert HOT_SUGAR in product_kind(code).cautions


@pytest.mark.parametrize("code", ["chutney", "preparation", "other", "not a kind we know"])
def test_whoever_may_work_with_low_acid_food_is_warned(code):
    assert LOW_ACID in product_kind(code).cautions


def test_no_caution_promises_safety():
    for kind in PRODUCT_KINDS:
        for caution in kind.cautions:
            assert "is safe" not in caution
