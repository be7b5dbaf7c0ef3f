"""Which product names of the jam family a food may bear, and what speaks against each."""

from dataclasses import replace
from decimal import Decimal

from labels.facts import LabelFacts, UsedIngredient
from labels.law.eu.acts import JAM_2024_APPLIES, jam_citation
from labels.law.eu.claims import says_reduced_sugar
from labels.law.eu.jam import (
    CHESTNUT_G,
    CITRUS_G,
    ENDOCARP_G,
    EXTRA_MINIMA_G,
    JAM_MINIMA_G,
    PUREE_IN_EXTRA,
    REDUCED_SUGAR_EXCUSES,
    SOLIDS_PCT,
    THOUSAND,
    alone_in_extra,
    counted_g,
    form_of,
    fruit_g_per_kg,
    fruits,
    is_citrus,
    is_known_fruit,
    law_day,
    minimum_g_per_kg,
)
from labels.law.eu.jam_national import (
    country_of,
    marmalade_may_be_jam,
    national_name,
    national_verdict,
    national_verdicts,
    solids_leave,
)
from labels.law.eu.jam_words import (
    CHESTNUT_PUREE,
    EXTRA_JAM,
    EXTRA_JELLY,
    JAM,
    JELLY,
    JELLY_MARMALADE,
    MARMALADE,
    NAMES,
    name_in,
    reserved_name,
    says_one_of,
)
from labels.law.eu.words import figure
from labels.mechanics.rounding import nearest
from labels.mechanics.text import names_one_of
from labels.rulebook import NameVerdict

INNER_FLESH = "inner flesh"
"""What the maker tells of citrus fruit in `contents_g_per_kg`: its endocarp in 1 kg."""
_WITH_RED_JUICE = ("rosehip", "rose hip", "strawberry", "raspberry", "gooseberry", "redcurrant",
                   "plum", "rhubarb", "escaramujo", "fresa", "frambuesa", "ciruela", "fraise",
                   "framboise", "prune", "fragola", "lampone", "prugna", "morango", "framboesa",
                   "ameixa", "erdbeeren", "himbeeren", "pflaumen", "ruibarbo", "rhubarbe",
                   "rabarbaro", "rhabarber")  # fmt: skip
NO_SOLIDS = "whether it holds no solids but a little finely cut peel, as this name asks"
_WITH_SOLIDS = ("", "pulp", "puree", "whole")
_CHESTNUT = ("chestnut", "castaña", "castañas", "marron", "marrons", "chataigne", "castagna",
             "castagne", "marrone", "marroni", "castanha", "marone", "maronen", "kastanie",
             "kastanien")  # fmt: skip
_SAVOURY = ("chilli", "chili", "pepper", "onion", "garlic", "bacon", "mint", "horseradish", "wine",
            "cebolla", "pimiento", "oignon", "cipolla", "cebola", "zwiebel", "pimenta")  # fmt: skip


def name_claimed(facts: LabelFacts) -> str:
    """The product name of the directive that the label bears, as its country reads it; or ""."""
    name = reserved_name(facts.name_of_food, language=facts.language)
    if name == MARMALADE and not all(map(is_citrus, fruits(facts, name=JAM))):
        may = marmalade_may_be_jam(country=country_of(facts), on=law_day(facts))
        if may:
            is_extra = "extra" in facts.name_of_food.casefold()
            return EXTRA_JAM if is_extra else JAM
    return name


def is_savoury_custom(facts: LabelFacts) -> bool:
    """Chilli jam, mint jelly: names of relishes that nobody takes for jam.

    Source: Directive 2001/113/EC, Art. 2(1), second subparagraph.
    """
    is_jam = reserved_name(facts.name_of_food, language=facts.language) in {JAM, JELLY}
    return is_jam and says_one_of(facts.name_of_food, _SAVOURY)


def verdict_on_label(facts: LabelFacts) -> NameVerdict | None:
    """The verdict on the name that the label bears, the country's own names first."""
    national = national_name(facts.name_of_food, country=country_of(facts))
    if national is not None:
        return national_verdict(national, facts)
    name = name_claimed(facts)
    return verdict(name, facts) if name else None


