"""What is typed into the planners: commas, kilos a cubic metre, what may stay empty."""

from decimal import Decimal

import pytest

from costing.forms.planners import DensityField, JarsForm, MouldForm, SlabForm, TubForm
from costing.models import Mould

NOBODYS = {"products": (), "recipes": ()}


def slabs(**typed):
    return SlabForm({"by": "net", "net_kg": "11,9", **typed}, **NOBODYS)


@pytest.mark.parametrize(
    ("typed", "kept"),
    [("1,38", "1.38"), ("1.375", "1.375"), ("1,375", "1.375"), ("0.5", "0.5"), ("1.6", "1.6")],
)
def test_a_density_is_read_with_comma_or_point_and_never_asked_about(typed, kept):
    assert DensityField(least="0.5", most="1.6", places=4).clean(typed) == Decimal(kept)


@pytest.mark.parametrize(
    ("typed", "word"),
    [("1380", "1.38 g/ml"), ("0.49", "at least 0.5"), ("1.601", "at most 1.6"), ("x", "not a nu")],
)
def test_what_no_paste_weighs_is_asked_about_at_its_box(typed, word):
    form = slabs(density=typed)
    assert not form.is_valid()
    assert word in str(form.errors["density"])


def test_what_stays_empty_has_its_usual_value():
    form = slabs()
    assert form.is_valid(), form.errors
    data = form.cleaned_data
    assert (data["trim_mm"], data["kerf_mm"], data["fill_c"]) == (5, 0, 90)
    assert slabs(trim_mm="0").is_valid()
    typed = slabs(trim_mm="0", fill_c="85")
    assert typed.is_valid()
    assert (typed.cleaned_data["trim_mm"], typed.cleaned_data["fill_c"]) == (0, 85)


@pytest.mark.parametrize(("by", "field"), [("net", "net_kg"), ("moulds", "moulds")])
def test_what_is_fixed_needs_its_figure(by, field):
    form = SlabForm({"by": by}, **NOBODYS)
    assert list(form.errors) == [field]
    assert SlabForm({"by": by, field: "4"}, **NOBODYS).is_valid()


def test_half_a_mould_is_not_filled():
    assert "decimals" in str(slabs(by="moulds", moulds="2,5").errors["moulds"])


def test_a_jar_needs_its_pan_its_brim_and_its_label():
    form = JarsForm({}, **NOBODYS)
    assert list(form.errors) == ["net_kg", "brimful_ml", "declared_g"]
    assert JarsForm({"net_kg": "3", "brimful_ml": "282", "declared_g": "340"}, **NOBODYS).is_valid()


def test_a_mould_is_shown_as_it_would_be_typed_and_read_back_the_same():
    tray = Mould(name="Tray", length_mm=Decimal("310.0"), width_mm=Decimal("210.5"),
                 depth_mm=Decimal("40.0"), owned=4)  # fmt: skip
    shown = MouldForm(mould=tray)
    typed = {name: shown[name].value() for name in shown.fields}
    assert typed["length_mm"] == "310"
    again = MouldForm(typed, mould=tray)
    assert again.is_valid(), again.errors
    assert again.values()["width_mm"] == Decimal("210.5")
    assert again.values()["owned"] == 4


@pytest.mark.parametrize(("length", "is_kept"), [("9.9", False), ("10", True), ("31,0", True)])
def test_a_mould_below_a_centimetre_was_typed_in_centimetres(length, is_kept):
    form = MouldForm({"name": "Bar", "length_mm": length, "width_mm": "30", "depth_mm": "20"})
    assert form.is_valid() is is_kept


def test_a_tub_takes_tap_water_and_a_kitchen_scale_unless_told():
    form = TubForm({"tub_g": "12", "with_water_g": "214", "with_product_g": "279"})
    assert form.is_valid(), form.errors
    assert form.weighings()["water_c"] == 20
    assert form.weighings()["scale_step_g"] == 1
    assert list(TubForm({}).errors) == ["tub_g", "with_water_g", "with_product_g"]
