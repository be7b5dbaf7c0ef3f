from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError

from costing.models import AuditEntry
from labels.services.designs import (
    design_of,
    is_kept,
    printed_in,
    products_with_labels,
    quantifiable,
    save_design,
    save_own_sheet,
    sheet_named,
    sheets_for,
)
from tests.builders import TODAY, a_damson_paste, a_kitchen, a_product, a_recipe, an_owner

pytestmark = pytest.mark.django_db

# 7.25 + 2 x 66.0 + 63.5 + 7.25 = 210.0 and 15.15 + 7 x 38.1 + 15.15 = 297.0
OURS = {
    "name": "Drawer, blue box",
    "page_width_mm": Decimal(210),
    "page_height_mm": Decimal(297),
    "columns": 3,
    "rows": 7,
    "label_width_mm": Decimal("63.5"),
    "label_height_mm": Decimal("38.1"),
    "margin_left_mm": Decimal("7.25"),
    "margin_top_mm": Decimal("15.15"),
    "pitch_x_mm": Decimal(66),
    "pitch_y_mm": Decimal("38.1"),
    "corner_radius_mm": Decimal(2),
}
LOOK = {"name_of_food": "Damson cheese", "brand_name": "Ours", "colour": "#5b1e3e"}


def test_a_product_without_a_design_gets_a_proposal_that_is_not_kept():
    product = a_product(a_damson_paste())
    proposed = design_of(product)
    assert not is_kept(proposed)
    assert (proposed.name_of_food, proposed.lot_prefix) == ("Damson cheese", "DC")


def test_a_design_is_kept_with_what_it_declares_and_each_change_is_written_down():
    product = a_product(a_damson_paste())
    by = an_owner(product.kitchen)
    key = next(q.key for q in quantifiable(product, on=TODAY) if q.name == "Damson puree")
    design = save_design(product, by=by, values=LOOK, quantified={key: "in the name"})
    assert [q.preparation.name for q in design.quantified.all()] == ["Damson puree"]
    product.refresh_from_db()
    save_design(product, by=by, values=LOOK | {"brand_name": "Theirs"}, quantified={})
    changed = AuditEntry.objects.filter(subject="labeldesign", field="brand_name").get()
    assert (changed.old, changed.new, changed.by) == ("Ours", "Theirs", by)
    assert not product.label_design.quantified.exists()


def test_what_can_be_declared_is_everything_in_the_recipe_once_but_water():
    product = a_product(a_damson_paste())
    named = [q.name for q in quantifiable(product, on=TODAY)]
    assert sorted(named) == ["Damson puree", "Damsons", "Lemon juice", "White sugar"]


def test_a_design_cannot_declare_an_ingredient_of_another_kitchen():
    product, other = a_product(a_damson_paste()), a_product(a_damson_paste())
    key = quantifiable(other, on=TODAY)[0].key
    with pytest.raises(ValidationError):
        save_design(product, by=None, values=LOOK, quantified={key: "in the name"})
    product.refresh_from_db()
    assert not is_kept(design_of(product))


def test_a_sheet_of_ones_own_that_adds_up_is_kept_and_offered_first():
    kitchen = a_kitchen()
    row = save_own_sheet(kitchen, by=None, values=OURS)
    assert sheets_for(kitchen)[0].name == "Drawer, blue box"
    assert sheet_named(kitchen, f"own-{row.pk}").per_page == 21
    assert sheet_named(a_kitchen(), f"own-{row.pk}") is None


def test_a_sheet_that_does_not_add_up_is_refused_with_its_sum():
    with pytest.raises(ValidationError) as refused:
        save_own_sheet(a_kitchen(), by=None, values=OURS | {"pitch_x_mm": Decimal(70)})
    # 7.25 + 2 x 70 + 63.5 = 210.75, more than the 210 mm of the page.
    assert "210.75" in refused.value.messages[0]


def test_a_kitchen_on_letter_paper_is_offered_letter_sheets_first():
    assert sheets_for(a_kitchen(paper_size="Letter"))[0].page_width_mm > 215
    assert sheets_for(a_kitchen(paper_size="A4"))[0].page_width_mm == 210


def test_the_list_of_labels_takes_one_query(django_assert_num_queries):
    kitchen = a_kitchen()
    for _ in range(3):
        a_product(a_recipe(kitchen))
    with django_assert_num_queries(1):
        listed = [(p.name, p.recipe.name, p.last_lot) for p in products_with_labels(kitchen)]
    assert len(listed) == 3
    assert list(printed_in(kitchen)) == []
