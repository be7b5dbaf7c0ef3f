"""Labels of weighed pieces: prices, lots, steps, cancelling, and what a batch still has."""

import io
from dataclasses import replace
from datetime import date
from decimal import Decimal

import pikepdf
import pypdfium2
import pytest
import zxingcpp

from costing.models import AuditEntry
from labels.models import LabelDesign, PrintedLabel, WeighedPart, WeighedRun
from labels.services import weighed
from labels.services.printing import LabelRefused
from labels.services.weighed import (
    cancel_run,
    left_of,
    price_of,
    sheets_of,
    start_run,
    step,
    usual_price_per_kg,
)
from labels.stock import sheet
from tests.builders import an_owner
from tests.labels.services.test_batch_labels import a_printable, a_weighed, order

pytestmark = pytest.mark.django_db
ON = date(2026, 11, 25)
PER_KG = Decimal("19.80")
Status = WeighedRun.Status


@pytest.fixture
def design():
    return a_printable()


def a_run(design, weights=("124", "98.5", "201"), *, price=PER_KG, **values):
    batch = values.pop("batch", None) or a_weighed(design.product.recipe)
    return start_run(
        design,
        by=an_owner(design.kitchen),
        order=replace(order(batch, on=ON), **values),
        weights=[Decimal(weight) for weight in weights],
        price_per_kg=price,
    )


def pages_of(pdf):
    document = pypdfium2.PdfDocument(pdf)
    return [" ".join(page.get_textpage().get_text_range().split()) for page in document]


@pytest.mark.parametrize(
    ("net_g", "per_kg", "currency", "price"),
    [
        # 0.124 kg x 19.80 = 2.4552; 0.125 x 19.80 = 2.475, half up: 2.48 (never a cent twice).
        ("124", "19.80", "EUR", "2.46"),
        ("125", "19.80", "EUR", "2.48"),
        ("124", "1980", "JPY", "246"),  # no decimals in yen (ISO 4217)
        ("124", "19.80", "KWD", "2.455"),  # three in dinars
    ],
)
def test_a_price_is_rounded_once_to_what_changes_hands(net_g, per_kg, currency, price):
    found = price_of(Decimal(net_g), price_per_kg=Decimal(per_kg), currency=currency)
    assert str(found) == price


def test_each_piece_gets_a_label_with_its_own_weight_and_price_and_the_lot_of_its_batch(design):
    run = step(a_run(design), by=None)
    assert run.status == Status.PRINTED
    pages = pages_of(bytes(run.pages_pdf))
    lot = run.batch.lot
    for page, (weight, price) in zip(
        pages, [("124 g", "€2.46"), ("98.5 g", "€1.95"), ("201 g", "€3.98")], strict=True
    ):
        for said in (weight, price, "€19.80/kg", lot, "(62 %)", "Best before", "damson"):
            assert said in page.replace("\xa0", " ").replace("\n", " "), said
    printed = PrintedLabel.objects.get()
    assert (printed.batch, printed.copies, printed.lot) == (run.batch, 3, lot)


def test_sheets_begin_where_they_were_asked_to_and_are_the_same_each_time(design):
    run = step(a_run(design, start_at=20), by=None)
    sheets = sheets_of(run)
    assert [text.count("€19.80/kg") for text in pages_of(sheets)] == [2, 1]
    assert sheets_of(run) == sheets


def test_a_long_run_goes_in_steps_and_all_steps_are_set_alike(design, monkeypatch):
    monkeypatch.setattr(weighed, "A_STEP", 2)
    run = a_run(design, ("99", "1004", "98.5", "201", "7"))
    for done in (2, 4):
        run = step(run, by=None)
        assert (run.done, run.status) == (done, Status.OPEN)
        assert not PrintedLabel.objects.exists()
    run = step(run, by=None)
    assert (run.done, run.status) == (5, Status.PRINTED)
    assert not WeighedPart.objects.exists()
    with pikepdf.open(io.BytesIO(bytes(run.pages_pdf))) as book:
        assert len(book.pages) == 5
        assert str(book.Root.Lang) == "en"
    assert [page.count(run.batch.lot) for page in pages_of(bytes(run.pages_pdf))] == [1] * 5
    assert step(run, by=None).done == 5  # once more does nothing
    assert PrintedLabel.objects.count() == 1


