"""Moulds, slabs, jars and the density test: what is typed before anything is poured."""

import re
from collections.abc import Iterable
from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from costing.forms.fields import AmountField, Chapter, Line, form_layout, side_by_side
from costing.models import Mould, Product, Recipe
from costing.reckoning.cutting import USUAL_TRIM_MM
from costing.reckoning.errors import ReckoningError
from costing.reckoning.tub_density import USUAL_LEVEL_PCT

BY_NET, BY_MOULDS = "net", "moulds"
PRODUCT, RECIPE = "product", "recipe"
MOST_KG, MOST_MM, MOST_G = 9999, 9999, 99999
USUAL_FILL_C = Decimal(90)
"""Paste and jam go into mould and jar at about 85 to 95 °C (common practice)."""

_THREE_PLACES = re.compile(r"\s*\d[.,]\d{3}\s*")


class DensityField(AmountField):
    """Grams a millilitre: 1.375 is never asked about, because no food weighs 1375 of them."""

    def to_python(self, value: Any) -> Any:
        """The number, or None for an empty box."""
        text = str(value or "")
        return super().to_python(f"{text.strip()}0" if _THREE_PLACES.fullmatch(text) else value)

    def _check(self, number: Decimal) -> None:
        if 500 <= number <= 1600:
            raise ValidationError(
                f"Is {number.normalize():f} in kilos a cubic metre? Then it is"
                f" {(number / 1000).normalize():f} g/ml: type that.",
                code="wrong_unit",
            )
        super()._check(number)


class MouldForm(forms.Form):
    """A mould by its inside, and how many of it there are."""

    name = forms.CharField(
        label="Name", max_length=60, error_messages={"required": "Give it a name."}
    )
    length_mm = AmountField(
        label="Length, inside", least=10, most=MOST_MM, places=1,
        error_messages={"required": "Measure it inside, in millimetres."},
    )  # fmt: skip
    width_mm = AmountField(
        label="Width, inside", least=10, most=MOST_MM, places=1,
        error_messages={"required": "Measure it inside, in millimetres."},
    )  # fmt: skip
    depth_mm = AmountField(
        label="Height of the rim, inside", least=1, most=999, places=1,
        help_text="As deep as it could be filled.",
        error_messages={"required": "Measure it inside, in millimetres."},
    )  # fmt: skip
    owned = AmountField(label="How many you have", required=False, least=0, most=999, places=0)
    is_archived = forms.BooleanField(label="No longer used", required=False)

    def __init__(self, data: Any = None, *, mould: Mould | None = None) -> None:
        super().__init__(data, initial=_stored(mould) if mould else None)
        if mould is None:
            del self.fields["is_archived"]
        self.helper = form_layout(
            Line("name"),
            side_by_side(Line("length_mm", unit="mm"), Line("width_mm", unit="mm")),
            side_by_side(Line("depth_mm", unit="mm"), Line("owned", short=True)),
            *([Line("is_archived")] if mould else []),
        )

    def values(self) -> dict[str, Any]:
        """What a mould is saved with."""
        owned = self.cleaned_data["owned"]
        return {**self.cleaned_data, "owned": None if owned is None else int(owned)}


def _stored(mould: Mould) -> dict[str, Any]:
    owned = None if mould.owned is None else Decimal(mould.owned)
    names = ("name", "length_mm", "width_mm", "depth_mm", "is_archived")
    return {**{name: getattr(mould, name) for name in names}, "owned": owned}


# --- What the planners share ----------------------------------------------------------------------


class _Planner(forms.Form):
    """What it is, and how heavy a millilitre of it: typed, tested or from its Brix."""

    of = forms.ChoiceField(
        label="What is it?", required=False,
        error_messages={"invalid_choice": "Choose one of the list."},
        help_text="Its label's weight and its Brix are taken from there, where you type none.",
    )  # fmt: skip
    density = DensityField(
        label="A millilitre weighs", required=False, least="0.5", most="1.6", places=4,
        help_text="From your own test with a small tub. Empty: reckoned from the Brix.",
    )  # fmt: skip
    brix = AmountField(label="Brix it is stopped at", required=False, least=0, most=85, places=2)
    fill_c = AmountField(
        label="Poured at", required=False, least=20, most=100, places=1,
        help_text="Hot paste takes more room than cold. Empty: 90 °C.",
    )  # fmt: skip

    def __init__(
        self, data: Any = None, *, products: Iterable[Product], recipes: Iterable[Recipe],
        initial: dict[str, Any] | None = None,
    ) -> None:  # fmt: skip
        super().__init__(data, initial=initial)
        self.products = {f"{PRODUCT}-{one.pk}": one for one in products}
        self.recipes = {f"{RECIPE}-{one.pk}": one for one in recipes}
        named: list[Any] = [("", "Only what I type")]
        for heading, rows in (("Products", self.products), ("Recipes", self.recipes)):
            if rows:
                named.append((heading, [(key, str(one.name)) for key, one in rows.items()]))
        self.fields["of"].choices = named  # type: ignore[attr-defined]

    @property
    def product(self) -> Product | None:
        """The product that stands in the box."""
        return self.products.get(str(self["of"].value() or ""))

    @property
    def recipe(self) -> Recipe | None:
        """The recipe behind what stands in the box."""
        product = self.product
        return product.recipe if product else self.recipes.get(str(self["of"].value() or ""))

    def figure(self, name: str) -> Decimal | None:
        """A figure that was typed; None for an empty box."""
        found = self.cleaned_data.get(name)
        return found if isinstance(found, Decimal) else None

    def take(self, error: ReckoningError) -> None:
        """Say at its box why a sum cannot be done."""
        name = {"density_g_per_ml": "density", "hot_g_per_ml": "brix", "mass_g": "piece_g",
                "target_g": "fill_g", "mean_g": "spread_g", "allowance_g": "fill_g",
                "moulds": "moulds", "jars": "at_hand"}.get(error.field, error.field)  # fmt: skip
        self.add_error(name if name in self.fields else None, str(error))


