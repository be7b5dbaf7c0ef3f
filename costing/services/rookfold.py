"""Rookfold Kitchen: who sells to it, what it buys, what it cooks and sells. All of it invented.

People, suppliers, places, prices, tax rates and specifications are made up; any likeness to a
real business is accidental. Food composition comes from the starter pantry, with its sources.
Dates are those of the season as it was written; loading shifts them all by the same number of days.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from types import MappingProxyType
from typing import Any

D = Decimal

LAST_DAY = date(2027, 12, 11)
"""The last market day of the season."""

INVENTED = "Invented for the demo kitchen."
WEIGHED = "Weighed in this kitchen (invented)."
REFRACTOMETER = "Read on this kitchen's refractometer (invented)."
SPECIFICATION = "Supplier's specification (invented)."

KITCHEN: Mapping[str, Any] = MappingProxyType({
    "trading_name": "Rookfold Kitchen",
    "address": "3 Rookfold Lane,\nCobblegate",
    "country": "IE",
    "currency": "EUR",
    "number_format": "en_IE",
    "label_language": "en",
    "paper_size": "A4",
    "is_tax_registered": True,
    "tax_recoverable_pct": D(100),
    "food_tax_pct": D(10),
    "altitude_m": D(240),
    "water_reading_c": D("99.4"),  # its thermometer shows 0.2 too much
    "labour_rate_per_h": D("15.00"),
    "overhead_rate_per_h": D("8.00"),
    "energy_price_per_kwh": D("0.28"),
    "hob_efficiency_pct": D(55),
    "start_temperature_c": D(15),
    "price_policy": "latest",
    "is_demo": True,
})  # fmt: skip

PEOPLE = (
    ("maud.fennimore", "Maud", "Fennimore", "owner"),
    ("idris.calloway", "Idris", "Calloway", "cook"),
    ("pim.hathersage", "Pim", "Hathersage", "stall_hand"),
    ("greta.osk", "Greta", "Osk", "accountant"),
)

# name, inside length, width and height of the rim in mm, how many there are
MOULDS = (
    ("Steel tray", D(310), D(210), D(40), 6),
    ("Long frame", D(600), D(120), D(35), 2),
)

# name, contact, minimum order, delivery charge
SUPPLIERS = (
    ("Hollowmere Orchard", "Collect at the barn, mornings.", None, None),
    ("Brackwater Growers", "Order by Tuesday for Friday.", D("30.00"), D("4.00")),
    ("Sable & Finch Cash-and-Carry", "Bring the trade card.", None, None),
    ("Costa Velada Citrus", "Boxes come in January.", D("40.00"), D("6.00")),
    ("Tansy Row Spice Loft", "Specifications by post.", D("25.00"), D("5.50")),
    ("Glimmerglass Packaging", "Jars by the tray.", D("100.00"), D("12.00")),
    ("Inkwell Lane Labels", "Plain label sheets.", None, D("3.50")),
)
ORCHARD, GROWERS, CASH_AND_CARRY, CITRUS, SPICES, GLASS, LABELS = (row[0] for row in SUPPLIERS)


@dataclass(frozen=True)
class Food:
    """A food of the kitchen: the pantry's composition, with this kitchen's own figures over it.

    own: field -> (value, where it comes from). allergens: "none" (free of all fourteen groups),
    "not known yet", or the groups it contains with the word to print, all others free.
    """

    name: str
    pantry: str = ""
    category: str = ""
    label_name: str = ""
    own: Mapping[str, tuple[Any, str]] = field(default_factory=dict)
    allergens: str | Mapping[str, str] = "none"
    note: str = ""


def _own(source: str, **figures: str) -> dict[str, tuple[Any, str]]:
    return {name: (D(value), source) for name, value in figures.items()}


_FRUIT = _own(INVENTED, sucrose_share="0.15", hexose_share="0.75", acid_share="0.10")
_SULPHITE_FREE = _own(SPECIFICATION, sulphite_mg_per_kg="0")

FOODS = (
    Food("Damsons", "damson", own=_own(WEIGHED, usable_pct="75"),
         note="Stones and skins stay in the sieve."),
    Food("Pears", "pear", own=_own(WEIGHED, usable_pct="76")),
    Food("Cooking apples", "apple", own=_own(WEIGHED, usable_pct="75")),
    Food("Plum tomatoes", "tomato", own=_own(WEIGHED, usable_pct="92")),
    Food("Onions", "onion", own=_own(WEIGHED, usable_pct="88")),
    Food("Bitter oranges", category="fruit", label_name="bitter oranges", note="Used whole.",
         own=_own("The whole fruit goes in (invented).", usable_pct="100")
         | _own("What boiling draws out of the whole fruit (invented).", brix="9")
         | _own("USDA SR28, record 09205, oranges with peel: 0.75 x fibre + 0.5 x protein + fat.",
                insoluble_pct="4.3")
         | _FRUIT | _SULPHITE_FREE),
    Food("Lemon juice, pressed", "lemon-juice", note="Bought as whole lemons: one gives 40 g.",
         own=_own(WEIGHED, each_g="40") | _own(REFRACTOMETER, brix="9") | _SULPHITE_FREE),
    Food("Lemons, whole", "lemon", note="The same box as for the juice: one weighs 120 g.",
         own=_own(WEIGHED, each_g="120", usable_pct="100")
         | _own("What the juice of one, 40 g of 9 Brix, brings in 120 g (invented).", brix="3")),
    Food("White sugar", "sugar-white", own=_SULPHITE_FREE),
    Food("Cider vinegar", "vinegar-cider",
         own=_own(SPECIFICATION, density_kg_per_l="1.01") | _SULPHITE_FREE),
    Food("Golden sultanas", "sultanas-golden", allergens={"sulphites": "sulphur dioxide"},
         own=_own(SPECIFICATION, sulphite_mg_per_kg="500"), note="Sulphited."),
    Food("Fine salt", "salt"),
    Food("Mustard seed", "mustard-seed", allergens={"mustard": "mustard"}, own=_SULPHITE_FREE),
    Food("Ground ginger", "ginger-ground", own=_SULPHITE_FREE),
    Food("Cinnamon", "cinnamon", own=_SULPHITE_FREE),
    Food("Cloves", "cloves", own=_SULPHITE_FREE),
    # Left open on purpose, so that there is something to do first: the supplier has not answered.
    Food("Star anise", "star-anise", allergens="not known yet",
         note="The spice loft has not answered about allergens and sulphites. Ask again."),
    Food("Water", "water"),
)  # fmt: skip

PACKAGING = (
    "Jar, 212 ml", "Jar, 282 ml", "Lid", "Label, one of a sheet of 21", "Ink for one label",
    "Paste wrap", "Tamper dot", "Card tray for a piece",
)  # fmt: skip
JAR_212, JAR_282, LID, LABEL, INK, WRAP, DOT, TRAY = PACKAGING

# item, supplier, pack as written, price of the pack without tax, valid from, remark
PRICES = (
    ("Damsons", ORCHARD, "1 crate of 10 kg", "18.00", date(2027, 9, 1), ""),
    ("Damsons", ORCHARD, "1 crate of 10 kg", "22.00", date(2027, 9, 15), "End of the glut."),
    ("Pears", ORCHARD, "1 tray of 12 kg", "15.60", date(2027, 9, 20), ""),
    ("Cooking apples", ORCHARD, "1 tray of 13 kg", "14.30", date(2027, 8, 10), ""),
    ("Plum tomatoes", GROWERS, "1 tray of 6 kg", "8.10", date(2027, 8, 15), ""),
    ("Onions", GROWERS, "1 net of 10 kg", "7.50", date(2027, 1, 1), ""),
    ("Bitter oranges", CITRUS, "1 box of 15 kg", "24.00", date(2027, 1, 10), ""),
    ("Lemon juice, pressed", CITRUS, "1 box of 40 each", "12.00", date(2027, 1, 10),
     "The same box as the whole lemons."),
    ("Lemons, whole", CITRUS, "1 box of 40 each", "12.00", date(2027, 1, 10), ""),
    ("White sugar", CASH_AND_CARRY, "1 sack of 25 kg", "23.75", date(2027, 1, 1), ""),
    ("White sugar", CASH_AND_CARRY, "1 sack of 25 kg", "29.75", date(2027, 9, 15), "Dearer."),
    ("Cider vinegar", CASH_AND_CARRY, "5 l", "9.25", date(2027, 1, 1), ""),
    ("Fine salt", CASH_AND_CARRY, "1 bag of 1 kg", "0.80", date(2027, 1, 1), ""),
    ("Golden sultanas", SPICES, "1 box of 12.5 kg", "41.25", date(2027, 8, 1), ""),
    ("Mustard seed", SPICES, "1 bag of 0.5 kg", "3.90", date(2027, 1, 1), ""),
    ("Ground ginger", SPICES, "1 bag of 0.5 kg", "6.40", date(2027, 1, 1), ""),
    ("Cinnamon", SPICES, "1 bag of 0.25 kg", "4.20", date(2027, 1, 1), ""),
    ("Cloves", SPICES, "1 bag of 0.1 kg", "3.60", date(2027, 1, 1), ""),
    ("Star anise", SPICES, "1 bag of 0.2 kg", "5.00", date(2027, 1, 1), ""),
    (JAR_212, GLASS, "60 each", "21.60", date(2027, 1, 1), ""),
    (JAR_282, GLASS, "60 each", "25.20", date(2027, 1, 1), ""),
    (LID, GLASS, "500 each", "45.00", date(2027, 1, 1), ""),
    (LABEL, LABELS, "100 x 21 each", "28.00", date(2027, 1, 1), "100 sheets."),
    (INK, LABELS, "1000 each", "10.00", date(2027, 1, 1), "One cartridge."),
    (WRAP, GLASS, "1000 each", "38.00", date(2027, 1, 1), ""),
    (DOT, GLASS, "1000 each", "4.00", date(2027, 1, 1), ""),
    (TRAY, GLASS, "100 each", "2.00", date(2027, 1, 1), ""),
)  # fmt: skip


@dataclass(frozen=True)
class Line:
    """One line: of a food or of a preparation, by its name."""

    of: str
    amount: str
    unit: str = "kg"
    is_base: bool = False
    state: str = "prepared"


@dataclass(frozen=True)
class Dish:
    """A recipe and how it is cooked. `cook` holds columns of a recipe version."""

    name: str
    kind: str
    lines: tuple[Line, ...]
    cook: Mapping[str, Any]
    label_name: str = ""
    on_label: str = "merged"


def _whole(of: str, kg: str) -> Line:
    """Fruit that goes into the pan as bought, stones and skins with it."""
    return Line(of, kg, state="as purchased")


def _puree(
    fruit: str, kg: str, *, water_kg: str, out_kg: str, steam_kg: str, minutes: int, brix: str
) -> Dish:
    one = fruit.lower().removeprefix("cooking ").removesuffix("s")
    return Dish(
        name=f"{one.capitalize()} puree",
        kind="preparation",
        label_name=f"{one} puree",
        on_label="one name",
        lines=(_whole(fruit, kg), Line("Water", water_kg)),
        cook={
            "cook_kind": "weighed out",
            "finished_g": D(out_kg) * 1000,
            "evaporated_g": D(steam_kg) * 1000,
            "measured_brix": D(brix),
            "attended_minutes": D(minutes),
            "method": f"Cook the {fruit.lower()} soft in the water with the lid on, sieve them hot "
            "and weigh what came through. Freeze in 3 kg boxes with the date and the lot.",
        },
    )


HOT = (
    " Boiling paste spits and burns deep: long sleeves, a deep pan, no child near, and never "
    "taste from the pan."
)
DISHES = (
    _puree("Damsons", "24", water_kg="2.4", out_kg="18", steam_kg="1.2", minutes=90, brix="12.5"),
    _puree("Cooking apples", "20", water_kg="2", out_kg="15", steam_kg="1", minutes=75,
           brix="11.5"),
    _puree("Pears", "20", water_kg="1", out_kg="15.2", steam_kg="0.8", minutes=75, brix="13"),
    Dish(
        "Spice mix", "preparation",
        (Line("Cinnamon", "0.5"), Line("Ground ginger", "0.3"), Line("Cloves", "0.1"),
         Line("Star anise", "0.1")),
        {"cook_kind": "no cook", "is_heated": False, "attended_minutes": D(15),
         "method": "Grind the cloves and the star anise, sieve, and mix with the rest."},
        label_name="spice mix",
    ),
    Dish(
        "Damson cheese", "fruit paste",
        (Line("Damson puree", "100", "%", is_base=True), Line("White sugar", "90", "%"),
         Line("Lemon juice, pressed", "2", "%")),
        {"cook_kind": "boil down", "stop_form": "brix", "stop_value": D(67), "base_g": D(9000),
         "base_name": "damson puree", "pan_residue_pct": D("3.5"), "attended_minutes": D(150),
         "method": "Warm the puree, stir the sugar in until it is gone, boil down scraping all the "
         "time, check the Brix on a cooled drop, pour 20 mm deep into lined trays and leave to dry "
         "for two days before cutting." + HOT},
    ),
    Dish(
        "Spiced pear and apple paste", "fruit paste",
        (Line("Pear puree", "60", "%", is_base=True), Line("Apple puree", "40", "%", is_base=True),
         Line("White sugar", "75", "%"), Line("Lemon juice, pressed", "3", "%"),
         Line("Spice mix", "0.5", "%")),
        {"cook_kind": "boil down", "stop_form": "brix", "stop_value": D(66), "base_g": D(10000),
         "base_name": "pear and apple puree", "pan_residue_pct": D(4), "attended_minutes": D(165),
         "method": "As the damson cheese; the spice goes in for the last ten minutes. Measure the "
         "pH: pears alone are low in acid, the lemon is there for that." + HOT},
    ),
    Dish(
        "Tomato chutney", "chutney",
        (Line("Plum tomatoes", "18"), Line("Onions", "6"), Line("Apple puree", "3"),
         Line("White sugar", "4.5"), Line("Cider vinegar", "4", "l"), Line("Golden sultanas", "2"),
         Line("Fine salt", "0.25"), Line("Mustard seed", "0.10"), Line("Ground ginger", "0.05")),
        {"cook_kind": "cook loss", "cook_loss_pct": D(38), "pan_residue_pct": D("2.5"),
         "attended_minutes": D(270),
         "method": "Everything but the sultanas and half the vinegar from cold; those for the last "
         "half hour. It is done when the weight is down by 38 %. Cool a sample and measure the pH "
         "with a calibrated meter: not above 4.0, or do not sell it. Fill at 85 °C or more." + HOT},
    ),
    Dish(
        "Seville-style marmalade", "marmalade",
        (Line("Bitter oranges", "10"), Line("Water", "20"), Line("White sugar", "20"),
         Line("Lemons, whole", "8", "each")),
        {"cook_kind": "boil down", "stop_form": "brix", "stop_value": D(66),
         "pan_residue_pct": D(3), "attended_minutes": D(300),
         "method": "Simmer the fruit whole until a skewer goes in, cut, add the sugar, boil fast. "
         "Check the Brix on a cooled drop and the set on a cold plate. Fill at 85 °C or more."
         + HOT},
    ),
)  # fmt: skip


@dataclass(frozen=True)
class Good:
    """A product: what it is made of, what it is packed in, and the prices decided for it.

    packing: item -> share spoilt [%].
    """

    name: str
    dish: str
    form: str
    net_g: str
    fill_g: str
    minutes: str
    stall: str
    wholesale: str
    margin_pct: str
    packing: Mapping[str, str]


_JAR_PARTS = {LID: "2", LABEL: "5", INK: "5", DOT: "0"}
_PIECE_PARTS = {WRAP: "3", LABEL: "5", INK: "5", TRAY: "0"}

GOODS = (
    Good("Damson cheese, 100 g piece", "Damson cheese", "piece", "100", "103.5", "0.60",
         "3.00", "1.90", "50", _PIECE_PARTS),
    Good("Spiced pear and apple paste, 100 g piece", "Spiced pear and apple paste", "piece",
         "100", "103.5", "0.60", "3.20", "2.00", "50", _PIECE_PARTS),
    Good("Tomato chutney, 230 g jar", "Tomato chutney", "jar", "230", "232", "0.75",
         "5.00", "3.20", "45", {JAR_212: "2", **_JAR_PARTS}),
    Good("Seville-style marmalade, 340 g jar", "Seville-style marmalade", "jar", "340", "342",
         "0.75", "5.20", "3.40", "45", {JAR_282: "2", **_JAR_PARTS}),
)  # fmt: skip
