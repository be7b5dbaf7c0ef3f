"""Setting up: which way, which line, when again. Facts go in as arguments; nothing is replaced."""

import socket
import subprocess
import sys
from pathlib import Path

import pytest

from producer import bootstrap
from producer.bootstrap import Way, fingerprint, is_current, port_problem, ways_to_fill_venv
from producer.system_packages import Machine

ROOT = Path(bootstrap.__file__).parents[1]


def a_machine(**facts):
    """A bare Debian 12: python3 and apt, no pip, no ensurepip, an ordinary user without sudo."""
    bare = {
        "has_ensurepip": False,
        "has_pip": False,
        "pip_wheel": None,
        "has_apt": True,
        "is_root": False,
        "has_free_sudo": False,
    }
    return Machine(**(bare | facts))


@pytest.mark.parametrize(
    ("facts", "first"),
    [
        ({"has_ensurepip": True}, Way.PLAIN_VENV),
        ({"has_ensurepip": True, "has_pip": True, "is_root": True}, Way.PLAIN_VENV),
        # Debian's python3-pip without python3-venv: `python3 -m venv` fails, --without-pip works.
        ({"has_pip": True}, Way.SYSTEM_PIP),
        ({"has_pip": True, "is_root": True}, Way.SYSTEM_PIP),
        (
            {"pip_wheel": Path("/usr/share/python-wheels/pip-23.0.1-py3-none-any.whl")},
            Way.PIP_WHEEL,
        ),
        ({"is_root": True}, Way.INSTALL_VENV_PACKAGE),
        ({"has_free_sudo": True}, Way.INSTALL_VENV_PACKAGE),
        ({}, Way.FETCH_PIP_WHEEL),
    ],
)
def test_the_way_to_fill_the_venv_is_the_least_intrusive_that_works(facts, first):
    assert ways_to_fill_venv(a_machine(**facts))[0] is first


def test_a_machine_without_pip_and_without_apt_has_no_way_and_a_person_is_asked():
    assert ways_to_fill_venv(a_machine(has_apt=False)) == []


def test_root_without_apt_is_not_offered_apt():
    machine = a_machine(has_apt=False, is_root=True)
    assert not machine.may_install
    assert ways_to_fill_venv(machine) == []


def test_every_way_that_is_possible_is_kept_in_case_the_first_fails():
    ways = ways_to_fill_venv(a_machine(has_ensurepip=True, has_pip=True, is_root=True))
    assert ways == [
        Way.PLAIN_VENV,
        Way.SYSTEM_PIP,
        Way.INSTALL_VENV_PACKAGE,
        Way.FETCH_PIP_WHEEL,
    ]


def test_what_pip_is_asked_for_is_what_pyproject_declares():
    text = '[project]\ndependencies = ["a>=1"]\n[project.optional-dependencies]\ntest = ["b"]\n'
    assert bootstrap.requirements_in(text, with_tests=False) == ["a>=1"]
    assert bootstrap.requirements_in(text, with_tests=True) == ["a>=1", "b"]


def test_every_declared_dependency_has_a_version_that_passed():
    # PEP 503: names are compared in lower case, with runs of . - _ as one dash.
    pinned = {
        line.partition("==")[0].lower().replace("_", "-").replace(".", "-")
        for line in (ROOT / "constraints.txt").read_text().splitlines()
        if not line.startswith("#")
    }
    declared = bootstrap.requirements_in((ROOT / "pyproject.toml").read_text(), with_tests=True)
    names = {bootstrap.distribution_name(each).lower().replace("_", "-") for each in declared}
    assert names - pinned == set()


def test_constraints_are_plain_pins():
    for line in (ROOT / "constraints.txt").read_text().splitlines():
        assert line.startswith("#") or line.count("==") == 1, line
        assert "://" not in line
        assert "--hash" not in line


@pytest.mark.parametrize(
    ("requirement", "name"),
    [
        ("Django>=5.2.16,<5.3", "Django"),
        ("psycopg[binary]>=3.2", "psycopg"),
        ("pint", "pint"),
        ("tomli ; python_version < '3.11'", "tomli"),
    ],
)
def test_the_name_is_read_off_a_requirement(requirement, name):
    assert bootstrap.distribution_name(requirement) == name


