"""Rookfold Kitchen at the stove: its pans and one season of cooks. All of it invented.

People, deliveries, lots and what was read are made up. What was read fits together: pot weights
are the sugar and fruit that went in at the Brix read in the end, by this program's own solids
balance, give or take half a percent as scales and refractometers do; temperatures are the boiling
point of that Brix under the boiling water of the day, give or take 0.2 K; net is the pot less what
stuck to the pan. From about 58 Brix the fire is turned down to 40 %, and water goes so much slower:
the minutes of the weights say so. The kitchen's habits differ a little from the figures it once
entered (less comes through the sieve, less sticks, more water goes in a minute), so that there is
something to learn.
Days are those of the season as it was written; loading shifts them all by the same number of days.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, time
from decimal import Decimal
from types import MappingProxyType

from costing.services.rookfold import CASH_AND_CARRY, CITRUS, GROWERS, ORCHARD, SPICES

IDRIS, MAUD = "idris.calloway", "maud.fennimore"
COPPER, PLATFORM, STOCKPOT = "Copper pan, 36 l", "Platform pan, 100 l", "Stockpot, 80 l"

# As measured once, on the day each pan was bought.
PANS: Mapping[str, Mapping[str, str]] = MappingProxyType({
    COPPER: {"tare_g": "4150", "diameter_cm": "44", "capacity_l": "36", "residue_g": "490",
             "evaporation_g_per_min": "88"},
    PLATFORM: {"tare_g": "14600", "diameter_cm": "62", "capacity_l": "100", "residue_g": "980",
               "evaporation_g_per_min": "155"},
    STOCKPOT: {"tare_g": "9300", "diameter_cm": "50", "capacity_l": "80", "residue_g": "600",
               "evaporation_g_per_min": "55"},
})  # fmt: skip


@dataclass(frozen=True)
class Filled:
    """What went into a pan for one line: of a supplier's lot, or of a batch by its key."""

    of: str
    kg: str
    supplier: str = ""
    lot: str = ""
    batch: str = ""


@dataclass(frozen=True)
class Cook:
    """One pan. readings: (minutes after the start, kind, value): grams with the pan, C, Brix.

    corrected: reading by its place -> (the right value, why). end: what was measured when done.
    units: product -> how many; kept: what -> kg. minutes: until it was filled or poured.
    trays: how many of TRAY a paste was poured into.
    """

    key: str
    dish: str
    day: date
    at: time
    minutes: int
    by: str
    pan: str
    inputs: tuple[Filled, ...]
    water_c: str = ""
    readings: tuple[tuple[int, str, str], ...] = ()
    end: Mapping[str, str] = field(default_factory=dict)
    units: tuple[tuple[str, int], ...] = ()
    kept: tuple[tuple[str, str], ...] = ()
    words: Mapping[str, str] = field(default_factory=dict)
    corrected: Mapping[int, tuple[str, str]] = field(default_factory=dict)
    given_up: str = ""
    trays: int = 0


TRAY = "Steel tray"
PIECE, PEAR_PIECE = "Damson cheese, 100 g piece", "Spiced pear and apple paste, 100 g piece"
CHUTNEY_JAR, MARMALADE_JAR = "Tomato chutney, 230 g jar", "Seville-style marmalade, 340 g jar"


def _puree(  # noqa: PLR0913 - a row of a table
    key: str,
    fruit: str,
    day: date,
    kg: str,
    water_kg: str,
    lot: str,
    *,
    net_kg: str,
    brix: str,
    ph: str,
    minutes: int,
    deviations: str = "",
) -> Cook:
    one = {"Damsons": "Damson", "Cooking apples": "Apple", "Pears": "Pear"}[fruit]
    return Cook(
        key, f"{one} puree", day, time(14, 20), minutes, IDRIS, PLATFORM,
        (Filled(fruit, kg, ORCHARD, lot), Filled("Water", water_kg)),
        end={"net_g": f"{Decimal(net_kg) * 1000:.0f}", "end_brix": brix, "ph": ph},
        kept=(("boxes in the freezer", net_kg),),
        words={"deviations": deviations},
    )  # fmt: skip


