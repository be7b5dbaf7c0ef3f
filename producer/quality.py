"""`manage.py test`: every check, one after the other, and a table of how they ended.

Runs before Django is loaded, so that a broken module is reported by the checks made for it.
Standard library only.
"""

import ctypes
import os
import shutil
import subprocess
import sys
import tempfile
import time
import xml.etree.ElementTree as ET
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from producer.bootstrap import ROOT, this_machine_now
from producer.system_packages import (
    apt_line,
    install_system_packages,
    label_packages,
    missing_label_libraries,
    say,
)
from producer.throwaway_postgres import PostgresError, server_programs, throwaway_postgres

REQUIRE_ALL = "PRODUCER_REQUIRE_ALL"
PYTHON = [sys.executable]
STATIC_LEGS: dict[str, list[str]] = {
    "lint": [*PYTHON, "-m", "ruff", "check", "."],
    "format": [*PYTHON, "-m", "ruff", "format", "--check", "."],
    "types": [*PYTHON, "-m", "mypy"],
    "templates": [*PYTHON, "-m", "djlint", "templates", "--lint", "--quiet"],
    "imports": [str(Path(sys.executable).parent / "lint-imports"), "--no-logo"],
    "migrations": [*PYTHON, "manage.py", "makemigrations", "--check", "--dry-run"],
}
CHROMIUM_NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")


@dataclass(frozen=True)
class Leg:
    """How one check ended: passed, failed or skipped, and what there is to say about it."""

    name: str
    outcome: str
    seconds: float = 0.0
    note: str = ""


def run(arguments: Sequence[str]) -> int:
    """Run everything, or pytest alone with the arguments given; returns the exit code."""
    os.chdir(ROOT)
    for chosen_elsewhere in ("DATABASE_URL", "PRODUCER_DEMO"):
        os.environ.pop(chosen_elsewhere, None)
    if arguments:
        return subprocess.run([*PYTHON, "-m", "pytest", *arguments], check=False).returncode
    require_all = os.environ.get(REQUIRE_ALL) == "1"
    _install_what_tests_need()
    legs = [_static_leg(name, command) for name, command in STATIC_LEGS.items()]
    legs.append(_pytest_leg("tests on SQLite", coverage_options(python=sys.version_info[:2])))
    legs.append(_postgres_leg())
    say("\n" + summary(legs, require_all=require_all))
    return 1 if failures(legs, require_all=require_all) else 0


def coverage_options(*, python: tuple[int, ...]) -> list[str]:
    """Count covered lines in passing where Python itself tells of them, from 3.14 on.

    Before, every call of every library is looked at: the tests take nearly twice the processor
    time. There it is asked for by name: `manage.py test -n 2 --cov`.
    """
    return ["--cov", "--cov-report=term"] if python >= (3, 14) else []


def failures(legs: Sequence[Leg], *, require_all: bool) -> list[Leg]:
    """The legs that make the run a failure; a skipped one only where nothing may be skipped."""
    bad = {"failed", "skipped"} if require_all else {"failed"}
    return [leg for leg in legs if leg.outcome in bad]


def summary(legs: Sequence[Leg], *, require_all: bool) -> str:
    """The closing table, and one sentence under it."""
    rows = [f"{leg.name:<22}{leg.outcome:<9}{leg.seconds:7.1f} s  {leg.note}" for leg in legs]
    bad = failures(legs, require_all=require_all)
    skipped = [leg for leg in legs if leg.outcome == "skipped"]
    if bad:
        verdict = f"NOT GOOD: {', '.join(leg.name for leg in bad)}."
    elif skipped:
        verdict = f"Good as far as it went; SKIPPED: {', '.join(leg.name for leg in skipped)}."
    else:
        verdict = "All good; nothing was skipped."
    return "\n".join([_heading("Summary"), *(row.rstrip() for row in rows), verdict])


