"""Labels in the European Union: Regulation (EU) No 1169/2011, prepacked food, general rules."""

from types import ModuleType

from labels.law.eu import (
    allergens,
    claims,
    cross_contact,
    durability,
    ingredient_rules,
    jam_rules,
    language,
    legibility,
    lots,
    names,
    net_quantity,
    nutrition,
    nutrition_claims,
    operator,
    origin,
    quid,
    reach,
    small_packs,
    storage,
    ways_of_sale,
)
from labels.law.eu import particulars as statements
from labels.law.eu.legibility import minimum_x_height_mm
from labels.law.eu.particulars import particulars
from labels.rulebook import Rule

__all__ = ["NOT_CHECKED", "RULES", "minimum_x_height_mm", "particulars"]


def _rules_of(*modules: ModuleType) -> tuple[Rule, ...]:
    return tuple(
        each for module in modules for each in vars(module).values() if isinstance(each, Rule)
    )


RULES = _rules_of(
    names, jam_rules, statements, ingredient_rules, allergens, cross_contact, quid, net_quantity,
    durability, lots, storage, operator, origin, nutrition, nutrition_claims, claims,
    small_packs, legibility, language, ways_of_sale, reach,
)  # fmt: skip

NOT_CHECKED = (
    "Whether jam has set: the directive asks for a suitable gelled consistency.",
    "Whether fruit was sound, ripe and treated only in the ways the jam directive allows.",
    "National acts on the jam names, but for the few countries whose rows were read.",
    "The rules of other acts on reserved names: chocolate, honey, fruit juice, dairy words.",
    "Whether the values behind a nutrition declaration are true of your own ingredients.",
    "Whether an ingredient is pictured, stressed or usually linked with the name: only you know.",
    "The alcoholic strength of drinks, and the drained weight of solids in a liquid.",
    "Words such as “natural” or “homemade”, and figures behind claims but of sugars and fibre.",
    "Whether an additive is allowed in this food, and how much of it.",
    "The extra words of Annex III, such as those for sweeteners, liquorice or packaging gases.",
    "Whether a recorded look at cross-contact was thorough: this tool only asks that it was taken.",
    "Whether the food keeps as long as the label says, and whether it needs a use-by date.",
    "National rules: language, food sold loose or packed where it is sold, small local producers.",
    "What a shop on the internet must show before the sale is closed.",
    "Whether the packs really hold the weight, and the records a packer must keep.",
    "Organic, protected-origin and other quality marks.",
    "This tool sets out and checks text; it certifies nothing. The local authority decides.",
)
