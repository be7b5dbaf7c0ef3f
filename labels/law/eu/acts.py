"""The acts of the European Union that speak here, with their official addresses."""

from datetime import date

from labels.facts import Act, Citation, LabelFacts

_ELI = "https://eur-lex.europa.eu/eli"

FIC = Act("Regulation (EU) No 1169/2011", f"{_ELI}/reg/2011/1169/oj")
FIC_APPLIES = date(2014, 12, 13)
NUTRITION_APPLIES = date(2016, 12, 13)

ORIGIN_REG = Act("Implementing Regulation (EU) 2018/775", f"{_ELI}/reg_impl/2018/775/oj")
ORIGIN_APPLIES = date(2020, 4, 1)

LOT_DIR = Act("Directive 2011/91/EU", f"{_ELI}/dir/2011/91/oj")
# Published 16 December 2011, in force on the twentieth day after (from memory).
LOT_APPLIES = date(2012, 1, 5)

AVG_DIR = Act("Directive 76/211/EEC", f"{_ELI}/dir/1976/211/oj")
# Adopted 20 January 1976, national law to follow within 18 months (from memory).
AVG_APPLIES = date(1977, 7, 21)

CLAIMS_REG = Act("Regulation (EC) No 1924/2006", f"{_ELI}/reg/2006/1924/oj")
CLAIMS_APPLIES = date(2007, 7, 1)
GLUTEN_REG = Act("Implementing Regulation (EU) No 828/2014", f"{_ELI}/reg_impl/2014/828/oj")
GLUTEN_APPLIES = date(2016, 7, 20)
PRICE_DIR = Act("Directive 98/6/EC", f"{_ELI}/dir/1998/6/oj")
PRICE_APPLIES = date(2000, 3, 18)

# Acts that reserve names. They are named so that the maker can ask; their rules are not checked.
CHOCOLATE_DIR = Act("Directive 2000/36/EC", f"{_ELI}/dir/2000/36/oj")
HONEY_DIR = Act("Directive 2001/110/EC", f"{_ELI}/dir/2001/110/oj")
JUICE_DIR = Act("Directive 2001/112/EC", f"{_ELI}/dir/2001/112/oj")
MARKETS_REG = Act("Regulation (EU) No 1308/2013", f"{_ELI}/reg/2013/1308/oj")

JAM_DIR = Act("Directive 2001/113/EC", f"{_ELI}/dir/2001/113/oj")
# Products of the jam family had to follow Directive 2001/113/EC from this day (from memory).
JAM_DIR_APPLIES = date(2004, 7, 12)
JAM_DIR_2024 = Act(
    "Directive 2001/113/EC as amended by Directive (EU) 2024/1438", f"{_ELI}/dir/2024/1438/oj"
)
JAM_2024_APPLIES = date(2026, 6, 14)

# What the amendment left alone was read; what it changed was read in national acts and summaries.
_JAM_PROVISIONS = {
    "name": ("Art. 2(1) and Annex I, Part I", True),
    "solids": ("Annex I, Part II", True),
    "sugar": ("Art. 2(4)", True),
    "contents": ("Annexes II and III", True),
    "mixture": ("Annex I, Part III", False),
    "kinds": ("Art. 2(2)", False),
    "fruit": ("Art. 2(3)", False),
}


def jam_citation(facts: LabelFacts, topic: str) -> Citation:
    """Where the jam directive speaks of a topic on the day of the law, and how it was read."""
    provision, is_changed = _JAM_PROVISIONS[topic]
    if is_changed and (facts.law_on or date.max) >= JAM_2024_APPLIES:
        return Citation(JAM_DIR_2024, provision, "second-hand")
    return Citation(JAM_DIR, provision)
