"""What this computer offers, and what apt may add to it. Standard library only.

Functions that decide take the facts as arguments and touch nothing; those that look or act say so.
"""

import ctypes
import importlib.util
import os
import shutil
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

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

DEBIAN_WHEELS = Path("/usr/share/python-wheels")


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


def this_machine(*, fetched_wheels: Path) -> Machine:
    """Look around; asks sudo once whether it would want a password."""
    wheels = [*sorted(DEBIAN_WHEELS.glob("pip-*.whl")), *sorted(fetched_wheels.glob("pip-*.whl"))]
    has_sudo = shutil.which("sudo") is not None
    return Machine(
        has_ensurepip=importlib.util.find_spec("ensurepip") is not None,
        has_pip=importlib.util.find_spec("pip") is not None and sys.prefix == sys.base_prefix,
        pip_wheel=wheels[0] if wheels else None,
        has_apt=shutil.which("apt-get") is not None and shutil.which("dpkg-deb") is not None,
        is_root=os.geteuid() == 0,
        has_free_sudo=has_sudo and run_quietly(["sudo", "-n", "true"]).returncode == 0,
    )


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


def label_packages(missing: Sequence[str]) -> list[str]:
    """The packages to install when some of the label libraries are missing."""
    return [*missing, FASTER_PDF_PACKAGE] if missing else []


def apt_line(packages: Sequence[str]) -> str:
    """The one line a person types to install system packages."""
    names = " ".join(packages)
    return f"sudo apt-get update && sudo apt-get install --no-install-recommends {names}"


def label_line(missing: Sequence[str], *, platform: str = sys.platform) -> str:
    """The one line a person types to be able to print labels."""
    if platform == "darwin":
        return f"brew install {' '.join(missing)}"
    return apt_line(label_packages(missing))


def apt_commands(packages: Sequence[str], *, is_root: bool) -> list[list[str]]:
    """What to run to install system packages without asking anything."""
    before = [] if is_root else ["sudo", "-n"]
    apt = [*before, "env", "DEBIAN_FRONTEND=noninteractive", "apt-get", "-qq"]
    apt += ["-o", "DPkg::Lock::Timeout=120", "-o", "Acquire::Retries=3"]
    return [[*apt, "update"], [*apt, "install", "-y", "--no-install-recommends", *packages]]


def install_system_packages(packages: Sequence[str], *, machine: Machine) -> bool:
    """Install Debian packages when allowed; False, with a word why, when that failed."""
    if not machine.may_install:
        return False
    say(f"Installing system packages: {' '.join(packages)}")
    for command in apt_commands(packages, is_root=machine.is_root):
        done = run_quietly(command)
    if done.returncode != 0:
        say("\n".join(done.stdout.strip().splitlines()[-6:]))
        say(f"apt could not install them. Try it by hand: {apt_line(packages)}")
    return done.returncode == 0


def run_quietly(
    command: Sequence[str], *, folder: Path | None = None
) -> subprocess.CompletedProcess[str]:
    """Run a program that may ask nothing; what it says is kept for when it fails."""
    return subprocess.run(
        command,
        cwd=folder,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        check=False,
    )


def say(text: str) -> None:
    """Tell the person at the terminal, at once."""
    print(text, flush=True)  # noqa: T201
