from datetime import date

import pytest

from costing.models import Member, Product
from labels.models import LabelDesign
from tests.builders import a_member

pytestmark = pytest.mark.django_db
ON = date(2026, 3, 2)

ABSURD = [
    "",
    " ",
    "-1",
    "0",
    "1" * 40,
    "1000000000000",
    "1.250",
    "١٢",
    "🍇",
    "<script>alert(1)</script>",
    "{{ settings.SECRET_KEY }}",
    "{% url 'x' %}",
    "nan",
    "'; DROP TABLE labels_labeldesign; --",
]


@pytest.fixture
def kitchen(demo, client):
    client.force_login(a_member(demo, role=Member.Role.OWNER).user)
    return demo


def product(kitchen, name="Damson cheese"):
    return Product.objects.get(kitchen=kitchen, recipe__name=name)


def page(kitchen, name="Damson cheese", then=""):
    return f"/labels/k/{kitchen.pk}/{product(kitchen, name).pk}/{then}"


def stored(kitchen):
    design = product(kitchen).label_design
    return {
        "name_of_food": design.name_of_food,
        "market": design.market,
        "colour": design.colour,
        "layout": design.layout,
        "sheet_code": design.sheet_code,
        "nutrition_exemption": design.nutrition_exemption,
        "storage": design.storage,
        "shelf_life_months": design.shelf_life_months or "",
        "largest_surface_cm2": "25",
    }


def declared(client, kitchen):
    """The selects of the design form, as they stand."""
    form = client.get(page(kitchen, then="design/")).context["form"]
    return {name: form[name].value() for name in form.quantities}


def test_a_ready_label_says_so_and_cites_each_statement(client, kitchen):
    html = client.get(page(kitchen)).content.decode()
    assert "Ready" in html
    assert "Art. 9(1)(b), Art. 18 and Annex VII" in html
    assert "https://eur-lex.europa.eu/eli/reg/2011/1169/oj" in html
    assert "What is not checked here" in html


def test_a_label_with_a_fault_has_a_proof_and_no_print(client, kitchen):
    html = client.get(page(kitchen, "Spiced pear and apple paste")).content.decode()
    assert "things to mend" in html
    assert "See the proof" in html
    assert "Print labels" not in html


def test_a_cook_is_not_sent_to_pages_of_the_owner(client, kitchen):
    LabelDesign.objects.filter(product=product(kitchen)).update(nutrition_exemption="")
    assert f'href="{page(kitchen, then="design/")}"' in client.get(page(kitchen)).content.decode()
    client.force_login(a_member(kitchen, role=Member.Role.COOK).user)
    html = client.get(page(kitchen)).content.decode()
    assert "Must mend" in html
    assert page(kitchen, then="design/") not in html


def test_a_product_without_a_design_is_led_to_one(client, kitchen):
    LabelDesign.objects.filter(product=product(kitchen)).delete()
    assert client.get(page(kitchen)).url.endswith("/design/")
    assert client.get(page(kitchen, then="print/")).url.endswith("/design/")


def test_the_picture_is_drawn_from_the_pdf(client, kitchen):
    assert client.get(page(kitchen, then="picture.png")).content.startswith(b"\x89PNG")
    assert client.get(page(kitchen, then="proof.pdf")).content.startswith(b"%PDF-")


@pytest.mark.parametrize("field", ["made_on", "best_before", "law_on", "sheet", "lot"])
@pytest.mark.parametrize("typed", ABSURD)
def test_nonsense_in_the_batch_form_is_answered_on_the_page(client, kitchen, field, typed):
    answer = client.get(page(kitchen), {field: typed})
    assert answer.status_code == 200
    assert "<script>alert" not in answer.content.decode()


def test_a_best_before_before_the_making_is_refused_at_its_field(client, kitchen):
    answer = client.get(page(kitchen), {"made_on": "2026-03-02", "best_before": "2026-03-02"})
    assert "later than the day it was made" in answer.content.decode()


