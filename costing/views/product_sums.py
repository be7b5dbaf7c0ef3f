"""What a product costs and what its prices leave, in the maker's words, ready for the page."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from django.urls import NoReverseMatch, reverse

from costing.models import Kitchen, Product
from costing.money import format_money, format_number
from costing.reckoning import pricing
from costing.reckoning.book import Question
from costing.reckoning.pricing import Ladder, PackagingPart, PiecePrice
from costing.services.products import ProductSums
from costing.views.charts import BarPicture, money_picture

_G_PER_KG = Decimal(1000)
_TENTH = Decimal("0.1")
_OF_THE_KITCHEN = {"labour rate", "overhead rate", "energy price"}


# --- What one costs -------------------------------------------------------------------------------


@dataclass(frozen=True)
class CostRow:
    """One part of the cost of a piece: how it comes about, and where its figure is kept.

    amount: unrounded; None where it is not known.
    """

    name: str
    steps: tuple[str, ...]
    amount: Decimal | None
    url: str = ""
    link: str = ""


@dataclass(frozen=True)
class _Pen:
    """Writes figures of a sum as the kitchen writes them."""

    kitchen: Kitchen

    def money(self, amount: Decimal, *, places: int = 4) -> str:
        """Money as a part of a sum."""
        where = {"currency": self.kitchen.currency, "locale": self.kitchen.number_format}
        return format_money(amount, places=places, **where)

    def price(self, amount: Decimal) -> str:
        """Money with the decimals a paper wrap at 0.038 needs, two at least."""
        return self.money(amount, places=max(2, _decimals(amount, most=6)))

    def number(self, value: Decimal) -> str:
        """A figure with the decimals it has, four at most."""
        return format_number(
            value, locale=self.kitchen.number_format, places=_decimals(value, most=4)
        )


def _decimals(value: Decimal, *, most: int) -> int:
    exponent = round(value, most).normalize().as_tuple().exponent
    return max(0, -exponent) if isinstance(exponent, int) else 0


def cost_rows(sums: ProductSums, *, kitchen: Kitchen) -> list[CostRow]:
    """Content, each part of the packing, and the time to pack; they add up to the cost of one."""
    pen = _Pen(kitchen)
    return [
        _content_row(sums, pen=pen),
        *(_part_row(part, sums, pen=pen) for part in sums.parts),
        *_packing_rows(sums, pen=pen),
    ]


def money_goes(sums: ProductSums, *, kitchen: Kitchen) -> BarPicture | None:
    """The cost of one by its nature, as a bar with its table."""
    pen = _Pen(kitchen)
    written = {nature: pen.money(cost) for nature, cost in sums.piece.breakdown.items()}
    return money_picture(sums.piece.breakdown, written=written)


def _content_row(sums: ProductSums, *, pen: _Pen) -> CostRow:
    product, per_kg = sums.product, sums.sheet.cost_per_kg_finished
    url = _link("recipe", pen.kitchen.pk, product.recipe_id)
    name, link = str(product.recipe), "Where that kilo's cost comes from"
    if per_kg is None or sums.piece.content is None:
        told = ("How many kilos the recipe gives is not known yet.",)
        return CostRow(name, told, None, url, "To the recipe")
    bound = "" if sums.sheet.is_complete else "at least "
    steps = [f"{pen.number(product.fill_g)} g really filled × {bound}{pen.money(per_kg)} a kilo."]
    over = product.fill_g - product.net_quantity_g
    if over > 0:
        given = over * per_kg / _G_PER_KG
        steps.append(
            f"{pen.number(over)} g of it is more than the label says, and costs {pen.money(given)}."
        )
    return CostRow(name, tuple(steps), sums.piece.content, url, link)


def _part_row(part: PackagingPart, sums: ProductSums, *, pen: _Pen) -> CostRow:
    quantity = _count(part.quantity, pen=pen)
    if part.each is None:
        url = _link("price_new", pen.kitchen.pk, part.ingredient_id)
        told = (f"{quantity} of it, at a price that is not known yet.",)
        return CostRow(part.name, told, None, url, f"Enter the price of {part.name}")
    steps = [f"{quantity} × {pen.price(part.each)} each"]
    if part.loss_pct > 0:
        steps[0] += f", of which {pen.number(part.loss_pct)} % is spoilt: ÷ " + pen.number(
            1 - part.loss_pct / 100
        )
    steps[0] += "."
    price = sums.part_prices.get(part.ingredient_id or 0)
    if price is not None:
        day = price.valid_from
        since = f", since {day.day} {day:%B %Y}" if day else ""
        source = ", ".join(word for word in (price.pack, price.supplier) if word)
        steps.append(f"{source or price.note}{since}.")
    url = _link("ingredient", pen.kitchen.pk, part.ingredient_id)
    return CostRow(part.name, tuple(steps), part.cost, url, f"Prices of {part.name}")


def _count(quantity: Decimal, *, pen: _Pen) -> str:
    """How many of a part, a share of a sheet as one of so many."""
    if 0 < quantity < 1:
        each = round(1 / quantity, 4)
        if each == each.to_integral_value():
            return f"1/{each:.0f}"
    return pen.number(quantity)


def _packing_rows(sums: ProductSums, *, pen: _Pen) -> list[CostRow]:
    minutes, kitchen = sums.product.packing_minutes, pen.kitchen
    rows = []
    for name, rate, cost in (
        ("Work of packing", kitchen.labour_rate_per_h, sums.piece.packing_labour),
        ("Its overhead", kitchen.overhead_rate_per_h, sums.piece.packing_overhead),
    ):
        settings = _link("kitchen", kitchen.pk)
        if minutes is None:
            url = _link("product_edit", kitchen.pk, sums.product.pk) + "#id_packing_minutes"
            told = "How long packing one takes is not known yet."
            rows.append(CostRow(name, (told,), None, url, "Say how long"))
        elif rate is None and minutes > 0:
            told = f"{pen.number(minutes)} minutes, at a rate an hour that is not known yet."
            rows.append(CostRow(name, (told,), None, settings, "To the kitchen's rates"))
        else:
            hourly = pen.price(rate or Decimal(0))
            told = f"{pen.number(minutes)} minutes × {hourly} an hour ÷ 60."
            rows.append(CostRow(name, (told,), cost, settings, "The kitchen's rates"))
    return rows


# --- What its prices leave ------------------------------------------------------------------------


@dataclass(frozen=True)
class Left:
    """One price and how it stands to the aim, which is an aim for the stall.

    is_below: a stall price misses it, as far as is shown.
    """

    price: PiecePrice
    is_below: bool = False

    @property
    def is_loss(self) -> bool:
        """Whether each sale costs money."""
        return self.price.left < 0

    @property
    def lost(self) -> Decimal:
        """What each sale loses."""
        return -self.price.left


@dataclass(frozen=True)
class PricePage:
    """Every price of a product, worked out for one set of wishes.

    suggested: the price point that keeps the aim; exact: before rounding; lower: the price point
    below it. asked: what is decided for the stall. shown: the asked price, else the suggested.
    before_tax: the price without tax, where only the tax is not known. per_kg: of the price on
    the ticket. is_bound: the cost is a lower bound, so prices are too and margins upper bounds.
    shelf: up from the wholesale price; back: down from a shelf price, with what it leaves.
    """

    sums: ProductSums
    is_bound: bool
    suggested: Left | None = None
    exact: PiecePrice | None = None
    lower: Left | None = None
    asked: Left | None = None
    wholesale: Left | None = None
    before_tax: Decimal | None = None
    per_kg: Decimal | None = None
    shelf: Ladder | None = None
    back: Ladder | None = None
    back_left: Left | None = None

    @property
    def shown(self) -> Left | None:
        """The price whose margin and markup are explained."""
        return self.asked or self.suggested

    @property
    def asks_another(self) -> bool:
        """Whether the price asked is not the one worked out."""
        if self.asked is None or self.suggested is None:
            return False
        return self.asked.price.inc_tax != self.suggested.price.inc_tax

    @property
    def shelf_over_stall(self) -> Decimal | None:
        """By how much the shop's shelf is dearer than the stall."""
        if self.shelf is None or self.shown is None:
            return None
        return self.shelf.shelf_inc_tax - self.shown.price.inc_tax

    @property
    def shop_keeps(self) -> Decimal | None:
        """What the shop's margin comes to in money, on the way up."""
        return None if self.shelf is None else self.shelf.shelf_ex_tax - self.shelf.producer_ex_tax

    @property
    def shop_keeps_back(self) -> Decimal | None:
        """The same on the way down."""
        return None if self.back is None else self.back.shelf_ex_tax - self.back.producer_ex_tax

    @property
    def stall_aside(self) -> str:
        """Whether the stall's price is decided or only worked out."""
        return "what you ask" if self.asked is not None else "worked out, not decided"

    @property
    def tax_inside_pct(self) -> Decimal | None:
        """Share of the price with tax that is tax, in percent: less than the rate."""
        if self.shown is None:
            return None
        return self.shown.price.tax * 100 / self.shown.price.inc_tax


