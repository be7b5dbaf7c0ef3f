"""What `manage.py check` says about a machine that cannot print labels."""

from django.core import checks

from producer.checks import label_printing_has_its_libraries, warnings_about


def test_missing_libraries_are_a_warning_with_the_line_to_type_and_never_an_error():
    (warning,) = warnings_about(["libpango-1.0-0"])
    assert warning.id == "producer.W001"
    assert warning.level == checks.WARNING
    assert "Labels cannot be printed" in warning.msg
    assert "apt-get install --no-install-recommends libpango-1.0-0" in warning.hint


def test_a_machine_that_has_them_hears_nothing():
    assert warnings_about([]) == []


def test_the_check_is_among_those_that_django_runs():
    assert label_printing_has_its_libraries in checks.registry.registry.get_checks()
