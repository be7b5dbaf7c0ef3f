"""A product as typed: what is sold and in what it is packed; and the prices asked for it."""

from decimal import Decimal
from typing import Any

from crispy_forms.helper import FormHelper
from crispy_forms.layout import Div
from django import forms

from costing.forms.fields import AmountField, Chapter, Line, form_layout, side_by_side
from costing.models import Kitchen, Product, Recipe
from costing.product_kinds import product_kind
from costing.reckoning import pricing
from costing.reckoning.errors import ReckoningError

MOST_MONEY = 99_999_999
MOST_G = 9_999_999
OF_MONEY = ("rounding_value", "stall_price", "wholesale_price")

ASK_YOUR_ACCOUNTANT = (
    "The rate belongs to the product: a paste for the cheese board and the same paste cut as"
    " sugared sweets may be taxed differently. Ask your accountant or tax office."
)


class ProductForm(forms.Form):
    """What is sold: a recipe in a slab, a piece or a jar. Its packing is typed in rows below."""

    recipe = forms.ChoiceField(
        label="What is in it",
        error_messages={
            "required": "Choose the recipe that is sold here.",
            "invalid_choice": "Choose one of the recipes of this kitchen.",
        },
    )
    name = forms.CharField(
        label="Name",
        max_length=80,
        error_messages={"required": "Give it a name."},
        help_text="As it stands on your own list: Damson cheese, 100 g piece.",
    )
    form = forms.ChoiceField(
        label="Sold as",
        choices=Product.Form.choices,
        widget=forms.RadioSelect,
        error_messages={"required": "Say whether it is a slab, a piece or a jar."},
    )
    net_quantity_g = AmountField(
        label="Net quantity", above=0, most=MOST_G, places=2,
        help_text="What the label says is in it, without wrap or jar.",
        error_messages={"required": "How many grams does the label promise?"},
    )  # fmt: skip
    fill_g = AmountField(
        label="Really filled, on average", above=0, most=MOST_G, places=2,
        help_text="Weigh ten and divide by ten. What is over is given away, so it is costed.",
        error_messages={"required": "How many grams do you really fill?"},
    )  # fmt: skip
    packing_minutes = AmountField(
        label="Packing one takes", required=False, least=0, most=9999, places=2,
        help_text="Cut, wrap, label. Time fifty and divide. Empty: not known, so the cost is"
        " only “at least”.",
    )  # fmt: skip
    is_archived = forms.BooleanField(
        label="No longer sold: leave it out of the list", required=False
    )

    def __init__(
        self, data: Any = None, *, recipes: list[Recipe], product: Product | None, chosen: str = ""
    ) -> None:
        subject = product or Product()
        initial = {name: getattr(subject, name) for name in self.base_fields if name != "recipe"}
        initial["recipe"] = str(subject.recipe_id or chosen)
        if product is None:
            initial["form"] = _usual_form(recipes, chosen)
        super().__init__(data, initial=initial)
        self.recipes = {str(recipe.pk): recipe for recipe in recipes}
        self.fields["recipe"].choices = _recipe_choices(recipes)  # type: ignore[attr-defined]
        if product is None:
            del self.fields["is_archived"]
        last = [] if product is None else [Line("is_archived")]
        self.helper = form_layout(
            Line("recipe"),
            Line("name"),
            Line("form"),
            side_by_side(Line("net_quantity_g", unit="g"), Line("fill_g", unit="g")),
            Line("packing_minutes", unit="minutes", silent=True),
        )
        self.rest = form_layout(*last)

    def clean(self) -> dict[str, Any]:
        """Nobody may get less than the label says."""
        data = super().clean() or {}
        net, fill = data.get("net_quantity_g"), data.get("fill_g")
        if net is not None and fill is not None and fill < net:
            self.add_error(
                "fill_g",
                f"{fill.normalize():f} g is less than the {net.normalize():f} g on the label, so"
                " every buyer would be short. Fill more, or declare less.",
            )
        return data

    def keep_typing(self) -> None:
        """Show what stands in the boxes without judging it: somebody is not done yet."""
        self.is_bound = False
        self.initial = {name: self.data.get(name, "") for name in self.fields}

    def values(self) -> dict[str, Any]:
        """The fields of a product."""
        return self.cleaned_data | {"recipe": self.recipes[self.cleaned_data["recipe"]]}


def _usual_form(recipes: list[Recipe], chosen: str) -> str:
    """What the chosen recipe's kind is usually sold as; nothing where that is not known."""
    kinds = [recipe.kind for recipe in recipes if str(recipe.pk) == chosen]
    forms_of_it = product_kind(kinds[0]).forms if kinds else ()
    return forms_of_it[0] if forms_of_it else ""


def _recipe_choices(recipes: list[Recipe]) -> list[Any]:
    """Finished food first; preparations can be sold too, under their own heading."""
    sold = [(str(recipe.pk), recipe.name) for recipe in recipes if not recipe.is_preparation]
    halfway = [(str(recipe.pk), recipe.name) for recipe in recipes if recipe.is_preparation]
    groups = [("Preparations", halfway)] if halfway else []
    return [("", "Choose a recipe"), *sold, *groups]


