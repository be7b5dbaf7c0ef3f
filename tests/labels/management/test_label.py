import io

import pypdfium2
import pytest
from django.core.management import CommandError, call_command
from django.utils import timezone

from costing.services.batches import YieldGiven
from labels.models import PrintedLabel
from tests.builders import a_batch
from tests.labels.services.test_batch_labels import a_printable, a_weighed

pytestmark = pytest.mark.django_db
CHEESE = "Damson cheese, 100 g piece"
PASTE = "Spiced pear and apple paste, 100 g piece"


@pytest.fixture
def kitchen(demo):
    return demo


def run(*arguments):
    told, warned = io.StringIO(), io.StringIO()
    call_command("label", *arguments, stdout=told, stderr=warned)
    return told.getvalue(), warned.getvalue()


def labels_in(path):
    document = pypdfium2.PdfDocument(path.read_bytes())
    return [page.get_textpage().get_text_bounded().count("Damson cheese") for page in document]


def test_the_sheets_are_written_and_the_run_is_kept(kitchen, tmp_path):
    out = tmp_path / "labels.pdf"
    told, _ = run(CHEESE, "--out", str(out), "--copies", "24", "--start-at", "5")
    assert labels_in(out) == [17, 7]
    assert f"24 label(s), lot DC-{timezone.localdate():%y%j}" in told
    assert PrintedLabel.objects.get().copies == 24


def test_the_name_may_be_typed_in_any_case(kitchen, tmp_path):
    out = tmp_path / "labels.pdf"
    run("damson CHEESE,  100 g piece", "--out", str(out), "--lot", "X 7")
    assert PrintedLabel.objects.get().lot == "X 7"


def test_what_must_be_mended_is_named_with_its_article_and_nothing_is_written(kitchen, tmp_path):
    out = tmp_path / "labels.pdf"
    with pytest.raises(CommandError) as refused:
        run(PASTE, "--out", str(out))
    assert "star anise" in str(refused.value)
    assert "Regulation (EU) No 1169/2011, Art. 9(1)(c)" in str(refused.value)
    assert not out.exists()
    assert not PrintedLabel.objects.exists()


def test_a_proof_can_be_had_all_the_same_and_is_marked(kitchen, tmp_path):
    out = tmp_path / "proof.pdf"
    _, warned = run(PASTE, "--out", str(out), "--proof")
    text = pypdfium2.PdfDocument(out.read_bytes())[0].get_textpage().get_text_bounded()
    assert "PROOF" in text
    assert "must mend" in warned
    assert not PrintedLabel.objects.exists()


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (["Damson chese", "--out", "{}/x.pdf"], "Damson cheese, 100 g piece"),
        ([CHEESE, "--out", "{}/no/such/x.pdf"], "There is no folder"),
        ([CHEESE, "--out", "{}"], "is a folder"),
        ([CHEESE, "--out", "{}/x.pdf", "--copies", "0"], "between 1 and 5000"),
        ([CHEESE, "--out", "{}/x.pdf", "--copies", "-3"], "between 1 and 5000"),
        ([CHEESE, "--out", "{}/x.pdf", "--copies", "1000000000000"], "between 1 and 5000"),
        ([CHEESE, "--out", "{}/x.pdf", "--start-at", "22"], "labels 1 to 21"),
        ([CHEESE, "--out", "{}/x.pdf", "--start-at", "0"], "labels 1 to 21"),
        ([CHEESE, "--out", "{}/x.pdf", "--sheet", "nonsense"], "There is no sheet"),
        ([CHEESE, "--out", "{}/x.pdf", "--made-on", "31 June"], "not a day"),
        ([CHEESE, "--out", "{}/x.pdf", "--made-on", "2024-01-01"], "must be mended"),
        ([CHEESE, "--out", "{}/x.pdf", "--kitchen", "Nowhere"], "no kitchen called"),
        ([CHEESE, "--out", "{}/x.pdf", "--on", "1999-01-01"], "law of 1999-01-01"),
        (["", "--out", "{}/x.pdf"], "no product called"),
        (["🍇 {{ x }} <b>", "--out", "{}/x.pdf"], "no product called"),
        ([CHEESE, "--out", "{}/x.pdf", "--lot", "x" * 41], "40"),
    ],
)
def test_each_mistake_gets_a_sentence(kitchen, tmp_path, arguments, sentence):
    with pytest.raises(CommandError, match=sentence):
        run(*(argument.replace("{}", str(tmp_path)) for argument in arguments))
    assert not PrintedLabel.objects.exists()


def a_lot():
    design = a_printable()
    product = design.product
    filled = [YieldGiven(product=product, units=23)]
    return product, a_weighed(product.recipe, yields=filled)


def test_a_batch_gives_lot_day_and_as_many_labels_as_were_filled(tmp_path):
    product, batch = a_lot()
    out = tmp_path / "labels.pdf"
    ours = ("--kitchen", str(product.kitchen_id))
    told, _ = run(product.name, "--out", str(out), "--batch", batch.lot.lower(), *ours)
    assert f"23 label(s), lot {batch.lot}" in told
    printed = PrintedLabel.objects.get()
    assert (printed.batch, printed.copies) == (batch, 23)
    assert sum(labels_in(out)) == 23


def test_a_batch_that_is_not_there_or_has_another_lot_or_is_on_the_fire_is_refused(tmp_path):
    product, batch = a_lot()
    out = ["--out", str(tmp_path / "labels.pdf"), "--kitchen", str(product.kitchen_id)]
    with pytest.raises(CommandError, match=f"no batch with the lot .*{batch.lot}"):
        run(product.name, *out, "--batch", "DC-1")
    with pytest.raises(CommandError, match="a batch has its own"):
        run(product.name, *out, "--batch", batch.lot, "--lot", "X 7")
    fire = a_batch(product.recipe)
    with pytest.raises(CommandError, match="still on the fire"):
        run(product.name, *out, "--batch", fire.lot)
    assert not PrintedLabel.objects.exists()


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (("--market", "xx"), "gb-eng (England)"),
        (("--market", "gb"), "no label law is known here"),
        (("--sold", "by magic"), "choose prepacked, direct, loose"),
    ],
)
def test_a_market_or_way_of_sale_that_nobody_knows_is_named(kitchen, tmp_path, arguments, sentence):
    with pytest.raises(CommandError) as refused:
        run(CHEESE, "--out", str(tmp_path / "labels.pdf"), *arguments)
    assert sentence in str(refused.value)


def test_an_irish_kitchen_is_refused_a_label_for_england_with_the_reason(kitchen, tmp_path):
    # Regulation (EU) No 1169/2011, Art. 8(1) as assimilated: an address in the British Islands
    out = tmp_path / "labels.pdf"
    with pytest.raises(CommandError) as refused:
        run(CHEESE, "--out", str(out), "--market", "GB-ENG")
    assert "British Islands" in str(refused.value)
    assert not out.exists()