def test_a_cancelled_run_prints_nothing_and_counts_for_nothing(design, monkeypatch):
    monkeypatch.setattr(weighed, "A_STEP", 1)
    run = step(a_run(design), by=None)
    assert left_of(run.batch).labelled_g == Decimal("423.5")
    run = cancel_run(run, by=None)
    assert (run.status, WeighedPart.objects.count()) == (Status.CANCELLED, 0)
    assert step(run, by=None).done == 1
    assert not PrintedLabel.objects.exists()
    assert left_of(run.batch).labelled_g == 0


def test_what_a_batch_still_has_counts_weighed_pieces_and_packs_once(design):
    run = step(a_run(design), by=None)
    left = left_of(run.batch)
    # 14 000 g were filled; 124 + 98.5 + 201 g carry labels.
    assert (left.net_g, left.labelled_g, left.grams) == (
        14000,
        Decimal("423.5"),
        Decimal("13576.5"),
    )


def test_the_price_of_a_kilo_comes_from_the_product_until_somebody_types_another(design):
    assert usual_price_per_kg(design.product, design) is None
    design.product.stall_price = Decimal("2.20")  # for 100 g
    assert usual_price_per_kg(design.product, design) == Decimal("22.00")
    a_run(design, price=Decimal("22.00"))
    assert not AuditEntry.objects.filter(field="price_per_kg").exists()
    a_run(design, price=Decimal("23.50"), batch=WeighedRun.objects.get().batch)
    entry = AuditEntry.objects.get(field="price_per_kg")
    assert (entry.old, entry.new) == ("", "23.5")
    assert LabelDesign.objects.get().price_per_kg == Decimal("23.5")


def test_nothing_is_kept_while_something_must_be_mended(design):
    LabelDesign.objects.update(name_of_food="")
    design.refresh_from_db()
    with pytest.raises(LabelRefused):
        a_run(design)
    assert not WeighedRun.objects.exists()


def test_codes_of_the_design_stand_on_every_label_and_are_read_back(design):
    # Read by zxing-cpp, which had no part in drawing them.
    design.gtin, design.qr_text = "4006381333931", "https://example.org/damson"
    design.save()
    run = step(a_run(design, sheet=sheet("a4-2x5-99.1x57")), by=None)
    document = pypdfium2.PdfDocument(sheets_of(run))
    picture = document[0].render(scale=300 / 72).to_pil()
    found = sorted(each.text for each in zxingcpp.read_barcodes(picture))
    assert found == ["4006381333931"] * 3 + ["https://example.org/damson"] * 3


def test_a_code_without_room_is_left_out_and_the_maker_is_told(design):
    design.gtin = "4006381333931"
    prepared = {
        code: weighed.prepare_pieces(
            design,
            order=replace(order(a_weighed(design.product.recipe, lot=code[:9])), sheet=sheet(code)),
            weights=[Decimal(124)],
            price_per_kg=PER_KG,
        )
        for code in ("a4-1x10-190x25", "a4-2x5-99.1x57")
    }
    told = {code: [f.message for f in label.findings] for code, label in prepared.items()}
    assert any("no room on this paper for the code" in m for m in told["a4-1x10-190x25"])
    assert not any("the code" in message for message in told["a4-2x5-99.1x57"])
    assert prepared["a4-1x10-190x25"].may_print


def test_two_pages_that_draw_the_same_pieces_draw_them_once(design, monkeypatch):
    monkeypatch.setattr(weighed, "A_STEP", 2)
    run = a_run(design)
    # The other page has just kept its pieces, and this one had read the run before that.
    WeighedPart.objects.create(kitchen=run.kitchen, run=run, number=0, pages_pdf=b"drawn")
    assert step(run, by=None).done == 0
    assert [bytes(part.pages_pdf) for part in run.parts.all()] == [b"drawn"]
