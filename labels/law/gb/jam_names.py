"""Which reserved names a food may bear in Great Britain, and what speaks against each."""

from decimal import Decimal

from labels.facts import LabelFacts
from labels.law.gb.jam import (
    CHESTNUT_G,
    CHESTNUT_PUREE,
    CITRUS,
    CITRUS_G,
    CURD,
    CURD_FAT_G,
    CURD_SOLIDS_PCT,
    CURD_YOLK_G,
    ENDOCARP_G,
    EXTRA_JAM,
    EXTRA_JELLY,
    EXTRA_MINIMA_G,
    FLAVOUR_CURD,
    JAM,
    JAM_MINIMA_G,
    JELLY,
    JELLY_MARMALADE,
    LEMON_CHEESE,
    MARMALADE,
    MINCE_FAT_G,
    MINCE_FRUIT_AND_PEEL_G,
    MINCE_VINE_FRUIT_G,
    MINCEMEAT,
    NAMES,
    NOT_MIXED_IN_EXTRA,
    PUREE_IN_EXTRA,
    RED_FRUIT,
    REDUCED_SUGAR_PCT,
    SOLIDS_PCT,
    THOUSAND,
    counts_as_fruit,
    form_of,
    fruit_g_per_kg,
    fruits,
    minimum_g_per_kg,
    reserved_name,
    says_reduced_sugar,
)
from labels.law.gb.words import figure
from labels.mechanics.rounding import nearest
from labels.mechanics.text import names_one_of
from labels.rulebook import NameVerdict

OF_65_PCT = (CURD, FLAVOUR_CURD, LEMON_CHEESE, MINCEMEAT)
SULPHITE_MG_PER_KG = Decimal(10)


def verdict(name: str, facts: LabelFacts) -> NameVerdict:
    """Whether the food may bear one reserved name (Sch. 1 of each nation's regulations)."""
    against, missing = _solids(name, facts)
    if name in {CURD, FLAVOUR_CURD, LEMON_CHEESE}:
        wanted = [("fat", CURD_FAT_G), ("egg yolk solids", CURD_YOLK_G)]
        _contents(facts, wanted, against=against, missing=missing)
    elif name == MINCEMEAT:
        _mincemeat(facts, against=against, missing=missing)
    elif name == CHESTNUT_PUREE:
        _chestnut(facts, against=against, missing=missing)
    elif name in {MARMALADE, JELLY_MARMALADE}:
        _marmalade(name, facts, against=against, missing=missing)
    else:
        _fruit(name, facts, against=against, missing=missing)
        if name in {EXTRA_JAM, EXTRA_JELLY}:
            against += _extra(name, facts)
    return NameVerdict(name, tuple(against), tuple(missing))


def verdicts(facts: LabelFacts) -> tuple[NameVerdict, ...]:
    """Every reserved name with what speaks against it."""
    return tuple(verdict(name, facts) for name in NAMES)


def verdict_on_label(facts: LabelFacts) -> NameVerdict | None:
    """The verdict on the reserved name that the label bears; None where it bears none."""
    name = reserved_name(facts.name_of_food)
    return verdict(name, facts) if name else None


def holds_fruit(facts: LabelFacts) -> bool:
    """Whether there is anything in the food that a reserved name could be earned with."""
    return any(fruits(facts, name=name) for name in (JAM, JELLY))


def _solids(name: str, facts: LabelFacts) -> tuple[list[str], list[str]]:
    """60 % soluble solids or more; 65 for curds and mincemeat; 25 to 50 for "reduced sugar"."""
    solids = facts.soluble_solids_pct
    if solids is None:
        return [], ["the soluble solids of the finished food, by refractometer at 20 °C"]
    least, most = REDUCED_SUGAR_PCT
    against = ""
    if name in OF_65_PCT:
        if solids < CURD_SOLIDS_PCT:
            against = f"it needs {CURD_SOLIDS_PCT} % or more"
    elif any(i.additive_class == "sweetener" for i in facts.ingredients):
        against = ""
    elif says_reduced_sugar(facts):
        if not least <= solids <= most:
            against = f"“reduced sugar” means {least} to {most} %"
    elif solids < SOLIDS_PCT:
        against = f"it needs {SOLIDS_PCT} %, or {least} to {most} % under “reduced sugar”"
    return ([f"{_g(solids)} % soluble solids; {against}"] if against else []), []


def _fruit(name: str, facts: LabelFacts, *, against: list[str], missing: list[str]) -> None:
    per_kg = fruit_g_per_kg(facts, name=name)
    parts = fruits(facts, name=name)
    if per_kg is None:
        missing.append("the finished mass")
        return
    if not parts:
        wanted = "juice or extract" if name in {JELLY, EXTRA_JELLY} else "pulp or puree"
        against.append(f"no fruit {wanted} is in the recipe under such a name")
        return
    minima = EXTRA_MINIMA_G if name in {EXTRA_JAM, EXTRA_JELLY} else JAM_MINIMA_G
    least = minimum_g_per_kg(parts, minima)
    if per_kg < least:
        against.append(f"{_g(per_kg)} g of fruit per kg; it needs {_g(least)} g")