def verdict(name: str, facts: LabelFacts) -> NameVerdict:
    """Whether the food may bear one product name (Annex I)."""
    judged = _solids(name, facts)
    if name == CHESTNUT_PUREE:
        judged = _chestnut(facts, judged)
    elif name in {MARMALADE, JELLY_MARMALADE}:
        judged = _marmalade(name, facts, judged)
    else:
        judged = _fruit(name, facts, judged)
        if name in {EXTRA_JAM, EXTRA_JELLY}:
            judged = _extra(name, facts, judged)
    return replace(judged, citation=judged.citation or jam_citation(facts, "name"))


def verdicts(facts: LabelFacts) -> tuple[NameVerdict, ...]:
    """Every name of the directive and of the country of sale, with what speaks against it."""
    of_the_union = tuple(
        replace(verdict(name, facts), shown=name_in(name, language=facts.language))
        for name in NAMES
    )
    return of_the_union + national_verdicts(facts)


def holds_fruit(facts: LabelFacts) -> bool:
    """Whether there is anything in the food that a product name could be earned with."""
    if any(fruits(facts, name=name) for name in (JAM, JELLY)):
        return True
    return any(says_one_of(f"{i.name} | {i.called}", _CHESTNUT) for i in facts.ingredients)


def _and(
    judged: NameVerdict, *, against: str = "", missing: str = "", asks: str = ""
) -> NameVerdict:
    return replace(
        judged,
        against=(*judged.against, against) if against else judged.against,
        missing=(*judged.missing, missing) if missing else judged.missing,
        asks=(*judged.asks, asks) if asks else judged.asks,
    )


def _solids(name: str, facts: LabelFacts) -> NameVerdict:
    """60 % soluble solids or more, but for sweeteners, a claim since 2026, or a country's leave."""
    judged, solids = NameVerdict(name, ()), facts.soluble_solids_pct
    if solids is None:
        return _and(
            judged, missing="the soluble solids of the finished food, by refractometer at 20 °C"
        )
    if solids >= SOLIDS_PCT or any(i.additive_class == "sweetener" for i in facts.ingredients):
        return judged
    if says_reduced_sugar(facts) and REDUCED_SUGAR_EXCUSES.on(law_day(facts)):
        return _and(
            judged,
            asks="whether its sugars are 30 % less than in the like jam, which “reduced sugars” "
            "needs and which excuses it from 60 % soluble solids",
        )
    leave = solids_leave(country=country_of(facts), solids_pct=solids)
    if leave is not None:
        return replace(_and(judged, asks=leave.condition), citation=leave.citation)
    return _and(judged, against=f"{_g(solids)} % soluble solids; it needs {SOLIDS_PCT} %")


def _fruit(name: str, facts: LabelFacts, judged: NameVerdict) -> NameVerdict:
    per_kg, parts = fruit_g_per_kg(facts, name=name), fruits(facts, name=name)
    if per_kg is None:
        return _and(judged, missing="the finished mass")
    if not parts:
        wanted = "juice or extract" if name in {JELLY, EXTRA_JELLY} else "pulp or puree"
        return _and(judged, against=f"no fruit {wanted} is in the recipe under such a name")
    table = EXTRA_MINIMA_G if name in {EXTRA_JAM, EXTRA_JELLY} else JAM_MINIMA_G
    minima = table.on(law_day(facts))
    least = minimum_g_per_kg(parts, minima)
    if per_kg >= least:
        return judged
    unnamed = [i.name for i in parts if not is_known_fruit(i)]
    if unnamed and per_kg >= min(minima.values()):
        return _and(judged, missing=_which(unnamed))
    return _and(judged, against=f"{_g(per_kg)} g of fruit per kg; it needs {_g(least)} g")


def _which(unnamed: list[str]) -> str:
    return f"which fruit “{', '.join(unnamed)}” is: each has a minimum of its own"


def _extra(name: str, facts: LabelFacts, judged: NameVerdict) -> NameVerdict:
    """Pulp and not puree, unsulphited, not concentrated, and some fruits never in a mixture."""
    parts = fruits(facts, name=name)
    if name == EXTRA_JAM:
        for part in parts:
            is_puree = form_of(part) == "puree"
            if is_puree and not names_one_of(f"{part.name} {part.called}", PUREE_IN_EXTRA):
                judged = _and(
                    judged, against=f"{part.name}: extra jam is made of pulp, not of puree"
                )
        judged = _juices(judged, facts, parts)
    if len(parts) > 1:
        barred = [i.name for i in parts if alone_in_extra(i)]
        if barred:
            judged = _and(
                judged, against=f"{', '.join(barred)} may not be mixed with other fruit in it"
            )
        unnamed = [i.name for i in parts if not is_known_fruit(i)]
        if unnamed and not judged.missing:
            judged = _and(judged, missing=_which(unnamed))
        if any(names_one_of(f"{i.name} {i.called}", ("plum",)) for i in parts):
            judged = _and(judged, asks="whether the plums are of a clingstone kind, which may "
                          "not be mixed with other fruit in it")  # fmt: skip
    judged = _unsulphited(judged, facts, parts)
    if any(i.fresh_equivalent_g is not None for i in parts):
        judged = _and(judged, against="its fruit may not be concentrated or dried")
    return judged