def _heavy() -> tuple[Any, ...]:
    return (
        side_by_side(
            Line("density", unit="g/ml", silent=True), Line("brix", unit="Brix", silent=True)
        ),
        Line("fill_c", unit="°C", silent=True),
    )


# --- Slabs ----------------------------------------------------------------------------------------


class SlabForm(_Planner):
    """A pan into moulds: how much there is, what a piece shall be, how it is cut."""

    by = forms.ChoiceField(
        label="What is fixed?", widget=forms.RadioSelect, required=False,
        choices=[(BY_NET, "The kilos I have"), (BY_MOULDS, "The moulds I want to fill")],
        error_messages={"invalid_choice": "Choose one of the two."},
    )  # fmt: skip
    net_kg = AmountField(label="Paste in hand", required=False, above=0, most=MOST_KG, places=4)
    moulds = AmountField(label="Moulds to fill", required=False, least=1, most=999, places=0)
    piece_length_mm = AmountField(
        label="Length of a piece", required=False, above=0, most=MOST_MM, places=1
    )
    piece_width_mm = AmountField(
        label="Width of a piece", required=False, above=0, most=MOST_MM, places=1
    )
    depth_mm = AmountField(label="Depth, when set", required=False, above=0, most=999, places=2)
    piece_g = AmountField(
        label="A piece shall weigh", required=False, above=0, most=MOST_G, places=2
    )
    trim_mm = AmountField(
        label="Edge trimmed off", required=False, least=0, most=999, places=1,
        help_text="All round. Empty: 5 mm (common practice).",
    )  # fmt: skip
    kerf_mm = AmountField(
        label="A cut takes away", required=False, least=0, most=50, places=2,
        help_text="A wire or knife through soft paste takes nothing; a saw-like cut up to 1 mm"
        " (common practice).",
    )  # fmt: skip
    declared_g = AmountField(
        label="Weight on the label", required=False, above=0, most=MOST_G, places=2
    )
    spread_g = AmountField(
        label="Spread of single pieces", required=False, least=0, most=9999, places=2,
        help_text="Standard deviation: weigh a dozen pieces of one batch, two thirds of them lie"
        " within it either side of their average.",
    )  # fmt: skip

    def __init__(self, data: Any = None, **more: Any) -> None:
        super().__init__(data, **more)
        self.helper = form_layout(
            Line("of", silent=True),
            Line("by"),
            side_by_side(
                Line("net_kg", unit="kg", silent=True), Line("moulds", short=True, silent=True)
            ),
            Chapter(
                "A piece",
                side_by_side(
                    Line("piece_length_mm", unit="mm", silent=True),
                    Line("piece_width_mm", unit="mm", silent=True),
                ),
                side_by_side(
                    Line("depth_mm", unit="mm", silent=True),
                    Line("piece_g", unit="g", silent=True),
                ),
                lead="Two of three: size, depth, weight. The third follows.",
            ),
            Chapter("How heavy it is", *_heavy()),
            Chapter(
                "Cutting and weight",
                side_by_side(
                    Line("trim_mm", unit="mm", silent=True),
                    Line("kerf_mm", unit="mm", silent=True),
                ),
                side_by_side(Line("declared_g", unit="g"), Line("spread_g", unit="g")),
            ),
        )

    def clean(self) -> dict[str, Any]:
        """What is fixed needs its figure; nothing trimmed or taken away has its usual value."""
        data = super().clean() or {}
        data["by"] = data.get("by") or BY_NET
        name, sentence = {
            BY_NET: ("net_kg", "How many kilos of paste are there, or will there be?"),
            BY_MOULDS: ("moulds", "How many moulds shall be full?"),
        }[data["by"]]
        if data.get(name) is None and name not in self.errors:
            self.add_error(name, sentence)
        for usual, value in (("trim_mm", USUAL_TRIM_MM), ("kerf_mm", Decimal(0)),
                             ("fill_c", USUAL_FILL_C)):  # fmt: skip
            if usual not in self.errors and data.get(usual) is None:
                data[usual] = value
        return data


# --- Jars -----------------------------------------------------------------------------------------


