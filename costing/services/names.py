"""Names of ingredients and preparations on labels in other languages, kept by the maker."""

from collections.abc import Mapping

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction

from costing.models import Ingredient, IngredientName, Recipe
from costing.services.audit import record_changes
from costing.services.saving import check


@transaction.atomic
def save_names(
    subject: Ingredient | Recipe, *, by: AbstractBaseUser | None, names: Mapping[str, str]
) -> None:
    """Keep what labels call it, by language; an empty name is taken away. One row is audited each.

    Raises ValidationError with the faults of a name.
    """
    kept = {row.language: row for row in subject.names.all()}
    before = {language: row.name for language, row in kept.items() if language in names}
    after = {language: " ".join(name.split()) for language, name in names.items()}
    for language, name in after.items():
        row = kept.get(language)
        if not name:
            if row is not None:
                row.delete()
            continue
        if row is None:
            row = IngredientName(kitchen_id=subject.kitchen_id, language=language)
            row.ingredient = subject if isinstance(subject, Ingredient) else None
            row.recipe = subject if isinstance(subject, Recipe) else None
        row.name = name
        check(row)
        row.save()
    record_changes(
        subject,
        by=by,
        before={f"name in {language}": name for language, name in before.items()},
        after={f"name in {language}": name for language, name in after.items()},
    )
