"""Names in other languages: kept once a language, audited, and taken away when emptied."""

import pytest
from django.core.exceptions import ValidationError

from costing.models import AuditEntry, IngredientName
from costing.services.names import save_names
from tests.builders import a_fruit, a_recipe, a_user

pytestmark = pytest.mark.django_db


def test_a_name_is_kept_once_a_language_for_an_ingredient_and_for_a_preparation():
    for subject in (a_fruit(), a_recipe()):
        save_names(subject, by=a_user(), names={"es": " membrillo  rallado "})
        save_names(subject, by=None, names={"es": "membrillo"})
        row = subject.names.get()
        assert (row.name, row.language, row.kitchen_id) == ("membrillo", "es", subject.kitchen_id)


def test_only_the_languages_told_are_touched_and_each_change_is_written_down():
    fruit = a_fruit()
    save_names(fruit, by=None, names={"es": "membrillo", "de": "Quitte"})
    save_names(fruit, by=None, names={"es": "", "fr": ""})
    assert [row.language for row in fruit.names.all()] == ["de"]
    entries = AuditEntry.objects.filter(subject="ingredient", subject_id=fruit.pk)
    told = [(e.field, e.old, e.new) for e in entries.order_by("id")]
    assert told[-1] == ("name in es", "membrillo", "")
    assert len(told) == 3


def test_a_name_too_long_to_keep_is_refused_and_nothing_is_kept():
    with pytest.raises(ValidationError):
        save_names(a_fruit(), by=None, names={"de": "Quitte", "es": "x" * 121})
    assert not IngredientName.objects.exists()
