"""A PostgreSQL server for one test run: its own folder, a Unix socket, nothing left behind."""

import contextlib
import os
import pwd
import re
import shutil
import subprocess
import tempfile
from collections.abc import Iterator, Sequence
from pathlib import Path
from urllib.parse import quote

DEBIAN_PROGRAMS = Path("/usr/lib/postgresql")
# Nothing here outlives the run, so nothing waits for the disk.
SERVER_OPTIONS = (
    "-c listen_addresses= -c fsync=off -c synchronous_commit=off -c full_page_writes=off"
)


class PostgresError(Exception):
    """The server could not be started; the message says why."""


def newest(folders: Sequence[Path]) -> Path | None:
    """The program folder with the highest version: /usr/lib/postgresql/15/bin before 9.6."""

    def version(folder: Path) -> tuple[int, ...]:
        return tuple(int(number) for number in re.findall(r"\d+", folder.parent.name))

    return max(folders, key=version, default=None)


def server_programs() -> Path | None:
    """The folder that holds initdb and pg_ctl, which Debian keeps off the PATH."""
    installed = newest([path.parent for path in DEBIAN_PROGRAMS.glob("*/bin/pg_ctl")])
    if installed is not None:
        return installed
    found = shutil.which("pg_ctl")
    return Path(found).resolve().parent if found else None


@contextlib.contextmanager
def throwaway_postgres(programs: Path) -> Iterator[str]:
    """Yield the DATABASE_URL of a server that is gone afterwards.

    PostgreSQL refuses to run as root, so root hands the folder to the user `postgres`, who came
    with the package.
    """
    folder = Path(tempfile.mkdtemp(prefix="producer-pg-"))
    user = None
    if os.geteuid() == 0:
        owner = _system_user()
        os.chown(folder, owner.pw_uid, owner.pw_gid)
        user = owner
    data = folder / "data"
    init = ["initdb", "-D", str(data), "-U", "producer", "-A", "trust", "-E", "UTF8"]
    start = ["pg_ctl", "-D", str(data), "-l", str(folder / "log"), "-w", "-o"]
    try:
        _run(programs, [*init, "--locale=C.UTF-8", "--no-sync"], user=user, folder=folder)
        _run(programs, [*start, f"{SERVER_OPTIONS} -k {folder}", "start"], user=user, folder=folder)
        try:
            yield f"postgres://producer@/postgres?host={quote(str(folder), safe='')}"
        finally:
            stop = ["pg_ctl", "-D", str(data), "-m", "immediate", "stop"]
            _run(programs, stop, user=user, folder=folder)
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _system_user() -> pwd.struct_passwd:
    try:
        return pwd.getpwnam("postgres")
    except KeyError:
        raise PostgresError(
            "PostgreSQL will not run as root and there is no user postgres."
        ) from None


def _run(
    programs: Path, command: Sequence[str], *, user: pwd.struct_passwd | None, folder: Path
) -> None:
    done = subprocess.run(
        [str(programs / command[0]), *command[1:]],
        cwd=folder,
        user=user.pw_uid if user else None,
        group=user.pw_gid if user else None,
        extra_groups=[] if user else None,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        timeout=120,
        check=False,
    )
    if done.returncode != 0:
        raise PostgresError("\n".join(done.stdout.strip().splitlines()[-5:]))
