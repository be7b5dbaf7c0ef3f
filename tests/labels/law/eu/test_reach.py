"""Where the Regulation applies."""

import pytest

from tests.labels.law.eu.builders import a_label, by_rule

RULE = "the_food_is_sold_where_this_law_applies"


@pytest.mark.parametrize(
    ("country", "level"),
    [
        ("IE", None), ("PT", None), ("ie ", None), ("", None), ("NO", None),
        ("GB", "look at this"), ("US", "must mend"), ("JP", "must mend"), ("CH", "must mend"),
    ],
)  # fmt: skip
def test_a_label_for_another_country_is_not_called_ready(country, level):
    # Regulation (EU) No 1169/2011, closing words: "directly applicable in all Member States" [R];
    # the economic area and the United Kingdom (from memory).
    found = by_rule(RULE, a_label(country_of_sale=country))
    assert [f.level for f in found] == ([level] if level else [])
