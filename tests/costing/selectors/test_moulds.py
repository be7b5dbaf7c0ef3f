"""Which moulds a kitchen sees."""

import pytest

from costing.selectors.moulds import moulds_of
from tests.builders import a_kitchen, a_mould

pytestmark = pytest.mark.django_db


def test_a_kitchen_sees_its_own_moulds_by_name():
    kitchen = a_kitchen()
    a_mould(name="Elsewhere")
    for name in ("Tray", "Frame"):
        a_mould(kitchen, name=name)
    assert [mould.name for mould in moulds_of(kitchen)] == ["Frame", "Tray"]


def test_a_mould_no_longer_used_is_seen_only_when_asked_for():
    kitchen = a_kitchen()
    old = a_mould(kitchen, is_archived=True)
    assert list(moulds_of(kitchen)) == []
    assert list(moulds_of(kitchen, with_archived=True)) == [old]
