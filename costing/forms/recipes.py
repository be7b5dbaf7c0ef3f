"""A recipe as typed: what it is, what goes in, how it is finished, and what the pan keeps."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from costing.forms.fields import (
    AmountField,
    Line,
    Mistake,
    as_typed,
    form_layout,
    mistakes,
    side_by_side,
    take_errors,
)
from costing.forms.recipe_fields import (
    MassField,
    MinutesField,
    ResidueField,
    read_stop,
    stop_as_typed,
)
from costing.forms.recipe_layout import cook_lines, head_lines, label_lines, pan_lines
from costing.forms.recipe_lines import TypedLines
from costing.models import Kitchen, Recipe, RecipeVersion
from costing.product_kinds import PRODUCT_KINDS
from costing.reckoning.book import (
    BOIL_DOWN,
    BRIX,
    COOK_KINDS,
    COOK_LOSS,
    NO_COOK,
    READING,
    STOP_FORMS,
    WEIGHED_OUT,
    CookRecord,
    LineRecord,
    RecipeRecord,
)
from costing.selectors.recipes import edit_stamp
from costing.services.recipes import NEW, LineInput
from costing.units import UnitsError

INVERTED_PCT = Decimal(25)
PREPARATION = "preparation"

_BOXES = {
    "base_g": "base_weight",
    "finished_g": "finished",
    "evaporated_g": "evaporated",
    "pan_residue_pct": "pan_residue",
    "pan_residue_g": "pan_residue",
    "attended_minutes": "attended",
}
"""A column of a version -> the box it is typed in."""

_ONLY_FOR = {
    "stop_form": (BOIL_DOWN,),
    "stop_value": (BOIL_DOWN,),
    "water_reading_c": (BOIL_DOWN,),
    "cook_loss_pct": (COOK_LOSS,),
    "finished": (WEIGHED_OUT,),
    "evaporated": (WEIGHED_OUT,),
    "inverted_pct": (BOIL_DOWN, COOK_LOSS, WEIGHED_OUT),
}
"""Boxes that are shown, and mistaken, only where something is finished in one of these ways."""

_STOP_FORMS = (
    (BRIX, "its Brix"),
    (READING, "my thermometer (°C)"),
    ("rise", "degrees above boiling"),
    ("final weight", "the weight left (kg)"),
    ("share", "the share left (%)"),
)
_STATES = {
    BOIL_DOWN: "Boiled down to a point",
    COOK_LOSS: "Loses a known share in the pan",
    WEIGHED_OUT: "Weighed at the end",
    NO_COOK: "Only mixed",
}


class RecipeForm(forms.Form):
    """One version of a recipe. `lines` are its rows, read and kept apart from the other boxes."""

    name = forms.CharField(label="What do you call it?", max_length=80)
    kind = forms.ChoiceField(
        label="It is a", choices=[(kind.code, kind.words) for kind in PRODUCT_KINDS]
    )
    is_preparation = forms.BooleanField(
        label="It goes into other recipes (a puree, a juice, a spice mix)", required=False
    )
    base_name = forms.CharField(
        label="Percents are of", max_length=60, required=False,
        help_text="Such as damson puree.",
    )  # fmt: skip
    base_weight = MassField(
        label="of which this pan takes", required=False,
        help_text="If its line says 100 %.",
    )  # fmt: skip
    cook_kind = forms.ChoiceField(
        label="How is it finished?", choices=list(_STATES.items()), widget=forms.RadioSelect
    )
    stop_form = forms.ChoiceField(label="I know it is done by", choices=_STOP_FORMS)
    stop_value = forms.CharField(
        label="and stop at", max_length=60, required=False,
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
    )  # fmt: skip
    water_reading_c = AmountField(
        label="In boiling water my thermometer shows", required=False, least=50, most=120, places=2
    )
    cook_loss_pct = AmountField(
        label="It loses", required=False, least=0, below=100, places=2,
        help_text="Of what went in, by weighing the pan of an earlier batch.",
    )  # fmt: skip
    finished = MassField(
        label="It gives", required=False,
        help_text="Weighed, ready to use.",
    )  # fmt: skip
    evaporated = MassField(
        label="As steam it loses", required=False, or_nought=True,
        help_text="The rest stays in the sieve.",
    )  # fmt: skip
    pan_residue = ResidueField(
        label="Stays on the pan", required=False,
        help_text="3,5 % of it, or 400 g.",
    )  # fmt: skip
    handling_loss_pct = AmountField(
        label="Lost after that", required=False, least=0, below=100, places=2,
        help_text="In the ladle, by cutting.",
    )  # fmt: skip
    attended = MinutesField(
        label="Somebody stands at it for", required=False,
        help_text="The whole pan, from weighing up to cleaning: 150, or 2 h 30.",
    )  # fmt: skip
    is_heated = forms.BooleanField(label="It is heated, so energy counts", required=False)
    inverted_pct = AmountField(
        label="Sugar that splits in the pan", required=False, least=0, most=95, places=2,
        help_text="White sugar boiled with acid splits in part, takes up a little water and boils "
        "higher. 10 to 45 % is usual in a fruit pan.",
    )  # fmt: skip
    measured_brix = AmountField(
        label="Brix of the finished food, if you measured it", required=False, least=0, most=100,
        places=2,
    )  # fmt: skip
    measured_insoluble_pct = AmountField(
        label="Its fibre, if you know it", required=False, least=0, most=100, places=2
    )
    method = forms.CharField(
        label="How you make it", max_length=4000, required=False,
        widget=forms.Textarea(attrs={"rows": 7}),
    )  # fmt: skip
    label_name = forms.CharField(
        label="Name on a label", max_length=120, required=False,
        help_text="As it would stand in an ingredient list. Empty: the name above.",
    )  # fmt: skip
    on_label = forms.ChoiceField(
        label="In the ingredient list of what it goes into",
        choices=Recipe.OnLabel.choices,
        widget=forms.RadioSelect,
    )
    is_archived = forms.BooleanField(label="I no longer make it", required=False)
    expected_version = forms.CharField(required=False, max_length=40, widget=forms.HiddenInput())

    def __init__(
        self,
        data: Mapping[str, Any] | None = None,
        *,
        kitchen: Kitchen,
        version: RecipeVersion | None = None,
    ) -> None:
        self.recipe = version.recipe if version else None
        super().__init__(data, initial=_initial(version))
        if version is None:
            del self.fields["is_archived"]
        if data is not None:
            self.lines = TypedLines.posted(data)
        else:
            self.lines = TypedLines.stored(version.lines.all() if version else ())
        self._read: list[LineInput] = []
        is_default = self["inverted_pct"].value() in {as_typed(INVERTED_PCT), INVERTED_PCT}
        self.head = form_layout(*head_lines())
        self.base = form_layout(side_by_side(Line("base_name"), Line("base_weight", short=True)))
        self.rest = form_layout(
            *cook_lines(kitchen),
            *pan_lines(mark="default" if is_default else ""),
            *label_lines(has_archive=version is not None),
            "expected_version",
        )

    def clean_name(self) -> str:
        """One line of text."""
        return " ".join(self.cleaned_data["name"].split())

    def clean(self) -> dict[str, Any]:
        """Read the lines and the stopping point; boxes that are not shown are not mistaken."""
        data = super().clean() or {}
        self._read = self.lines.read()
        kind = data.get("cook_kind", "")
        for box, kinds in _ONLY_FOR.items():
            if kind in COOK_KINDS and kind not in kinds and box in self.errors:
                del self.errors[box]
                data[box] = None
        text = str(data.get("stop_value") or "").strip()
        data["stop_value"] = None
        form = data.get("stop_form") or BRIX
        if text and form in STOP_FORMS:
            try:
                data["stop_value"] = read_stop(text, form=form)
            except (UnitsError, ValidationError) as problem:
                if kind in {"", BOIL_DOWN}:
                    told = problem.messages if isinstance(problem, ValidationError) else [problem]
                    self.add_error("stop_value", [str(one) for one in told])
        return data

    def is_valid(self) -> bool:
        """Boxes and rows together."""
        return super().is_valid() and self.lines.is_readable

    def take(self, error: ValidationError) -> None:
        """Put what a service refused at the boxes and rows it concerns."""
        if not hasattr(error, "error_dict"):
            take_errors(self, error)
            return
        told = dict(error.error_dict)
        for problem in told.pop("lines", []):
            for sentence in problem.messages:
                self.lines.blame(str(sentence))
        if told:
            take_errors(self, ValidationError(told), names=_BOXES)

    def mistakes(self) -> list[Mistake]:
        """Every mistake with the box it leads to, rows included."""
        return [*mistakes(self), *self.lines.mistakes()]

    def not_understood(self) -> list[Mistake]:
        """While typing: what cannot be read. An empty box is no mistake yet."""
        if "name" in self.errors and self.errors.as_data()["name"][0].code == "required":
            return [one for one in self.mistakes() if one.anchor != self["name"].auto_id]
        return self.mistakes()

    def forget_mistakes(self) -> None:
        """Show the form as it stands: nobody asked yet whether it is right."""
        self.errors.clear()
        self.lines.forget_mistakes()

    @property
    def is_clear(self) -> bool:
        """Whether all that was typed is understood, though some of it may still be missing."""
        required = all(
            problem.code == "required"
            for problems in self.errors.as_data().values()
            for problem in problems
        )
        return required and self.lines.is_clear

    def values(self) -> dict[str, Any]:
        """The recipe's own columns. Call after validation."""
        data = self.cleaned_data
        names = ("name", "kind", "label_name", "on_label", "is_archived")
        values = {name: data[name] for name in names if name in data}
        values["is_preparation"] = bool(data["is_preparation"] or data["kind"] == PREPARATION)
        return values

    def version_values(self) -> dict[str, Any]:
        """The version's columns, as far as they can be read."""
        data = self.cleaned_data
        pct, grams = data.get("pan_residue") or (Decimal(0), Decimal(0))
        inverted_pct = data.get("inverted_pct")
        return {
            "base_name": data.get("base_name") or "",
            "base_g": data.get("base_weight"),
            "cook_kind": data.get("cook_kind") or NO_COOK,
            "stop_form": data.get("stop_form") or BRIX,
            "stop_value": data.get("stop_value"),
            "water_reading_c": data.get("water_reading_c"),
            "cook_loss_pct": data.get("cook_loss_pct"),
            "finished_g": data.get("finished"),
            "evaporated_g": data.get("evaporated"),
            "inverted_pct": INVERTED_PCT if inverted_pct is None else inverted_pct,
            "pan_residue_pct": pct,
            "pan_residue_g": grams,
            "handling_loss_pct": data.get("handling_loss_pct") or Decimal(0),
            "measured_brix": data.get("measured_brix"),
            "measured_insoluble_pct": data.get("measured_insoluble_pct"),
            "attended_minutes": data.get("attended"),
            "is_heated": bool(data.get("is_heated")),
            "method": data.get("method") or "",
        }

    def line_inputs(self) -> list[LineInput]:
        """The rows that can be read, as the service takes them."""
        return self._read

    def draft(self, *, recipe_id: int = NEW) -> RecipeRecord:
        """What is typed so far, ready for sums; call after `is_valid`, whatever it said."""
        values = self.version_values()
        no_part_of_the_cook = {
            "base_name", "base_g", "cook_kind", "attended_minutes", "method",
        }  # fmt: skip
        cook = {name: value for name, value in values.items() if name not in no_part_of_the_cook}
        return RecipeRecord(
            id=recipe_id,
            name=self.cleaned_data.get("name") or "this recipe",
            lines=tuple(
                LineRecord(
                    amount=line.amount,
                    unit=line.unit,
                    ingredient_id=line.ingredient_id,
                    recipe_id=line.recipe_id,
                    state=line.state,
                    is_base=line.is_base,
                )
                for line in self._read
            ),
            base_name=values["base_name"],
            base_g=values["base_g"],
            cook=CookRecord(kind=values["cook_kind"], **cook),
            attended_minutes=values["attended_minutes"],
        )


