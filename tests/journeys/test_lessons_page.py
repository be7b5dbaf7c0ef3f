"""On a phone: the batches behind a figure, the one that lies apart answered, a figure pinned."""

from datetime import timedelta
from decimal import Decimal

import pytest
from playwright.sync_api import expect

from costing.services.batches import InputGiven
from tests.builders import TODAY, a_damson_paste, a_finished_batch, an_owner
from tests.journeys.hands import Hands

pytestmark = pytest.mark.django_db(transaction=True)


def test_a_batch_that_lies_apart_is_left_out_and_a_figure_pinned(
    live_server, sign_in_as, axe_faults
):
    paste = a_damson_paste()
    puree = paste.versions.get().lines.get(preparation__isnull=False).preparation
    for week, net_g in enumerate((17700, 18300, 17400, 1800)):  # the last one lost a nought
        a_finished_batch(
            puree, on=TODAY + timedelta(weeks=week), net_g=net_g,
            inputs=[InputGiven(0, Decimal(24000))],
        )  # fmt: skip
    page = sign_in_as(an_owner(paste.kitchen))
    hands = Hands(page, axe_faults=axe_faults, width="phone", journey="lessons")
    page.goto(f"{live_server.url}/k/{paste.kitchen_id}/lessons/")
    hands.look("What the batches taught")
    fruit = page.get_by_role("article", name="Damsons: gets past the sieve")
    # (2 x 75 + 73.75 + 76.25 + 72.5) / 5 = 74.5
    expect(fruit).to_contain_text("From 3 of your batches: 74.5 %")
    expect(fruit).to_contain_text("Was a weight wrong")
    fruit.get_by_role("button", name="Leave it out").click()
    expect(fruit).to_contain_text("is left out, because you said so")
    expect(fruit).not_to_contain_text("Was a weight wrong")
    fruit.locator("summary", has_text="Decide it yourself").click()
    fruit.get_by_label("Reckon with").fill("74")
    fruit.get_by_role("button", name="Pin this figure").click()
    expect(fruit).to_contain_text("Pinned by you: 74 %")
    fruit.locator("summary", has_text="Decide it yourself").click()
    hands.look("What the batches taught")
    assert hands.faults == []
