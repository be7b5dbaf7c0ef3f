"""The form of a label's own words in other languages than the kitchen's."""

from collections.abc import Mapping, Sequence
from typing import Any

from django import forms

from costing.forms.fields import Chapter, Line, form_layout
from costing.models.names import LABEL_LANGUAGES

FIELDS = {
    "name_of_food": ("Name of the food", 120),
    "tagline": ("A line of your own", 120),
    "storage": ("Storage", 160),
    "storage_after_opening": ("After opening", 160),
    "origin": ("Origin", 120),
}
"""What a design says in words, with its longest."""
OWN_LINE = "tagline"
"""What the law asks for in no language."""


class WordsForm(forms.Form):
    """What the label says in each other language; beside each box stands the kitchen's own."""

    def __init__(
        self, *args: Any, languages: Sequence[str], own: Mapping[str, str], **options: Any
    ) -> None:
        super().__init__(*args, **options)
        self.languages = tuple(languages)
        names = dict(LABEL_LANGUAGES)
        # What the kitchen does not say in its own language needs saying in no other.
        self.told = [name for name in FIELDS if own[name].strip() or name == "name_of_food"]
        chapters = []
        for language in self.languages:
            lines = []
            for name in self.told:
                label, longest = FIELDS[name]
                self.fields[f"{language}_{name}"] = forms.CharField(
                    label=label,
                    max_length=longest,
                    required=False,
                    help_text=f"In your own language: “{own[name]}”",
                )
                is_due = name != OWN_LINE  # the law asks for everything else in each language
                lines.append(Line(f"{language}_{name}", silent=is_due, lang=language))
            chapters.append(
                Chapter(
                    f"In {names.get(language, language)}",
                    *lines,
                    lead="Nothing is translated by itself: leave a box empty until somebody who "
                    "speaks the language has told you.",
                )
            )
        self.helper = form_layout(*chapters)

    @property
    def due(self) -> tuple[str, ...]:
        """The boxes that must not stay empty if the label is to be printed."""
        return tuple(
            f"{x}_{name}" for x in self.languages for name in self.told if name != OWN_LINE
        )

    @property
    def words(self) -> dict[str, dict[str, str]]:
        """What was typed, by language and field."""
        return {
            language: {name: self.cleaned_data[f"{language}_{name}"] for name in self.told}
            for language in self.languages
        }
