"""The demo kitchen's season is moved to end shortly before the day it is loaded."""

from datetime import UTC, date, datetime, timedelta

import pytest
from django.contrib.auth import get_user_model
from django.core.exceptions import ValidationError

from costing.models import Batch, Kitchen, SupplierPrice
from costing.services import rookfold
from costing.services.demo import days_shifted, load_demo_kitchen

ON = date(2026, 9, 20)


@pytest.mark.parametrize("on", [ON, date(2028, 2, 29)])
def test_the_season_ended_five_days_before_and_a_pan_was_lit_just_before_the_demo_is_loaded(db, on):
    evening = datetime(on.year, on.month, on.day, 21, 30, tzinfo=UTC)
    load_demo_kitchen(on=on, at=evening)
    lit = Batch.objects.get(status="on the fire").started_at
    assert evening - timedelta(hours=3) < lit < evening
    assert rookfold.LAST_DAY + days_shifted(on=on) == on - timedelta(days=5)
    dates = SupplierPrice.objects.values_list("valid_from", flat=True)
    assert max(dates) < on
    # 2027-01-01 to 2027-09-20, the first and the last price of the season: 262 days.
    assert max(dates) - min(dates) == timedelta(days=262)


def test_nobody_who_has_a_password_is_drawn_into_the_demo(db):
    get_user_model().objects.create_user("idris.calloway", password="my own")
    with pytest.raises(ValidationError, match="already signs in as idris"):
        load_demo_kitchen(on=ON)
    assert not Kitchen.objects.exists()


def test_what_is_bought_cooked_and_sold_fits_together():
    """Every price, line and packing part names something that is there."""
    bought = {food.name for food in rookfold.FOODS} | set(rookfold.PACKAGING)
    assert {row[0] for row in rookfold.PRICES} == bought - {"Water"}
    assert {row[1] for row in rookfold.PRICES} == {row[0] for row in rookfold.SUPPLIERS}
    made = {dish.name for dish in rookfold.DISHES}
    assert {line.of for dish in rookfold.DISHES for line in dish.lines} <= bought | made
    assert {good.dish for good in rookfold.GOODS} <= made
    assert {item for good in rookfold.GOODS for item in good.packing} <= bought
