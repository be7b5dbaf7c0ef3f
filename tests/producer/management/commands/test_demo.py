"""The demo, started as a newcomer starts it: the command, a real server, a real request."""

import http.client
import os
import signal
import socket
import sqlite3
import subprocess
import sys
from contextlib import closing, contextmanager
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[4]


def a_free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


def demo(folder: Path, *arguments: str) -> subprocess.Popen:
    kept = {name: os.environ[name] for name in ("PATH", "HOME", "LANG") if name in os.environ}
    return subprocess.Popen(
        [sys.executable, str(ROOT / "manage.py"), "demo", *arguments],
        cwd=folder,  # it must work from anywhere
        env={**kept, "PRODUCER_VAR": str(folder / "var")},
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )


@contextmanager
def open_demo(folder: Path, port: int, *arguments: str):
    """A demo that is being served, from the moment it is open."""
    process = demo(folder, "--port", str(port), *arguments)
    said = []
    try:
        for line in process.stdout:
            said.append(line)
            if f"http://127.0.0.1:{port}/" in line:
                break
        else:
            pytest.fail("".join(said))
        yield
    finally:
        process.send_signal(signal.SIGINT)
        rest = process.communicate(timeout=20)[0]
    assert process.returncode == 0, rest
    assert "Traceback" not in rest


def refusal(folder: Path, *arguments: str) -> str:
    """What a start that is refused says."""
    process = demo(folder, *arguments)
    said = process.communicate(timeout=60)[0]
    assert process.returncode == 1, said
    assert "Traceback" not in said
    return said


def write_something(database: Path) -> None:
    with closing(sqlite3.connect(database)) as connection:
        connection.execute("CREATE TABLE written_by_hand (note TEXT)")
        connection.commit()


def still_has_what_was_written(database: Path) -> bool:
    with closing(sqlite3.connect(database)) as connection:
        names = {row[0] for row in connection.execute("SELECT name FROM sqlite_master")}
    assert "django_migrations" in names
    return "written_by_hand" in names


def get(port: int, path: str) -> http.client.HTTPResponse:
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=20)
    connection.request("GET", path)
    return connection.getresponse()


def test_the_demo_opens_keeps_its_data_and_starts_again_only_when_told(tmp_path):
    port = a_free_port()
    database = tmp_path / "var" / "demo.sqlite3"
    with open_demo(tmp_path, port):
        assert get(port, "/").status in {200, 302}
        assert get(port, "/static/css/bootstrap.min.css").status == 200
        # Another start cannot take the port, nor the data from under this one.
        assert f"Port {port} is already in use" in refusal(tmp_path, "--port", str(port))
        busy = refusal(tmp_path, "--port", str(a_free_port()), "--fresh", "--yes")
        assert "The demo is running" in busy
    write_something(database)

    with open_demo(tmp_path, port):
        assert still_has_what_was_written(database)

    assert "--fresh --yes" in refusal(tmp_path, "--port", str(port), "--fresh")
    assert still_has_what_was_written(database)

    with open_demo(tmp_path, port, "--fresh", "--yes"):
        assert get(port, "/").status in {200, 302}
        assert not still_has_what_was_written(database)
    assert not (tmp_path / "var" / "db.sqlite3").exists()


def test_a_damaged_database_is_answered_with_the_way_out(tmp_path):
    port = a_free_port()
    database = tmp_path / "var" / "demo.sqlite3"
    database.parent.mkdir()
    database.write_text("this is no database, and longer than a header of one hundred bytes " * 3)

    assert "--fresh" in refusal(tmp_path, "--port", str(port))

    with open_demo(tmp_path, port, "--fresh", "--yes"):
        assert get(port, "/").status in {200, 302}


@pytest.mark.parametrize("port", ["0", "65536", "-3"])
def test_a_number_that_is_no_port_is_answered_with_a_sentence(tmp_path, port):
    assert "There is no port" in refusal(tmp_path, f"--port={port}")
