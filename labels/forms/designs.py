"""The form of a label design."""

from collections.abc import Sequence
from decimal import Decimal
from typing import Any

from django import forms

from costing.forms.fields import AmountField, Chapter, Line, form_layout, side_by_side
from costing.models.names import LABEL_LANGUAGES
from labels import law
from labels.mechanics.gtin import read_gtin
from labels.models import LabelDesign
from labels.packs import SHAPES, Pack, largest_surface, shape
from labels.services.designs import Quantifiable

NOT_DECLARED = "no"
SIDES = ("length_mm", "width_mm", "height_mm", "diameter_mm")
_AS_TYPED_CM2 = Decimal("0.1")
REASONS = (
    (NOT_DECLARED, "Not declared"),
    ("in the name", "It is in the name of the food"),
    ("pictured", "It is pictured on the label"),
    ("stressed", "It is stressed in words"),
    ("sets it apart", "It sets this food apart from others"),
)


def _per_kg(label: str, help_text: str) -> AmountField:
    return AmountField(
        label=label, least=0, most=1000, places=1, required=False, help_text=help_text
    )


PER_KG = (
    "inner_flesh_g_per_kg", "fat_g_per_kg", "egg_yolk_solids_g_per_kg", "vine_fruit_g_per_kg",
    "peel_g_per_kg", "suet_g_per_kg",
)  # fmt: skip


def _side(label: str) -> AmountField:
    return AmountField(label=label, above=0, most=2000, places=1, required=False)


def _pack_chapter() -> Chapter:
    return Chapter(
        "The pack",
        Line("pack_shape"),
        side_by_side(
            Line("pack_length_mm", unit="mm", silent=True),
            Line("pack_width_mm", unit="mm", silent=True),
            Line("pack_diameter_mm", unit="mm", silent=True),
            Line("pack_height_mm", unit="mm", silent=True),
        ),
        Line("largest_surface_cm2", unit="cm²", silent=True),
        Line("lot_prefix", short=True),
        Line("nutrition_exemption"),
        side_by_side(Line("portion_g", unit="g"), Line("alcohol_left_g", unit="g")),
        Line("origin"), Line("groups_spices"),
        Line("has_e_mark"), Line("claims"),
    )  # fmt: skip


