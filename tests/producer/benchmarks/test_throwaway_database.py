"""The site's own database is not touched, whatever happens in the other one."""

import pytest
from django.db import connections

from costing.models import Kitchen
from producer.benchmarks.throwaway_database import fresh_database, throwaway_folder, using
from tests.builders import a_kitchen

pytestmark = pytest.mark.django_db


def test_rows_of_the_throwaway_database_never_reach_the_sites_own():
    ours = a_kitchen()
    own = connections["default"]
    with throwaway_folder() as folder:
        with using(fresh_database(folder, "one")):
            assert not Kitchen.objects.exists()
            a_kitchen()
            assert Kitchen.objects.count() == 1
            assert connections["default"].settings_dict["NAME"] == folder / "one.sqlite3"
        with using(fresh_database(folder, "two")):
            assert not Kitchen.objects.exists()
        assert list(Kitchen.objects.all()) == [ours]
        assert connections["default"] is own
    assert not folder.exists()


def test_the_sites_own_comes_back_after_a_failure():
    own = connections["default"]
    with throwaway_folder() as folder:
        with pytest.raises(RuntimeError, match="broke"), using(fresh_database(folder, "one")):
            raise RuntimeError("broke")
        assert connections["default"] is own