class TestStamp:
    now = fingerprint(["a", "b"], constraints="a==1", python=(3, 11))

    @pytest.mark.parametrize(
        "later",
        [
            fingerprint(["a", "c"], constraints="a==1", python=(3, 11)),
            fingerprint(["a", "b"], constraints="a==2", python=(3, 11)),
            fingerprint(["a", "b"], constraints="a==1", python=(3, 12)),
        ],
    )
    def test_another_package_version_or_python_asks_for_an_installation(self, later):
        assert later != self.now
        assert not is_current(f'{{"runtime": "{self.now}"}}', wanted=later, with_tests=False)

    def test_the_order_of_the_requirements_does_not(self):
        assert fingerprint(["b", "a"], constraints="a==1", python=(3, 11)) == self.now

    def test_the_stamp_of_the_last_installation_is_recognised(self):
        assert is_current(f'{{"runtime": "{self.now}"}}', wanted=self.now, with_tests=False)

    def test_packages_for_the_demo_do_not_count_as_packages_for_the_tests(self):
        stamp = f'{{"runtime": "{self.now}"}}'
        assert not is_current(stamp, wanted=self.now, with_tests=True)

    @pytest.mark.parametrize("damaged", ["", "{", "[]", "null", '"x"', "{}"])
    def test_a_damaged_stamp_means_install_again(self, damaged):
        assert not is_current(damaged, wanted=self.now, with_tests=False)


@pytest.mark.parametrize(
    ("config", "python"),
    [
        ("home = /usr/bin\nversion = 3.11.2\n", (3, 11)),
        ("version=3.13.0", (3, 13)),
        ("home = /usr/bin\n", None),
    ],
)
def test_the_python_of_a_venv_is_read_from_its_own_file(tmp_path, config, python):
    file = tmp_path / "pyvenv.cfg"
    file.write_text(config)
    assert bootstrap.python_of(file) == python


def test_a_venv_that_is_not_there_has_no_python(tmp_path):
    assert bootstrap.python_of(tmp_path / "pyvenv.cfg") is None


def test_progress_counts_the_packages_that_pip_collects():
    # As pip 23.0 prints them.
    assert bootstrap.package_begun("Collecting psycopg[binary]>=3.2\n") == "psycopg"
    assert bootstrap.package_begun("Collecting pdfminer.six==20260107 (from x)\n") == "pdfminer.six"
    assert (
        bootstrap.package_begun("  Downloading Django-5.2.19-py3-none-any.whl (8.3 MB)\n") is None
    )


def test_a_failed_installation_shows_the_lines_that_say_why():
    # As pip 23.0 prints them on a machine without a network, shortened.
    output = [
        "Collecting Django<5.3,>=5.2.16\n",
        "  WARNING: Retrying after 'NewConnectionError: Name or service not known'\n",
        "ERROR: Could not find a version that satisfies the requirement Django<5.3\n",
        "ERROR: No matching distribution found for Django<5.3\n",
    ]
    told = bootstrap.telling_lines(output)
    assert "Name or service not known" in told
    assert "Could not find a version" in told
    assert "Collecting" not in told


def test_where_no_line_says_why_the_last_ones_are_shown():
    assert bootstrap.telling_lines(["one", "two"]) == "one\ntwo"


class TestPort:
    def test_a_free_port_is_no_problem(self):
        with socket.socket() as probe:
            probe.bind(("127.0.0.1", 0))
            port = probe.getsockname()[1]
        assert port_problem(port) is None

    def test_a_busy_port_is_named_with_the_way_to_choose_another(self):
        with socket.socket() as server:
            server.bind(("127.0.0.1", 0))
            server.listen()
            port = server.getsockname()[1]
            problem = port_problem(port)
        assert f"Port {port} is already in use" in problem
        assert f"--port {port + 1}" in problem

    @pytest.mark.parametrize("port", [0, -1, 65536, 10**12])
    def test_a_number_that_is_no_port_is_refused_in_a_sentence(self, port):
        assert f"There is no port {port}" in port_problem(port)

    @pytest.mark.parametrize("port", [1024, 65535])
    def test_the_ends_of_the_range_are_ports(self, port):
        assert "There is no port" not in (port_problem(port) or "")


def test_starting_needs_nothing_but_the_standard_library():
    # -I -S: no site-packages at all, as on a machine where nothing was ever installed.
    code = (
        f"import sys; sys.path.insert(0, {str(ROOT)!r})\n"
        "import producer.bootstrap, producer.quality\n"
        "outside = sorted(name for name in sys.modules if name.split('.')[0] not in "
        "sys.stdlib_module_names | {'producer', '__main__'})\n"
        "print(outside)"
    )
    done = subprocess.run(
        [sys.executable, "-I", "-S", "-c", code], capture_output=True, text=True, check=False
    )
    assert done.stdout.strip() == "[]", done.stderr


def test_manage_py_can_be_read_by_an_older_python():
    # The sentence about the version must be reached: no syntax newer than Python 3.0.
    import ast

    ast.parse((ROOT / "manage.py").read_text(), feature_version=(3, 4))
