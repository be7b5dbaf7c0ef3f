"""Starting a cook: each way of choosing the size, the weights, and what is put down of it."""

from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from costing.models import Batch, Mould
from costing.services.batches import InputGiven
from tests.builders import (
    a_batch,
    a_cook,
    a_damson_paste,
    a_finished_batch,
    a_fruit,
    a_kitchen,
    a_pan,
    a_product,
    a_recipe,
    an_ingredient,
    sugar,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def kitchen():
    return a_kitchen(altitude_m=240)


@pytest.fixture
def paste(kitchen):
    """9 kg of puree, 8.1 kg of sugar and 0.18 kg of lemon juice: 17.28 kg (see builders)."""
    return a_damson_paste(kitchen)


@pytest.fixture
def page(client, kitchen):
    """Posts to the start page and gives the text back, as a cook."""
    client.force_login(a_cook(kitchen))

    def post(typed, *, do="see"):
        return client.post(_at(kitchen), typed | {"do": do}).content.decode()

    return post


def _at(kitchen):
    return reverse("cook_start", args=[kitchen.pk])


def _mould(kitchen, **more):
    values = {"length_mm": Decimal(300), "width_mm": Decimal(200), "depth_mm": Decimal(40)} | more
    return Mould.objects.create(kitchen=kitchen, name="Big tray", **values)


def test_the_weights_are_rounded_for_the_scale_and_it_is_said_what_that_does(page, paste):
    # 4.33 kg of puree: 90 % sugar is 3897 g, weighed 3900; 2 % lemon 86.6 g, weighed 85.
    # Rounding adds 3 - 1.6 = 1.4 g to 8313.6 g: 0.02 %; 1.6 of 86.6 g is 1.8 %.
    text = page({"recipe": paste.pk, "size_by": "base", "base_kg": "4,33"})
    assert "3.90" in text
    assert "rounded up by 3 g<" in text
    assert "rounded down by 1.6 g, 1.8\u00a0% of it" in text
    assert "rounded up by 1.4 g, 0.02\u00a0%" in text
    assert "all 4330 g of the base" in text


def test_moulds_are_filled_by_the_density_that_was_tested(page, kitchen, paste):
    # 300 x 200 x 20 mm = 1.2 l; at 1.35 g/ml 1620 g, twice 3240 g. The film on the pan is 3.5 %,
    # so 3240 / 0.965 = 3357.5 g in the pan, of 12321.6 g that the recipe boils down to
    # (9241.2 g of solids at 75 Brix): 0.272 times the recipe.
    tray = _mould(kitchen, owned=1)
    typed = {"recipe": paste.pk, "size_by": "moulds", "moulds": "2", "mould": tray.pk,
             "depth_mm": "20", "density": "1,35"}  # fmt: skip
    text = page(typed)
    assert "0.272 times the recipe: 2 moulds of 1620 g" in text
    assert "You have 1 of Big tray; 2 are needed." in text
    assert "would run over" in page(typed | {"depth_mm": "41"})
    assert "would run over" not in page(typed | {"depth_mm": "40"})
    assert "cannot be" in page(typed | {"density": "1350"})
    # Nobody tested it: sucrose solution of 75 Brix at 20 C has 1.3790 g/ml (ICUMSA SPS-4).
    assert "Density taken as 1.379 g/ml" in page(typed | {"density": ""})


def test_pieces_are_cut_from_whole_moulds(page, kitchen, paste):
    typed = {"recipe": paste.pk, "size_by": "pieces", "pieces": "25", "pieces_a_mould": "12",
             "mould": _mould(kitchen).pk, "depth_mm": "20", "density": "1,35"}  # fmt: skip
    # 25 pieces at 12 a mould: three moulds, 36 pieces.
    assert "3 full moulds, 36 pieces for the 25 asked for" in page(typed)
    page(typed, do="start")
    page(typed | {"size_by": "written"}, do="start")
    told = Batch.objects.order_by("pk").values_list("mould__name", flat=True)
    assert list(told) == ["Big tray", None]


def test_jars_are_counted_and_packs_are_called_by_their_name(page, paste):
    jar = a_product(paste, fill_g="342")
    typed = {"recipe": paste.pk, "size_by": "units", "units": "10", "product": jar.pk}
    assert "10 jars of 342 g" in page(typed)
    pack = a_product(paste, form="piece", net_quantity_g=100, fill_g="103.5", name="Small bar")
    assert "10 of Small bar, 103.5 g each" in page(typed | {"product": pack.pk})


def test_the_scarcest_sets_the_size_and_what_stays_over_is_told(page, kitchen, paste):
    # 4.5 kg of puree would do for half; 2.7 kg of sugar only for a third of it:
    # 4500 - 9000/3 = 1500 g of puree stay.
    typed = {"recipe": paste.pk, "size_by": "scarcest", "lines_of": paste.pk,
             "hand-0-0": "4,5 kg", "hand-1-0": "2700"}  # fmt: skip
    text = page(typed)
    assert "2700 g of White sugar, the scarcest" in text
    assert "1.5\u00a0kg stays over" in text
    assert "taken as plenty: Lemon juice" in text
    assert "There is no White sugar" in page(typed | {"hand-1-0": "0"})
    assert "at least one line" in page(typed | {"hand-0-0": "", "hand-1-0": ""})


def test_a_pan_is_half_full_at_most(page, kitchen, paste):
    pan = a_pan(kitchen, capacity_l=20)
    # Half of 20 l at the density of water: 10 kg.
    text = page({"recipe": paste.pk, "size_by": "pan", "pan": pan.pk})
    assert "50 % full" in text
    assert "This fills the pan" not in text
    # The whole recipe is 17.28 kg in 20 l: 86 %.
    assert "This fills the pan to 86 %" in page({"recipe": paste.pk, "size_by": "written",
                                                 "pan": pan.pk})  # fmt: skip


@pytest.mark.parametrize(("kilos", "is_said"), [("20", False), ("20,1", True), ("4,9", True)])
def test_beyond_twice_or_half_the_spices_are_named(page, kitchen, kilos, is_said):
    spice = an_ingredient(kitchen, name="Cinnamon", category="spice")
    recipe = a_recipe(
        kitchen,
        lines=[(a_fruit(kitchen, name="Plums"), 100, "%"), (sugar(kitchen), 50, "%"),
               (spice, "0.2", "%")],
        base_g=10000, base_name="plums", cook_kind="boil down", stop_form="brix", stop_value=62,
        attended_minutes=60,
    )  # fmt: skip
    text = page({"recipe": recipe.pk, "size_by": "base", "base_kg": kilos})
    assert ("Above all: Cinnamon." in text) is is_said
    assert ("60 minutes" in text) is is_said


def test_the_air_pressure_says_where_it_was_read_and_the_classic_slip_is_asked(page, paste):
    # ISO 2533: at 240 m the air has 0.9719 of its pressure at sea level, 984.7 hPa of 1013.25.
    typed = {"recipe": paste.pk, "size_by": "written", "report_hpa": "1000"}
    assert "Which of the two is it?" in page(typed)
    assert "971.9" in page(typed | {"report_from": "report"})
    # Halfway between the two, 999 hPa, a report stops being likelier than a barometer.
    assert "stormy" not in page(typed | {"report_from": "report"})
    assert "stormy" in page(typed | {"report_from": "report", "report_hpa": "998"})
    slip = page(typed | {"report_from": "here", "report_hpa": "1035"})
    assert "enter it as such" in slip
    page(typed | {"report_from": "here", "report_hpa": "984,7"}, do="start")
    # 984.7 / 0.97187 = 1013.2
    assert abs(Batch.objects.get().report_hpa - Decimal("1013.2")) <= Decimal("0.1")


def test_a_thermometer_that_is_far_out_is_looked_at_again(page, paste):
    # At 240 m water boils at 99.2 C (IAPWS-IF97).
    typed = {"recipe": paste.pk, "size_by": "written"}
    assert "yours shows 0.2" in page(typed | {"water_reading_c": "99,4"})
    assert "Was the water rolling" in page(typed | {"water_reading_c": "96"})


def test_what_is_known_of_the_lines_is_put_down_with_the_fire(page, kitchen, paste):
    lines = paste.versions.get().lines
    puree = lines.get(preparation__isnull=False).preparation
    own = a_finished_batch(puree, net_g=18000)
    white = lines.get(ingredient__name="White sugar").ingredient
    mill = white.prices.get().supplier
    typed = {
        "recipe": paste.pk, "size_by": "written", "lines_of": paste.pk,
        "source-0-0": own.pk, "weighed-0-0": "9,02 kg", "brix-0-0": "13,1",
        "supplier-1-0": mill.pk, "lot-1-0": "SF-0816",
    }  # fmt: skip
    assert "type kg behind" in page(typed | {"weighed-0-0": "9,02"}, do="start")
    assert not Batch.objects.filter(recipe=paste).exists()
    page(typed, do="start")
    fruit, sweet, lemon = Batch.objects.get(recipe=paste).inputs.order_by("position")
    assert (fruit.from_batch, fruit.weighed_g, fruit.measured_brix) == (
        own, Decimal(9020), Decimal("13.1"),
    )  # fmt: skip
    assert (sweet.supplier, sweet.supplier_lot, sweet.weighed_g) == (mill, "SF-0816", None)
    assert lemon.to_weigh_g == Decimal(180)


def test_what_was_typed_for_another_recipe_is_not_taken(page, kitchen, paste):
    other = a_recipe(kitchen, lines=[(sugar(kitchen, name="Raw sugar"), 1)])
    typed = {"recipe": other.pk, "size_by": "written", "lines_of": paste.pk, "lot-0-0": "X"}
    assert "The recipe was changed" in page(typed, do="start")
    assert not Batch.objects.exists()


def test_a_lot_that_reads_as_money_is_refused(page, paste):
    typed = {"recipe": paste.pk, "size_by": "written", "lot": "€ 4"}
    assert "must not look like a price" in page(typed, do="start")


def test_what_the_pan_taught_stands_beside_it(page, kitchen, paste):
    pan = a_pan(kitchen, residue_g=400)
    for _ in range(2):
        a_finished_batch(paste, pan=pan, pot_g=12000, net_g=11700)
    typed = {"recipe": paste.pk, "size_by": "written", "pan": pan.pk}
    # 300 g stayed on it twice; the usual 400 g counts for two batches: 350 g.
    assert "What stays on it, from 2 of your batches: 350 g" in page(typed)


def test_the_page_asks_no_more_when_there_is_more(
    client, kitchen, paste, django_assert_max_num_queries
):
    client.force_login(a_cook(kitchen))
    address = f"{_at(kitchen)}?recipe={paste.pk}"
    puree = paste.versions.get().lines.get(preparation__isnull=False).preparation
    a_finished_batch(puree, net_g=18000)
    client.get(address)
    with CaptureQueriesContext(connection) as before:
        client.get(address)
    for _ in range(3):
        a_finished_batch(puree, net_g=18000)
        a_batch(paste)
        a_pan(kitchen)
    with django_assert_max_num_queries(len(before)):
        client.get(address)


def test_a_pressure_that_is_unclear_does_not_take_the_size_away(page, paste):
    text = page({"recipe": paste.pk, "size_by": "base", "base_kg": "4,5", "report_hpa": "1000"})
    assert "0.5 times the recipe" in text
    assert "Empty: DC-" in text


def test_more_than_is_left_of_a_tub_does_not_light_the_fire_unless_it_was_looked_at(
    client, kitchen, paste
):
    # 9 kg of 15 kg are taken already: 6 kg are left, and the plan wants 9 kg.
    puree = paste.versions.get().lines.get(preparation__isnull=False).preparation
    tub = a_finished_batch(puree, net_g=15000)
    a_batch(paste, inputs=[InputGiven(0, Decimal(9000), from_batch=tub)])
    client.force_login(a_cook(kitchen))
    typed = {
        "recipe": paste.pk, "size_by": "written", "lines_of": paste.pk, "do": "start",
        "source-0-0": tub.pk,
    }  # fmt: skip
    text = client.post(_at(kitchen), typed).content.decode()
    assert f"Of {tub.lot} there are 6 kg left; planned are 9 kg" in text
    assert Batch.objects.filter(recipe=paste).count() == 1
    assert client.post(_at(kitchen), typed | {"looked_again": "on"}).status_code == 302
    assert Batch.objects.filter(recipe=paste).count() == 2
