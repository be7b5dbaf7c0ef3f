"""The apt line, and what is asked of apt."""

import pytest

from producer.system_packages import apt_commands, apt_line, label_line, label_packages


def test_the_line_to_type_names_the_packages_and_brings_nothing_else_along():
    assert apt_line(["libpango-1.0-0", "chromium"]) == (
        "sudo apt-get update && "
        "sudo apt-get install --no-install-recommends libpango-1.0-0 chromium"
    )


def test_the_library_that_only_makes_pdfs_faster_comes_along_but_is_never_missed():
    assert label_packages([]) == []
    assert label_packages(["libpango-1.0-0"]) == ["libpango-1.0-0", "libharfbuzz-subset0"]


def test_on_a_mac_the_line_is_brews():
    assert label_line(["pango"], platform="darwin") == "brew install pango"
    assert label_line(["libpango-1.0-0"], platform="linux").startswith("sudo apt-get")


@pytest.mark.parametrize(("is_root", "first"), [(True, "env"), (False, "sudo")])
def test_apt_refreshes_its_lists_first_and_asks_nothing(is_root, first):
    update, install = apt_commands(["postgresql"], is_root=is_root)
    assert update[0] == install[0] == first
    assert update[-1] == "update"
    assert install[-4:] == ["install", "-y", "--no-install-recommends", "postgresql"]
    for command in (update, install):
        assert "DEBIAN_FRONTEND=noninteractive" in command
        # `sudo -n` fails at once where it would want a password.
        assert is_root or command[1] == "-n"