def price_page(sums: ProductSums, *, shelf_price: Decimal | None = None) -> PricePage:
    """All that a page says about prices. shelf_price: to work back from; else the stall price."""
    product, cost = sums.product, sums.piece.total
    decided = product.stall_price
    per_kg = decided * _G_PER_KG / product.net_quantity_g if decided else None
    page = PricePage(sums=sums, is_bound=not sums.piece.is_complete, per_kg=per_kg)
    if not cost:
        return page
    if sums.tax_pct is None:
        return _with(page, before_tax=_before_tax(product, cost=cost))
    if sums.rounded is None or sums.asked is None:
        return page
    shown = sums.stall or sums.rounded
    back, back_left = _back(sums, shelf_inc_tax=shelf_price or shown.inc_tax)
    return _with(
        page,
        suggested=_left(sums.rounded, product=product),
        exact=sums.asked,
        lower=_lower(sums, cost=cost),
        asked=_left(sums.stall, product=product),
        wholesale=None if sums.wholesale is None else Left(sums.wholesale),
        per_kg=shown.per_kg,
        shelf=sums.shelf,
        back=back,
        back_left=back_left,
    )


def _with(page: PricePage, **found: object) -> PricePage:
    return PricePage(**{**page.__dict__, **found})


def _left(price: PiecePrice | None, *, product: Product) -> Left | None:
    return None if price is None else Left(price, is_below_aim(price, product=product))


