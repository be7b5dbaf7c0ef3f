"""The command measures what was asked for, and what it prints are ratios."""

import re
from functools import cache
from io import StringIO

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError

from costing.models import Kitchen
from producer.management.commands.benchmark import Command

pytestmark = pytest.mark.django_db

A_RATIO = r"\d+\.\d\d"
A_TIME = r"\d[\d.]* ms"


@cache
def printed(*options):
    """What a trial prints; one run serves every test that reads the same tables."""
    out = StringIO()
    call_command("benchmark", "--quick", *options, stdout=out)
    return out.getvalue()


def row(text, begins):
    return next(line for line in text.splitlines() if line.startswith(begins))


@pytest.mark.own_database
def test_labels_are_held_against_the_floor_and_the_goal_is_judged():
    text = printed("--labels")
    for run in ("1 label, first in its process", "1 label, later", "24 identical", "30 distinct"):
        assert re.search(rf"{A_RATIO} +{A_TIME} +{A_TIME}$", row(text, run)), run
    assert re.search(r"goal (not )?met$", row(text, "30 identical "))
    assert re.search(rf"{A_RATIO} +\d+ MB +\d+ kB +\d+ MB +\d+ kB$", text, re.MULTILINE)
    assert "Pages with" not in text


def test_costs_are_held_against_bare_sums_with_the_boiling_points_share():
    text = printed("--costs")
    for what in ("sums alone, stopped at a Brix", "sums alone, stopped at a rise"):
        assert re.search(rf"{A_RATIO} +{A_TIME} +{A_TIME}$", row(text, what))
    assert row(text, "from the database, 4 queries")
    assert re.search(r"\d+% ", row(text, "rise to Brix"))


@pytest.mark.own_database
def test_pages_tell_queries_ratio_and_goal():
    text = printed("--pages")
    assert re.search(
        rf"^recipe +(\d+) -> \1 .* {A_RATIO} +goal (not )?met", row(text, "recipe "), re.MULTILINE
    )
    assert not Kitchen.objects.exists()


@pytest.mark.own_database
def test_cooks_are_held_against_bare_numpy_and_answers_against_an_empty_view():
    text = printed("--cooks")
    for what in ("10000 draws of a cook", "curve of a cook, 200 points"):
        assert re.search(rf"{A_RATIO} +goal (not )?met +{A_TIME} +{A_TIME}$", row(text, what)), what
    assert re.search(rf"{A_RATIO} +{A_TIME} +{A_TIME}$", row(text, "answer to a reading"))
    assert not Kitchen.objects.exists()


@pytest.mark.own_database
def test_a_quick_trial_warns_that_its_figures_mean_nothing():
    assert printed("--costs").startswith("A quick trial")


def test_what_is_not_measured_here_is_refused():
    with pytest.raises((CommandError, SystemExit, TypeError)):
        call_command("benchmark", "--coffee")


def test_the_help_says_against_what_it_measures_and_that_data_are_safe():
    text = " ".join(Command().create_parser("manage.py", "benchmark").format_help().split())
    assert "ReportLab" in text
    assert "yours is never opened" in text
    assert "--quick" in text
