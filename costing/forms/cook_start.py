"""The start of a cook as typed: what, how much of it, in which pan, by which thermometer."""

from collections.abc import Iterable
from decimal import Decimal
from typing import Any

from crispy_forms.layout import Div
from django import forms

from costing.forms.fields import AmountField, Line, form_layout, side_by_side
from costing.models import Kitchen, Mould, Pan, Product, Recipe
from costing.reckoning.stove_checks import air_pressure
from costing.selectors.kitchens import kitchen_record
from costing.services.lots import money_in

AS_WRITTEN, BY_BASE, BY_NET, BY_UNITS = "written", "base", "net", "units"
BY_MOULDS, BY_PIECES, BY_SCARCEST, BY_PAN = "moulds", "pieces", "scarcest", "pan"
SIZES = (
    (AS_WRITTEN, "As the recipe is written"),
    (BY_BASE, "By the puree, or other base, in hand"),
    (BY_NET, "By the finished kilos wanted"),
    (BY_UNITS, "By jars or packs wanted"),
    (BY_MOULDS, "By moulds to fill"),
    (BY_PIECES, "By pieces to cut"),
    (BY_SCARCEST, "By what is scarcest"),
    (BY_PAN, "Fill the pan half"),
)
REPORT, BAROMETER = "report", "here"
MOST_KG = 999

_NEEDED = {
    BY_BASE: (("base_kg", "How many kilos of it do you have?"),),
    BY_NET: (("net_kg", "How many kilos should there be in the end?"),),
    BY_UNITS: (("units", "How many of them?"), ("product", "Of which product?")),
    BY_MOULDS: (
        ("moulds", "How many moulds?"),
        ("mould", "Which mould?"),
        ("depth_mm", "How deep should it stand, once cold?"),
    ),
    BY_PIECES: (
        ("pieces", "How many pieces?"),
        ("pieces_a_mould", "How many do you cut from one mould?"),
        ("mould", "Which mould?"),
        ("depth_mm", "How deep should it stand, once cold?"),
    ),
    BY_PAN: (("pan", "Choose the pan that is to be half full."),),
}
"""Each way of choosing the size, the boxes it needs, and the question where one is empty."""