def _damsons(*boxes: tuple[str, str], sugar: str, lemons: str) -> tuple[Filled, ...]:
    return (
        *(Filled("Damson puree", kg, batch=batch) for batch, kg in boxes),
        Filled("White sugar", "8.1", CASH_AND_CARRY, sugar),
        Filled("Lemon juice, pressed", "0.18", CITRUS, lemons),
    )


def _pears(
    pear: str, apple: str, sugar: str = "SF-0916", lemons: str = "CV-204"
) -> tuple[Filled, ...]:
    return (
        Filled("Pear puree", "6", batch=pear),
        Filled("Apple puree", "4", batch=apple),
        Filled("White sugar", "7.5", CASH_AND_CARRY, sugar),
        Filled("Lemon juice, pressed", "0.3", CITRUS, lemons),
        Filled("Spice mix", "0.05"),
    )


def _chutney(tomatoes: str, tomatoes_kg: str, apple: str) -> tuple[Filled, ...]:
    return (
        Filled("Plum tomatoes", tomatoes_kg, GROWERS, tomatoes),
        Filled("Onions", "6", GROWERS, "BW-77"),
        Filled("Apple puree", "3", batch=apple),
        Filled("White sugar", "4.5", CASH_AND_CARRY, "SF-0816"),
        Filled("Cider vinegar", "4.04", CASH_AND_CARRY, "SF-V22"),
        Filled("Golden sultanas", "2", SPICES, "TRS-4471"),
    )


def _oranges(lot: str, sugar: str = "SF-0115") -> tuple[Filled, ...]:
    return (
        Filled("Bitter oranges", "10", CITRUS, lot),
        Filled("Water", "20"),
        Filled("White sugar", "20", CASH_AND_CARRY, sugar),
        Filled("Lemons, whole", "0.96", CITRUS, "CV-119"),
    )