def test_a_changed_design_is_kept_and_shown(client, kitchen):
    values = stored(kitchen) | declared(client, kitchen) | {"tagline": "<i>Plain</i> {{ 7 }}"}
    answer = client.post(page(kitchen, then="design/"), values, follow=True)
    assert "The design is kept" in answer.content.decode()
    assert product(kitchen).label_design.tagline == "<i>Plain</i> {{ 7 }}"


@pytest.mark.parametrize(
    "field",
    [
        "name_of_food", "brand_name", "tagline", "colour", "layout", "sheet_code", "storage",
        "shelf_life_months", "shelf_life_days", "largest_surface_cm2", "lot_prefix", "origin",
        "nutrition_exemption", "pack_shape", "pack_length_mm", "pack_diameter_mm",
    ],
)  # fmt: skip
def test_whatever_is_typed_into_a_design_loses_nothing_and_breaks_nothing(client, kitchen, field):
    selects = declared(client, kitchen)
    for typed in [*ABSURD, "x" * 3000]:
        values = stored(kitchen) | selects | {field: typed}
        answer = client.post(page(kitchen, then="design/"), values)
        assert answer.status_code in {200, 302}, (field, typed[:20])
        if answer.status_code == 200:
            form = answer.context["form"]
            assert form[field].value() == typed
            assert form.errors


@pytest.mark.parametrize("typed", [*ABSURD, "x" * 3000])
def test_whatever_was_kept_still_gives_a_page_and_a_sketch(client, kitchen, typed):
    texts = dict.fromkeys(("name_of_food", "brand_name", "tagline", "storage", "origin"), typed)
    LabelDesign.objects.filter(product=product(kitchen)).update(
        **{name: text[:120] for name, text in texts.items() if name != "brand_name"}
    )
    assert client.get(page(kitchen)).status_code == 200
    values = stored(kitchen) | declared(client, kitchen) | texts
    assert client.post(page(kitchen, then="sketch/"), values).status_code == 200


def test_the_sketch_follows_what_is_typed_and_keeps_nothing(client, kitchen):
    values = stored(kitchen) | declared(client, kitchen) | {"name_of_food": ""}
    answer = client.post(page(kitchen, then="sketch/"), values)
    assert "cannot be read yet" in answer.content.decode()
    values["name_of_food"] = "Damson paste"
    answer = client.post(page(kitchen, then="sketch/"), values)
    assert "data:image/png;base64," in answer.content.decode()
    assert product(kitchen).label_design.name_of_food == "Damson cheese"


def test_what_the_name_promises_is_declared_even_if_nobody_asked_for_it(client, kitchen):
    # Regulation (EU) No 1169/2011, Art. 22(1)(a): an ingredient in the name must be quantified.
    selects = dict.fromkeys(declared(client, kitchen), "no")
    client.post(page(kitchen, then="design/"), stored(kitchen) | selects)
    html = client.get(page(kitchen)).content.decode()
    assert "damson puree (64 %)" in html
    assert "Art. 22" in html


def test_the_list_of_labels_takes_the_same_queries_for_few_and_many(
    client, kitchen, django_assert_max_num_queries
):
    with django_assert_max_num_queries(8):
        client.get(f"/labels/k/{kitchen.pk}/")
    recipe = product(kitchen).recipe
    Product.objects.bulk_create(
        Product(
            kitchen=kitchen, recipe=recipe, name=f"Piece {n}", form="piece",
            net_quantity_g=100, fill_g=100,
        )
        for n in range(100)
    )  # fmt: skip
    with django_assert_max_num_queries(8):
        page_1 = client.get(f"/labels/k/{kitchen.pk}/").content.decode()
    assert "Page 1 of 3" in page_1  # 104 products, 50 a page
    assert "Piece 99" in client.get(f"/labels/k/{kitchen.pk}/?page=3").content.decode()
