"""A pan is finished on a phone: the sum follows the typing, the record is put right."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.core.cache import cache
from django.urls import reverse
from django.utils import timezone
from playwright.sync_api import expect

from costing.models import Mould
from costing.services.batches import note_event, start_batch
from tests.builders import a_damson_paste, a_kitchen, a_product, an_owner
from tests.journeys.hands import Hands

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture(autouse=True)
def fresh_cache():
    cache.clear()


def test_a_pan_is_finished_looked_at_and_put_right(sign_in_as, live_server, axe_faults):
    kitchen = a_kitchen(trading_name="Rookfold Kitchen", altitude_m=240)
    paste = a_damson_paste(kitchen)
    a_product(paste, name="Damson 100 g", form="piece", net_quantity_g=100, fill_g="103.5")
    Mould.objects.create(kitchen=kitchen, name="Tray", length_mm=400, width_mm=300, depth_mm=30)
    began = timezone.now() - timedelta(hours=2)
    batch = start_batch(paste, by=None, on=timezone.localdate(), started_at=began,
                        water_reading_c=Decimal("99.2"))  # fmt: skip
    note_event(batch, by=None, kind="temperature", value=Decimal("104.1"), key="a" * 32,
               read_at=began + timedelta(hours=1))  # fmt: skip
    page = sign_in_as(an_owner(kitchen))
    hands = Hands(page, axe_faults=axe_faults, width="phone", journey="cook-record")
    name = f"{paste.name}, lot {batch.lot}"

    page.goto(live_server.url + reverse("cook_finish", args=[kitchen.pk, batch.pk]))
    hands.fill("Finished, filled or cut", "11,8")
    expect(page.locator("#accounted")).to_contain_text("11.80")
    page.get_by_label("Damson 100 g").fill("110")
    # 11.8 - 110 x 0.1035 = 0.415.
    expect(page.locator("#accounted")).to_contain_text("0.415")
    hands.fill("Offcuts thrown away", "0,4")
    expect(page.locator("#accounted")).to_contain_text("0.015")
    expect(page.locator("#accounted")).to_contain_text("11.40")
    hands.look(name)
    hands.press("Finish this batch")
    hands.look(name)
    expect(page.locator("main")).to_contain_text("Why a kilo differs from the plan")

    hands.follow("Put a figure right")
    expect(page.locator("#accounted")).to_contain_text("11.40")
    hands.fill("Set and texture", "Cuts clean")
    page.get_by_role("textbox", name="Why", exact=True).fill("Cut on the next day")
    hands.look(f"Put lot {batch.lot} right")
    hands.press("Put it right")
    expect(page.locator("main")).to_contain_text("Cut on the next day")
    batch.refresh_from_db()
    assert (batch.net_g, batch.texture) == (Decimal(11400), "Cuts clean")
    assert hands.faults == []
