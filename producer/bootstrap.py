"""Sets the project up on a bare machine, then hands the command over to `.venv`.

Standard library only: it runs before anything is installed. Functions that decide take the facts
as arguments and touch nothing; functions that act are below them.
"""

import contextlib
import ctypes
import fcntl
import hashlib
import importlib.metadata
import importlib.util
import json
import os
import re
import shlex
import shutil
import socket
import subprocess
import sys
import tomllib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
VENV = ROOT / ".venv"
VENV_PYTHON = VENV / "bin" / "python"
SETUP_FOLDER = ROOT / "var" / "setup"
SYSTEM_CERTIFICATES = Path("/etc/ssl/certs/ca-certificates.crt")

COMMANDS_THAT_PREPARE_THE_MACHINE = {"demo", "test"}
HANDED_OVER = "PRODUCER_HANDED_OVER"

# Library file -> the Debian package that brings it. WeasyPrint needs these two; with the third,
# PDFs are made faster, so it is installed along but never missed.
LABEL_LIBRARIES = {
    "libpango-1.0.so.0": "libpango-1.0-0",
    "libpangoft2-1.0.so.0": "libpangoft2-1.0-0",
}
LABEL_LIBRARIES_ON_MACOS = {
    "libpango-1.0.dylib": "pango",
    "libpangoft2-1.0.dylib": "pango",
}
FASTER_PDF_PACKAGE = "libharfbuzz-subset0"


class SetupError(Exception):
    """Setting up cannot go on; the message says what to do."""


class Way(Enum):
    """How the packages get into `.venv`."""

    PLAIN_VENV = "python's own venv, which brings pip"
    SYSTEM_PIP = "a venv without pip, filled by the pip of the system"
    PIP_WHEEL = "a venv without pip, filled by a pip wheel found on disk"
    INSTALL_VENV_PACKAGE = "apt installs python3-venv first"
    FETCH_PIP_WHEEL = "apt-get download, which needs no root, fetches a pip wheel"


@dataclass(frozen=True)
class Machine:
    """What this computer offers for setting up."""

    has_ensurepip: bool
    has_pip: bool
    pip_wheel: Path | None
    has_apt: bool
    is_root: bool
    has_free_sudo: bool

    @property
    def may_install(self) -> bool:
        return self.has_apt and (self.is_root or self.has_free_sudo)


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


def apt_line(packages: Sequence[str]) -> str:
    """The one line a person types to install system packages."""
    return f"sudo apt-get install --no-install-recommends {' '.join(packages)}"


def apt_commands(packages: Sequence[str], *, is_root: bool) -> list[list[str]]:
    """What to run to install system packages without asking anything."""
    before = [] if is_root else ["sudo", "-n"]
    apt = [*before, "env", "DEBIAN_FRONTEND=noninteractive", "apt-get", "-qq"]
    apt += ["-o", "DPkg::Lock::Timeout=120", "-o", "Acquire::Retries=3"]
    return [[*apt, "update"], [*apt, "install", "-y", "--no-install-recommends", *packages]]


def label_packages(missing: Sequence[str]) -> list[str]:
    """The packages to install when some of the label libraries are missing."""
    return [*missing, FASTER_PDF_PACKAGE] if missing else []


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
    try:
        noted = json.loads(stamp)
    except ValueError:
        return False
    return isinstance(noted, dict) and noted.get("test" if with_tests else "runtime") == wanted


def distribution_name(requirement: str) -> str:
    """`psycopg[binary]>=3.2` -> `psycopg`."""
    return re.split(r"[\s\[<>=!~;]", requirement, maxsplit=1)[0]


def progress_in(line: str) -> str | None:
    """The name of the package that a line of pip's output begins with, if it begins one."""
    match = re.match(r"Collecting ([A-Za-z0-9._-]+)", line)
    return match.group(1) if match else None


def port_problem(port: int) -> str | None:
    """Why the demo cannot be served on a port of this machine, or None."""
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
                f"this. Choose another: python3 manage.py demo --port {other}"
            )
    return None


# --- Looking -----------------------------------------------------------------------------------


def missing_label_libraries() -> list[str]:
    """Packages whose libraries cannot be loaded, so that labels cannot be printed."""
    wanted = LABEL_LIBRARIES_ON_MACOS if sys.platform == "darwin" else LABEL_LIBRARIES
    missing = []
    for library, package in wanted.items():
        try:
            ctypes.CDLL(library)
        except OSError:
            missing.append(package)
    return list(dict.fromkeys(missing))


