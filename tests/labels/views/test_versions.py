"""The pages of versions, of printing again, of where something went, and the check on paper."""

import pypdfium2
import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from costing.models import Ingredient
from labels.models import LabelDesign, PrintedLabel
from labels.services.printing import LabelOrder, print_labels
from labels.services.versions import Reprint, reprint
from labels.stock import sheet
from tests.builders import a_cook, a_stall_hand
from tests.labels.services.test_batch_labels import A4, a_printable, a_weighed

pytestmark = pytest.mark.django_db


@pytest.fixture
def run(client):
    design = a_printable()
    client.force_login(a_cook(design.kitchen))
    return printed(design)


def printed(design, **values):
    today = timezone.localdate()
    usual = {"on": today, "made_on": today, "printed_on": today, "sheet": sheet(A4), "copies": 3}
    return print_labels(design, by=None, order=LabelOrder(**(usual | values)))[0]


def changed(run, **values):
    LabelDesign.objects.filter(pk=run.design_id).update(**values)


def versions(run):
    return reverse("label_versions", args=[run.kitchen_id, run.product_id])


def of_run(name, run):
    return reverse(name, args=[run.kitchen_id, run.pk])


def words_of(pdf):
    document = pypdfium2.PdfDocument(pdf)
    return len(document), " ".join(
        " ".join(page.get_textpage().get_text_bounded().split()) for page in document
    )


def test_a_version_says_what_it_is_and_what_changed_since(client, run):
    assert "As it would be printed today" in client.get(versions(run)).content.decode()
    changed(run, storage="Keep cool.")
    html = client.get(versions(run)).content.decode()
    for words in ("Superseded", "Store in a cool, dry place.", "Now: Keep cool.", run.lot):
        assert words in html
    assert "Changed by the design" in html


def test_a_product_that_was_never_printed_is_led_on(client, run):
    other = a_printable()
    client.force_login(a_cook(other.kitchen))
    html = client.get(reverse("label_versions", args=[other.kitchen_id, other.product_id]))
    assert "No label of this product has been printed yet" in html.content.decode()


def test_printing_the_same_again_needs_no_reason(client, run):
    answer = client.post(of_run("printed_reprint", run), {"copies": "2", "start_at": "4"})
    again = PrintedLabel.objects.first()
    assert answer.url == of_run("printed_label", again)
    assert (again.reprint_of, again.label_sha256) == (run, run.label_sha256)
    assert "Printed again" in client.get(answer.url).content.decode()


def test_a_superseded_label_asks_why_and_keeps_what_was_typed(client, run):
    changed(run, colour="#000000")
    typed = {"copies": "7", "start_at": "2", "reason": ""}
    answer = client.post(of_run("printed_reprint", run), typed)
    assert "This label is superseded. Say why" in answer.content.decode()
    assert answer.context["form"]["copies"].value() == "7"
    assert PrintedLabel.objects.count() == 1
    answer = client.post(of_run("printed_reprint", run), typed | {"reason": "Two torn off."})
    assert "Two torn off." in client.get(answer.url).content.decode()


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"copies": "0"}, "greater than or equal to 1"),
        ({"copies": "9999999"}, "At most 5000"),
        ({"copies": "🍇"}, "whole number"),
        ({"start_at": "22"}, "21 labels"),
        ({"offset_x_mm": "99"}, "at most 10"),
        ({"reason": "x" * 301}, "300"),
    ],
)
def test_each_mistake_gets_a_sentence_and_prints_nothing(client, run, typed, sentence):
    answer = client.post(of_run("printed_reprint", run), {"copies": "1", "start_at": "1"} | typed)
    assert answer.status_code == 200
    assert sentence in answer.content.decode()
    assert PrintedLabel.objects.count() == 1


def test_an_ingredient_and_a_lot_lead_to_the_labels_that_carry_them(client, run):
    batch = a_weighed(run.product.recipe)
    of_batch = printed(LabelDesign.objects.get(pk=run.design_id), batch=batch)
    address = reverse("printed_carrying", args=[run.kitchen_id])
    found = client.get(address, {"lot": batch.lot.lower()}).context["went"]
    assert (found.batches, found.runs) == ((batch,), (of_batch,))
    sugar = Ingredient.objects.get(kitchen=run.kitchen, name="White sugar")
    found = client.get(address, {"ingredient": sugar.pk}).context["went"]
    assert (found.batches, found.runs, found.from_recipe) == ((batch,), (of_batch,), (run,))
    html = client.get(address, {"lot": "nothing of the kind"}).content.decode()
    assert "No lot is recorded with it" in html
    for nonsense in ("x", "-1", "99999999999999999999", "🍇"):
        assert client.get(address, {"ingredient": nonsense, "page": "x"}).status_code == 200


def test_an_ingredient_reaches_the_lots_that_were_filled_from_its_puree(client, run):
    damsons = Ingredient.objects.get(kitchen=run.kitchen, name="Damsons")
    found = client.get(
        reverse("printed_carrying", args=[run.kitchen_id]), {"ingredient": damsons.pk}
    )
    assert run in found.context["went"].from_recipe  # through the puree of the recipe


def test_the_check_on_paper_names_every_statement_and_its_provision(client, run):
    address = reverse("label_check_pdf", args=[run.kitchen_id, run.product_id])
    pages, words = words_of(client.get(address).content)
    assert pages == 1
    for said in (
        "Ready to print", "Art. 9(1)(b), Art. 18 and Annex VII", "What this tool does not check",
        "Ask your local authority", "Law as on", "This sheet is of",
        run.kitchen.trading_name, "https://eur-lex.europa.eu/eli/reg/2011/1169/oj",
    ):  # fmt: skip
        assert said in words, said
    changed(run, nutrition_exemption="")
    _, words = words_of(client.get(address).content)
    assert "1 to mend" in words
    assert "Must mend:" in words
    assert client.get(address, {"made_on": "yesterday"}).status_code == 400


def test_a_print_run_is_shown_as_it_was_judged_that_day_whatever_changed_since(client, run):
    changed(run, storage="Keep cool.", market="gb-eng")
    html = client.get(of_run("printed_label", run)).content.decode()
    assert "Store in a cool, dry place." in html
    assert "the law of European Union as on" in html
    pages, words = words_of(client.get(of_run("printed_check_pdf", run)).content)
    assert pages == 1
    for said in ("3 labels printed", "Store in a cool, dry place.", run.label_sha256[:16]):
        assert said in words, said
    assert "Keep cool." not in words
    assert client.get(of_run("printed_picture", run)).content.startswith(b"\x89PNG")


def test_the_stall_hand_is_not_let_in(client, run):
    client.force_login(a_stall_hand(run.kitchen))
    for address in (versions(run), of_run("printed_reprint", run), of_run("printed_picture", run)):
        assert client.get(address).status_code == 403


def test_more_runs_of_a_version_take_the_same_queries(client, run):
    def queries():
        with CaptureQueriesContext(connection) as caught:
            client.get(versions(run))
            client.get(reverse("printed_carrying", args=[run.kitchen_id]), {"lot": run.lot})
        return len(caught)

    queries()  # what is looked up once in the life of the site
    few = queries()
    for _ in range(3):
        reprint(run, by=None, order=Reprint(copies=1), reason="Torn off.", on=timezone.localdate())
    assert queries() == few