def _initial(version: RecipeVersion | None) -> dict[str, Any]:
    if version is None:
        return {
            "kind": "fruit paste",
            "cook_kind": BOIL_DOWN,
            "stop_form": BRIX,
            "is_heated": True,
            "inverted_pct": INVERTED_PCT,
            "on_label": Recipe.OnLabel.MERGED,
        }
    recipe = version.recipe
    of_recipe = ("name", "kind", "is_preparation", "label_name", "on_label", "is_archived")
    of_version = (
        "base_name", "cook_kind", "stop_form", "water_reading_c", "cook_loss_pct", "inverted_pct",
        "measured_brix", "measured_insoluble_pct", "is_heated", "method",
    )  # fmt: skip
    initial = {name: getattr(recipe, name) for name in of_recipe}
    initial |= {name: getattr(version, name) for name in of_version}
    if version.stop_value is not None:
        initial["stop_value"] = stop_as_typed(version.stop_value, form=version.stop_form)
    return initial | {
        "base_weight": version.base_g,
        "finished": version.finished_g,
        "evaporated": version.evaporated_g,
        "pan_residue": (version.pan_residue_pct, version.pan_residue_g),
        "handling_loss_pct": version.handling_loss_pct,
        "attended": version.attended_minutes,
        "expected_version": edit_stamp(version),
    }
