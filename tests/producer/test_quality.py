"""The closing table of `manage.py test`: a skipped check must not look like a passed one."""

import subprocess
import sys
from pathlib import Path

import pytest

from producer.quality import (
    Leg,
    coverage_options,
    failures,
    missing_test_packages,
    outcome_of_tests,
    summary,
)

LEGS = [Leg("lint", "passed", 0.2), Leg("tests on PostgreSQL", "skipped", note="needs a server")]


def test_a_skipped_leg_is_said_and_is_no_failure_for_a_developer():
    assert failures(LEGS, require_all=False) == []
    assert summary(LEGS, require_all=False).endswith("SKIPPED: tests on PostgreSQL.")


def test_a_skipped_leg_is_a_failure_where_nothing_may_be_skipped():
    assert failures(LEGS, require_all=True) == [LEGS[1]]
    assert summary(LEGS, require_all=True).endswith("NOT GOOD: tests on PostgreSQL.")


def test_a_failed_leg_is_a_failure_everywhere():
    legs = [Leg("types", "failed"), Leg("lint", "passed")]
    for require_all in (True, False):
        assert failures(legs, require_all=require_all) == [legs[0]]


def test_covered_lines_are_counted_in_passing_only_where_that_costs_little():
    # coverage.py 7.11.1, release notes: sys.monitoring is "the default for Python 3.14+".
    assert coverage_options(python=(3, 14)) == ["--cov", "--cov-report=term"]
    assert coverage_options(python=(3, 13)) == []


def test_the_table_has_a_row_for_every_leg():
    table = summary(LEGS, require_all=False)
    assert all(leg.name in table and leg.note in table for leg in LEGS)


@pytest.mark.parametrize(
    ("facts", "packages"),
    [
        ({}, []),
        ({"has_chromium": False}, ["chromium"]),
        ({"has_postgres": False}, ["postgresql"]),
        ({"has_git": False}, ["git"]),
        ({"has_atomic": False}, ["libatomic1"]),
        (
            {"missing_libraries": ["libpango-1.0-0"], "has_chromium": False},
            ["libpango-1.0-0", "libharfbuzz-subset0", "chromium"],
        ),
    ],
)
def test_only_what_is_missing_is_installed(facts, packages):
    has = ("has_chromium", "has_postgres", "has_git", "has_atomic")
    everything = dict.fromkeys(has, True)
    everything["missing_libraries"] = []
    assert missing_test_packages(**(everything | facts)) == packages


def report_of(tmp_path: Path, tests: str) -> tuple[str, int]:
    """A JUnit report written by pytest itself, not by us."""
    file = tmp_path / "test_sample.py"
    file.write_text(f"import pytest\n{tests}")
    report = tmp_path / "report.xml"
    done = subprocess.run(
        [
            sys.executable,
            "-m",
            "pytest",
            "-q",
            "-p",
            "no:django",
            f"--junitxml={report}",
            str(file),
        ],
        cwd=tmp_path,
        capture_output=True,
        check=False,
    )
    return report.read_text(), done.returncode


@pytest.mark.parametrize(
    ("tests", "expected"),
    [
        ("def test_a(): pass\n", ("passed", "1 tests")),
        ("def test_a(): assert False\n", ("failed", "1 tests")),
        ("", ("failed", "0 tests")),
        (
            "def test_a(): pass\ndef test_b(): pytest.skip('no browser')\n",
            ("skipped", "1 of 2 tests: no browser"),
        ),
    ],
)
def test_the_outcome_is_read_from_pytests_report(tmp_path, tests, expected):
    report, returncode = report_of(tmp_path, tests)
    assert outcome_of_tests(report, returncode=returncode) == expected
