"""One lot, two labels: said on the page of a print run, with the way to print the other."""

from dataclasses import replace

import pytest

from labels.models import PrintedLabel
from labels.views.elsewhere import second_labels
from tests.labels.services.test_comparison import JAM, TODAY
from tests.labels.views.test_printing import A4, batch, kitchen, print_page

pytestmark = pytest.mark.django_db
__all__ = ["kitchen"]


def the_page(client, kitchen):
    run = PrintedLabel.objects.latest("pk")
    return run, client.get(f"/labels/k/{kitchen.pk}/printed/{run.pk}/")


def test_both_labels_of_a_lot_are_printed(client, kitchen):
    client.post(print_page(kitchen), batch())
    run, page = the_page(client, kitchen)
    assert "This lot then needs a second label" in page.content.decode()
    # Loose food tells its allergens and its name (Regulation (EU) No 1169/2011, Art. 44(1)).
    loose = next(each for each in page.context["elsewhere"] if "loose" in each.place)
    assert "DC-" in loose.leaves
    form = client.get(loose.url).context["form"]
    assert form["way_of_sale"].value() == "loose"
    assert form["lot"].value() == run.lot
    assert form["sheet"].value() == A4
    sent = batch(lot=run.lot, way_of_sale="loose", market=form["market"].value())
    client.post(print_page(kitchen), sent)
    other, page = the_page(client, kitchen)
    assert (other.lot, other.facts["way_of_sale"]) == (run.lot, "loose")
    assert PrintedLabel.objects.count() == 2
    assert any("prepacked" in each.place for each in page.context["elsewhere"])


def test_the_second_label_of_a_pan_is_of_the_same_pan():
    run = PrintedLabel(
        kitchen_id=1, product_id=2, batch_id=7, market="eu", rule_date=TODAY, sheet={"code": A4}
    )
    found = second_labels(run, replace(JAM, market="eu"))
    assert found
    assert all("batch=7" in each.url and "lot=" not in each.url for each in found)
