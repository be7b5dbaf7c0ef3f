"""An ingredient as it went into the pan, with all that the law of labels asks of it."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from labels.allergens import Allergen


@dataclass(frozen=True)
class UsedIngredient:
    """An ingredient as it went into the pan. Masses are those at the moment of use [g].

    used_g: mass used; for a part of a compound ingredient, its mass inside what was used of it.
    remaining_g: what is still there in the finished food, for volatile ingredients (spirits).
    fresh_equivalent_g: mass before drying or concentrating, when it is reconstituted in making.
    allergens_not_known: groups for which nobody has answered yet; they block printing.
    sulphite_mg_per_kg: total SO2 in the ingredient as used; None means not known.
    quid_reason: why its quantity must be declared ("in the name", "pictured", "stressed", ...).
    quid_exemption: why it need not be although named ("flavouring", "stated by jam law", ...).
    category: "spice", "herb", "sugar", "fruit", "vegetable", "water" or "" for others.
    varying_mix: same non-empty word on ingredients that form a mix in varying proportions.
    quid_category: same non-empty word on ingredients that share one declared figure ("fruit").
    needs_no_list: a compound food that would need no ingredient list if sold by itself.
    key: what the larder knows it by, so that a finding can lead there; the law does not read it.
    called: what the maker calls it, where the label gives it another name.
    prepared_as: what the recipe book knows it by, where it is a preparation under one name.
    lacks_its_list: made of several ingredients that nobody has entered.
    fruit_form: "pulp", "puree", "juice", "extract", "peel", "whole" or "" for fruit of a preserve.
    extraction_water_g: water that made the extract, which is no fruit [g].
    fruit_from_g: fruit that the pulp, puree, juice, peel or extract came from [g]; None: as used.
    endocarp_g: what of a citrus fruit is its inner flesh [g]; None means not known.
    """

    name: str
    used_g: Decimal
    allergens: tuple[Allergen, ...] = ()
    allergens_not_known: tuple[str, ...] = ()
    sulphite_mg_per_kg: Decimal | None = Decimal(0)
    additive_class: str = ""
    additive_number: str = ""
    category: str = ""
    parts: tuple["UsedIngredient", ...] = ()
    composition_fixed_by_law: bool = False
    is_processing_aid: bool = False
    remaining_g: Decimal | None = None
    fresh_equivalent_g: Decimal | None = None
    varying_mix: str = ""
    quid_reason: str = ""
    quid_exemption: str = ""
    origin: str = ""
    quid_category: str = ""
    needs_no_list: bool = False
    key: str = ""
    called: str = ""
    lacks_its_list: bool = False
    fruit_form: str = ""
    extraction_water_g: Decimal | None = None
    fruit_from_g: Decimal | None = None
    endocarp_g: Decimal | None = None
    prepared_as: str = ""

    def __post_init__(self) -> None:
        if not self.name.strip():
            raise ValueError("An ingredient on a label needs a name.")
        if self.used_g < 0:
            raise ValueError(f"{self.name}: {self.used_g} g cannot have been used.")

    def with_parts(self) -> Iterator["UsedIngredient"]:
        """The ingredient and, however deep, all that it is made of."""
        yield self
        for part in self.parts:
            yield from part.with_parts()
