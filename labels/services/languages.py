"""The languages of a label: the maker's names and words in each, and what is missing of them.

Nothing is translated here. Where a name or a word is missing, the kitchen's own stands in its
place, is named as missing, and the law stops the print.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from django.db import transaction
from django.db.models import Q

from costing.models import IngredientName
from costing.services.audit import record_changes
from costing.services.saving import check
from labels.facts import LabelFacts, Untranslated, UsedIngredient, Wording
from labels.models import DesignWords, LabelDesign

OWN_WORDS = ("name_of_food", "storage", "storage_after_opening", "origin")
PLAIN_WATER = "water"
"""What the law has a word for in each language; the maker need not name it."""
_WHAT = {"name_of_food": "name"}
Names = Mapping[tuple[str, str], str]
"""Names by language and by what they are of: ("es", "ingredient-12") -> "membrillo"."""


def languages_of(design: LabelDesign) -> tuple[str, ...]:
    """The language of the label, or both, the first first."""
    first = design.first_language or design.kitchen.label_language
    return tuple(dict.fromkeys(filter(None, (first, design.second_language or ""))))


def other_languages(design: LabelDesign) -> tuple[str, ...]:
    """Languages of the label in which the kitchen does not name its things anyway."""
    own = design.kitchen.label_language
    return tuple(language for language in languages_of(design) if language != own)


def in_its_languages(facts: LabelFacts, *, design: LabelDesign) -> LabelFacts:
    """The facts, told in the kitchen's language, as the languages of the label tell them.

    Two queries if some language is not the kitchen's own, else none.
    """
    others = other_languages(design)
    first, *more = languages_of(design)
    if not others and not more:
        return facts
    speaker = _Speaker(
        facts, design.kitchen.label_language, names_in(design, facts.ingredients), words_in(design)
    )
    told = [speaker.wording(language) for language in (first, *more)]
    return replace(
        facts,
        language=told[0].language,
        name_of_food=told[0].name_of_food,
        ingredients=told[0].ingredients,
        storage=told[0].storage,
        storage_after_opening=told[0].storage_after_opening,
        origin=told[0].origin,
        tagline=" · ".join(dict.fromkeys(filter(None, map(speaker.tagline, (first, *more))))),
        second=told[1] if len(told) > 1 else None,
        untranslated=tuple(speaker.missing),
    )


def what_is_named(ingredient: UsedIngredient) -> str:
    """What a name is kept of: "recipe-3" of a preparation, "ingredient-12"; "" of tap water."""
    if ingredient.prepared_as:
        return f"recipe-{ingredient.prepared_as}"
    return f"ingredient-{ingredient.key}" if ingredient.key else ""


def names_in(design: LabelDesign, ingredients: Iterable[UsedIngredient]) -> Names:
    """The names of some ingredients in the other languages of a label."""
    named = {what_is_named(part) for each in ingredients for part in each.with_parts()}
    ids = {
        kind: [int(what.removeprefix(f"{kind}-")) for what in named if what.startswith(kind)]
        for kind in ("ingredient", "recipe")
    }
    rows = IngredientName.objects.filter(
        Q(ingredient__in=ids["ingredient"]) | Q(recipe__in=ids["recipe"]),
        kitchen=design.kitchen_id,
        language__in=other_languages(design),
    )
    return {
        (row.language, f"recipe-{row.recipe_id}" if row.recipe_id
         else f"ingredient-{row.ingredient_id}"): row.name
        for row in rows
    }  # fmt: skip


def words_in(design: LabelDesign) -> dict[str, DesignWords]:
    """The maker's own words by language; none for a design that is only proposed."""
    if design._state.adding:
        return {}
    return {row.language: row for row in design.words.all()}


@transaction.atomic
def save_words(design: LabelDesign, *, by: Any, words: Mapping[str, Mapping[str, str]]) -> None:
    """Keep the maker's own words by language and field. Raises ValidationError with the faults."""
    kept = words_in(design)
    for language, told in words.items():
        row = kept.get(language) or DesignWords(
            kitchen=design.kitchen, design=design, language=language
        )
        before = {f"{name} in {language}": getattr(row, name) for name in told}
        for name, text in told.items():
            setattr(row, name, " ".join(text.split()))
        check(row)
        row.save()
        after = {f"{name} in {language}": getattr(row, name) for name in told}
        record_changes(design, by=by, before=before, after=after)


@dataclass
class _Speaker:
    """Tells the same facts in one language after another, and keeps what it had no words for."""

    facts: LabelFacts
    own: str
    names: Names
    words: Mapping[str, DesignWords]
    missing: list[Untranslated] = field(default_factory=list)

    def wording(self, language: str) -> Wording:
        told = {name: self._own_words(name, language) for name in OWN_WORDS}
        return Wording(
            language=language,
            ingredients=tuple(self._renamed(self.facts.ingredients, language)),
            **told,
        )

    def tagline(self, language: str) -> str:
        """The maker's own line; nobody has to say it in every language."""
        if language == self.own:
            return self.facts.tagline
        row = self.words.get(language)
        return row.tagline if row else ""

    def _own_words(self, name: str, language: str) -> str:
        own = str(getattr(self.facts, name))
        if language == self.own or not own.strip():
            return own
        row = self.words.get(language)
        given = str(getattr(row, name)) if row else ""
        if not given.strip():
            self._miss(_WHAT.get(name, name), own, language)
            return own
        return given

    def _renamed(
        self, ingredients: Iterable[UsedIngredient], language: str
    ) -> Iterator[UsedIngredient]:
        for each in ingredients:
            what = what_is_named(each)
            name = self.names.get((language, what), "") if language != self.own else each.name
            is_plain_water = each.category == "water" and each.name == PLAIN_WATER
            if not name and what and not is_plain_water:
                self._miss(what, each.called or each.name, language)
            yield replace(
                each,
                name=name or each.name,
                called=each.called or each.name,
                parts=tuple(self._renamed(each.parts, language)),
            )

    def _miss(self, what: str, called: str, language: str) -> None:
        missing = Untranslated(what, called, language)
        if missing not in self.missing:
            self.missing.append(missing)
