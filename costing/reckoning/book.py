"""The records that sums are made over: a kitchen's rates, ingredients, prices and recipes."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal

MATERIALS, LABOUR, ENERGY, PACKAGING, OVERHEAD = (
    "materials",
    "labour",
    "energy",
    "packaging",
    "overhead",
)
NATURES = (MATERIALS, LABOUR, ENERGY, PACKAGING, OVERHEAD)
"""Kinds of cost. They survive nesting: the labour in a puree stays labour in the paste."""

BOIL_DOWN, COOK_LOSS, WEIGHED_OUT, NO_COOK = "boil down", "cook loss", "weighed out", "no cook"
COOK_KINDS = (BOIL_DOWN, COOK_LOSS, WEIGHED_OUT, NO_COOK)

READING, RISE, BRIX, FINAL_WEIGHT, SHARE = "reading", "rise", "brix", "final weight", "share"
STOP_FORMS = (READING, RISE, BRIX, FINAL_WEIGHT, SHARE)
"""How a maker may state when to stop: own thermometer [C], kelvin above own boiling water [K],
Brix [%], food left in the pan [g], or share of what went in [%]."""

AS_PURCHASED, PREPARED = "as purchased", "prepared"


@dataclass(frozen=True)
class KitchenRecord:
    """Rates and conditions of one kitchen, in its own currency.

    boils_at_c: temperature used for the heat bill only; the stopping point uses altitude.
    """

    currency: str = "EUR"
    altitude_m: Decimal = Decimal(0)
    labour_rate_per_h: Decimal | None = None
    overhead_rate_per_h: Decimal | None = None
    energy_price_per_kwh: Decimal | None = None
    hob_efficiency_pct: Decimal = Decimal(55)
    start_temperature_c: Decimal = Decimal(15)
    boils_at_c: Decimal = Decimal(100)
    heat_capacity_kj_per_kg_k: Decimal = Decimal("3.7")
    latent_heat_kj_per_kg: Decimal = Decimal(2257)
    water_reading_c: Decimal | None = None


@dataclass(frozen=True)
class IngredientRecord:
    """What cost and cook need to know of an ingredient. Solids are those of the prepared state.

    usable_pct: usable weight out of a hundred as purchased.
    each_g: average weight of one, when bought or used by the piece, as purchased.
    brix, insoluble_pct: None means not known, which is not zero.
    sucrose_share, hexose_share, acid_share: fractions of its soluble solids, sum 1; all None = the
        usual split of fruit (0.15, 0.75, 0.10) is taken and said.
    """

    id: int
    name: str
    usable_pct: Decimal = Decimal(100)
    density_kg_per_l: Decimal | None = None
    each_g: Decimal | None = None
    brix: Decimal | None = None
    insoluble_pct: Decimal | None = None
    sucrose_share: Decimal | None = None
    hexose_share: Decimal | None = None
    acid_share: Decimal | None = None
    is_water: bool = False


@dataclass(frozen=True)
class PriceRecord:
    """The cost of one kilo as purchased, and where that figure comes from."""

    ingredient_id: int
    per_kg: Decimal
    price_id: int | None = None
    supplier: str = ""
    pack: str = ""
    valid_from: date | None = None
    note: str = ""


@dataclass(frozen=True)
class LineRecord:
    """One line of a recipe: an ingredient or a preparation, in a unit or as percent of the base.

    unit: "%" for percent of the base, else a unit of mass, volume or count as typed.
    is_base: the line is part of the base; the base lines' percents add up to a hundred.
    """

    amount: Decimal
    unit: str = "g"
    ingredient_id: int | None = None
    recipe_id: int | None = None
    state: str = PREPARED
    is_base: bool = False
    id: int | None = None


@dataclass(frozen=True)
class CookRecord:
    """How a recipe is cooked and when it is done.

    kind: one of COOK_KINDS. "boil down" uses stop_form and stop_value; "cook loss" uses
        cook_loss_pct; "weighed out" uses finished_g and evaporated_g as weighed.
    water_reading_c: what this thermometer reads in boiling water; only for stop_form "reading".
    inverted_pct: share of the sucrose that turns into glucose and fructose in the pan.
    measured_brix, measured_insoluble_pct: of the finished food, where the maker measured them
        (a sieved puree); they count for what it is used in. None = worked out from what went in.
    """

    kind: str = NO_COOK
    stop_form: str = BRIX
    stop_value: Decimal | None = None
    water_reading_c: Decimal | None = None
    cook_loss_pct: Decimal | None = None
    finished_g: Decimal | None = None
    evaporated_g: Decimal | None = None
    inverted_pct: Decimal = Decimal(25)
    pan_residue_pct: Decimal = Decimal(0)
    pan_residue_g: Decimal = Decimal(0)
    handling_loss_pct: Decimal = Decimal(0)
    is_heated: bool = True
    measured_brix: Decimal | None = None
    measured_insoluble_pct: Decimal | None = None


@dataclass(frozen=True)
class RecipeRecord:
    """One version of a recipe, ready for sums. base_g is the mass that percents refer to."""

    id: int
    name: str
    lines: tuple[LineRecord, ...] = ()
    base_name: str = ""
    base_g: Decimal | None = None
    cook: CookRecord = field(default_factory=CookRecord)
    attended_minutes: Decimal | None = Decimal(0)
    version: int = 1


@dataclass(frozen=True)
class Book:
    """A kitchen's figures on one day. Ingredients without an entry in `prices` have no price."""

    kitchen: KitchenRecord
    ingredients: Mapping[int, IngredientRecord]
    recipes: Mapping[int, RecipeRecord]
    prices: Mapping[int, PriceRecord]
    on: date
    policy: str = "latest"


