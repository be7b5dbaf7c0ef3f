"""Sets the project up on a bare machine, then hands the command over to `.venv`.

Standard library only: it runs before anything is installed. Functions that decide take the facts
as arguments and touch nothing; functions that act are below them.
"""

import contextlib
import fcntl
import hashlib
import importlib.metadata
import json
import os
import re
import shutil
import socket
import subprocess
import sys
import tomllib
from collections.abc import Iterator, Sequence
from enum import Enum
from pathlib import Path

from producer.system_packages import (
    Machine,
    apt_line,
    install_system_packages,
    label_line,
    label_packages,
    missing_label_libraries,
    run_quietly,
    say,
    this_machine,
)

ROOT = Path(__file__).resolve().parent.parent
VENV = ROOT / ".venv"
VENV_PYTHON = VENV / "bin" / "python"
STAMP = VENV / "installed.json"
SETUP_FOLDER = ROOT / "var" / "setup"
UNPACKED = SETUP_FOLDER / "debian"
SYSTEM_CERTIFICATES = Path("/etc/ssl/certs/ca-certificates.crt")

COMMANDS_THAT_MENTION_LABEL_LIBRARIES = {"demo"}
COMMANDS_WITH_TEST_PACKAGES = {"test", "benchmark"}
HANDED_OVER = "PRODUCER_HANDED_OVER"


class SetupError(Exception):
    """Setting up cannot go on; the message says what to do."""


class Way(Enum):
    """How the packages get into `.venv`."""

    PLAIN_VENV = "python's own venv, which brings pip"
    SYSTEM_PIP = "a venv without pip, filled by the pip of the system"
    PIP_WHEEL = "a venv without pip, filled by a pip wheel found on disk"
    INSTALL_VENV_PACKAGE = "apt installs python3-venv first"
    FETCH_PIP_WHEEL = "apt-get download, which needs no root, fetches a pip wheel"


# --- Deciding ----------------------------------------------------------------------------------


def ways_to_fill_venv(machine: Machine) -> list[Way]:
    """Every way this machine allows, the best first; empty when a person must act."""
    allowed = {
        Way.PLAIN_VENV: machine.has_ensurepip,
        Way.SYSTEM_PIP: machine.has_pip,
        Way.PIP_WHEEL: machine.pip_wheel is not None,
        Way.INSTALL_VENV_PACKAGE: machine.may_install,
        Way.FETCH_PIP_WHEEL: machine.has_apt,
    }
    return [way for way, is_allowed in allowed.items() if is_allowed]


def requirements_in(pyproject: str, *, with_tests: bool) -> list[str]:
    """The dependencies that pyproject.toml asks for."""
    project = tomllib.loads(pyproject)["project"]
    extra = project["optional-dependencies"]["test"] if with_tests else []
    return [*project["dependencies"], *extra]


def fingerprint(requirements: Sequence[str], *, constraints: str, python: tuple[int, int]) -> str:
    """Changes whenever what is installed ought to change."""
    text = json.dumps([sorted(requirements), constraints, list(python)])
    return hashlib.sha256(text.encode()).hexdigest()


def is_current(stamp: str, *, wanted: str, with_tests: bool) -> bool:
    """Does the stamp left by the last installation say that nothing is to be done?"""
    return _read_stamp(stamp).get("test" if with_tests else "runtime") == wanted


def _read_stamp(text: str) -> dict[str, str]:
    try:
        noted = json.loads(text)
    except ValueError:
        return {}
    return noted if isinstance(noted, dict) else {}


def distribution_name(requirement: str) -> str:
    """`psycopg[binary]>=3.2` -> `psycopg`."""
    return re.split(r"[\s\[<>=!~;]", requirement, maxsplit=1)[0]


def package_begun(line: str) -> str | None:
    """The package that a line of pip's output begins with, if it begins one."""
    match = re.match(r"Collecting ([A-Za-z0-9._-]+)", line)
    return match.group(1) if match else None


def telling_lines(output: Sequence[str]) -> str:
    """What of a failed installation's output says why."""
    telling = re.compile(r"error|no space|could not|denied|certificate", re.IGNORECASE)
    chosen = [line.strip()[:300] for line in output if telling.search(line)] or output[-6:]
    return "\n".join(dict.fromkeys([*chosen[:2], *chosen[-3:]]))


def port_problem(port: int) -> str | None:
    """Why the demo cannot be served on a port of this machine, or None. Tries the port."""
    if not 1 <= port <= 65535:
        return f"There is no port {port}: choose a number from 1024 to 65535, such as --port 8001."
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind(("127.0.0.1", port))
        except PermissionError:
            return f"Port {port} is reserved for the system: choose one from 1024, --port 8001."
        except OSError:
            other = port + 1 if port < 65535 else 8000
            return (
                f"Port {port} is already in use on this machine, perhaps by an earlier start of "
                f"the demo. Choose another: python3 manage.py demo --port {other}"
            )
    return None


