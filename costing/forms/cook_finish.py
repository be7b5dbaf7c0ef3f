"""What came out of a pan as typed: called done, put right later, or given up."""

from collections.abc import Sequence
from decimal import Decimal
from typing import Any

from django import forms
from django.contrib.auth.models import AbstractBaseUser

from costing.forms.cooks import HIGHEST_C, MOST_G, MOST_KG
from costing.forms.fields import AmountField, Line, form_layout, side_by_side
from costing.models import Batch, Mould
from costing.reckoning.coming_out import ComingOut, Counted, Measured, OddFigure

_G_PER_KG = Decimal(1000)
AS_TYPED = (
    "end_reading_c", "end_brix", "ph", "fill_c", "attended_minutes", "texture", "taste",
    "deviations",
)  # fmt: skip
"""Columns of a batch that stand in a box as they are."""


class FinishForm(forms.Form):
    """What a finished pan weighs and measures. Only the weight is needed; each other figure helps.

    What is asked about (`odd`) is accepted when `checked` says that it is right all the same.
    """

    net_kg = AmountField(
        label="Finished, filled or cut", above=0, most=MOST_KG, places=4,
        help_text="All of it with its offcuts, without jars or tray. The cost of a kilo and the"
        " fruit on the label are reckoned from it.",
        error_messages={"required": "How many kilos came out? Weigh it: everything hangs on it."},
    )  # fmt: skip
    pot_kg = AmountField(
        label="Pan and food, when the fire went out", required=False, above=0, most=MOST_KG,
        places=4,
    )  # fmt: skip
    mould = forms.ChoiceField(label="Mould", required=False)
    moulds_filled = AmountField(
        label="How many filled", required=False, least=1, most=999, places=0
    )  # fmt: skip
    offcuts_kg = AmountField(
        label="Offcuts kept", required=False, least=0, most=MOST_KG, places=4,
        help_text="Edges and ends that are in no piece, to sell, eat or cook again.",
    )  # fmt: skip
    thrown_kg = AmountField(
        label="Offcuts thrown away", required=False, least=0, most=MOST_KG, places=4,
        help_text="It is taken off: the kilos that are left bear its cost.",
    )  # fmt: skip
    end_reading_c = AmountField(
        label="Last temperature", required=False, least=40, most=HIGHEST_C, places=2
    )
    end_brix = AmountField(
        label="End Brix", required=False, above=0, most=95, places=2,
        help_text="A drop cooled to about 20 °C.",
    )  # fmt: skip
    ph = AmountField(
        label="pH", required=False, least=1, most=9, places=2,
        help_text="Of every batch of chutney, and of fruit low in acid.",
    )  # fmt: skip
    fill_c = AmountField(
        label="Filled at", required=False, least=0, most=HIGHEST_C, places=2,
        help_text="The food itself, in the jar or on the tray.",
    )  # fmt: skip
    attended_minutes = AmountField(
        label="Time somebody stood at it", required=False, least=0, most=9999, places=2
    )
    texture = forms.CharField(
        label="Set and texture", required=False, max_length=120,
        help_text="In your own words: cuts clean, soft in the middle, grainy.",
    )  # fmt: skip
    taste = forms.CharField(label="Taste", required=False, max_length=200)
    deviations = forms.CharField(
        label="What was different this time", required=False, max_length=1000,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text="What was out, what you did about it, who let it pass.",
    )  # fmt: skip
    checked = forms.BooleanField(label="I looked again: it is right as typed", required=False)

    def __init__(
        self,
        data: Any = None,
        *,
        moulds: Sequence[Mould] = (),
        initial: dict[str, Any] | None = None,
    ) -> None:
        super().__init__(data, initial=initial)
        self.moulds = {str(one.pk): one for one in moulds}
        self.odd: list[OddFigure] = []
        named = [(pk, one.name) for pk, one in self.moulds.items()]
        self.fields["mould"].choices = [("", "None"), *named]  # type: ignore[attr-defined]
        tray = [side_by_side(Line("mould", silent=True), Line("moulds_filled", short=True))]
        self.weights = form_layout(
            side_by_side(Line("net_kg", unit="kg"), Line("pot_kg", unit="kg")),
            *(tray if moulds else []),
        )
        self.offcuts = form_layout(
            side_by_side(Line("offcuts_kg", unit="kg"), Line("thrown_kg", unit="kg"))
        )
        self.checks = form_layout(
            side_by_side(Line("end_brix", unit="Brix"), Line("end_reading_c", unit="°C")),
            side_by_side(Line("ph", short=True), Line("fill_c", unit="°C")),
            Line("attended_minutes", unit="minutes"),
        )
        self.notes = form_layout(Line("texture"), Line("taste"), Line("deviations"))
        self.again = form_layout(Line("checked"))

    def clean(self) -> dict[str, Any]:
        """A number of moulds is a number of something."""
        data = super().clean() or {}
        if data.get("moulds_filled") and not data.get("mould"):
            self.add_error("mould", "Which mould were they?")
        return data

    def coming_out(self, counted: Sequence[Counted]) -> ComingOut:
        """Where what came out went, as far as it can be read."""
        return ComingOut(
            came_out_g=self._grams("net_kg"),
            counted=tuple(counted),
            kept_g=self._grams("offcuts_kg") or Decimal(0),
            thrown_away_g=self._grams("thrown_kg") or Decimal(0),
        )

    def measured(
        self, *, tare_g: Decimal | None, planned_g: Decimal | None, planned_brix: Decimal | None
    ) -> Measured:
        """What else was read, as far as it can be read. tare_g: of the pan, where it is known."""
        data = self.cleaned_data
        filled, mould = data.get("moulds_filled"), self.moulds.get(data.get("mould") or "")
        return Measured(
            pot_g=self._pot_g(tare_g),
            planned_g=planned_g,
            planned_brix=planned_brix,
            end_brix=data.get("end_brix"),
            ph=data.get("ph"),
            moulds_filled=None if filled is None else int(filled),
            moulds_owned=None if mould is None else mould.owned,
        )

    def ask_about(self, odd: Sequence[OddFigure]) -> None:
        """What is impossible is a mistake; what is seldom so is asked about once."""
        for one in odd:
            if one.is_impossible:
                self.add_error(one.field, one.sentence)
            elif not self.cleaned_data.get("checked"):
                self.odd.append(one)
                self.add_error(one.field, one.sentence)

    def ask_about_lines(self, sentences: Sequence[str]) -> None:
        """The same of what went in, whose boxes are not of this form."""
        self.odd += [OddFigure("", sentence) for sentence in sentences]

    @property
    def is_looked_at(self) -> bool:
        """Whether what was asked about is right all the same."""
        return bool(self.cleaned_data.get("checked"))

    def values(self, *, tare_g: Decimal | None) -> dict[str, Any]:
        """The figures of the batch in grams; the pan is taken off where its weight is known."""
        data = self.cleaned_data
        values = {name: data[name] for name in AS_TYPED}
        filled = data["moulds_filled"]
        return values | {
            "net_g": self.coming_out(()).finished_g,
            "pot_g": self._pot_g(tare_g),
            "mould": self.moulds.get(data["mould"]),
            "moulds_filled": None if filled is None else int(filled),
        }

    def _pot_g(self, tare_g: Decimal | None) -> Decimal | None:
        gross_g = self._grams("pot_kg")
        return None if gross_g is None else gross_g - (tare_g or 0)

    def _grams(self, name: str) -> Decimal | None:
        kilos = self.cleaned_data.get(name)
        return None if kilos is None else round(kilos * _G_PER_KG, 1)