class JarsForm(_Planner):
    """A pan into jars: how much there is, how large the jar, what its label says."""

    net_kg = AmountField(
        label="In the pan, to be filled", above=0, most=MOST_KG, places=4,
        error_messages={"required": "How many kilos are there, or will there be?"},
    )  # fmt: skip
    brimful_ml = AmountField(
        label="The jar holds, to the brim", above=0, most=MOST_G, places=1,
        help_text="Fill it with water on the scale: a gram is a millilitre. Not the trade name.",
        error_messages={"required": "Fill one with water to the brim and weigh it."},
    )  # fmt: skip
    height_mm = AmountField(
        label="Inside height to the brim", required=False, above=5, most=999, places=1
    )
    declared_g = AmountField(
        label="Weight on the label", required=False, above=0, most=MOST_G, places=2
    )
    fill_g = AmountField(
        label="Filled with", required=False, above=0, most=MOST_G, places=2,
        help_text="On a tared scale. Empty: what is suggested.",
    )  # fmt: skip
    scale_step_g = AmountField(
        label="Steps of the scale", required=False, above=0, most=100, places=2,
        help_text="Empty: 1 g.",
    )  # fmt: skip
    spread_g = AmountField(
        label="Spread of single jars", required=False, least=0, most=9999, places=2,
        help_text="Only where jars are not each weighed: their standard deviation.",
    )  # fmt: skip
    at_hand = AmountField(label="Jars at hand", required=False, least=0, most=99999, places=0)

    def __init__(self, data: Any = None, **more: Any) -> None:
        super().__init__(data, **more)
        self.helper = form_layout(
            Line("of", silent=True),
            side_by_side(Line("net_kg", unit="kg"), Line("at_hand", short=True)),
            Chapter(
                "The jar",
                side_by_side(Line("brimful_ml", unit="ml"), Line("height_mm", unit="mm")),
            ),
            Chapter(
                "The weight",
                side_by_side(
                    Line("declared_g", unit="g", silent=True),
                    Line("fill_g", unit="g", silent=True),
                ),
                side_by_side(
                    Line("scale_step_g", unit="g", silent=True),
                    Line("spread_g", unit="g", silent=True),
                ),
            ),
            Chapter("How heavy it is", *_heavy()),
        )

    def clean(self) -> dict[str, Any]:
        """The label's weight is typed or the product's own."""
        data = super().clean() or {}
        if data.get("declared_g") is None and self.product is not None:
            data["declared_g"] = self.product.net_quantity_g
        if data.get("declared_g") is None and "declared_g" not in self.errors:
            self.add_error("declared_g", "What weight stands on the label?")
        for usual, value in (("scale_step_g", Decimal(1)), ("fill_c", USUAL_FILL_C)):
            if usual not in self.errors and data.get(usual) is None:
                data[usual] = value
        return data


# --- The density test -----------------------------------------------------------------------------


class TubForm(forms.Form):
    """One small tub weighed three times. kept: the planner's figures, to go back with."""

    tub_g = AmountField(
        label="Empty", least=0, most=MOST_G, places=2,
        error_messages={"required": "Weigh the tub empty."},
    )  # fmt: skip
    with_water_g = AmountField(
        label="Full of water", above=0, most=MOST_G, places=2,
        error_messages={"required": "Fill it level with water and weigh it."},
    )  # fmt: skip
    with_product_g = AmountField(
        label="Full of paste", above=0, most=MOST_G, places=2,
        error_messages={"required": "Dry it, fill it level with paste and weigh it."},
    )  # fmt: skip
    water_c = AmountField(
        label="The water is at", required=False, least=1, most=40, places=1,
        help_text="Empty: 20 °C.",
    )  # fmt: skip
    scale_step_g = AmountField(
        label="Steps of the scale", required=False, above=0, most=100, places=2,
        help_text="Empty: 1 g.",
    )  # fmt: skip
    to = forms.CharField(required=False, max_length=12, widget=forms.HiddenInput)
    kept = forms.CharField(required=False, max_length=2000, widget=forms.HiddenInput)

    def __init__(self, data: Any = None, *, initial: dict[str, Any] | None = None) -> None:
        super().__init__(data, initial=initial)
        self.helper = form_layout(
            Line("tub_g", unit="g"),
            Line("with_water_g", unit="g"),
            Line("with_product_g", unit="g"),
            side_by_side(
                Line("water_c", unit="°C", silent=True),
                Line("scale_step_g", unit="g", silent=True),
            ),
            Line("to"),
            Line("kept"),
        )

    def weighings(self) -> dict[str, Decimal]:
        """The three weighings, ready for the sum."""
        typed = self.cleaned_data
        return {
            "tub_g": typed["tub_g"],
            "with_water_g": typed["with_water_g"],
            "with_product_g": typed["with_product_g"],
            "water_c": Decimal(20) if typed["water_c"] is None else typed["water_c"],
            "scale_step_g": typed["scale_step_g"] or Decimal(1),
            "level_pct": USUAL_LEVEL_PCT,
        }