# The weights, Brix and dates of the first pan of each kind are the season's as it was first
# written down; the others, and every reading on the way, were added later.
COOKS: tuple[Cook, ...] = (
    Cook(
        "SM-1", "Seville-style marmalade", date(2027, 1, 23), time(8, 30), 289, MAUD, PLATFORM,
        _oranges("CV-118"), "99.6",
        ((165, "weight", "56100"), (193, "weight", "51530"), (194, "temperature", "102.6"),
         (257, "temperature", "104.5"), (259, "weight", "46980"), (261, "brix", "66.4"),),
        {"pot_g": "32380", "net_g": "31540", "end_brix": "66.4", "end_reading_c": "104.5",
         "ph": "3.1", "fill_c": "88"},
        ((MARMALADE_JAR, 92),), (("tasting jar", "0.076"),),
        words={"texture": "Sets in ten minutes, soft peel"},
    ),
    Cook(
        "SM-2", "Seville-style marmalade", date(2027, 2, 6), time(8, 30), 281, MAUD, PLATFORM,
        _oranges("CV-131"), "99.2",
        ((165, "weight", "55720"), (190, "weight", "51560"), (191, "temperature", "102.4"),
         (249, "temperature", "103.6"), (251, "weight", "47400"), (253, "brix", "65.2"),),
        {"pot_g": "32800", "net_g": "32005", "end_brix": "65.2", "end_reading_c": "103.6",
         "ph": "3.1", "fill_c": "87"},
        ((MARMALADE_JAR, 93),), (("tasting jar", "0.199"),),
        words={"texture": "A little loose",
         "deviations": "Taken off at 65.2 because it was late."},
    ),
    _puree("QA-1", "Cooking apples", date(2027, 8, 20), "20", "2", "HO-A1", net_kg="14.80",
 brix="11.5",
           ph="3.4", minutes=78),
    Cook(
        "TC-1", "Tomato chutney", date(2027, 8, 21), time(8, 0), 287, IDRIS, STOCKPOT,
        _chutney("BW-81", "18", "QA-1"), "99.3",
        ((225, "weight", "35000"), (263, "weight", "32710"),),
        {"pot_g": "23410", "net_g": "22865", "ph": "3.7", "fill_c": "89"},
        ((CHUTNEY_JAR, 98),), (("tasting jar", "0.129"),),
        words={"taste": "Sharp; wants six weeks"},
    ),
    Cook(
        "TC-2", "Tomato chutney", date(2027, 8, 28), time(8, 0), 287, IDRIS, STOCKPOT,
        _chutney("BW-86", "18", "QA-1"), "99.4",
        ((225, "weight", "35400"), (263, "weight", "33130"),),
        {"pot_g": "23830", "net_g": "23270", "ph": "3.8", "fill_c": "90"},
        ((CHUTNEY_JAR, 100),), (("tasting jar", "0.070"),),
        words={"deviations": "Tomatoes riper and wetter; stopped a little early."},
    ),
    _puree("QA-2", "Cooking apples", date(2027, 8, 31), "20", "2", "HO-A2", net_kg="14.56",
 brix="11.9",
           ph="3.4", minutes=74),
    _puree("QD-1", "Damsons", date(2027, 9, 4), "24", "2.4", "HO-D1", net_kg="17.70", brix="12.6",
           ph="3.1", minutes=92),
    Cook(
        "DC-1", "Damson cheese", date(2027, 9, 5), time(9, 10), 142, IDRIS, COPPER,
        _damsons(("QD-1", "9"), sugar="SF-0816", lemons="CV-204"), "99.4",
        ((38, "weight", "21360"), (71, "weight", "19550"), (72, "temperature", "103.1"),
         (102, "temperature", "104.6"), (104, "weight", "18260"), (106, "brix", "67.1"),),
        {"pot_g": "14110", "net_g": "13695", "end_brix": "67.1", "end_reading_c": "104.6",
         "ph": "3.1"},
        trays=6, units=((PIECE, 110),), kept=(("ends", "1.04"), ("tray of offcuts", "1.2700")),
        words={"texture": "Cuts clean", "taste": "Sharp, dark"},
    ),
    _puree("QD-2", "Damsons", date(2027, 9, 7), "24", "2.4", "HO-D1b", net_kg="17.52", brix="13.0",
           ph="3.1", minutes=88),
    Cook(
        "DC-2", "Damson cheese", date(2027, 9, 8), time(9, 10), 139, IDRIS, COPPER,
        _damsons(("QD-1", "8.7"), ("QD-2", "0.3"), sugar="SF-0816", lemons="CV-204"), "99.6",
        ((38, "weight", "21360"), (70, "weight", "15380"), (71, "temperature", "103.6"),
         (99, "temperature", "104.5"), (101, "weight", "18300"), (103, "brix", "66.6"),),
        {"pot_g": "14150", "net_g": "13755", "end_brix": "66.6", "end_reading_c": "104.5",
         "ph": "3.1"},
        trays=6, units=((PIECE, 110),), kept=(("ends", "1.07"), ("tray of offcuts", "1.3000")),
        words={"texture": "Cuts clean"},
        corrected={1: ("19530", "Written down without the pan.")},
    ),
    _puree("QD-3", "Damsons", date(2027, 9, 11), "24", "2.4", "HO-D1c", net_kg="17.60",
 brix="12.8",
           ph="3.2", minutes=90),
    Cook(
        "DC-3", "Damson cheese", date(2027, 9, 12), time(9, 10), 143, MAUD, COPPER,
        _damsons(("QD-2", "9"), sugar="SF-0816", lemons="CV-204"), "99.3",
        ((38, "weight", "21360"), (72, "weight", "19510"), (73, "temperature", "103.2"),
         (103, "temperature", "104.7"), (105, "weight", "18230"), (107, "brix", "67.4"),),
        {"pot_g": "14080", "net_g": "13650", "end_brix": "67.4", "end_reading_c": "104.7",
         "ph": "3.1"},
        trays=6, units=((PIECE, 110),), kept=(("ends", "1.02"), ("tray of offcuts", "1.2450")),
        words={"texture": "Firm"},
    ),
    _puree("QA-3", "Cooking apples", date(2027, 9, 14), "20", "2", "HO-A3", net_kg="11.20",
 brix="11.8",
           ph="3.4", minutes=76,
           deviations="A box of 3.4 kg went to the neighbour before it was weighed."),
    _puree("QD-4", "Damsons", date(2027, 9, 18), "24", "2.4", "HO-D2", net_kg="17.76", brix="12.9",
           ph="3.1", minutes=90),
    Cook(
        "DC-4", "Damson cheese", date(2027, 9, 19), time(9, 10), 158, IDRIS, COPPER,
        _damsons(("QD-2", "8.2"), ("QD-4", "0.8"), sugar="SF-0816", lemons="CV-204"), "99.5",
        ((38, "weight", "21360"), (81, "weight", "19020"), (82, "temperature", "103.9"),
         (118, "temperature", "106.2"), (120, "weight", "17380"), (122, "brix", "71.8"),),
        {"pot_g": "13230", "net_g": "12790", "end_brix": "71.8", "end_reading_c": "106.2",
         "ph": "3.1"},
        trays=6, units=((PIECE, 103),), kept=(("ends", "0.96"), ("tray of offcuts", "1.1695")),
        words={"texture": "Hard, chewy", "taste": "Caramel at the edge",
         "deviations": "Over-boiled: called to the door at the end. "
               "Kept as a firmer cheese; it weighs less."},
    ),
    _puree("QD-5", "Damsons", date(2027, 9, 24), "24", "2.4", "HO-D3", net_kg="17.45", brix="13.1",
           ph="3.1", minutes=86),
    Cook(
        "DC-5", "Damson cheese", date(2027, 10, 2), time(9, 10), 141, IDRIS, COPPER,
        _damsons(("QD-3", "9"), sugar="SF-0916", lemons="CV-204"), "99.4",
        ((38, "weight", "21360"), (59, "weight", "19990"),),
        given_up="Caught on the bottom and burnt while nobody stirred; 13 kg thrown away.",
    ),
    _puree("QA-4", "Cooking apples", date(2027, 10, 6), "20", "2", "HO-A4", net_kg="14.62",
 brix="12.0",
           ph="3.3", minutes=75),
    _puree("QP-1", "Pears", date(2027, 10, 8), "20", "1", "HO-P1", net_kg="15.00", brix="13.2",
           ph="3.8", minutes=76),
    Cook(
        "PA-1", "Spiced pear and apple paste", date(2027, 10, 9), time(9, 20), 166, IDRIS, COPPER,
        _pears("QP-1", "QA-1"), "99.3",
        ((53, "weight", "21930"), (83, "weight", "19490"), (84, "temperature", "102.6"),
         (124, "temperature", "104.1"), (126, "weight", "17850"), (128, "brix", "66.1"),),
        {"pot_g": "13700", "net_g": "13230", "end_brix": "66.1", "end_reading_c": "104.1",
         "ph": "3.5"},
        trays=6, units=((PEAR_PIECE, 106),), kept=(("ends", "1.02"), ("tray of offcuts", "1.2390")),
        words={"texture": "Cuts clean"},
    ),
    _puree("QP-2", "Pears", date(2027, 10, 14), "20", "1", "HO-P2", net_kg="14.86", brix="13.4",
           ph="3.9", minutes=74),
    Cook(
        "PA-2", "Spiced pear and apple paste", date(2027, 10, 16), time(9, 20), 166, IDRIS, COPPER,
        _pears("QP-1", "QA-2"), "99.5",
        ((53, "weight", "21930"), (83, "weight", "19400"), (84, "temperature", "103.1"),
         (124, "temperature", "104.6"), (126, "weight", "17720"), (128, "brix", "66.6"),),
        {"pot_g": "13570", "net_g": "13125", "end_brix": "66.6", "end_reading_c": "104.6",
         "ph": "3.5"},
        trays=6, units=((PEAR_PIECE, 105),), kept=(("ends", "1.02"), ("tray of offcuts", "1.2375")),
        words={"texture": "Cuts clean, a little grainy"},
    ),
    Cook(
        "PA-3", "Spiced pear and apple paste", date(2027, 10, 23), time(9, 20), 165, IDRIS, COPPER,
        _pears("QP-2", "QA-2"), "99.6",
        ((53, "weight", "21930"), (82, "weight", "19560"), (83, "temperature", "103.0"),
         (123, "temperature", "104.3"), (125, "weight", "17940"), (127, "brix", "65.8"),),
        {"pot_g": "13790", "net_g": "13335", "end_brix": "65.8", "end_reading_c": "104.3",
         "ph": "3.5"},
        trays=6, units=((PEAR_PIECE, 107),), kept=(("ends", "1.02"), ("tray of offcuts", "1.2405")),
        words={"texture": "Soft for two days, then right"},
    ),
    Cook(
        "DC-6", "Damson cheese", date(2027, 10, 30), time(9, 10), 140, IDRIS, COPPER,
        _damsons(("QD-3", "8.6"), ("QD-4", "0.4"), sugar="SF-1020", lemons="CV-204"), "99.2",
        ((38, "weight", "21360"), (70, "weight", "19520"), (71, "temperature", "103.1"),
         (100, "temperature", "104.3"), (102, "weight", "18270"), (104, "brix", "66.9"),),
        {"pot_g": "14120", "net_g": "13715", "end_brix": "66.9", "end_reading_c": "104.3",
         "ph": "3.1"},
        trays=6, units=((PIECE, 110),), kept=(("ends", "1.05"), ("tray of offcuts", "1.2800")),
        words={"texture": "Cuts clean"},
    ),
    Cook(
        "PA-4", "Spiced pear and apple paste", date(2027, 11, 6), time(9, 20), 165, IDRIS, COPPER,
        _pears("QP-2", "QA-4", sugar="SF-1020", lemons="CV-231"), "99.1",
        ((53, "weight", "21930"), (83, "weight", "19500"), (84, "temperature", "102.6"),
         (123, "temperature", "104.1"), (125, "weight", "17830"), (127, "brix", "66.3"),),
        {"pot_g": "13680", "net_g": "13215", "end_brix": "66.3", "end_reading_c": "104.1",
         "ph": "3.4"},
        trays=6, units=((PEAR_PIECE, 106),), kept=(("ends", "1.01"), ("tray of offcuts", "1.2340")),
        words={"texture": "Cuts clean"},
    ),
    Cook(
        "DC-7", "Damson cheese", date(2027, 12, 4), time(9, 10), 140, IDRIS, COPPER,
        _damsons(("QD-4", "7"), ("QD-5", "2"), sugar="SF-1020", lemons="CV-231"), "99.3",
        ((38, "weight", "21360"), (70, "weight", "19590"), (71, "temperature", "103.0"),
         (100, "temperature", "104.4"), (102, "weight", "18340"), (104, "brix", "66.8"),),
        {"pot_g": "14190", "net_g": "13792", "end_brix": "66.8", "end_reading_c": "104.4",
         "ph": "3.1"},
        trays=6, units=((PIECE, 111),), kept=(("ends", "1.04"), ("tray of offcuts", "1.2635")),
        words={"texture": "Cuts clean", "taste": "The best of the year"},
    ),
)  # fmt: skip


ON_THE_FIRE = Cook(
    "DC-8", "Damson cheese", date(2027, 12, 16), time(9, 10), 100, IDRIS, COPPER,
    _damsons(("QD-5", "9"), sugar="SF-1020", lemons="CV-231"), "99.4",
    ((43, "weight", "21360"), (64, "weight", "19990"), (83, "weight", "19240"),
     (84, "temperature", "103.4"), (85, "brix", "63.1"),),
)  # fmt: skip
