"""The pack on the design page and the check page: surface, reliefs, picture, missing room."""

from decimal import Decimal

import pytest

from costing.models import Member
from labels.models import LabelDesign, PrintedLabel
from labels.services.designs import next_free_label
from labels.stock import sheet
from tests.builders import a_member
from tests.labels.views.test_designs import declared, page, product, stored

pytestmark = pytest.mark.django_db
JAR = {"pack_shape": "jar", "pack_diameter_mm": "50", "largest_surface_cm2": ""}


@pytest.fixture
def kitchen(demo, client):
    client.force_login(a_member(demo, role=Member.Role.OWNER).user)
    return demo


def sketch(client, kitchen, **typed):
    values = stored(kitchen) | declared(client, kitchen) | typed
    return client.post(page(kitchen, then="sketch/"), values).content.decode()


@pytest.mark.parametrize(
    ("height", "area", "x_height"), [("50", "78.5", "0.9"), ("52", "81.7", "1.2")]
)
def test_the_surface_of_a_jar_is_reckoned_while_it_is_typed(
    client, kitchen, height, area, x_height
):
    # Cases 7 and 8: pi x 5.0 x 5.0 = 78.5 and pi x 5.0 x 5.2 = 81.7 cm2
    html = sketch(client, kitchen, **JAR, pack_height_mm=height)
    assert f"{area} cm²" in html
    assert f"at least {x_height} mm" in html
    assert "second-hand" in html
    assert '<path class="pack-face"' in html
    assert ("What a pack this small is spared" in html) is (x_height == "0.9")
    assert "What a smaller pack would be spared" in html


def test_a_design_is_kept_with_its_pack_and_judged_by_it(client, kitchen):
    values = stored(kitchen) | declared(client, kitchen) | JAR | {"pack_height_mm": "50"}
    client.post(page(kitchen, then="design/"), values)
    design = product(kitchen).label_design
    assert (design.pack_shape, design.pack_diameter_mm) == ("jar", Decimal(50))
    assert design.largest_surface_cm2 is None
    answer = client.get(page(kitchen))
    assert float(answer.context["prepared"].facts.largest_surface_cm2) == pytest.approx(78.5398)
    assert "78.5 cm²" in answer.content.decode()


def test_a_shape_without_a_side_asks_for_it_and_keeps_what_was_typed(client, kitchen):
    values = stored(kitchen) | declared(client, kitchen) | JAR
    answer = client.post(page(kitchen, then="design/"), values)
    assert answer.status_code == 200
    assert "its height of the straight wall" in answer.content.decode()
    assert answer.context["form"]["pack_diameter_mm"].value() == "50"


def test_a_typed_surface_that_speaks_against_the_sides_is_refused(client, kitchen):
    values = stored(kitchen) | declared(client, kitchen) | JAR | {"pack_height_mm": "50"}
    answer = client.post(page(kitchen, then="design/"), values | {"largest_surface_cm2": "60"})
    assert "its straight wall has 78.5 cm², not 60" in answer.content.decode()
    answer = client.post(page(kitchen, then="design/"), values | {"largest_surface_cm2": "78.5"})
    assert answer.status_code == 302


def test_what_has_no_room_is_said_with_the_paper_that_would_hold_it(client, kitchen):
    long = {
        "storage": "Store in a cool place, dark and dry. " * 4,
        "storage_after_opening": "Keep in the refrigerator and eat soon. " * 4,
        "origin": "Grown in the orchard behind the kitchen. " * 2,
        "largest_surface_cm2": "100",
        "sheet_code": "letter-3x10-66.7x25.4",
    }
    html = sketch(client, kitchen, **long)
    assert "There is no room for it all" in html
    assert "At this width it needs a label" in html
    assert "This pack needs 1.2 mm, so that is not printed" in html
    assert "These sheets hold it in this layout: A4, 3 x 7" in html
    html = sketch(client, kitchen, **long | {"sheet_code": "a4-2x4-99.1x67.7"})
    assert "There is no room for it all" not in html


@pytest.mark.parametrize(("layout", "is_refused"), [("quiet", True), ("wrap", False)])
def test_around_a_jar_the_quantity_must_be_seen_with_the_name(client, kitchen, layout, is_refused):
    # Regulation (EU) No 1169/2011, Art. 13(5): of 157 mm around a third is seen, and the quiet
    # layout has the name at the left and the net quantity 95 mm on at the right.
    around = JAR | {"pack_height_mm": "70", "layout": layout, "sheet_code": "a4-2x4-99.1x67.7"}
    html = sketch(client, kitchen, **around)
    assert ("are not on the same face of the pack" in html) is is_refused


def test_a_pair_is_planned_printed_and_followed_as_two_labels_a_pack(client, kitchen):
    LabelDesign.objects.filter(product=product(kitchen)).update(
        layout="pair", sheet_code="a4-3x7-63.5x38.1"
    )
    ordered = {"copies": "3", "start_at": "1", "sheet": "a4-3x7-63.5x38.1"}
    plan = client.get(page(kitchen, then="plan/"), ordered).context["plan"]
    assert (plan.printed_here, plan.pages) == (6, 1)
    order = client.get(page(kitchen, then="print/")).context["form"]
    values = {name: order[name].value() or "" for name in order.fields} | ordered
    client.post(page(kitchen, then="print/"), values)
    run = PrintedLabel.objects.get(product=product(kitchen))
    assert (run.copies, run.sheet["papers"]) == (3, 2)
    assert next_free_label(kitchen, sheet("a4-3x7-63.5x38.1")) == 7
    again = client.get(f"/labels/k/{kitchen.pk}/printed/{run.pk}/sheets.pdf")
    assert again.content.startswith(b"%PDF-")


def test_the_check_page_asks_no_more_questions_for_a_measured_pack(
    client, kitchen, django_assert_max_num_queries
):
    LabelDesign.objects.filter(product=product(kitchen)).update(
        pack_shape="box", pack_length_mm=50, pack_width_mm=50, pack_height_mm=20
    )
    with django_assert_max_num_queries(60) as few:
        html = client.get(page(kitchen)).content.decode()
    assert "25.0 cm²" in html
    LabelDesign.objects.filter(product=product(kitchen)).update(pack_shape=None)
    with django_assert_max_num_queries(len(few)):
        client.get(page(kitchen))
