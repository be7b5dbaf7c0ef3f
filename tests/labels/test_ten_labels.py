"""Ten labels through rows, law and type: each may leave, says what it must, and is large enough.

With LABEL_PICTURES=folder each is left there as a picture at print size, to be looked at.
"""

import io

import pikepdf
import pypdfium2
import pytest
from django.db import transaction

from tests.labels.gallery import TEN, keep_pictures
from tests.labels.rendering.reading import (
    bare,
    bold_text,
    page_sizes_mm,
    text_by_pdfium,
    text_by_pdfplumber,
    x_heights_mm,
)

pytestmark = pytest.mark.django_db
# Art. 13(2) and (3) of Regulation (EU) No 1169/2011: 1.2 mm, or 0.9 under 80 cm2 of largest
# surface. Box 90 x 60 mm: 54 cm2. Wall of the jar, pi x 80 x 62 mm: 156; of the taster: 9.4.
LEGAL_MM = {
    "slab": 0.9, "jar": 1.2, "tiny jar": 0.9, "wrap-around": 1.2, "bilingual": 0.9,
    "weigh-and-price": 0.9, "loose ticket": 1.2, "direct sale": 0.9, "GB jam": 1.2,
    "EU extra jam": 1.2,
}  # fmt: skip
ALL_OF_ART_9 = ("Best before end July 2027", "Rookfold Kitchen, 1 Orchard Lane, Millford")
SAID = {
    # Art. 9(1)(a) to (h); Directive 2011/91/EU for the lot. 5 000 of 6 500 g: 77 %; 600: 9 %
    "slab": ("Damson and walnut paste", "Ingredients: damsons (77 %), sugar, walnuts (9 %)",
             "100 g", "Store in a cool, dry place.", "L RF-26320", *ALL_OF_ART_9),
    "jar": ("Damson paste", "Ingredients: damsons (73 %), white sugar, lemon juice", "340 g",
            "Keep in the fridge after opening", "L RF-26320", *ALL_OF_ART_9),
    # Art. 16(2): name, allergens, net quantity and date
    "tiny jar": ("Damson and nut paste", "walnuts", "30 g", "Best before end July 2027"),
    # Art. 30(1), 32(5) and Annex XIII, Part B; Directive 2001/113/EC, Art. 2(3):
    # 480 of 990 g: 48 g of fruit
    "wrap-around": ("Strawberry jam", "prepared with 48 g of fruit per 100 g", "energy", "kJ",
                    "kcal", "saturates", "of which sugars", "protein", "salt",
                    "Reference intake of an average adult (8 400 kJ/2 000 kcal)", *ALL_OF_ART_9),
    # Art. 15(2) and Annex X, 1(a) in its Spanish text
    "bilingual": ("Ingredients: damsons (77 %), sugar, walnuts (9 %)", "Ingredientes:",
                  "nueces (9 %)", "Consumir preferentemente antes del fin de julio de 2027",
                  *ALL_OF_ART_9),
    # Directive 98/6/EC, Art. 3(1): 0.201 x 19.80 = 3.9798
    "weigh-and-price": ("Damson paste", "201 g", "€19.80/kg", "€3.98", "L DC-26320",
                        *ALL_OF_ART_9),
    # Art. 44(1)(a) of the Regulation; Directive 98/6/EC, Art. 3(3): 2.20 for 100 g
    "loose ticket": ("Damson and nut paste", "walnuts", "€22.00/kg"),
    # Food Information Regulations 2014, SI 2014/1855, reg. 5 as amended by SI 2019/1218
    "direct sale": ("Damson and walnut paste", "Ingredients: damsons, sugar, walnuts"),
    # SI 2003/3120, reg. 5(2)(b) and (c): 450 of 980 g: 46 g; 65 by refractometer
    "GB jam": ("Strawberry jam", "prepared with 46 g of fruit per 100 g",
               "total sugar content: 65 g per 100 g", "227 g", *ALL_OF_ART_9),
    # Directive 2001/113/EC, Art. 2(3) and Annex I as amended by Directive (EU) 2024/1438
    "EU extra jam": ("Strawberry extra jam", "prepared with 60 g of fruit per 100 g", "340 g",
                     "Ingredients: strawberries, sugar", *ALL_OF_ART_9),
}  # fmt: skip
NOT_SAID = {
    "tiny jar": ("Ingredients", "RF-26320", "Orchard"),
    "loose ticket": ("%", "Best before"),
    "direct sale": ("%",),  # the regulations ask for the quantity of meat only
    "EU extra jam": ("total sugar", "%"),
}
SET_APART = {
    "slab": "walnuts", "bilingual": "walnutsnueces", "direct sale": "walnuts",
}  # fmt: skip


@pytest.fixture(scope="module")
def labels(django_db_setup, django_db_blocker):
    """All ten, drawn once, in a kitchen that is taken back."""
    with django_db_blocker.unblock(), transaction.atomic():
        made = {name: make() for name, make in TEN.items()}
        transaction.set_rollback(True)
    keep_pictures(made)
    return made


def by_both(pdf):
    """The words of all papers of a label, by two readers."""
    papers = range(len(page_sizes_mm(pdf)))
    for read in (text_by_pdfium, text_by_pdfplumber):
        yield "".join(read(pdf, page=page) for page in papers)


def papers_of(pdf):
    """Each paper of a label as a file of its own."""
    with pikepdf.open(io.BytesIO(pdf)) as book:
        for page in book.pages:
            single, out = pikepdf.new(), io.BytesIO()
            single.pages.append(page)
            single.save(out)
            yield out.getvalue()


@pytest.mark.parametrize("name", TEN)
def test_nothing_stops_it_from_printing(labels, name):
    assert [found.message for found in labels[name].findings if found.stops_printing] == []
    for text in by_both(labels[name].pdf):
        assert "PROOF" not in text


@pytest.mark.parametrize("name", TEN)
def test_it_says_what_the_law_asks_for_and_no_more(labels, name):
    for text in by_both(labels[name].pdf):
        for said in SAID[name]:
            assert bare(said) in text, said
        for not_said in NOT_SAID.get(name, ()):
            assert bare(not_said) not in text, not_said


@pytest.mark.parametrize("name", TEN)
def test_every_x_is_as_high_as_the_law_wants(labels, name):
    heights = [
        height for paper in papers_of(labels[name].pdf) for height in x_heights_mm(paper).values()
    ]
    assert min(heights) >= LEGAL_MM[name]


@pytest.mark.parametrize("name", SET_APART)
def test_allergens_are_set_apart(labels, name):
    # Art. 21(1)(b)
    assert bold_text(labels[name].pdf) == SET_APART[name]


def test_no_number_is_broken_over_two_lines(labels):
    # "8 400 kJ/2 000 kcal" of Annex XIII, Part B, stays readable in a narrow column.
    pdf = labels["wrap-around"].pdf
    document = pypdfium2.PdfDocument(pdf)
    lines = document[0].get_textpage().get_text_range().splitlines()
    assert not any(line.rstrip().endswith(("/2", "(8")) for line in lines)