# --- Looking -----------------------------------------------------------------------------------


def this_machine_now() -> Machine:
    """Look around afresh: what was just installed or fetched counts."""
    return this_machine(fetched_wheels=UNPACKED / "usr/share/python-wheels")


def _wanted(*, with_tests: bool) -> tuple[list[str], str]:
    needed = requirements_in((ROOT / "pyproject.toml").read_text(), with_tests=with_tests)
    constraints = (ROOT / "constraints.txt").read_text()
    return needed, fingerprint(needed, constraints=constraints, python=sys.version_info[:2])


def _stamp() -> str:
    return STAMP.read_text() if STAMP.exists() else ""


def _is_ready(*, with_tests: bool) -> bool:
    wanted = _wanted(with_tests=with_tests)[1]
    return VENV_PYTHON.exists() and is_current(_stamp(), wanted=wanted, with_tests=with_tests)


def _runs_in_venv() -> bool:
    return Path(sys.prefix).resolve() == VENV.resolve()


def _base_python() -> str:
    return getattr(sys, "_base_executable", None) or sys.executable


def _another_environment_will_do(*, with_tests: bool) -> bool:
    """A developer's own virtual environment that already has every package."""
    if sys.prefix == sys.base_prefix or _runs_in_venv():
        return False
    try:
        for requirement in _wanted(with_tests=with_tests)[0]:
            importlib.metadata.version(distribution_name(requirement))
    except importlib.metadata.PackageNotFoundError:
        return False
    return True


# --- Acting ------------------------------------------------------------------------------------


def ensure_environment(command: str, *, arguments: Sequence[str]) -> None:
    """Return only inside an environment that has every package the command needs."""
    with_tests = command in COMMANDS_WITH_TEST_PACKAGES
    if not _another_environment_will_do(with_tests=with_tests):
        try:
            if not _is_ready(with_tests=with_tests):
                with _one_at_a_time():
                    _set_up(with_tests=with_tests)
        except SetupError as problem:
            sys.exit(str(problem))
        except OSError as problem:
            sys.exit(f"Setting up stopped: {problem}. It needs to write in {ROOT}.")
        if not _runs_in_venv():
            _hand_over(arguments)
    if command in COMMANDS_THAT_MENTION_LABEL_LIBRARIES:
        _mention_missing_label_libraries()


def _hand_over(arguments: Sequence[str]) -> None:
    """Start again inside `.venv`; does not return."""
    if os.environ.get(HANDED_OVER):
        sys.exit(f"The folder {VENV} does not work. Delete it and start again.")
    os.environ[HANDED_OVER] = "1"
    os.execv(VENV_PYTHON, [str(VENV_PYTHON), str(ROOT / "manage.py"), *arguments])


@contextlib.contextmanager
def _one_at_a_time() -> Iterator[None]:
    """Two starts at once must not fill the same folder."""
    SETUP_FOLDER.mkdir(parents=True, exist_ok=True)
    with (SETUP_FOLDER / "lock").open("w") as lock:
        try:
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            say("Another start is setting things up; waiting for it.")
            fcntl.flock(lock, fcntl.LOCK_EX)
        yield


def _set_up(*, with_tests: bool) -> None:
    if _is_ready(with_tests=with_tests):
        return  # the start we waited for has done it
    say("Setting up. This is needed once and takes a minute or two.")
    machine = this_machine_now()
    missing = label_packages(missing_label_libraries())
    if missing and machine.may_install:
        with_venv = [] if machine.has_ensurepip else ["python3-venv"]
        install_system_packages([*missing, *with_venv], machine=machine)
        machine = this_machine_now()
    installer = _make_venv(machine)
    needed, wanted = _wanted(with_tests=with_tests)
    _install(needed, installer=installer)
    stamp = {**_read_stamp(_stamp()), "runtime": _wanted(with_tests=False)[1]}
    if with_tests:
        stamp["test"] = wanted
    STAMP.write_text(json.dumps(stamp))


def _mention_missing_label_libraries() -> None:
    missing = missing_label_libraries()
    if missing:
        say("Everything works except printing labels, which needs one line typed once:")
        say(f"    {label_line(missing)}")


def _make_venv(machine: Machine) -> list[str]:
    """Make `.venv` unless it is there; returns the pip command that installs into it."""
    if VENV_PYTHON.exists() and python_of(VENV / "pyvenv.cfg") == sys.version_info[:2]:
        installer = _pip_for_venv(machine)
        if installer:
            return installer
    for way in ways_to_fill_venv(machine):
        prepared = _prepare(way, machine=machine)
        if prepared is None:
            continue
        without_pip = [] if prepared.has_ensurepip else ["--without-pip"]
        made = run_quietly([_base_python(), "-m", "venv", "--clear", *without_pip, str(VENV)])
        installer = _pip_for_venv(prepared)
        if made.returncode == 0 and installer:
            return installer
    packages = ["python3-venv", *label_packages(missing_label_libraries())]
    raise SetupError(
        "Python here can neither make a virtual environment with pip nor has pip itself, and to "
        "add it needs a password. Type this line once, then start again:\n"
        f"    {apt_line(packages)}"
    )


