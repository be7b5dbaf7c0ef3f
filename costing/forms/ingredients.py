"""An ingredient as typed: the few everyday figures first, the rest under headings."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from crispy_forms.helper import FormHelper
from django import forms

from costing.forms.fields import (
    AmountField,
    Chapter,
    Line,
    form_layout,
    side_by_side,
)
from costing.models import AllergenAnswer, Ingredient, Kitchen
from costing.selectors.ingredients import ingredients_of

CONTAINS, FREE, UNKNOWN = (
    AllergenAnswer.Answer.CONTAINS.value,
    AllergenAnswer.Answer.FREE.value,
    AllergenAnswer.Answer.UNKNOWN.value,
)

NUTRIENTS = {
    "fat_g": "Fat",
    "saturates_g": "of which saturates",
    "carbohydrate_g": "Carbohydrate",
    "sugars_g": "of which sugars",
    "polyols_g": "of which polyols",
    "organic_acids_g": "Organic acids",
    "fibre_g": "Fibre",
    "protein_g": "Protein",
    "salt_g": "Salt",
}
EXAMPLES = {
    "gluten": "wheat", "crustaceans": "prawn", "eggs": "egg", "fish": "anchovy",
    "peanuts": "peanut", "soybeans": "soya", "milk": "milk", "nuts": "almond",
    "celery": "celery", "mustard": "mustard", "sesame": "sesame",
    "sulphites": "sulphur dioxide", "lupin": "lupin", "molluscs": "squid",
}  # fmt: skip
"""Words that are printed for each group; only examples in the empty box."""


def _share(label: str) -> AmountField:
    return AmountField(label=label, required=False, least=0, most=1, places=4)


def _percent(label: str, help_text: str = "") -> AmountField:
    return AmountField(
        label=label, required=False, least=0, most=100, places=2, help_text=help_text
    )


def _per_100_g(label: str) -> AmountField:
    return AmountField(label=label, required=False, least=0, most=100, places=3)


class IngredientForm(forms.Form):
    """Everything that is known of one ingredient; an empty box means not known."""

    name = forms.CharField(
        label="Name", max_length=80, help_text="As you call it in the kitchen: damsons, cloves."
    )
    kind = forms.ChoiceField(
        label="It is", choices=Ingredient.Kind.choices, widget=forms.RadioSelect
    )
    category = forms.ChoiceField(
        label="Sort",
        choices=Ingredient.Category.choices,
        required=False,
        help_text="The label law treats some of them in its own way: spices, water, sugar.",
    )
    usable_pct = AmountField(
        label="Left to use after stoning, peeling, trimming",
        above=0,
        most=100,
        places=3,
        help_text="Weigh what you bought and what went into the pan. Sugar: 100.",
    )
    density_kg_per_l = AmountField(
        label="A litre weighs", required=False, above=0, below=25, places=4,
        help_text="Needed when it is bought or used by the litre.",
    )  # fmt: skip
    each_g = AmountField(
        label="One weighs", required=False, above=0, places=3,
        help_text="Needed when it is bought or used by the piece. Weigh ten, divide by ten.",
    )  # fmt: skip
    brix = _percent("Brix of its juice", "Dissolved solids, by refractometer.")
    insoluble_pct = _percent("Fibre, pips and skins", "The part that never dissolves.")
    sucrose_share = _share("Sucrose")
    hexose_share = _share("Glucose and fructose")
    acid_share = _share("Acids")
    ph_low = AmountField(label="pH from", required=False, least=0, most=14, places=2)
    ph_high = AmountField(label="pH to", required=False, least=0, most=14, places=2)
    label_name = forms.CharField(
        label="Its name in the ingredient list", max_length=120, required=False,
        help_text="The name the law gives it, where that is not what you call it.",
    )  # fmt: skip
    origin = forms.CharField(label="Where it comes from", max_length=80, required=False)
    additive_class = forms.CharField(
        label="Additive: what it is for", max_length=40, required=False,
        help_text="Acidity regulator, gelling agent, preservative …",
    )  # fmt: skip
    additive_number = forms.CharField(
        label="Additive: its number", max_length=12, required=False, help_text="E 330 and the like."
    )
    sulphite_mg_per_kg = AmountField(
        label="Sulphites", required=False, least=0, places=2,
        help_text="Total SO₂ as the supplier's sheet gives it.",
    )  # fmt: skip
    is_compound = forms.BooleanField(
        label="It is itself made of several ingredients", required=False
    )
    composition_fixed_by_law = forms.BooleanField(
        label="What is in it is laid down by law (jam, chocolate and the like)", required=False
    )
    fat_g, saturates_g, carbohydrate_g = (_per_100_g(NUTRIENTS[n]) for n in list(NUTRIENTS)[:3])
    sugars_g, polyols_g, organic_acids_g = (_per_100_g(NUTRIENTS[n]) for n in list(NUTRIENTS)[3:6])
    fibre_g, protein_g, salt_g = (_per_100_g(NUTRIENTS[n]) for n in list(NUTRIENTS)[6:])
    source = forms.CharField(
        label="Where do the figures you changed come from?", max_length=120, required=False,
        help_text="The supplier's sheet of March, my own scales, a table. It stands beside them.",
    )  # fmt: skip
    note = forms.CharField(
        label="Note", max_length=500, required=False, widget=forms.Textarea(attrs={"rows": 3})
    )
    is_archived = forms.BooleanField(
        label="No longer used: leave it out of the lists", required=False
    )

    def __init__(self, data: Any = None, *, ingredient: Ingredient | None = None) -> None:
        subject = ingredient or Ingredient()
        initial = {name: getattr(subject, name) for name in self.base_fields if name != "source"}
        super().__init__(data, initial=initial)
        if ingredient is None:
            del self.fields["is_archived"]
        self.helper = everyday_layout()
        self.rest = _rest_layout(is_new=ingredient is None)

    def clean(self) -> dict[str, Any]:
        """A pH range has its lower end first."""
        data = super().clean() or {}
        low, high = data.get("ph_low"), data.get("ph_high")
        if low is not None and high is not None and low > high:
            self.add_error("ph_high", "The upper pH is below the lower one.")
        return data

    def values(self) -> dict[str, Any]:
        """The fields of an ingredient, without what only says where they come from."""
        return {name: value for name, value in self.cleaned_data.items() if name != "source"}


def everyday_layout() -> FormHelper:
    """What every ingredient needs to be costed."""
    return form_layout(
        Line("name"), Line("kind"), Line("category"), Line("usable_pct", unit="% of what is bought")
    )


def _rest_layout(*, is_new: bool) -> FormHelper:
    nutrients = [Line(name, unit="g") for name in NUTRIENTS]
    last = [] if is_new else [Line("is_archived")]
    return form_layout(
        Chapter(
            "By the litre or by the piece",
            side_by_side(Line("density_kg_per_l", unit="kg"), Line("each_g", unit="g")),
            opens=True,
        ),
        Chapter(
            "In the pan",
            side_by_side(Line("brix", unit="Brix"), Line("insoluble_pct", unit="%")),
            side_by_side(
                Line("sucrose_share", unit="of 1"),
                Line("hexose_share", unit="of 1"),
                Line("acid_share", unit="of 1"),
            ),
            side_by_side(Line("ph_low", short=True), Line("ph_high", short=True)),
            lead="Of the prepared, usable fruit. The three shares split its dissolved solids and "
            "add up to 1; leave all three empty if you do not know.",
            opens=True,
        ),
        Chapter(
            "On the label",
            Line("label_name"),
            Line("origin"),
            side_by_side(Line("additive_class"), Line("additive_number")),
            Line("sulphite_mg_per_kg", unit="mg a kilo"),
            Line("is_compound"),
            Line("composition_fixed_by_law"),
            opens=True,
        ),
        Chapter(
            "Nutrition, per 100 g",
            *(side_by_side(*nutrients[start : start + 3]) for start in (0, 3, 6)),
            lead="As prepared. Empty means not known; type 0 only when it is.",
            opens=True,
        ),
        Chapter("Sources and notes", Line("source"), Line("note"), *last, opens=True),
    )


# --- Allergens ------------------------------------------------------------------------------------


@dataclass(frozen=True)
class AllergenLine:
    """One of the fourteen groups on the page: three answers and the word to print."""

    group: str
    label: str
    answer: Any
    named_as: Any
    example: str


class AllergenForm(forms.Form):
    """Fourteen groups, three answers each; "not known yet" until somebody has looked."""

    none_of_them = forms.BooleanField(
        label="I have looked: nothing of the fourteen is in it, besides what I mark below",
        required=False,
    )

    def __init__(
        self, data: Any = None, *, answers: Mapping[str, AllergenAnswer | None] | None = None
    ) -> None:
        super().__init__(data, prefix="allergen")
        for group, label in AllergenAnswer.Group.choices:
            known = (answers or {}).get(group)
            self.fields[group] = forms.ChoiceField(
                label=str(label),
                choices=AllergenAnswer.Answer.choices,
                widget=forms.RadioSelect,
                initial=known.answer if known else UNKNOWN,
                required=False,
            )
            self.fields[f"{group}_name"] = forms.CharField(
                label=f"{label}: which one, as printed",
                max_length=60,
                required=False,
                initial=known.named_as if known else "",
                widget=forms.TextInput(attrs={"class": "box"}),
            )

    def lines(self) -> list[AllergenLine]:
        """The groups in the law's order, ready to be drawn."""
        return [
            AllergenLine(group, str(label), self[group], self[f"{group}_name"], EXAMPLES[group])
            for group, label in AllergenAnswer.Group.choices
        ]

    def clean(self) -> dict[str, Any]:
        """ "Contains" asks which one."""
        data = super().clean() or {}
        for group in AllergenAnswer.Group.values:
            if data.get(group) != CONTAINS:
                continue
            if not str(data.get(f"{group}_name") or "").strip():
                self.add_error(
                    f"{group}_name",
                    f"Say which one it is, as it must be printed, such as “{EXAMPLES[group]}”.",
                )
        return data

    def answers(self) -> dict[str, tuple[str, str]]:
        """group -> (answer, word to print)."""
        untouched = FREE if self.cleaned_data.get("none_of_them") else UNKNOWN
        found = {}
        for group in AllergenAnswer.Group.values:
            answer = self.cleaned_data.get(group) or UNKNOWN
            if answer == UNKNOWN:
                answer = untouched
            name = self.cleaned_data.get(f"{group}_name", "") if answer == CONTAINS else ""
            found[group] = (answer, name)
        return found