def is_below_aim(price: PiecePrice, *, product: Product) -> bool:
    """Whether a price misses the product's own aim by as much as the page shows: a tenth."""
    is_margin = product.aim == Product.Aim.MARGIN
    reached = price.margin_pct if is_margin else price.markup_pct
    if reached is None:
        return False
    return reached.quantize(_TENTH) < product.aim_pct.quantize(_TENTH)


def _before_tax(product: Product, *, cost: Decimal) -> Decimal:
    if product.aim == Product.Aim.MARGIN:
        return pricing.price_for_margin(cost, margin_pct=product.aim_pct)
    return pricing.price_for_markup(cost, markup_pct=product.aim_pct)


def _lower(sums: ProductSums, *, cost: Decimal) -> Left | None:
    """The price point below the exact price; None where rounding changes nothing."""
    product, exact, rounded = sums.product, sums.asked, sums.rounded
    if exact is None or rounded is None or sums.tax_pct is None:
        return None
    down = {
        Product.Rounding.STEP.value: product.rounding_value,
        Product.Rounding.ENDING.value: Decimal(1),
    }.get(product.rounding)
    if down is None or rounded.inc_tax <= exact.inc_tax or rounded.inc_tax - down <= 0:
        return None
    price = pricing.price_decided(cost, inc_tax=rounded.inc_tax - down, tax_pct=sums.tax_pct)
    return _left(price, product=product)


def _back(sums: ProductSums, *, shelf_inc_tax: Decimal) -> tuple[Ladder | None, Left | None]:
    """From a shelf price down to the most a shop can pay, and what that would leave."""
    product, cost, tax_pct = sums.product, sums.piece.total, sums.tax_pct
    if cost is None or tax_pct is None:
        return None, None
    shop = [("Shop", product.shop_margin_pct)]
    back = pricing.ladder_back(shelf_inc_tax, sellers=shop, tax_pct=tax_pct)
    price = pricing.price_decided(cost, ex_tax=back.producer_ex_tax, tax_pct=tax_pct)
    return back, Left(price)


# --- What is not known, and the list --------------------------------------------------------------


@dataclass(frozen=True)
class Asked:
    """A question as the page shows it: the sentence, and where it is answered."""

    sentence: str
    url: str = ""


def asked(questions: Sequence[Question], *, product: Product) -> list[Asked]:
    """Questions with the place that answers each."""
    return [Asked(one.sentence, _answered_at(one, product=product)) for one in questions]


def _answered_at(question: Question, *, product: Product) -> str:
    here = product.kitchen_id
    if question.about in _OF_THE_KITCHEN:
        return _link("kitchen", here)
    if question.about == "sales tax":
        return "#id_sales_tax_pct"
    if question.ingredient_id is not None:
        name = "price_new" if question.about == "price" else "ingredient_edit"
        return _link(name, here, question.ingredient_id)
    if question.about == "minutes" and question.recipe_id is None:
        return _link("product_edit", here, product.pk) + "#id_packing_minutes"
    return _link("recipe_edit", here, question.recipe_id or product.recipe_id)


@dataclass(frozen=True)
class ListRow:
    """One product of the owner's list. is_bound: its cost is only a lower bound."""

    product: Product
    cost: Decimal | None
    is_bound: bool
    stall: Left | None
    wholesale: Left | None


def list_row(sums: ProductSums) -> ListRow:
    """What the list says about one product."""
    return ListRow(
        product=sums.product,
        cost=sums.piece.total,
        is_bound=not sums.piece.is_complete,
        stall=_left(sums.stall, product=sums.product),
        wholesale=None if sums.wholesale is None else Left(sums.wholesale),
    )


def _link(name: str, *args: int | None) -> str:
    """An address of the kitchen, or nothing where there is no such page."""
    try:
        return reverse(name, args=args)
    except NoReverseMatch:
        return ""
