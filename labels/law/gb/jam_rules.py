"""What the jam regulations make a label say, and when a reserved name is refused."""

from collections.abc import Iterator
from decimal import Decimal

from labels.facts import LabelFacts, Particular, PrintedText, TextRun, UsedIngredient
from labels.law.gb.acts import ENGLAND, JAM_APPLIES, jam_citation
from labels.law.gb.jam import (
    CURD,
    JAM,
    LEMON_CHEESE,
    MARMALADE,
    NAMES,
    SOLIDS_PCT,
    WITH_STATEMENTS,
    bears_fruit,
    counted_g,
    counts_as_fruit,
    fruits,
    is_savoury_custom,
    reserved_name,
)
from labels.law.gb.jam_names import OF_65_PCT, SULPHITE_MG_PER_KG, verdict
from labels.law.gb.ways_of_sale import UNPACKED
from labels.law.gb.words import figure, one_line, word, words_of
from labels.mechanics.masses import sulphite_mg_per_kg
from labels.mechanics.rounding import nearest
from labels.mechanics.text import names_one_of
from labels.rulebook import INFORMATION, LOOK, MUST_MEND, Finding, rule

HUNDRED = Decimal(100)
COUNTED = {2: "two", 3: "three", 4: "four", 5: "five", 6: "six", 7: "seven"}


def states_fruit(facts: LabelFacts) -> bool:
    """Whether the label carries the statements of the jam law, and so no other for its fruit.

    They go on the pack: what is sold loose, or packed on request, has none.
    """
    name = facts.name_of_food
    is_packed = facts.way_of_sale not in UNPACKED
    return is_packed and reserved_name(name) in WITH_STATEMENTS and not is_savoury_custom(name)


def is_fruit_stated(ingredient: UsedIngredient, facts: LabelFacts) -> bool:
    """Whether the fruit statement already tells the quantity of this ingredient."""
    return states_fruit(facts) and bears_fruit(
        ingredient, facts, name=reserved_name(facts.name_of_food)
    )


def jam_fruits(facts: LabelFacts) -> tuple[UsedIngredient, ...]:
    """The ingredients that the fruit statement counts, the heaviest first."""
    return fruits(facts, name=reserved_name(facts.name_of_food))


def fruit_g_per_100_g(facts: LabelFacts) -> Decimal | None:
    """Fruit that the pulp, puree, juice, peel or extract came from, for 100 g [g]; no upper end."""
    finished_g = facts.usable_finished_g
    parts = jam_fruits(facts)
    if finished_g is None or not parts:
        return None
    used_g = sum(
        (counted_g(i) if i.fruit_from_g is None else i.fruit_from_g for i in parts),
        start=Decimal(0),
    )
    return used_g * HUNDRED / finished_g


def needs_sugar_statement(facts: LabelFacts) -> bool:
    """Total sugar is stated, unless sugar is claimed and full nutrition labelling given.

    The waiver speaks of a claim: printing the row of sugars alone is not taken as one here.
    """
    claims_sugar = any("sugar" in text or "sugars" in text for text in map(words_of, facts.claims))
    return states_fruit(facts) and not (claims_sugar and facts.shows_nutrition)


def statements(facts: LabelFacts, *, minimum_x_height_mm: Decimal) -> tuple[Particular, ...]:
    """“prepared with ... g of fruit per 100 g” and “total sugar content: ... g per 100 g”."""
    said: list[tuple[str, str]] = []
    fruit = fruit_g_per_100_g(facts) if states_fruit(facts) else None
    if fruit is not None:
        said.append(("fruit", word("prepared with").format(figure(nearest(fruit, Decimal(1))))))
    solids = facts.soluble_solids_pct
    if needs_sugar_statement(facts) and solids is not None:
        said.append(("sugar", word("total sugar").format(figure(nearest(solids, Decimal(1))))))
    return tuple(
        Particular(
            kind="extra",
            runs=(TextRun(text),),
            citation=jam_citation(facts, topic),
            same_field=True,
            minimum_x_height_mm=minimum_x_height_mm,
        )
        for topic, text in said
    )