class PricingForm(forms.Form):
    """What the maker aims at, the tax, the price points, and the prices that are asked."""

    aim = forms.ChoiceField(
        label="I aim at a",
        choices=Product.Aim.choices,
        widget=forms.RadioSelect,
        error_messages={"required": "Say whether you mean a margin or a markup."},
    )
    aim_pct = AmountField(
        label="Of at least", least=0, most=9999, places=3,
        error_messages={"required": "Type the percentage you aim at."},
    )  # fmt: skip
    rounding = forms.ChoiceField(
        label="Round the price",
        choices=Product.Rounding.choices,
        widget=forms.RadioSelect,
        error_messages={"required": "Say how to round the price."},
    )
    rounding_value = AmountField(
        label="Step or ending", required=False, least=0, most=9999, places=2,
        help_text="A step such as 0.10 or 0.50; an ending such as 0.50 or 0.95.",
    )  # fmt: skip
    sales_tax_pct = AmountField(
        label="Sales tax on this product", required=False, least=0, most=100, places=2,
        help_text=ASK_YOUR_ACCOUNTANT,
    )  # fmt: skip
    stall_price = AmountField(
        label="The price I will ask at the stall", required=False, above=0, most=MOST_MONEY,
        places=2, help_text="As on the ticket. Left empty, the price worked out here is asked.",
    )  # fmt: skip
    wholesale_price = AmountField(
        label="What shops pay me", required=False, above=0, most=MOST_MONEY, places=2,
        help_text="For one, without tax.",
    )  # fmt: skip
    shop_margin_pct = AmountField(
        label="The shop keeps, of its price", least=0, most=9999, places=2,
        help_text="A margin: its share of the shelf price without tax.",
        error_messages={"required": "Type the share a shop keeps; 0 if it keeps nothing."},
    )  # fmt: skip
    shelf_price = AmountField(
        label="Or from a shelf price back to me", required=False, above=0, most=MOST_MONEY,
        places=2, help_text="Tax included. Left empty, your stall price is taken.",
    )  # fmt: skip

    def __init__(self, data: Any = None, *, product: Product, kitchen: Kitchen) -> None:
        self.product = product
        kept = [name for name in self.base_fields if name != "shelf_price"]
        initial = {name: getattr(product, name) for name in kept}
        initial |= {name: _as_on_a_ticket(initial[name]) for name in OF_MONEY}
        super().__init__(data, initial=initial)
        if not kitchen.is_tax_registered:
            del self.fields["sales_tax_pct"]
        elif kitchen.food_tax_pct is not None:
            rate = f"{kitchen.food_tax_pct.normalize():f}"
            usual = f"Left empty, the kitchen's {rate} % for food is taken."
            self.fields["sales_tax_pct"].help_text = f"{ASK_YOUR_ACCOUNTANT} {usual}"
        self.helper = _pricing_layout(kitchen)

    def clean(self) -> dict[str, Any]:
        """A margin is a share of the price; a step goes somewhere; an ending is part of one."""
        data = super().clean() or {}
        if data.get("aim") == Product.Aim.MARGIN and data.get("aim_pct") is not None:
            self._refuse_margin("aim_pct", data["aim_pct"])
        if data.get("shop_margin_pct") is not None:
            self._refuse_margin("shop_margin_pct", data["shop_margin_pct"])
        if "rounding_value" not in self.errors:
            self._look_at_rounding(data)
        return data

    def _refuse_margin(self, field: str, margin_pct: Decimal) -> None:
        try:
            pricing.price_for_margin(Decimal(1), margin_pct=margin_pct)
        except ReckoningError as error:
            self.add_error(field, str(error))

    def _look_at_rounding(self, data: dict[str, Any]) -> None:
        value, rounding = data.get("rounding_value"), data.get("rounding")
        try:
            if rounding == Product.Rounding.STEP:
                pricing.round_up_to_step(Decimal(1), step=value or Decimal(0))
            elif rounding == Product.Rounding.ENDING:
                # An empty box is no ending, and minus one is refused with the sentence for it.
                ending = Decimal(-1) if value is None else value
                pricing.round_up_to_ending(Decimal(1), ending=ending)
        except ReckoningError as error:
            self.add_error("rounding_value", str(error))

    def values(self) -> dict[str, Any]:
        """The fields of the product that this form decides."""
        values = {name: v for name, v in self.cleaned_data.items() if name != "shelf_price"}
        if values["rounding_value"] is None:  # to the cent: the step is not asked for, and stays
            values["rounding_value"] = self.product.rounding_value
        return values


def _as_on_a_ticket(amount: Decimal | None) -> str:
    """Money with its two decimals, as it is written on a ticket."""
    return "" if amount is None else f"{amount:.2f}"


def _pricing_layout(kitchen: Kitchen) -> FormHelper:
    tax = [Line("sales_tax_pct", unit="%", silent=True)] if kitchen.is_tax_registered else []
    return form_layout(
        Line("aim"),
        Line("aim_pct", unit="%"),
        Line("rounding"),
        Div(
            Line("rounding_value", unit=kitchen.currency, silent=True), css_class="only-if-rounded"
        ),
        *tax,
        Line("stall_price", unit=kitchen.currency, silent=True),
        Chapter(
            "For shops",
            side_by_side(
                Line("wholesale_price", unit=kitchen.currency),
                Line("shop_margin_pct", unit="%"),
            ),
            Line("shelf_price", unit=kitchen.currency, silent=True),
        ),
    )