# --- What a bought-in ingredient is made of -------------------------------------------------------


class PartForm(forms.Form):
    """One part of a compound ingredient, as its supplier's list has it."""

    part = forms.ChoiceField(label="Ingredient", required=False)
    share_pct = AmountField(label="Share", required=False, above=0, most=100, places=3)

    def __init__(self, *args: Any, choices: list[tuple[str, str]], **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["part"].choices = choices  # type: ignore[attr-defined]
        self.fields["part"].widget.attrs["class"] = "form-select"
        self.fields["share_pct"].widget.attrs["class"] = "form-control is-figure"

    def clean(self) -> dict[str, Any]:
        """A share alone says nothing."""
        data = super().clean() or {}
        if data.get("share_pct") is not None and not data.get("part"):
            self.add_error("part", "Which ingredient has this share?")
        return data


PartFormSet = forms.formset_factory(PartForm, extra=4, max_num=40, absolute_max=60)


def parts_formset(
    data: Any = None, *, kitchen: Kitchen, ingredient: Ingredient | None, parts: list[Any]
) -> Any:
    """The lines of a compound ingredient, with four empty ones at the end."""
    others = ingredients_of(kitchen, kind=Ingredient.Kind.FOOD)
    if ingredient is not None:
        others = others.exclude(pk=ingredient.pk)
    choices = [("", "None"), *((str(pk), name) for pk, name in others.values_list("pk", "name"))]
    known = dict(choices)
    # An archived one stays until it is taken out.
    choices += [
        (str(part.part_id), part.part.name) for part in parts if str(part.part_id) not in known
    ]
    initial = [{"part": str(part.part_id), "share_pct": part.share_pct} for part in parts]
    return PartFormSet(data, initial=initial, prefix="parts", form_kwargs={"choices": choices})


def parts_typed(formset: Any) -> list[tuple[int, Decimal | None]]:
    """(ingredient, share) of the lines that were filled in."""
    return [
        (int(form.cleaned_data["part"]), form.cleaned_data.get("share_pct"))
        for form in formset.forms
        if form.cleaned_data.get("part")
    ]