class PutRightForm(FinishForm):
    """The same boxes with what stands in the record, and why it is put right."""

    cooked_by = forms.ChoiceField(label="Who cooked it", required=False)
    reason = forms.CharField(
        label="Why", max_length=200,
        help_text="So that whoever reads the record later understands it. What stood there before"
        " stays in the record.",
        error_messages={"required": "Say why it is put right."},
    )  # fmt: skip

    def __init__(
        self,
        data: Any = None,
        *,
        batch: Batch,
        moulds: Sequence[Mould],
        kept_g: Decimal,
        thrown_away_g: Decimal,
        people: Sequence[AbstractBaseUser] = (),
    ) -> None:
        tare_g = batch.pan.tare_g if batch.pan is not None else None
        came_out_g = (batch.net_g or Decimal(0)) + thrown_away_g
        initial = {name: getattr(batch, name) for name in AS_TYPED} | {
            "net_kg": came_out_g / _G_PER_KG,
            "pot_kg": None if batch.pot_g is None else (batch.pot_g + (tare_g or 0)) / _G_PER_KG,
            "mould": batch.mould_id or "",
            "moulds_filled": batch.moulds_filled,
            "offcuts_kg": kept_g / _G_PER_KG or None,
            "thrown_kg": thrown_away_g / _G_PER_KG or None,
            "cooked_by": batch.cooked_by_id or "",
        }
        super().__init__(data, moulds=moulds, initial=initial)
        known = [batch.cooked_by] if batch.cooked_by is not None else []
        self.people = {str(one.pk): one for one in (*known, *people)}
        named = [(pk, one.get_username()) for pk, one in self.people.items()]
        self.fields["cooked_by"].choices = [  # type: ignore[attr-defined]
            ("", "Not noted"),
            *sorted(named, key=lambda pair: pair[1].casefold()),
        ]
        self.who = form_layout(Line("cooked_by"))
        self.why = form_layout(Line("reason"))

    def values(self, *, tare_g: Decimal | None) -> dict[str, Any]:
        """The same, and who cooked it."""
        cooked_by = self.people.get(self.cleaned_data["cooked_by"])
        return super().values(tare_g=tare_g) | {"cooked_by": cooked_by}


class CorrectForm(forms.Form):
    """A figure that was wrong: the right one, and why. The old one stays, struck through."""

    value = AmountField(
        label="It should have been", least=-50, most=MOST_G, places=3,
        error_messages={"required": "Type the figure as it should have been."},
    )  # fmt: skip
    reason = forms.CharField(
        label="Why", max_length=200,
        help_text="So that whoever reads the record later understands it.",
        error_messages={"required": "Say why it is corrected."},
    )  # fmt: skip
    key = forms.RegexField(regex=r"^[0-9a-f-]{16,40}$", widget=forms.HiddenInput)

    def __init__(
        self, data: Any = None, *, unit: str, initial: dict[str, Any] | None = None
    ) -> None:
        super().__init__(data, initial=initial)
        self.helper = form_layout(Line("value", unit=unit), Line("reason"), "key")


class GiveUpForm(forms.Form):
    """A pan that came to nothing: it stays in the record, with the reason."""

    reason = forms.CharField(
        label="What happened", max_length=200,
        error_messages={"required": "Say what happened, in a few words."},
    )  # fmt: skip

    def __init__(self, data: Any = None) -> None:
        super().__init__(data)
        self.helper = form_layout(Line("reason"))