class StartForm(forms.Form):
    """What is cooked, how much of it, in which pan, and what the thermometer shows in water."""

    recipe = forms.ChoiceField(
        label="What do you cook?",
        error_messages={"required": "Choose the recipe.", "invalid_choice": "Choose a recipe."},
    )
    size_by = forms.ChoiceField(
        label="How much of it?", choices=SIZES, widget=forms.RadioSelect, initial=AS_WRITTEN
    )
    base_kg = AmountField(
        label="Base in hand", required=False, above=0, most=MOST_KG, places=3,
        help_text="Weigh it now, without its tub.",
    )  # fmt: skip
    net_kg = AmountField(label="Finished kilos", required=False, above=0, most=MOST_KG, places=3)
    units = AmountField(label="How many", required=False, above=0, most=9999, places=0)
    product = forms.ChoiceField(label="Of which", required=False)
    moulds = AmountField(label="How many moulds", required=False, above=0, most=999, places=0)
    pieces = AmountField(label="How many pieces", required=False, above=0, most=9999, places=0)
    pieces_a_mould = AmountField(
        label="Cut from one mould", required=False, above=0, most=999, places=0
    )
    mould = forms.ChoiceField(label="Mould", required=False)
    depth_mm = AmountField(label="Depth, cold", required=False, above=0, most=200, places=1)
    density = AmountField(
        label="Density, if you tested it", required=False, above=0, most=2000, places=4,
        help_text="Empty: reckoned from the Brix it is stopped at. A small tub on the scale knows"
        " better.",
    )  # fmt: skip
    pan = forms.ChoiceField(label="Pan", required=False)
    water_reading_c = AmountField(
        label="What does your thermometer read in boiling water today?",
        required=False, least=80, most=110, places=2,
        help_text="Hold it in rolling water for a minute, off the bottom. This takes care of"
        " altitude, weather and the thermometer’s own error at once.",
    )  # fmt: skip
    report_hpa = AmountField(
        label="Air pressure today", required=False, above=0, most=2000, places=1
    )
    report_from = forms.ChoiceField(
        label="Where it was read",
        required=False,
        choices=[
            (REPORT, "In a weather report, reduced to sea level"),
            (BAROMETER, "On a barometer in this kitchen"),
        ],
        widget=forms.RadioSelect,
    )
    lot = forms.CharField(label="Lot", required=False, max_length=40)

    def __init__(
        self,
        data: Any = None,
        *,
        kitchen: Kitchen,
        recipes: Iterable[Recipe],
        pans: Iterable[Pan],
        products: Iterable[Product],
        moulds: Iterable[Mould],
        chosen: str = "",
    ) -> None:
        super().__init__(data, initial={"recipe": chosen, "size_by": AS_WRITTEN})
        self.kitchen = kitchen
        self.recipes = {str(one.pk): one for one in recipes}
        self.pans = {str(one.pk): one for one in pans}
        self.products = {str(one.pk): one for one in products}
        self.kept_moulds = {str(one.pk): one for one in moulds}
        self._offer("recipe", "Choose a recipe", self.recipes)
        self._offer("pan", "Not one of ours", self.pans)
        self._offer("product", "Choose", self.products)
        self._offer("mould", "Choose", self.kept_moulds)
        self.what = form_layout(Line("recipe"))
        self.size = _size_layout()
        self.pan_box = form_layout(Line("pan", silent=True))
        self.thermometer = form_layout(Line("water_reading_c", unit="°C", silent=True))
        self.weather = form_layout(Line("report_hpa", unit="hPa"), Line("report_from"))
        self.lot_box = form_layout(Line("lot"))

    def _offer(self, name: str, empty: str, rows: dict[str, Any]) -> None:
        choices = [("", empty), *[(pk, row.name) for pk, row in rows.items()]]
        self.fields[name].choices = choices  # type: ignore[attr-defined]

    def clean(self) -> dict[str, Any]:
        """Each way of choosing the size needs its own figures; a pressure says where it is from."""
        data = super().clean() or {}
        for name, sentence in _NEEDED.get(data.get("size_by", ""), ()):
            if not data.get(name) and name not in self.errors:
                self.add_error(name, sentence)
        way = data.get("size_by")
        product = self.products.get(data.get("product") or "")
        is_other = product is not None and str(product.recipe_id) != data.get("recipe")
        if way == BY_UNITS and product is not None and is_other:
            self.add_error("product", f"{product.name} is not made from this recipe.")
        pan = self.pans.get(data.get("pan") or "")
        if way == BY_PAN and pan is not None and pan.capacity_l is None:
            self.add_error("pan", f"How much {pan.name} holds is not known yet. Add it under Pans.")
        self._check_depth(data)
        if data.get("report_hpa") is not None:
            data["report_hpa"] = self._at_sea_level(data)
        return data

    def clean_lot(self) -> str:
        """A lot is printed: it names no money."""
        lot = str(self.cleaned_data["lot"])
        sentence = money_in(lot, currency=self.kitchen.currency)
        if sentence:
            raise forms.ValidationError(sentence)
        return lot

    def _check_depth(self, data: dict[str, Any]) -> None:
        mould = self.kept_moulds.get(data.get("mould") or "")
        depth_mm = data.get("depth_mm")
        if data.get("size_by") not in {BY_MOULDS, BY_PIECES} or mould is None or depth_mm is None:
            return
        if depth_mm > mould.depth_mm:
            self.add_error(
                "depth_mm",
                f"{mould.name} is {mould.depth_mm.normalize():f} mm deep; {depth_mm.normalize():f}"
                " mm would run over.",
            )

    def _at_sea_level(self, data: dict[str, Any]) -> Decimal | None:
        """The pressure as a report gives it; what is unclear is asked at its box."""
        came_from = data.get("report_from")
        if not came_from:
            if "report_from" not in self.errors:
                self.add_error(
                    "report_from",
                    "Which of the two is it? Reports are reduced to sea level; a barometer on the"
                    " wall shows less the higher it hangs.",
                )
            return None
        sea_hpa, ask = air_pressure(
            kitchen_record(self.kitchen), hpa=data["report_hpa"], is_local=came_from == BAROMETER
        )
        if ask is not None:
            self.add_error("report_hpa", ask.sentence)
        return None if sea_hpa is None else round(sea_hpa, 1)

    @property
    def is_sized(self) -> bool:
        """Whether all boxes that say how large it is were filled and read, whatever else is not."""
        needed = [name for name, _sentence in _NEEDED.get(self.cleaned_data.get("size_by", ""), ())]
        return not self.errors.keys() & {"recipe", "size_by", "density", *needed}

    @property
    def recipe_chosen(self) -> Recipe | None:
        """The recipe that stands in the box, valid or not otherwise."""
        return self.recipes.get(str(self["recipe"].value() or ""))

    @property
    def mould_to_fill(self) -> Mould | None:
        """The mould the size was chosen by; one chosen for another way of sizing is not meant."""
        if self.cleaned_data.get("size_by") not in {BY_MOULDS, BY_PIECES}:
            return None
        return self.kept_moulds.get(self.cleaned_data.get("mould") or "")

    @property
    def pan_chosen(self) -> Pan | None:
        """The pan that stands in the box."""
        return self.pans.get(str(self["pan"].value() or ""))


def _size_layout() -> Any:
    def asked(name: str, unit: str = "", *, short: bool = False) -> Line:
        return Line(name, unit=unit, short=short, silent=True)

    return form_layout(
        Line("size_by"),
        Div(asked("base_kg", "kg"), css_class="size size-base"),
        Div(asked("net_kg", "kg"), css_class="size size-net"),
        Div(
            side_by_side(asked("units", short=True), asked("product")), css_class="size size-units"
        ),
        Div(asked("moulds", short=True), css_class="size size-moulds"),
        Div(
            side_by_side(asked("pieces", short=True), asked("pieces_a_mould", short=True)),
            css_class="size size-pieces",
        ),
        Div(
            side_by_side(asked("mould"), asked("depth_mm", "mm")),
            asked("density", "g/ml"),
            css_class="size size-moulds size-pieces",
        ),
    )