def _prepare(way: Way, *, machine: Machine) -> Machine | None:
    """Do what a way needs first; None when that failed."""
    if way is Way.INSTALL_VENV_PACKAGE:
        done = install_system_packages(["python3-venv"], machine=machine)
    elif way is Way.FETCH_PIP_WHEEL:
        done = _fetch_pip_wheel()
    else:
        return machine
    return this_machine_now() if done else None


def python_of(config: Path) -> tuple[int, int] | None:
    """The Python version that a virtual environment was made for."""
    text = config.read_text() if config.exists() else ""
    match = re.search(r"^version\s*=\s*(\d+)\.(\d+)", text, re.MULTILINE)
    return (int(match.group(1)), int(match.group(2))) if match else None


def _pip_for_venv(machine: Machine) -> list[str]:
    """The pip that can fill `.venv`; empty when there is none."""
    if any(VENV.glob("lib/python*/site-packages/pip/__main__.py")):
        return [str(VENV_PYTHON), "-m", "pip"]
    if machine.has_pip:
        return [_base_python(), "-m", "pip", "--python", str(VENV_PYTHON)]
    if machine.pip_wheel is not None:
        return [str(VENV_PYTHON), str(machine.pip_wheel / "pip")]
    return []


def _fetch_pip_wheel() -> bool:
    """Unpack Debian's own pip for this folder only: signed, no root, nothing installed."""
    packages = ["python3-pip-whl"]
    if not SYSTEM_CERTIFICATES.exists():
        packages.append("ca-certificates")
    say(f"Fetching pip from Debian, for this folder only: {' '.join(packages)}")
    lists = UNPACKED / "apt"
    for part in ("lists/partial", "cache/archives/partial"):
        (lists / part).mkdir(parents=True, exist_ok=True)
    places = [f"Dir::State::Lists={lists / 'lists'}", f"Dir::Cache={lists / 'cache'}"]
    apt = ["apt-get", "-qq", *(word for place in places for word in ("-o", place))]
    run_quietly([*apt, "update"], folder=UNPACKED)
    fetched = run_quietly([*apt, "download", *packages], folder=UNPACKED)
    shutil.rmtree(lists)
    unpacked = [
        run_quietly(["dpkg-deb", "-x", str(archive), str(UNPACKED)]).returncode == 0
        for archive in UNPACKED.glob("*.deb")
    ]
    return fetched.returncode == 0 and all(unpacked)


def _certificates() -> dict[str, str]:
    """Let pip find certificates on a machine that has none installed."""
    fetched = sorted(UNPACKED.glob("usr/share/ca-certificates/mozilla/*.crt"))
    if SYSTEM_CERTIFICATES.exists() or "PIP_CERT" in os.environ or not fetched:
        return {}
    bundle = SETUP_FOLDER / "certificates.pem"
    bundle.write_text("\n".join(path.read_text() for path in fetched))
    return {"PIP_CERT": str(bundle)}


def _install(requirements: Sequence[str], *, installer: Sequence[str]) -> None:
    """Fill `.venv`, with one line that shows how far it is."""
    constraints = ["--constraint", str(ROOT / "constraints.txt")]
    options = ["--disable-pip-version-check", "--no-input", "--progress-bar", "off"]
    lines: list[str] = []
    begun = 0
    with subprocess.Popen(
        [*installer, "install", *options, *constraints, *requirements],
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        env={**os.environ, **_certificates()},
    ) as process:
        for line in process.stdout or ():
            lines.append(line)
            name = package_begun(line)
            begun += name is not None
            if name:
                _progress(f"Fetching packages: {begun} {name}")
            elif line.startswith("Installing collected packages"):
                _progress(f"Fetching packages: all {begun} are here; unpacking them")
    if process.returncode != 0:
        _progress("", end=True)
        raise SetupError(
            f"{telling_lines(lines)}\n"
            "The Python packages could not be installed; the lines above say why. Check that this "
            "machine is online (a proxy goes into HTTPS_PROXY) and start again: what was fetched "
            "already is kept."
        )
    _progress(f"Fetching packages: {begun} installed.", end=True)


def _progress(text: str, *, end: bool = False) -> None:
    """One line that rewrites itself on a terminal; only the last state elsewhere."""
    if sys.stdout.isatty():
        print(f"\r\033[K{text}", end="\n" if end else "", flush=True)  # noqa: T201
    elif end and text:
        say(text)