@rule(ENGLAND.jam, "reg. 4 and Sch. 1", since=JAM_APPLIES)
def a_reserved_name_is_earned(facts: LabelFacts, printed: PrintedText | None) -> Iterator[Finding]:
    """Jam, jelly, marmalade, chestnut puree, curd, lemon cheese and mincemeat are reserved."""
    name = reserved_name(facts.name_of_food)
    if not name:
        return
    judged = verdict(name, facts)
    custom = is_savoury_custom(facts.name_of_food)
    for reason in (*judged.against, *(f"not known: {what}" for what in judged.missing)):
        yield Finding(
            message=f"“{name}” is a reserved name. Against it here: {reason}.",
            hint="A relish under a customary name that nobody takes for jam may keep it; ask the "
            "local authority."
            if custom
            else _way_out(name),
            level=LOOK if custom else MUST_MEND,
            where="name",
            citation=jam_citation(facts, "name"),
        )


def _way_out(name: str) -> str:
    if name in {CURD, LEMON_CHEESE}:
        return (
            "Change the recipe, or use another name, such as “lemon spread”; “damson cheese” and "
            "other fruit cheeses are not reserved."
        )
    return (
        "Change the recipe or the point at which it is done, or give what is not known; or use a "
        "name that is not reserved, such as “fruit spread” or “damson paste”."
    )