def this_machine() -> Machine:
    wheels = sorted(Path("/usr/share/python-wheels").glob("pip-*.whl"))
    wheels += sorted(SETUP_FOLDER.glob("**/pip-*.whl"))
    return Machine(
        has_ensurepip=importlib.util.find_spec("ensurepip") is not None,
        has_pip=importlib.util.find_spec("pip") is not None and sys.prefix == sys.base_prefix,
        pip_wheel=wheels[-1] if wheels else None,
        has_apt=shutil.which("apt-get") is not None and shutil.which("dpkg-deb") is not None,
        is_root=os.geteuid() == 0,
        has_free_sudo=shutil.which("sudo") is not None
        and subprocess.run(["sudo", "-n", "true"], capture_output=True, check=False).returncode
        == 0,
    )


def _wanted(*, with_tests: bool) -> tuple[list[str], str]:
    needed = requirements_in((ROOT / "pyproject.toml").read_text(), with_tests=with_tests)
    constraints = (ROOT / "constraints.txt").read_text()
    return needed, fingerprint(needed, constraints=constraints, python=sys.version_info[:2])


def _stamp() -> dict[str, str]:
    try:
        noted = json.loads((VENV / "installed.json").read_text())
    except (OSError, ValueError):
        return {}
    return noted if isinstance(noted, dict) else {}


def _is_ready(*, with_tests: bool) -> bool:
    wanted = _wanted(with_tests=with_tests)[1]
    stamp = json.dumps(_stamp())
    return VENV_PYTHON.exists() and is_current(stamp, wanted=wanted, with_tests=with_tests)


def _runs_in_venv() -> bool:
    return Path(sys.prefix).resolve() == VENV.resolve()


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


def say(text: str) -> None:
    print(text, flush=True)  # noqa: T201


def ensure_environment(command: str, *, arguments: Sequence[str]) -> None:
    """Return only inside an environment that has every package the command needs."""
    with_tests = command == "test"
    if _another_environment_will_do(with_tests=with_tests):
        return
    try:
        if not _is_ready(with_tests=with_tests):
            with _one_at_a_time():
                _set_up(with_tests=with_tests)
        elif command in COMMANDS_THAT_PREPARE_THE_MACHINE:
            _mention_missing_label_libraries()
    except SetupError as problem:
        sys.exit(str(problem))
    except OSError as problem:
        sys.exit(f"Setting up stopped: {problem}. This needs to write in {ROOT}.")
    if _runs_in_venv():
        return
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
        return
    say("Setting up; this is needed once and takes a minute or two.")
    machine = this_machine()
    missing = missing_label_libraries()
    if missing and machine.may_install:
        packages = label_packages(missing)
        if not machine.has_ensurepip:
            packages.append("python3-venv")
        install_system_packages(packages, machine=machine)
        machine = this_machine()
    installer = _make_venv(machine)
    needed, wanted = _wanted(with_tests=with_tests)
    _install(needed, installer=installer)
    stamp = {**_stamp(), "runtime": _wanted(with_tests=False)[1]}
    if with_tests:
        stamp["test"] = wanted
    (VENV / "installed.json").write_text(json.dumps(stamp))
    _mention_missing_label_libraries()


def _mention_missing_label_libraries() -> None:
    missing = missing_label_libraries()
    if missing:
        say("Everything works except printing labels, which needs one more line typed once:")
        line = f"brew install {' '.join(missing)}" if sys.platform == "darwin" else None
        say(f"    {line or apt_line(label_packages(missing))}")


def install_system_packages(packages: Sequence[str], *, machine: Machine) -> bool:
    """Install Debian packages when allowed; False, with a word why, when that failed."""
    if not machine.may_install:
        return False
    say(f"Installing system packages: {' '.join(packages)}")
    output = ""
    for command in apt_commands(packages, is_root=machine.is_root):
        done = subprocess.run(
            command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, check=False
        )
        output = done.stdout
    if done.returncode != 0:
        say("\n".join(output.strip().splitlines()[-6:]))
        say(f"apt could not install them. Try it by hand: {apt_line(packages)}")
    return done.returncode == 0


def _make_venv(machine: Machine) -> list[str]:
    """Make `.venv` if need be; returns the pip command that installs into it."""
    old_python = _python_of(VENV)
    if VENV_PYTHON.exists() and old_python == sys.version_info[:2]:
        with contextlib.suppress(StopIteration):
            return _pip_for(machine)
    for way in ways_to_fill_venv(machine):
        if way is Way.INSTALL_VENV_PACKAGE:
            if not install_system_packages(["python3-venv"], machine=machine):
                continue
            machine = this_machine()
            way = Way.PLAIN_VENV
        if way is Way.FETCH_PIP_WHEEL:
            if not _fetch_pip_wheel():
                continue
            machine = this_machine()
        without = [] if way is Way.PLAIN_VENV else ["--without-pip"]
        base = getattr(sys, "_base_executable", None) or sys.executable
        made = subprocess.run(
            [base, "-m", "venv", "--clear", *without, str(VENV)], capture_output=True, check=False
        )
        if made.returncode == 0:
            with contextlib.suppress(StopIteration):
                return _pip_for(machine)
    raise SetupError(
        "Python here can neither make a virtual environment with pip nor has pip itself, and "
        "installing it needs a password. Type this line once, then start again:\n"
        f"    {apt_line(['python3-venv', *label_packages(missing_label_libraries())])}"
    )


