"""The nutrition record on the check page, and the page of a trace."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from costing.models import Member
from labels.models import NutritionDecision
from tests.builders import TODAY, a_member
from tests.labels.services.test_nutrition import a_jam, a_jam_with_mace

pytestmark = pytest.mark.django_db
REASON = "Half a gram in 100 g at the very most"


def sign_in(client, kitchen, role=Member.Role.OWNER):
    client.force_login(a_member(kitchen, role=role).user)


def address(design, then=""):
    return f"/labels/k/{design.kitchen_id}/{design.product_id}/{then}"


def test_the_check_page_shows_the_record_with_every_source(client):
    design = a_jam()
    sign_in(client, design.kitchen)
    answer = client.get(address(design))
    html = answer.content.decode()
    rows = {row.name: row for row in answer.context["nutrition"].rows}
    # 450 g x 4.89 % + 550 g x 99.80 % = 570.9 g of sugars in 849.5 g: 67.2 g in 100 g
    assert rows["sugars"].shown == "67 g"
    assert "USDA" in html
    assert "09316" in html
    assert "How the nutrition figures came about" in html
    assert any(s.heading == "Nutrition" for s in answer.context["statements"])


def test_a_label_that_does_not_declare_shows_no_record(client):
    design = a_jam(nutrition_exemption="small quantities")
    sign_in(client, design.kitchen)
    assert client.get(address(design)).context["nutrition"] is None


def test_a_portion_is_drawn_beside_100_g(client):
    design = a_jam(portion_g="17")
    sign_in(client, design.kitchen)
    answer = client.get(address(design))
    (said,) = [s.text for s in answer.context["statements"] if s.heading == "Nutrition"]
    assert "This pack holds 20 portions of 17 g." in said


def test_what_is_missing_leads_to_the_ingredient_and_to_the_decision(client):
    design, mace = a_jam_with_mace("4")
    sign_in(client, design.kitchen)
    answer = client.get(address(design))
    urls = [f.url for f in answer.context["findings"] if "Mace: how much" in f.message]
    assert f"/ingredients/{mace.pk}/" in urls[0]
    assert f'href="{address(design, f"nutrition/{mace.pk}/")}"' in answer.content.decode()
    assert "Not complete, so nothing is declared" in answer.content.decode()


def test_a_trace_is_decided_and_asked_for_again(client):
    design, mace = a_jam_with_mace("4")
    sign_in(client, design.kitchen)
    there = address(design, f"nutrition/{mace.pk}/")
    assert "0.47" in client.get(there).content.decode()
    assert client.post(there, {"reason": REASON}).url == address(design)
    assert NutritionDecision.objects.get().reason == REASON
    assert REASON in client.get(address(design)).content.decode()
    client.post(there, {"undo": "1"})
    assert not NutritionDecision.objects.exists()


@pytest.mark.parametrize("typed", ["", "  ", "tiny", "x" * 201])
def test_a_decision_without_a_reason_keeps_what_was_typed(client, typed):
    design, mace = a_jam_with_mace("4")
    sign_in(client, design.kitchen)
    answer = client.post(address(design, f"nutrition/{mace.pk}/"), {"reason": typed})
    assert answer.status_code == 200
    assert answer.context["form"]["reason"].value() == typed
    assert answer.context["mistakes"]
    assert not NutritionDecision.objects.exists()


def test_what_is_more_than_a_trace_cannot_be_decided(client):
    design, mace = a_jam_with_mace("5")  # 5 / 854.5 = 0.59 %
    sign_in(client, design.kitchen)
    there = address(design, f"nutrition/{mace.pk}/")
    assert "Count it as nothing" not in client.get(there).content.decode()
    assert "Only what is under" in client.post(there, {"reason": REASON}).content.decode()
    assert not NutritionDecision.objects.exists()


def test_only_the_owner_of_this_kitchen_decides(client):
    design, mace = a_jam_with_mace("4")
    there = address(design, f"nutrition/{mace.pk}/")
    sign_in(client, design.kitchen, role=Member.Role.COOK)
    assert client.post(there, {"reason": REASON}).status_code == 403
    sign_in(client, a_jam().kitchen)
    assert client.post(there, {"reason": REASON}).status_code == 404
    stranger = a_jam()
    sign_in(client, stranger.kitchen)
    other = address(stranger, f"nutrition/{mace.pk}/")
    assert client.post(other, {"reason": REASON}).status_code == 404
    assert not NutritionDecision.objects.exists()


def test_nothing_to_decide_where_nothing_is_missing(client):
    design = a_jam()
    sign_in(client, design.kitchen)
    line = design.product.recipe.versions.get().lines.first()
    there = address(design, f"nutrition/{line.ingredient_id}/")
    assert client.get(there).url == address(design)


def test_the_record_asks_the_database_as_often_whatever_is_missing(client):
    plain, (missing, _) = a_jam(), a_jam_with_mace("4")
    counts = []
    for design in (plain, missing):
        sign_in(client, design.kitchen)
        client.get(address(design))
        with CaptureQueriesContext(connection) as asked:
            client.get(address(design), {"made_on": TODAY.isoformat()})
        counts.append(len(asked))
    assert counts[0] == counts[1]


@pytest.mark.parametrize(("portion", "is_kept"), [("20", True), ("", True), ("0", False)])
def test_the_design_form_takes_a_declaration_with_or_without_a_portion(client, portion, is_kept):
    design = a_jam(nutrition_exemption="")
    sign_in(client, design.kitchen)
    typed = {
        "name_of_food": "Strawberry jam", "market": "eu", "colour": "#4a1942", "layout": "quiet",
        "nutrition_exemption": "declared", "portion_g": portion,
    }  # fmt: skip
    form = client.get(address(design, "design/")).context["form"]
    typed |= {name: form[name].value() for name in form.quantities}
    answer = client.post(address(design, "design/"), typed)
    assert (answer.status_code == 302) is is_kept
    design.refresh_from_db()
    assert design.declares_nutrition is is_kept
    if not is_kept:
        assert answer.context["form"]["portion_g"].value() == portion
