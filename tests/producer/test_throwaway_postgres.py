from pathlib import Path

from producer.throwaway_postgres import newest


def test_the_newest_server_is_the_highest_number_and_not_the_last_in_the_alphabet():
    folders = [Path(f"/usr/lib/postgresql/{version}/bin") for version in ("9.6", "15", "13")]
    assert newest(folders) == Path("/usr/lib/postgresql/15/bin")


def test_where_nothing_is_installed_there_is_none():
    assert newest([]) is None