def _extra(name: str, facts: LabelFacts) -> list[str]:
    """Pulp and not puree, unsulphited, and some fruits never in a mixture."""
    parts = fruits(facts, name=name)
    found = []
    if name == EXTRA_JAM:
        purees = [i.name for i in parts if form_of(i) == "puree"]
        found += [
            f"{puree}: extra jam is made of pulp, not of puree"
            for puree in purees
            if not names_one_of(puree, PUREE_IN_EXTRA)
        ]
        found += [
            f"{i.name}: of juices extra jam may hold only that of citrus and of red fruit"
            for i in facts.ingredients
            if counts_as_fruit(i)
            and form_of(i) == "juice"
            and not names_one_of(f"{i.name} {i.called}", (*CITRUS, *RED_FRUIT))
        ]
    barred = [i.name for i in parts if names_one_of(f"{i.name} {i.called}", NOT_MIXED_IN_EXTRA)]
    if len(parts) > 1 and barred:
        found.append(f"{', '.join(barred)} may not be mixed with other fruit in it")
    if any((i.sulphite_mg_per_kg or 0) > 0 for i in parts):
        found.append("its fruit may not be treated with sulphur dioxide")
    if any(i.fresh_equivalent_g is not None for i in parts):
        found.append("its fruit may not be concentrated or dried")
    return found


def _marmalade(name: str, facts: LabelFacts, *, against: list[str], missing: list[str]) -> None:
    per_kg = fruit_g_per_kg(facts, name=name)
    if per_kg is None:
        missing.append("the finished mass")
        return
    if per_kg < CITRUS_G:
        against.append(f"{_g(per_kg)} g of citrus fruit per kg; it needs {CITRUS_G} g")
    core_per_kg = _inner_flesh_g_per_kg(name, facts)
    if core_per_kg is None:
        missing.append("how much of the citrus fruit is its inner flesh")
    elif core_per_kg < ENDOCARP_G:
        against.append(f"{_g(core_per_kg)} g of it inner flesh; it needs {ENDOCARP_G} g")


def _inner_flesh_g_per_kg(name: str, facts: LabelFacts) -> Decimal | None:
    """Endocarp in 1 000 g: as told of the food, else the sum over its citrus fruit."""
    told = dict(facts.contents_g_per_kg).get("inner flesh")
    if told is not None or facts.usable_finished_g is None:
        return told
    cores = [i.endocarp_g for i in fruits(facts, name=name)]
    known = [core for core in cores if core is not None]
    if not known or len(known) < len(cores):
        return None
    return sum(known, start=Decimal(0)) * THOUSAND / facts.usable_finished_g


def _chestnut(facts: LabelFacts, *, against: list[str], missing: list[str]) -> None:
    finished_g = facts.usable_finished_g
    if finished_g is None:
        missing.append("the finished mass")
        return
    chestnut_g = sum((i.used_g for i in facts.ingredients if names_one_of(i.name, ("chestnut",))),
                     start=Decimal(0))  # fmt: skip
    per_kg = chestnut_g * THOUSAND / finished_g
    if per_kg < CHESTNUT_G:
        against.append(f"{_g(per_kg)} g of chestnut puree per kg; it needs {CHESTNUT_G} g")


def _mincemeat(facts: LabelFacts, *, against: list[str], missing: list[str]) -> None:
    held = dict(facts.contents_g_per_kg)
    wanted = [("vine fruit", MINCE_VINE_FRUIT_G), ("suet", MINCE_FAT_G)]
    _contents(facts, wanted, against=against, missing=missing)
    if "vine fruit" in held:
        together = held["vine fruit"] + held.get("peel", Decimal(0))
        if together < MINCE_FRUIT_AND_PEEL_G:
            against.append(f"{_g(together)} g of vine fruit and peel per kg; it needs "
                           f"{MINCE_FRUIT_AND_PEEL_G} g")  # fmt: skip


def _contents(
    facts: LabelFacts, wanted: list[tuple[str, Decimal]], *, against: list[str], missing: list[str]
) -> None:
    held = dict(facts.contents_g_per_kg)
    for what, least in wanted:
        if what not in held:
            missing.append(f"how much {what} is in 1 kg")
        elif held[what] < least:
            against.append(f"{_g(held[what])} g of {what} per kg; it needs {least} g")


def _g(amount: Decimal) -> str:
    return figure(nearest(amount, Decimal("0.1")))
