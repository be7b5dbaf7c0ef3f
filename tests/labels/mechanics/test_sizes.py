"""Sizes, held to plain geometry and to the definition of the point (1/72 inch, 25.4 mm)."""

import math
from decimal import Decimal

import pytest

from labels.mechanics.sizes import points_for_x_height, straight_wall_surface_cm2


@pytest.mark.parametrize(("diameter", "height"), [("5", "5"), ("5", "5.2"), ("6.3", "7.5")])
def test_the_wall_of_a_jar_is_its_circumference_times_its_height(diameter, height):
    area = straight_wall_surface_cm2(diameter_cm=Decimal(diameter), height_cm=Decimal(height))
    assert float(area) == pytest.approx(math.pi * float(diameter) * float(height), rel=1e-12)


def test_the_type_size_is_rounded_up_so_that_the_height_is_reached():
    # case 9: 1.2 mm = 3.402 pt; 3.402 / 0.519 = 6.55, so 6.6 pt
    assert points_for_x_height(Decimal("1.2"), x_height_em=Decimal("0.519")) == Decimal("6.6")
