"""What single countries of the Union add to the names of the jam family.

A row speaks only where the food is sold in that country. Countries without a row are not known
here, which is not the same as having no rule.
"""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from labels.facts import Act, Citation, LabelFacts
from labels.law.eu.acts import JAM_2024_APPLIES
from labels.law.eu.jam import fruit_g_per_kg, fruits
from labels.law.eu.jam_words import JAM, plain
from labels.law.eu.words import words_of
from labels.rulebook import LAWFUL, Dated, NameVerdict

_BOE = "https://www.boe.es/eli/es/rd"
ES_MERMELADA = Act("Real Decreto 670/1990 (Spain)", f"{_BOE}/1990/05/25/670/con")
ES_JAM = Act("Real Decreto 863/2003 (Spain)", f"{_BOE}/2003/07/04/863/con")
FR_JAM = Act(
    "Décret no 85-872 (France)", "https://www.legifrance.gouv.fr/loda/id/LEGITEXT000006065133"
)
IT_JAM = Act(
    "Decreto legislativo 50/2004 (Italy)",
    "https://www.normattiva.it/eli/id/2004/03/16/004G0080/ORIGINAL",
)
DE_JAM = Act("Konfitürenverordnung (Germany)", "https://www.gesetze-im-internet.de/konfv_2003/")


@dataclass(frozen=True)
class NationalName:
    """A name that one country reserves beside those of the directive.

    from_pct, under_pct: soluble solids from the one up to, but not at, the other [%].
    """

    name: str
    country: str
    least_fruit_g: Decimal
    from_pct: Decimal
    under_pct: Decimal
    citation: Citation


MERMELADA_EXTRA, MERMELADA = "mermelada extra", "mermelada"
NATIONAL_NAMES = (
    NationalName(
        MERMELADA_EXTRA, "ES", Decimal(500), Decimal(40), Decimal(60),
        Citation(ES_MERMELADA, "annex, point 2.7"),
    ),
    # The 300 g and the lower end were read in trade pages that restate the decree.
    NationalName(
        MERMELADA, "ES", Decimal(300), Decimal(40), Decimal(60),
        Citation(ES_MERMELADA, "annex, point 2.8", "second-hand"),
    ),
)  # fmt: skip


@dataclass(frozen=True)
class SolidsLeave:
    """A country's leave to use the directive's names below 60 % soluble solids (Annex I, Part II).

    is_above: the figure itself is not enough. condition: what goes with it, as a question.
    """

    country: str
    least_pct: Decimal
    condition: str
    citation: Citation
    is_above: bool = False

    def reaches(self, solids_pct: Decimal) -> bool:
        """Whether it lets so many per cent stand."""
        return solids_pct > self.least_pct or (solids_pct == self.least_pct and not self.is_above)


SOLIDS_LEAVES = (
    SolidsLeave(
        "FR", Decimal(55),
        "whether the leave of 2008 for 55 % still stands",
        Citation(FR_JAM, "Art. 4", "second-hand"),
    ),
    SolidsLeave(
        "IT", Decimal(45),
        "whether the leave below 60 % still stands; the label then says “da conservare in "
        "frigorifero dopo l'apertura”",
        Citation(IT_JAM, "Art. 2(4)", "second-hand"),
    ),
    SolidsLeave(
        "DE", Decimal(55),
        "whether the leave for more than 55 % still stands (read in a text of 2008)",
        Citation(DE_JAM, "Anlage 1", "second-hand"),
        is_above=True,
    ),
)  # fmt: skip

MARMALADE_MAY_BE_JAM = {"DE": Dated(False, {JAM_2024_APPLIES: True})}
"""Where “Marmelade” may stand for Konfitüre (KonfV § 3(2) as changed in 2025, national page)."""


def country_of(facts: LabelFacts) -> str:
    """Where the food is sold, as a country code in capitals."""
    return facts.country_of_sale.strip().upper()


def national_name(name_of_food: str, *, country: str) -> NationalName | None:
    """The name of a country that a name of food bears: "mermelada" begins a Spanish one."""
    said = words_of(plain(name_of_food))
    if country != "ES" or not said or said[0] not in {"mermelada", "mermeladas"}:
        return None
    wanted = MERMELADA_EXTRA if "extra" in said else MERMELADA
    return next(row for row in NATIONAL_NAMES if row.name == wanted)


def marmalade_may_be_jam(*, country: str, on: date) -> bool:
    """Whether the country lets its word for marmalade name any jam."""
    row = MARMALADE_MAY_BE_JAM.get(country)
    return row is not None and row.on(on)


def solids_leave(*, country: str, solids_pct: Decimal) -> SolidsLeave | None:
    """The country's leave that would let so low a figure stand."""
    rows = (row for row in SOLIDS_LEAVES if row.country == country)
    return next((row for row in rows if row.reaches(solids_pct)), None)


def national_verdict(row: NationalName, facts: LabelFacts) -> NameVerdict:
    """Whether the food may bear a name of a country."""
    against, missing = [], []
    solids = facts.soluble_solids_pct
    if solids is None:
        missing.append("the soluble solids of the finished food, by refractometer at 20 °C")
    elif not row.from_pct <= solids < row.under_pct:
        against.append(
            f"{solids:f} % soluble solids; it needs {row.from_pct} % or more and less than "
            f"{row.under_pct} %"
        )
    per_kg = fruit_g_per_kg(facts, name=JAM)
    if per_kg is None:
        missing.append("the finished mass")
    elif not fruits(facts, name=JAM):
        against.append("no fruit is in the recipe under such a name")
    elif per_kg < row.least_fruit_g:
        against.append(f"{per_kg:.1f} g of fruit per kg; it needs {row.least_fruit_g} g")
    return NameVerdict(row.name, tuple(against), tuple(missing), citation=row.citation)


def national_verdicts(facts: LabelFacts) -> tuple[NameVerdict, ...]:
    """Every name that the country of sale reserves for itself, judged."""
    return tuple(
        national_verdict(row, facts) for row in NATIONAL_NAMES if row.country == country_of(facts)
    )


def lawful_instead(facts: LabelFacts) -> tuple[str, ...]:
    """Names of the country of sale that the food has earned."""
    return tuple(v.name for v in national_verdicts(facts) if v.state == LAWFUL)
