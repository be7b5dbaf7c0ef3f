"""The acts of the European Union that speak here, with their official addresses."""

from datetime import date

from labels.facts import Act

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

# Acts that reserve names. They are named so that the maker can ask; their rules are not checked.
JAM_DIR = Act("Directive 2001/113/EC", f"{_ELI}/dir/2001/113/oj")
CHOCOLATE_DIR = Act("Directive 2000/36/EC", f"{_ELI}/dir/2000/36/oj")
HONEY_DIR = Act("Directive 2001/110/EC", f"{_ELI}/dir/2001/110/oj")
JUICE_DIR = Act("Directive 2001/112/EC", f"{_ELI}/dir/2001/112/oj")
MARKETS_REG = Act("Regulation (EU) No 1308/2013", f"{_ELI}/reg/2013/1308/oj")
# Products of the jam family had to follow Directive 2001/113/EC from this day (from memory).
JAM_DIR_APPLIES = date(2004, 7, 12)