def _python_of(venv: Path) -> tuple[int, int] | None:
    """The Python version that a virtual environment was made for."""
    with contextlib.suppress(OSError):
        match = re.search(r"^version\s*=\s*(\d+)\.(\d+)", (venv / "pyvenv.cfg").read_text(), re.M)
        if match:
            return int(match.group(1)), int(match.group(2))
    return None


def _pip_for(machine: Machine) -> list[str]:
    """The pip that can fill `.venv`; StopIteration when there is none."""
    base = getattr(sys, "_base_executable", None) or sys.executable
    if any(VENV.glob("lib/python*/site-packages/pip/__main__.py")):
        return [str(VENV_PYTHON), "-m", "pip"]
    if machine.has_pip:
        return [base, "-m", "pip", "--python", str(VENV_PYTHON)]
    if machine.pip_wheel is not None:
        return [str(VENV_PYTHON), str(machine.pip_wheel / "pip")]
    raise StopIteration


def _fetch_pip_wheel() -> bool:
    """Unpack Debian's own pip, signature checked by apt, without installing it: needs no root."""
    packages = ["python3-pip-whl"]
    if not SYSTEM_CERTIFICATES.exists():
        packages.append("ca-certificates")
    say(f"Fetching pip from Debian, for this folder only: {' '.join(packages)}")
    folder = SETUP_FOLDER / "debian"
    lists = folder / "apt"
    for part in ("lists/partial", "archives/partial"):
        (lists / part).mkdir(parents=True, exist_ok=True)
    private = ["-o", f"Dir::State::Lists={lists / 'lists'}", "-o", f"Dir::Cache={lists}"]
    quiet = {"capture_output": True, "check": False, "cwd": folder}
    apt = ["apt-get", "-qq", "-o", "Acquire::Retries=3", *private]
    subprocess.run([*apt, "update"], **quiet)
    if subprocess.run([*apt, "download", *packages], **quiet).returncode != 0:
        return False
    for archive in folder.glob("*.deb"):
        if subprocess.run(["dpkg-deb", "-x", str(archive), str(folder)], **quiet).returncode != 0:
            return False
    shutil.rmtree(lists)
    return True


def _certificates() -> dict[str, str]:
    """Let pip find certificates on a machine that has none installed."""
    fetched = sorted(SETUP_FOLDER.glob("debian/usr/share/ca-certificates/mozilla/*.crt"))
    if SYSTEM_CERTIFICATES.exists() or "PIP_CERT" in os.environ or not fetched:
        return {}
    bundle = SETUP_FOLDER / "certificates.pem"
    bundle.write_text("\n".join(path.read_text() for path in fetched))
    return {"PIP_CERT": str(bundle)}


def _install(requirements: Sequence[str], *, installer: Sequence[str]) -> None:
    """Fill `.venv`, with one line that shows how far it is."""
    constraints = ["--constraint", str(ROOT / "constraints.txt")]
    options = ["--disable-pip-version-check", "--no-input", "--progress-bar", "off"]
    process = subprocess.Popen(
        [*installer, "install", *options, *constraints, *requirements],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        env={**os.environ, **_certificates()},
    )
    lines: list[str] = []
    seen = 0
    assert process.stdout is not None
    for line in process.stdout:
        lines.append(line)
        name = progress_in(line)
        if name:
            seen += 1
            _progress(f"Fetching packages: {seen} {name}")
        elif line.startswith("Installing collected packages"):
            _progress(f"Fetching packages: {seen}, all there. Unpacking them")
    if process.wait() != 0:
        _progress("", end=True)
        raise SetupError(
            "".join(lines[-8:])
            + "The Python packages could not be installed; the lines above say why. Check that "
            "this machine is online (a proxy goes into HTTPS_PROXY) and start again: what was "
            "fetched already is kept."
        )
    _progress(f"Fetching packages: {seen}, installed.", end=True)


def _progress(text: str, *, end: bool = False) -> None:
    """One line that rewrites itself on a terminal; only the last state elsewhere."""
    if sys.stdout.isatty():
        print(f"\r\033[K{text}", end="\n" if end else "", flush=True)  # noqa: T201
    elif end and text:
        say(text)
