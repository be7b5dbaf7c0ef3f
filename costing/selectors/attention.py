"""What needs the maker today: what is missing or old in what is really used."""

from dataclasses import dataclass
from datetime import date

from django.db.models import Q

from costing.models import Ingredient, Kitchen, Product, ProductPart, Recipe, RecipeLine
from costing.selectors.ingredients import with_unanswered_allergens
from costing.selectors.price_book import PriceLine, price_book


@dataclass(frozen=True)
class Attention:
    """What is missing or old, and how far a new kitchen has come."""

    unpriced: tuple[Ingredient, ...]
    unanswered: tuple[Ingredient, ...]
    old: tuple[PriceLine, ...]
    products_without_price: tuple[Product, ...]
    recipes: int
    products: int
    priced: int
    ingredients: int


def attention(kitchen: Kitchen, *, on: date) -> Attention:
    """Everything that Today speaks of, in a fixed number of queries."""
    everything = list(Ingredient.objects.filter(kitchen=kitchen, is_archived=False))
    used = _used(kitchen)
    lines = price_book(kitchen, everything, on=on)
    relevant = [line for line in lines if line.ingredient.pk in used]
    recipes = Recipe.objects.filter(kitchen=kitchen, is_archived=False).count()
    # Only what is spoken of is read whole: a thousand products with a price are just a number.
    products = Product.objects.filter(kitchen=kitchen, is_archived=False)
    return Attention(
        unpriced=tuple(line.ingredient for line in relevant if not line.has_price),
        unanswered=tuple(with_unanswered_allergens(kitchen).filter(pk__in=used)),
        old=tuple(line for line in relevant if line.has_price and line.is_old),
        products_without_price=tuple(products.filter(stall_price__isnull=True)),
        recipes=recipes,
        products=products.count(),
        priced=sum(line.has_price for line in lines),
        ingredients=len(everything),
    )


def _used(kitchen: Kitchen) -> set[int]:
    """Ingredients in a recipe as it is cooked now, and the packing of what is sold; no water."""
    in_recipes = (
        RecipeLine.objects.filter(
            kitchen=kitchen,
            version__is_current=True,
            version__recipe__is_archived=False,
            ingredient__isnull=False,
        )
        .filter(~Q(ingredient__category=Ingredient.Category.WATER))
        .values_list("ingredient_id", flat=True)
        .order_by()  # else the order of lines would keep equal ones apart
        .distinct()
    )
    packing = ProductPart.objects.filter(kitchen=kitchen, product__is_archived=False)
    packed = packing.order_by().values_list("item_id", flat=True).distinct()
    return {int(pk) for pk in (*in_recipes, *packed) if pk}