@rule(ENGLAND.jam, "reg. 4", since=JAM_APPLIES)
def a_reserved_word_elsewhere_is_looked_at(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """A reserved word may name an ingredient, or stand where nobody takes the food for jam."""
    said = set(words_of(facts.name_of_food))
    if reserved_name(facts.name_of_food) or not {JAM, "jelly", MARMALADE} & said:
        return None
    return Finding(
        message="The name holds a reserved word. That is lawful where it names an ingredient, or "
        "where it is clear that the food is no jam and holds none.",
        hint="“Jam tart” and “jelly beans” are such names. If in doubt ask the local authority.",
        level=LOOK,
        where="name",
        citation=jam_citation(facts, "name"),
    )


@rule(ENGLAND.jam, "reg. 4 and Sch. 1", since=JAM_APPLIES)
def what_is_jam_is_called_jam(facts: LabelFacts, printed: PrintedText | None) -> Finding | None:
    """Food that meets a reserved description is to be sold under it."""
    solids = facts.soluble_solids_pct
    if reserved_name(facts.name_of_food) or solids is None or solids < SOLIDS_PCT:
        return None
    if not any(i.category == "sugar" for i in facts.ingredients):
        return None
    if not verdict(JAM, facts).is_lawful:
        return None
    return Finding(
        message="By its fruit and sugar this could be jam, and what meets a reserved description "
        "is to bear it. Firm pastes and fruit cheeses that are cut go by their customary names.",
        hint="If it spreads, call it jam. If it is cut, keep the name and ask the local authority.",
        level=INFORMATION,
        where="name",
        citation=jam_citation(facts, "name"),
    )


@rule(ENGLAND.jam, "reg. 5(2)(a)", since=JAM_APPLIES)
def the_name_tells_the_fruits(facts: LabelFacts, printed: PrintedText | None) -> Iterator[Finding]:
    """Its fruits stand with the name, the heaviest first; three or more may be "mixed fruit"."""
    if not states_fruit(facts):
        return
    parts = [i for i in jam_fruits(facts) if counted_g(i) > 0]
    said = words_of(facts.name_of_food)
    if len(parts) >= 3 and _stands_for_many(said, len(parts)):
        return
    places = [_place(i.name, said) for i in parts]
    unnamed = [i.name for i, place in zip(parts, places, strict=True) if place is None]
    if unnamed:
        yield Finding(
            message=f"The name does not tell of {', '.join(unnamed)}.",
            hint="Name each fruit, the heaviest first. Three or more may go as “mixed fruit” or "
            "by their number.",
            where="name",
            citation=jam_citation(facts, "kinds"),
        )
    found = [place for place in places if place is not None]
    if found != sorted(found):
        yield Finding(
            message="The fruits in the name are not in falling order of what was used: it is "
            f"{', '.join(i.name for i in parts)}.",
            hint="Put the heaviest first.",
            where="name",
            citation=jam_citation(facts, "kinds"),
        )


def _stands_for_many(said: tuple[str, ...], count: int) -> bool:
    return "fruit" in said and bool({"mixed", COUNTED.get(count, ""), str(count)} & set(said))


def _place(fruit: str, said: tuple[str, ...]) -> int | None:
    return next((n for n, w in enumerate(said) if len(w) > 2 and names_one_of(fruit, (w,))), None)


@rule(ENGLAND.jam, "reg. 5(2)(b)", since=JAM_APPLIES)
def the_fruit_statement_can_be_made(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """“prepared with ... g of fruit per 100 g” is printed in place of another quantity of fruit."""
    if not states_fruit(facts) or fruit_g_per_100_g(facts) is not None:
        return None
    return Finding(
        message="“prepared with ... g of fruit per 100 g” is asked for, but the fruit or the "
        "finished mass is not known.",
        hint="Enter the recipe with its fruit, and how the cook ends.",
        where="extra",
        citation=jam_citation(facts, "fruit"),
    )


@rule(ENGLAND.jam, "reg. 5(2)(c)", since=JAM_APPLIES)
def the_sugar_statement_can_be_made(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """“total sugar content: ... g per 100 g” is the refractometer reading at 20 °C."""
    if not needs_sugar_statement(facts):
        return None
    if facts.soluble_solids_pct is None:
        return Finding(
            message="“total sugar content: ... g per 100 g” is asked for, but the reading of the "
            "finished food is not known.",
            hint="Measure it with the refractometer at 20 °C and enter the Brix.",
            where="extra",
            citation=jam_citation(facts, "sugar"),
        )
    return Finding(
        message="The total sugar content is printed. An official reading must lie within 3 of it.",
        hint="It is not asked for in the European Union since 14 June 2026: a label for there is "
        "another one.",
        level=INFORMATION,
        where="extra",
        citation=jam_citation(facts, "sugar"),
    )


@rule(ENGLAND.jam, "reg. 5(1)(b)", since=JAM_APPLIES)
def sulphur_dioxide_is_listed_by_that_name(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """Over 10 mg/kg a jam lists its residue as "sulphur dioxide"."""
    residue = sulphite_mg_per_kg(facts)
    if not states_fruit(facts) or residue is None or residue <= SULPHITE_MG_PER_KG:
        return None
    if any(_calls_it(i.name, a.named_as) for w in facts.ingredients for i in w.with_parts()
           for a in i.allergens if a.group == "sulphites"):  # fmt: skip
        return None
    if not any(a.group == "sulphites" for w in facts.ingredients for i in w.with_parts()
               for a in i.allergens):  # fmt: skip
        return None
    return Finding(
        message=f"The residue is {residue:.0f} mg/kg, and a jam lists it as “sulphur dioxide”; "
        "the ingredient calls it otherwise.",
        hint="Write “sulphur dioxide” on the ingredient's allergen line.",
        where="allergens",
        citation=jam_citation(facts, "sulphite"),
    )


def _calls_it(name: str, named_as: str) -> bool:
    return any("sulphur dioxide" in one_line(text).casefold() for text in (name, named_as))


@rule(ENGLAND.jam, "reg. 2(2) and Sch. 2", since=JAM_APPLIES)
def nothing_else_is_in_the_pan(facts: LabelFacts, printed: PrintedText | None) -> Iterator[Finding]:
    """Only what the Schedule permits goes into jam besides fruit, sugar and water."""
    name = reserved_name(facts.name_of_food)
    if name not in NAMES or name in OF_65_PCT or is_savoury_custom(facts.name_of_food):
        return
    for ingredient in facts.ingredients:
        if _is_permitted(ingredient.category, ingredient.name) or ingredient.additive_class:
            continue
        if ingredient.is_processing_aid or counts_as_fruit(ingredient):
            continue
        yield Finding(
            message=f"{ingredient.name} is not plainly one of the things that {name} may hold "
            "besides fruit, sugar and water; anything else takes it out of the reserved name.",
            hint="Permitted are honey, citrus juice and peel, pectin, spirits, wine, nuts, herbs, "
            "spices, vanilla, oil or fat against foam, and additives that the law allows.",
            level=LOOK,
            where="ingredients",
            citation=jam_citation(facts, "contents"),
        )


_PERMITTED = ("honey", "pectin", "juice", "peel", "zest", "rum", "brandy", "whisky", "gin", "vodka",
              "wine", "port", "sherry", "liqueur", "almond", "walnut", "hazelnut", "nut", "vanilla",
              "vanillin", "sugar", "syrup", "water", "chestnut", "cider brandy")  # fmt: skip


def _is_permitted(category: str, name: str) -> bool:
    return category in {"sugar", "water", "spice", "herb"} or names_one_of(name, _PERMITTED)
