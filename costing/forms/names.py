"""What labels call an ingredient or a preparation in other languages."""

from typing import Any

from django import forms

from costing.forms.fields import Chapter, Line, form_layout
from costing.models.names import LABEL_LANGUAGES


class NamesForm(forms.Form):
    """One box for each language of the labels but the kitchen's own."""

    def __init__(self, *args: Any, own_language: str, **options: Any) -> None:
        super().__init__(*args, **options)
        self.languages = {code: name for code, name in LABEL_LANGUAGES if code != own_language}
        for code, name in self.languages.items():
            self.fields[code] = forms.CharField(label=f"In {name}", max_length=120, required=False)
        self.helper = form_layout(
            Chapter(
                "Names",
                *(Line(code, lang=code) for code in self.languages),
                lead="As it is to stand in the list of ingredients. Nothing is translated by "
                "itself: leave a box empty until somebody who speaks the language has told you.",
            )
        )
