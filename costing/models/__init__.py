"""What is stored. Models hold facts and constraints; they do not compute."""

from costing.models.audit import AuditEntry
from costing.models.cooks import (
    Batch,
    BatchInput,
    BatchReading,
    BatchYield,
    Lesson,
    Mould,
    Pan,
)
from costing.models.ingredients import AllergenAnswer, CompoundPart, Ingredient
from costing.models.kitchens import Kitchen, KitchenOwned, Member
from costing.models.names import IngredientName
from costing.models.products import Product, ProductPart
from costing.models.purchases import Supplier, SupplierPrice
from costing.models.recipes import Recipe, RecipeLine, RecipeVersion

__all__ = [
    "AllergenAnswer",
    "AuditEntry",
    "Batch",
    "BatchInput",
    "BatchReading",
    "BatchYield",
    "CompoundPart",
    "Ingredient",
    "IngredientName",
    "Kitchen",
    "KitchenOwned",
    "Lesson",
    "Member",
    "Mould",
    "Pan",
    "Product",
    "ProductPart",
    "Recipe",
    "RecipeLine",
    "RecipeVersion",
    "Supplier",
    "SupplierPrice",
]