class DesignForm(forms.Form):
    """What a label says beyond its recipe, and how it looks."""

    name_of_food = forms.CharField(
        label="Name of the food",
        max_length=120,
        help_text="What it is, as the law wants it: a customary or descriptive name, not a brand.",
    )
    brand_name = forms.CharField(label="Brand name", max_length=60, required=False)
    tagline = forms.CharField(
        label="A line of your own",
        max_length=120,
        required=False,
        help_text="It gives way first when there is no room.",
    )
    colour = forms.RegexField(
        label="Your one colour",
        regex=r"^#[0-9a-fA-F]{6}$",
        widget=forms.TextInput(attrs={"type": "color"}),
        error_messages={"invalid": "A colour is # and six letters or digits, such as #6b1f3a."},
    )
    layout = forms.ChoiceField(
        label="Layout", choices=LabelDesign.Layout.choices, widget=forms.RadioSelect
    )
    sheet_code = forms.ChoiceField(label="Label sheet", required=False)
    storage = forms.CharField(
        label="Storage",
        max_length=160,
        required=False,
        help_text="Such as “Store in a cool, dry place.”",
        widget=forms.TextInput(attrs={"list": "words-on-keeping"}),
    )
    storage_after_opening = forms.CharField(
        label="After opening",
        max_length=160,
        required=False,
        widget=forms.TextInput(attrs={"list": "words-on-keeping"}),
    )
    shelf_life_months = forms.IntegerField(
        label="Keeps for months", min_value=0, max_value=120, required=False
    )
    shelf_life_days = forms.IntegerField(
        label="and days", min_value=0, max_value=3650, required=False
    )
    largest_surface_cm2 = AmountField(
        label="Largest surface of the pack",
        above=0,
        most=100000,
        places=1,
        required=False,
        help_text="Only for a pack of another shape, as you measured it: the largest face that is "
        "flat or can be laid flat, without neck and shoulder. Under 80 cm² smaller type is lawful; "
        "under 25 and 10 some statements may be left off.",
    )
    pack_shape = forms.ChoiceField(
        label="Shape of the pack",
        choices=[("", "Another shape: I give the surface"),
                 *((each.code, each.name) for each in SHAPES)],
        required=False,
        help_text="Its largest surface is then reckoned. A box or slab needs length, width and "
        "height; a jar its diameter, and the height of the straight wall between neck and foot.",
    )  # fmt: skip
    pack_length_mm = _side("Length")
    pack_width_mm = _side("Width")
    pack_height_mm = _side("Height, of a jar its straight wall")
    pack_diameter_mm = _side("Diameter")
    lot_prefix = forms.CharField(
        label="Letters before the lot",
        max_length=6,
        required=False,
        help_text="The day follows by itself: DC and 5 September 2026 give DC-26248.",
    )
    has_e_mark = forms.BooleanField(label="The pack carries the ℮ mark", required=False)
    groups_spices = forms.BooleanField(
        label="Write “spices” for a spice mix of 2 % or less", required=False
    )
    nutrition_exemption = forms.ChoiceField(
        label="Nutrition: why there is no table, or declare it",
        choices=LabelDesign.NoNutrition.choices,
        required=False,
        widget=forms.RadioSelect,
        help_text="A nutrition declaration is required unless one of these applies to you. A "
        "health or nutrition claim cancels the small-maker exemption. Ask your authority.",
    )
    portion_g = AmountField(
        label="Portion told beside 100 g",
        above=0,
        most=2000,
        places=1,
        required=False,
        help_text="Only if you want one. How many portions the pack holds is then printed too.",
    )
    alcohol_left_g = AmountField(
        label="Alcohol left in 100 g of the finished food",
        least=0,
        most=60,
        places=2,
        required=False,
        help_text="Only where a spirit or wine went in. It boils off, so only you can know: 0 if "
        "it was boiled long, else by your own reckoning or an analysis.",
    )
    market = forms.ChoiceField(
        label="Sold in",
        choices=[(market.code, market.name) for market in law.MARKETS],
        help_text="Whose law the label obeys. The check shows what another market would change.",
    )
    first_language = forms.ChoiceField(
        label="Language of the label",
        choices=[("", "The kitchen’s own"), *LABEL_LANGUAGES],
        required=False,
    )
    second_language = forms.ChoiceField(
        label="Second language",
        choices=[("", "None"), *LABEL_LANGUAGES],
        required=False,
        help_text="Both stand on one label. In the Union the country where you sell decides which "
        "language is due; in Great Britain labels are printed in English only, Welsh is not "
        "offered.",
    )
    origin = forms.CharField(
        label="Origin",
        max_length=120,
        required=False,
        help_text="Only where leaving it out could mislead, or where you claim one.",
    )

    inner_flesh_g_per_kg = _per_kg("Inner flesh of the citrus fruit", "Marmalade: at least 75 g.")
    fat_g_per_kg = _per_kg("Fat or oil", "Curds and lemon cheese in Great Britain: at least 40 g.")
    egg_yolk_solids_g_per_kg = _per_kg("Egg yolk solids", "Curds and lemon cheese: at least 6.5 g.")
    vine_fruit_g_per_kg = _per_kg("Vine fruit", "Mincemeat: at least 200 g.")
    peel_g_per_kg = _per_kg("Citrus peel", "Mincemeat: 300 g together with the vine fruit.")
    suet_g_per_kg = _per_kg("Suet or like fat", "Mincemeat: at least 25 g.")
    claims = forms.CharField(
        label="Claims on the label",
        max_length=400,
        required=False,
        widget=forms.Textarea(attrs={"rows": 2}),
        help_text="One a line, as printed: “reduced sugar”, “source of fibre”. A claim brings the "
        "nutrition table back, however small the maker.",
    )

    gtin = forms.CharField(
        label="Article number for tills",
        max_length=20,
        required=False,
        help_text="The 13 digits that GS1 gave you, printed as bars. Without one leave it empty: "
        "numbers that begin with 2 are given out by each shop, so ask your shop for those.",
    )
    qr_text = forms.CharField(
        label="Address in a square code",
        max_length=300,
        required=False,
        help_text="Such as https:// and your own page. Shorter ones take less room.",
    )

    def __init__(
        self,
        *args: Any,
        sheets: Sequence[tuple[str, str]] = (),
        quantifiable: Sequence[Quantifiable] = (),
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        sheet_field = self.fields["sheet_code"]
        if isinstance(sheet_field, forms.ChoiceField):
            sheet_field.choices = [("", "Choose when printing"), *sheets]
        self.quantities = {f"quantify_{item.key}": item for item in quantifiable}
        for name, item in self.quantities.items():
            self.fields[name] = forms.ChoiceField(
                label=item.name, choices=REASONS, initial=NOT_DECLARED
            )
        self.helper = self._lines()

    def _lines(self) -> Any:
        return form_layout(
            Chapter(
                "The front", Line("market"),
                side_by_side(Line("first_language"), Line("second_language")),
                Line("name_of_food"), Line("brand_name"), Line("tagline"),
                Line("colour", short=True), Line("layout"), Line("sheet_code"),
            ),
            Chapter(
                "Quantities to declare",
                *(Line(name) for name in self.quantities),
                lead="An ingredient in the name, pictured or stressed must show its share of the "
                "finished food. Water that boiled away makes the share larger, so it is reckoned "
                "from the finished mass.",
            ),
            Chapter(
                "Keeping",
                Line("storage"), Line("storage_after_opening"),
                side_by_side(
                    Line("shelf_life_months", unit="months"),
                    Line("shelf_life_days", unit="days"),
                ),
                lead="You choose how long it keeps and must be able to say why. This program does "
                "not know whether your food is safe until then.",
            ),
            _pack_chapter(),
            Chapter(
                "Codes",
                Line("gtin"), Line("qr_text"),
                lead="If you like. They stand in a box of their own, and words go first where room "
                "is short.",
            ),
            Chapter(
                "Marmalade, curd, mincemeat",
                *(Line(name, unit="g in 1 kg") for name in PER_KG),
                lead="Only for these names: what is in a kilo of the finished food, by your recipe "
                "or an analysis. Empty means not known, and the name is then not passed.",
                opens=True,
            ),
        )  # fmt: skip

    def clean_second_language(self) -> str:
        """A language stands on a label once."""
        chosen = self.cleaned_data["second_language"]
        if chosen and chosen == self.cleaned_data.get("first_language"):
            raise forms.ValidationError("Choose another second language, or none.")
        return str(chosen)

    def clean_gtin(self) -> str:
        """Thirteen digits whose last one is right."""
        try:
            return read_gtin(self.cleaned_data["gtin"])
        except ValueError as reason:
            raise forms.ValidationError(str(reason)) from reason

    def clean_shelf_life_months(self) -> int | None:
        """An empty box is not nought months."""
        return self.cleaned_data["shelf_life_months"] or None

    def clean_shelf_life_days(self) -> int | None:
        """An empty box is not nought days."""
        return self.cleaned_data["shelf_life_days"] or None

    def clean_pack_shape(self) -> str | None:
        """No shape is kept as nothing."""
        return self.cleaned_data["pack_shape"] or None

    def clean(self) -> dict[str, Any]:
        """A shape has its sides, and a typed surface does not speak against them."""
        cleaned = super().clean() or self.cleaned_data
        if not cleaned.get("pack_shape"):
            return cleaned
        sides = {side: cleaned.get(f"pack_{side}") for side in SIDES}
        pack = Pack(cleaned["pack_shape"], **sides)
        of_shape = shape(pack.shape)
        for side, name in of_shape.sides:
            if not sides[side] and f"pack_{side}" not in self.errors:
                self.add_error(
                    f"pack_{side}", f"{of_shape.name} is reckoned from its {name}: measure it."
                )
        surface, typed = largest_surface(pack), cleaned.get("largest_surface_cm2")
        if surface and typed is not None and abs(surface.area_cm2 - typed) >= _AS_TYPED_CM2:
            self.add_error(
                "largest_surface_cm2",
                f"By its sides {surface.what} has {surface.area_cm2:.1f} cm², not {typed}. Empty "
                "this, mend a side, or choose “Another shape”.",
            )
        return cleaned

    @property
    def values(self) -> dict[str, Any]:
        """The design's own figures, without the quantities."""
        return {
            name: value for name, value in self.cleaned_data.items() if name not in self.quantities
        }

    @property
    def quantified(self) -> dict[str, str]:
        """What is declared, each with its reason."""
        return {
            item.key: self.cleaned_data[name]
            for name, item in self.quantities.items()
            if self.cleaned_data.get(name, NOT_DECLARED) != NOT_DECLARED
        }