def _juices(
    judged: NameVerdict, facts: LabelFacts, parts: tuple[UsedIngredient, ...]
) -> NameVerdict:
    """Juice goes into jam alone; into extra jam that of citrus, or of red fruit with seven fruits.

    Source: Directive 2001/113/EC, Annex II, as read in national schedules that repeat it.
    """
    for juice in (i for i in fruits(facts, name=JELLY) if form_of(i) == "juice"):
        if is_citrus(juice):
            continue
        said = " | ".join(f"{part.name} | {part.called}" for part in parts)
        if says_one_of(said, _WITH_RED_JUICE):
            judged = _and(judged, asks=f"whether {juice.name} is a red fruit juice, which it may "
                          "hold")  # fmt: skip
        else:
            judged = _and(judged, against=f"{juice.name}: of juices it may hold citrus only")
    return judged


def _unsulphited(
    judged: NameVerdict, facts: LabelFacts, parts: tuple[UsedIngredient, ...]
) -> NameVerdict:
    """Sulphited fruit was barred by the jam directive itself; since 2026 by what additives may."""
    unknown = [i.name for i in parts if i.sulphite_mg_per_kg is None]
    if unknown:
        return _and(judged, missing=f"whether {unknown[0]} was treated with sulphur dioxide")
    if not any(i.sulphite_mg_per_kg for i in parts):
        return judged
    if law_day(facts) < JAM_2024_APPLIES:
        return _and(judged, against="its fruit may not be treated with sulphur dioxide")
    return _and(judged, asks="whether the law on additives lets it hold sulphited fruit")


def _marmalade(name: str, facts: LabelFacts, judged: NameVerdict) -> NameVerdict:
    """Citrus fruit alone: 200 g in 1 kg, 75 g of it from the inner flesh."""
    finished_g, per_kg = facts.usable_finished_g, fruit_g_per_kg(facts, name=name)
    other = [i.name for i in fruits(facts, name=JAM) if not is_citrus(i)]
    if other:
        judged = _and(judged, against=f"{', '.join(other)}: it is made of citrus fruit alone")
    if finished_g is None or per_kg is None:
        return _and(judged, missing="the finished mass")
    if per_kg < CITRUS_G:
        judged = _and(
            judged, against=f"{_g(per_kg)} g of citrus fruit per kg; it needs {CITRUS_G} g"
        )
    if name == JELLY_MARMALADE and any(
        form_of(i) in _WITH_SOLIDS for i in fruits(facts, name=name)
    ):
        judged = _and(judged, asks=NO_SOLIDS)
    cores = [i.endocarp_g for i in fruits(facts, name=name)]
    told = dict(facts.contents_g_per_kg).get(INNER_FLESH)
    known = sum((core for core in cores if core is not None), start=Decimal(0))
    core_per_kg = known * THOUSAND / finished_g if told is None else told
    if not cores or core_per_kg >= ENDOCARP_G:
        return judged
    if told is None and any(core is None for core in cores):
        return _and(judged, missing="how much of the citrus fruit is its inner flesh (endocarp)")
    return _and(judged, against=f"{_g(core_per_kg)} g of it inner flesh; it needs {ENDOCARP_G} g")


def _chestnut(facts: LabelFacts, judged: NameVerdict) -> NameVerdict:
    finished_g = facts.usable_finished_g
    if finished_g is None:
        return _and(judged, missing="the finished mass")
    chestnuts = (i for i in facts.ingredients if says_one_of(f"{i.name} | {i.called}", _CHESTNUT))
    per_kg = sum(map(counted_g, chestnuts), start=Decimal(0)) * THOUSAND / finished_g
    if per_kg >= CHESTNUT_G:
        return judged
    return _and(judged, against=f"{_g(per_kg)} g of chestnut puree per kg; it needs {CHESTNUT_G} g")


def _g(amount: Decimal) -> str:
    return figure(nearest(amount, Decimal("0.1")), language="en")