def outcome_of_tests(report: str, *, returncode: int) -> tuple[str, str]:
    """What a JUnit report says: the outcome, and the count or the reasons for skipping."""
    suites = list(ET.fromstring(report).iter("testsuite"))  # noqa: S314 (our own file)
    total, skipped = (sum(int(s.get(key, 0)) for s in suites) for key in ("tests", "skipped"))
    if returncode != 0 or total == 0:
        return "failed", f"{total} tests"
    if skipped:
        reasons = {
            (mark.get("message") or "no reason given").removeprefix("Skipped: ")
            for suite in suites
            for mark in suite.iter("skipped")
        }
        return "skipped", f"{skipped} of {total} tests: {'; '.join(sorted(reasons))}"
    return "passed", f"{total} tests"


def chromium() -> str | None:
    """The browser that the journeys drive."""
    chosen = os.environ.get("PRODUCER_CHROMIUM")
    return chosen or next(filter(None, map(shutil.which, CHROMIUM_NAMES)), None)


def missing_test_packages(
    *,
    has_chromium: bool,
    has_postgres: bool,
    has_git: bool,
    has_atomic: bool,
    missing_libraries: Sequence[str],
) -> list[str]:
    """The Debian packages without which part of the tests would be skipped."""
    wanted = list(label_packages(missing_libraries))
    if not has_chromium:
        wanted.append("chromium")
    if not has_atomic:
        wanted.append("libatomic1")  # the program that drives the browser is linked to it
    if not has_postgres:
        wanted.append("postgresql")
    if not has_git:
        wanted.append("git")  # some checks look only at files that belong to the project
    return wanted


def _can_load(library: str) -> bool:
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True


def _heading(text: str) -> str:
    return f"=== {text} {'=' * max(0, 76 - len(text))}"


def _install_what_tests_need() -> None:
    packages = missing_test_packages(
        has_chromium=chromium() is not None,
        has_postgres=server_programs() is not None,
        has_git=shutil.which("git") is not None,
        has_atomic=_can_load("libatomic.so.1"),
        missing_libraries=missing_label_libraries(),
    )
    if packages and not install_system_packages(packages, machine=this_machine_now()):
        say("Some tests WILL BE SKIPPED. To run them all, type this line once:")
        say(f"    {apt_line(packages)}")


def _static_leg(name: str, command: Sequence[str]) -> Leg:
    say("\n" + _heading(f"{name}: {Path(command[0]).name} {' '.join(command[1:])}"))
    started = time.monotonic()
    done = subprocess.run(command, check=False)
    outcome = "passed" if done.returncode == 0 else "failed"
    return Leg(name, outcome, time.monotonic() - started)


def _pytest_leg(name: str, options: Sequence[str], *, database_url: str | None = None) -> Leg:
    say("\n" + _heading(name))
    environment = dict(os.environ)
    if database_url is not None:
        environment["DATABASE_URL"] = database_url
    started = time.monotonic()
    with tempfile.TemporaryDirectory() as folder:
        report = Path(folder) / "report.xml"
        command = [
            *PYTHON,
            "-m",
            "pytest",
            "-n",
            "2",
            "--dist",
            "worksteal",
            f"--junitxml={report}",
            *options,
        ]
        done = subprocess.run(command, env=environment, check=False)
        seconds = time.monotonic() - started
        if not report.exists():
            return Leg(name, "failed", seconds, "pytest did not get as far as running tests")
        outcome, note = outcome_of_tests(report.read_text(), returncode=done.returncode)
    return Leg(name, outcome, seconds, note)


def _postgres_leg() -> Leg:
    name = "tests on PostgreSQL"
    programs = server_programs()
    if programs is None:
        return Leg(name, "skipped", note=f"needs: {apt_line(['postgresql'])}")
    try:
        with throwaway_postgres(programs) as url:
            return _pytest_leg(name, ["--database-tests-only"], database_url=url)
    except (PostgresError, OSError, subprocess.TimeoutExpired) as problem:
        say(str(problem))
        return Leg(name, "failed", note="the server did not start")
