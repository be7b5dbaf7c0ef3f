"""The acts that speak in Great Britain, with their official addresses, nation by nation.

Food labelling and composition are devolved: England, Wales and Scotland each have their own
instrument beside the assimilated regulation. Weights and measures and price marking are not.
"""

from dataclasses import dataclass
from datetime import date

from labels.facts import Act, Citation, LabelFacts

_LEG = "https://www.legislation.gov.uk"

FIC = Act("Assimilated Regulation (EU) No 1169/2011", f"{_LEG}/eur/2011/1169/contents")
FIC_APPLIES = date(2014, 12, 13)
NUTRITION_APPLIES = date(2016, 12, 13)
# Art. 8(1) asks for the British Islands since the end of the transition period; addresses in the
# Union were accepted to 31 December 2023 (official advice as restated by law firms, second-hand).
BRITISH_ADDRESS_APPLIES = date(2024, 1, 1)

ORIGIN_REG = Act("Assimilated Regulation (EU) 2018/775", f"{_LEG}/eur/2018/775/contents")
ORIGIN_APPLIES = date(2020, 4, 1)
CLAIMS_REG = Act("Assimilated Regulation (EC) No 1924/2006", f"{_LEG}/eur/2006/1924/contents")
EXIT_SI = Act("SI 2021/632", f"{_LEG}/uksi/2021/632/contents")

LOT_REGS = Act("Food (Lot Marking) Regulations 1996, SI 1996/1502", f"{_LEG}/uksi/1996/1502")
LOT_APPLIES = date(1996, 7, 1)

PGR = Act(
    "Weights and Measures (Packaged Goods) Regulations 2006, SI 2006/659",
    f"{_LEG}/uksi/2006/659/contents",
)
PGR_APPLIES = date(2006, 4, 6)

PMO = Act("Price Marking Order 2004, SI 2004/102", f"{_LEG}/uksi/2004/102/contents")
PMO_APPLIES = date(2004, 7, 22)
PMO_2024 = Act("Price Marking (Amendment) Order 2024, SI 2024/1055", f"{_LEG}/uksi/2024/1055")
PMO_2025 = Act("Price Marking (Amendment) Order 2025, SI 2025/592", f"{_LEG}/uksi/2025/592")
# SI 2024/1055 was made for 1 October 2025; SI 2025/592, art. 2(2) moved it.
PMO_2024_APPLIES = date(2026, 4, 6)

# Full list on food packed for direct sale: the same day in each nation.
DIRECT_SALE_LIST_APPLIES = date(2021, 10, 1)

# Acts that reserve names. They are named so that the maker can ask; their rules are not checked.
CHOCOLATE_REGS = Act("Cocoa and Chocolate Products Regulations 2003", f"{_LEG}/uksi/2003/1659")
HONEY_REGS = Act("Honey (England) Regulations 2015", f"{_LEG}/uksi/2015/1348")
JUICE_REGS = Act("Fruit Juices and Fruit Nectars Regulations 2013", f"{_LEG}/uksi/2013/2775")
MARKETS_REG = Act("Assimilated Regulation (EU) No 1308/2013", f"{_LEG}/eur/2013/1308/contents")


@dataclass(frozen=True)
class Nation:
    """One of the three nations: its name and its own instruments."""

    name: str
    food_information: Act
    direct_sale: Act
    jam: Act
    jam_applies: date


NATIONS = {
    "gb-eng": Nation(
        "England",
        Act("Food Information Regulations 2014, SI 2014/1855", f"{_LEG}/uksi/2014/1855"),
        Act("SI 2019/1218", f"{_LEG}/uksi/2019/1218"),
        Act("Jam and Similar Products (England) Regulations 2003, SI 2003/3120",
            f"{_LEG}/uksi/2003/3120"),
        date(2003, 12, 31),
    ),
    "gb-wls": Nation(
        "Wales",
        Act("Food Information (Wales) Regulations 2014, WSI 2014/2303", f"{_LEG}/wsi/2014/2303"),
        Act("WSI 2020/295", f"{_LEG}/wsi/2020/295"),
        Act("Jam and Similar Products (Wales) Regulations 2018, WSI 2018/274",
            f"{_LEG}/wsi/2018/274"),
        date(2018, 3, 26),
    ),
    "gb-sct": Nation(
        "Scotland",
        Act("Food Information (Scotland) Regulations 2014, SSI 2014/312", f"{_LEG}/ssi/2014/312"),
        Act("SSI 2021/70", f"{_LEG}/ssi/2021/70"),
        Act("Jam and Similar Products (Scotland) Regulations 2004, SSI 2004/133",
            f"{_LEG}/ssi/2004/133"),
        date(2004, 4, 28),
    ),
}  # fmt: skip

ENGLAND = NATIONS["gb-eng"]
JAM_APPLIES = min(nation.jam_applies for nation in NATIONS.values())


def nation_of(facts: LabelFacts) -> Nation:
    """The nation of a label's market; England where the market names none."""
    return NATIONS.get(facts.market, ENGLAND)


WELSH_JAM_TO_2018 = Act(
    "Jam and Similar Products (Wales) Regulations 2004, WSI 2004/553", f"{_LEG}/wsi/2004/553"
)
"""Replaced by those of 2018 on 26 March 2018; built like the English ones (from memory)."""


def jam_citation(facts: LabelFacts, topic: str) -> Citation:
    """Where a nation's jam regulations speak of a topic, and how that text was read."""
    day = facts.law_on or date.max
    if facts.market == "gb-wls" and day < nation_of(facts).jam_applies:
        return Citation(WELSH_JAM_TO_2018, _JAM_PROVISIONS[topic]["gb-eng"][0], "from memory")
    provision, mark = _JAM_PROVISIONS[topic].get(facts.market, _JAM_PROVISIONS[topic]["gb-eng"])
    return Citation(nation_of(facts).jam, provision, mark)


# The Scottish regulations were read as made, the Welsh ones in schedule and note; the numbers of
# the Scottish regulations on statements follow the English ones (from memory).
_JAM_PROVISIONS: dict[str, dict[str, tuple[str, str]]] = {
    "name": {
        "gb-eng": ("reg. 4 and Sch. 1", "read"),
        "gb-wls": ("reg. 4 and Sch. 1", "read"),
        "gb-sct": ("reg. 4 and Sch. 1", "read"),
    },
    "solids": {
        "gb-eng": ("Sch. 1, notes", "read"),
        "gb-wls": ("Sch. 1", "from memory"),
        "gb-sct": ("Sch. 1, note 2", "read"),
    },
    "kinds": {
        "gb-eng": ("reg. 5(2)(a)", "read"),
        "gb-wls": ("reg. 5", "read"),
        "gb-sct": ("reg. 5(2)(a)", "from memory"),
    },
    "fruit": {
        "gb-eng": ("reg. 5(2)(b)", "read"),
        "gb-wls": ("reg. 6", "read"),
        "gb-sct": ("reg. 5(2)(b)", "from memory"),
    },
    "sugar": {
        "gb-eng": ("reg. 5(2)(c)", "read"),
        "gb-wls": ("reg. 7", "read"),
        "gb-sct": ("reg. 5(2)(c)", "from memory"),
    },
    "sulphite": {
        "gb-eng": ("reg. 5(1)(b)", "read"),
        "gb-wls": ("reg. 8", "read"),
        "gb-sct": ("reg. 5(1)(b)", "from memory"),
    },
    "contents": {
        "gb-eng": ("Sch. 2", "read"),
        "gb-wls": ("Schs. 2 and 3", "read"),
        "gb-sct": ("Sch. 2", "read"),
    },
}