@dataclass(frozen=True)
class Question:
    """Something not known that a sum needs: the sentence that asks, and what it is about.

    about: "price", "density", "each", "brix", "lines", "stop", "cook loss", "finished weight",
        "evaporated", "minutes", "labour rate", "overhead rate" or "energy price".
    blocks: "cost" if only the cost is incomplete, "mass" if the finished mass cannot be told.
    name: of the ingredient or recipe it is about.
    """

    sentence: str
    about: str
    ingredient_id: int | None = None
    recipe_id: int | None = None
    blocks: str = "cost"
    name: str = ""


@dataclass(frozen=True)
class CostedLine:
    """A recipe line with its mass and its money.

    used_g: prepared mass that goes into the pan; None when it cannot be told. What is bought
        whole for a recipe that is weighed out goes in whole: the sieve takes stones and skins.
    purchased_g: mass to buy for it. cost: None when something is not known, here or below.
    per_kg_used: cost of one prepared kilo. natures: cost by nature, for preparations all five;
        what is known of it, so a lower bound where cost is None.
    """

    line: LineRecord
    name: str
    used_g: Decimal | None
    purchased_g: Decimal | None
    cost: Decimal | None
    per_kg_used: Decimal | None
    price: PriceRecord | None
    usable_pct: Decimal
    natures: Mapping[str, Decimal]
    pct_of_base: Decimal | None = None


@dataclass(frozen=True)
class MassBalance:
    """Where the mass goes: ingoing = evaporated + sieved out + residue + handling loss + finished.

    Exact to the last digit; masses are kept to a thousand-millionth of a gram.
    pot_g: food in the pan when the fire goes out, before anything sticks to it.
    finishing_brix: of the liquid phase; None where the cook does not tell it.
    reading_c: what this maker's thermometer shows then; rise_k: above boiling water.
    water_boils_c: true boiling point of water at the kitchen's altitude.
    reliability: "sound", "indicative" or "" where temperature tells nothing.
    cautions: sentences on the model's range or on what was assumed.
    """

    ingoing_g: Decimal
    evaporated_g: Decimal
    sieved_out_g: Decimal
    pan_residue_g: Decimal
    handling_loss_g: Decimal
    finished_g: Decimal
    pot_g: Decimal
    finishing_brix: Decimal | None = None
    total_solids_pct: Decimal | None = None
    rise_k: Decimal | None = None
    true_temperature_c: Decimal | None = None
    reading_c: Decimal | None = None
    water_boils_c: Decimal | None = None
    reliability: str = ""
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True)
class Solids:
    """What is not water in a mass of food; sucrose, hexose and acid make up the soluble part."""

    soluble_g: Decimal
    insoluble_g: Decimal
    sucrose_g: Decimal
    hexose_g: Decimal
    acid_g: Decimal


@dataclass(frozen=True)
class CostSheet:
    """The whole answer for one recipe on one day. With `questions`, totals are lower bounds.

    cost_per_kg_finished is None when the finished mass is not known.
    base_g: mass that percents of the base refer to. solids: of the finished mass, None when
        they cannot be told.
    """

    recipe: RecipeRecord
    on: date
    currency: str
    lines: tuple[CostedLine, ...]
    ingoing_g: Decimal | None
    balance: MassBalance | None
    breakdown: Mapping[str, Decimal]
    cost_total: Decimal
    cost_per_kg_finished: Decimal | None
    cost_per_kg_ingoing: Decimal | None
    energy_kwh: Decimal | None
    questions: tuple[Question, ...] = ()
    policy: str = "latest"
    base_g: Decimal | None = None
    solids: Solids | None = None

    @property
    def is_complete(self) -> bool:
        """Whether nothing that the cost needs is unknown."""
        return not self.questions

    @property
    def finished_g(self) -> Decimal | None:
        """Mass that can be sold or used on; None when it cannot be told."""
        return None if self.balance is None else self.balance.finished_g

    @property
    def unpriced(self) -> tuple[str, ...]:
        """Names of the ingredients without a price, here or in any preparation below."""
        names = dict.fromkeys(q.name for q in self.questions if q.about == "price")
        return tuple(names)
