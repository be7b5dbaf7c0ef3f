"""The fourteen groups, and records that name one of them."""

import pytest

from costing.models import AllergenAnswer
from labels.allergens import ALLERGEN_GROUPS, Allergen, CrossContactAnswer


def test_the_groups_are_the_fourteen_of_annex_ii_in_its_order():
    # Regulation (EU) No 1169/2011, Annex II, consolidated to 1 April 2025 [R].
    assert len(ALLERGEN_GROUPS) == 14
    assert (ALLERGEN_GROUPS[0], ALLERGEN_GROUPS[7], ALLERGEN_GROUPS[11]) == (
        "gluten", "nuts", "sulphites",
    )  # fmt: skip
    assert tuple(AllergenAnswer.Group.values) == ALLERGEN_GROUPS


def test_a_group_of_nobodys_list_is_refused():
    with pytest.raises(ValueError, match="not one of the fourteen"):
        Allergen("pollen", "pollen")
    with pytest.raises(ValueError, match="not one of the fourteen"):
        CrossContactAnswer("pollen", remains=False)


def test_what_is_printed_has_a_name():
    with pytest.raises(ValueError, match="no name to print"):
        Allergen("nuts", "")
    with pytest.raises(ValueError, match="no name to print"):
        CrossContactAnswer("nuts", remains=True)
    assert CrossContactAnswer("nuts", remains=False).named_as == ""
