"""Cards for the shelf: everything on them is found, and the price is what is seen first."""

import io

import pdfplumber
import pytest

from labels.facts import LabelFace
from labels.rendering.layout import TICKET, fit_label
from labels.rendering.pdf import label_pdf
from labels.stock import SHEETS
from tests.labels.rendering.by_hand import particular
from tests.labels.rendering.reading import bare, text_by_pdfium


def a_card(name="Spiced pear and apple paste", *, price="€12.46"):
    return LabelFace(
        (
            particular("name", name),
            particular("net_quantity", "340 g"),
            particular("price", price),
            particular("unit_price", "€36.65/kg"),
            particular("allergens", "Contains: walnuts, milk."),
        ),
        brand_name="Not on a card",
        layout=TICKET,
    )


def sizes(pdf):
    with pdfplumber.open(io.BytesIO(pdf)) as document:
        return [(each["text"], each["size"]) for each in document.pages[0].chars]


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.code)
def test_a_card_fits_every_sheet_and_says_all_of_it(sheet):
    fitted = fit_label(a_card(), box=sheet.box())
    assert fitted.fits
    read = text_by_pdfium(label_pdf(fitted))
    for said in ("Spiced pear and apple paste", "€12.46", "€36.65/kg", "340 g", "walnuts"):
        assert bare(said) in read
    assert bare("Not on a card").upper() not in read.upper()


def test_the_price_is_the_largest_and_the_price_of_a_kilo_is_easily_read():
    # Directive 98/6/EC, Art. 4(1): unambiguous, easily identifiable and clearly legible.
    letters = sizes(label_pdf(fit_label(a_card("Quince paste"), box=SHEETS[4].box())))
    price = max(size for text, size in letters if text == "€")
    kilo = max(size for text, size in letters if text == "/")
    assert price == max(size for _, size in letters)
    assert kilo >= 0.33 * price
