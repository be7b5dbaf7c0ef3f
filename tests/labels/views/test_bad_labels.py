"""What goes wrong with a label, typed or stored: a clear sentence, nothing printed, nothing lost.

The law behind each is tested beside its rule; here is what the person at the page gets.
"""

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from costing.models import AllergenAnswer, Ingredient, Product, RecipeVersion
from labels.models import LabelDesign, OwnSheet, PrintedLabel
from tests.builders import a_product, a_recipe, an_ingredient, an_owner, no_allergens
from tests.labels.services.test_batch_labels import A4, a_printable

pytestmark = pytest.mark.django_db


@pytest.fixture
def design(client):
    found = a_printable()
    client.force_login(an_owner(found.kitchen))
    return found


def at(name, design):
    return reverse(name, args=[design.kitchen_id, design.product_id])


def shown(client, design, **query):
    """The check page, which answers whatever is asked."""
    answer = client.get(at("label", design), query)
    assert answer.status_code == 200
    return answer.content.decode()


def sent_to_print(client, design, **typed):
    today = timezone.localdate().isoformat()
    usual = {"made_on": today, "law_on": today, "sheet": A4, "copies": "2", "start_at": "1"}
    return client.post(at("label_print", design), usual | typed)


def refused(client, design, *, saying, **typed):
    """It is said why, all that was typed still stands there, and nothing was printed."""
    answer = sent_to_print(client, design, **typed)
    assert answer.status_code == 200
    assert saying in answer.content.decode()
    for name, value in typed.items():
        assert answer.context["form"][name].value() == value
    assert not PrintedLabel.objects.exists()


def test_the_label_that_is_spoilt_below_prints_as_it_is(client, design):
    assert sent_to_print(client, design).status_code == 302
    assert PrintedLabel.objects.count() == 1


def test_a_finished_mass_that_nobody_knows(client, design):
    # Regulation (EU) No 1169/2011, Annex VIII, point 4(a): the divisor is the finished food.
    RecipeVersion.objects.filter(recipe=design.product.recipe).update(stop_value=None)
    html = shown(client, design)
    assert "the finished mass is not known" in html
    assert "Ready" not in html
    refused(client, design, saying="Nothing was printed")


def test_more_finished_than_went_in(client, design):
    # 9 kg of puree, 8.1 of sugar and 0.18 of lemon cannot give 99 kg.
    RecipeVersion.objects.filter(recipe=design.product.recipe).update(
        cook_kind="weighed out", finished_g=99_000
    )
    html = shown(client, design)
    assert "Ready" not in html
    assert "99" in html
    refused(client, design, saying="Nothing was printed")


def test_an_ingredient_whose_allergens_nobody_answered_for(client, design):
    sugar = Ingredient.objects.get(kitchen=design.kitchen, name="White sugar")
    AllergenAnswer.objects.filter(ingredient=sugar, group="nuts").delete()
    assert "nobody has said yet whether it contains nuts" in shown(client, design)
    refused(client, design, saying="nobody has said yet")


@pytest.mark.parametrize("name", ["Damson marmalade", "Damson jelly"])
def test_a_name_that_the_law_keeps_for_another_food(client, design, name):
    # Directive 2001/113/EC, Annex I: marmalade is of citrus fruit, jelly of juice.
    LabelDesign.objects.filter(pk=design.pk).update(name_of_food=name)
    assert "a reserved name" in shown(client, design)
    refused(client, design, saying="Nothing was printed")


def test_a_list_of_3000_signs_on_a_label_of_40_mm(client, design):
    kitchen = design.kitchen
    named = [
        no_allergens(an_ingredient(kitchen, name=f"{'Slowly dried garden herb ' * 3}{n}", brix=5))
        for n in range(40)
    ]
    assert sum(len(each.name) for each in named) > 3000
    recipe = a_recipe(
        kitchen, name="Herbs", lines=[(each, 1) for each in named],
        cook_kind="cook loss", cook_loss_pct=10,
    )  # fmt: skip
    sheet = OwnSheet.objects.create(
        kitchen=kitchen, name="40 mm", page_width_mm=210, page_height_mm=297, columns=4, rows=6,
        label_width_mm=40, label_height_mm=40, margin_left_mm=25, margin_top_mm=28.5,
        pitch_x_mm=40, pitch_y_mm=40,
    )  # fmt: skip
    LabelDesign.objects.filter(pk=design.pk).update(
        product=a_product(recipe, name="Herbs"), name_of_food="Herbs"
    )
    design.refresh_from_db()
    assert "There is no room for" in shown(client, design, sheet=f"own-{sheet.pk}")


@pytest.mark.parametrize("name", ["Damson 🍇 cheese", "جبن البرقوق", "גבינת שזיפים"])
def test_signs_that_our_type_cannot_draw(client, design, name):
    LabelDesign.objects.filter(pk=design.pk).update(name_of_food=name)
    html = shown(client, design)
    assert "no drawing for" in html
    assert name in html
    refused(client, design, saying="no drawing for")


def test_a_date_that_is_over(client, design):
    made = (timezone.localdate() - timedelta(days=400)).isoformat()
    refused(client, design, saying="Nothing was printed", made_on=made)


def test_29_february_is_a_day_every_fourth_year(client, design):
    # Nine months on is 29 November, and November is not whole in it (Annex X, point 1(c)).
    html = shown(client, design, made_on="2028-02-29", law_on="2028-02-29")
    assert "Best before end October 2028" in html
    assert "DC-28060" in html  # 31 days of January and 29 of February
    refused(client, design, saying="not a day that can be read", made_on="2027-02-29")


def test_a_lot_with_spaces_is_printed_as_it_reads(client, design):
    sent_to_print(client, design, lot="  12  A  7 ")
    run = PrintedLabel.objects.get()
    assert run.lot == "12 A 7"
    for name in ("printed_label", "printed_reprint", "printed_check_pdf", "printed_single_pdf"):
        assert client.get(reverse(name, args=[run.kitchen_id, run.pk])).status_code == 200
    found = client.get(reverse("printed_carrying", args=[run.kitchen_id]), {"lot": " 12 A  7"})
    assert found.context["went"].runs == (run,)


@pytest.mark.parametrize("typed", ["-100", "0", "-0.5"])
def test_a_net_quantity_that_no_pack_holds(client, design, typed):
    address = reverse("product_edit", args=[design.kitchen_id, design.product_id])
    form = client.get(address).context["form"]
    values = {name: form[name].value() for name in form.fields}
    values = {name: value for name, value in values.items() if value not in {None, False}}
    answer = client.post(address, values | {"net_quantity_g": typed})
    assert answer.status_code == 200
    assert answer.context["form"].errors["net_quantity_g"]
    assert answer.context["form"]["net_quantity_g"].value() == typed
    assert Product.objects.get(pk=design.product_id).net_quantity_g == 100


def test_a_market_that_there_is_not(client, design):
    assert "not one of the available choices" in shown(client, design, market="mars")
    refused(client, design, saying="not one of the available choices", market="mars")
    LabelDesign.objects.filter(pk=design.pk).update(market="mars")  # as an old file could bring it
    assert "not one of the available choices" in shown(client, design)


def test_a_market_that_the_kitchen_does_not_sell_in(client, design):
    # The kitchen is in Ireland; its label for England is judged by English law, and told so.
    assert "your kitchen sells in" in shown(client, design, market="gb-eng")
