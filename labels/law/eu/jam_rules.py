"""What the jam directive makes a label say, and when a product name is refused."""

from collections.abc import Iterator
from decimal import Decimal

from labels.facts import LabelFacts, Particular, PrintedText, TextRun, UsedIngredient
from labels.law.eu.acts import (
    JAM_2024_APPLIES,
    JAM_DIR,
    JAM_DIR_2024,
    JAM_DIR_APPLIES,
    jam_citation,
)
from labels.law.eu.jam import (
    SOLIDS_PCT,
    bears_fruit,
    counted_g,
    counts_as_fruit,
    fruits,
    is_citrus,
    law_day,
)
from labels.law.eu.jam_names import (
    is_savoury_custom,
    name_claimed,
    verdict,
    verdict_on_label,
)
from labels.law.eu.jam_national import (
    ES_MERMELADA,
    country_of,
    lawful_instead,
    national_name,
)
from labels.law.eu.jam_words import (
    CITRUS,
    JAM,
    MARMALADE,
    holds_a_reserved_word,
    plain,
    says_one_of,
    statement_word,
)
from labels.law.eu.words import figure, words_of
from labels.mechanics.rounding import nearest
from labels.mechanics.text import names_one_of
from labels.rulebook import LOOK, MUST_MEND, Citation, Finding, rule

HUNDRED = Decimal(100)
COUNTED = {2: "two", 3: "three", 4: "four", 5: "five", 6: "six", 7: "seven"}
_MANY = ("mixed", "mix", "mezcla", "melange", "misto", "mista", "misti", "mistura", "gemischte",
         "gemischt", "mehrfrucht")  # fmt: skip


def states_fruit(facts: LabelFacts) -> bool:
    """Whether the label carries the fruit statement of the jam law, and so no other for fruit."""
    return bool(name_claimed(facts)) and not is_savoury_custom(facts)


def is_fruit_stated(ingredient: UsedIngredient, facts: LabelFacts) -> bool:
    """Whether the fruit statement already tells the quantity of this ingredient."""
    return states_fruit(facts) and bears_fruit(ingredient, facts, name=name_claimed(facts))


def jam_fruits(facts: LabelFacts) -> tuple[UsedIngredient, ...]:
    """The ingredients that the fruit statement counts, the heaviest first."""
    return fruits(facts, name=name_claimed(facts))


def fruit_g_per_100_g(facts: LabelFacts) -> Decimal | None:
    """Fruit used for 100 g, the water of an extract taken off [g]; there is no upper end."""
    finished_g, parts = facts.usable_finished_g, jam_fruits(facts)
    if finished_g is None or not parts:
        return None
    return sum(map(counted_g, parts), start=Decimal(0)) * HUNDRED / finished_g


def needs_sugar_statement(facts: LabelFacts) -> bool:
    """Total sugar was stated to 13 June 2026, unless sugar was claimed in a full table."""
    if law_day(facts) >= JAM_2024_APPLIES or not states_fruit(facts):
        return False
    claims_sugar = any("sugar" in text for claim in facts.claims for text in words_of(claim))
    return not (claims_sugar and facts.shows_nutrition)


def statements(facts: LabelFacts, *, minimum_x_height_mm: Decimal) -> tuple[Particular, ...]:
    """“prepared with ... g of fruit per 100 g” and, before 14 June 2026, the total sugar."""
    said: list[tuple[str, str, Decimal]] = []
    fruit = fruit_g_per_100_g(facts) if states_fruit(facts) else None
    if fruit is not None:
        said.append(("fruit", "prepared with", fruit))
    solids = facts.soluble_solids_pct
    if solids is not None and needs_sugar_statement(facts):
        said.append(("sugar", "total sugar", solids))
    return tuple(
        Particular(
            kind="extra",
            runs=(TextRun(_filled(key, amount, facts)),),
            citation=jam_citation(facts, topic),
            same_field=True,
            minimum_x_height_mm=minimum_x_height_mm,
        )
        for topic, key, amount in said
    )


def _filled(key: str, amount: Decimal, facts: LabelFacts) -> str:
    shown = figure(nearest(amount, Decimal(1)), language=facts.language)
    return statement_word(key, language=facts.language).text.format(shown)


@rule(JAM_DIR, "Art. 2(1) and Annex I", since=JAM_DIR_APPLIES)
def a_product_name_is_earned(facts: LabelFacts, printed: PrintedText | None) -> Iterator[Finding]:
    """Jam, jelly, marmalade and chestnut puree are kept for what the directive describes."""
    judged = verdict_on_label(facts)
    if judged is None:
        return
    custom = is_savoury_custom(facts)
    not_known = (f"not known: {what}" for what in judged.missing)
    for reason in (*judged.against, *not_known):
        yield Finding(
            message=f"“{judged.name}” is a reserved name. Against it here: {reason}.",
            hint="Names may be used for other foods that nobody takes for jam; ask the local "
            "authority."
            if custom
            else _way_out(facts),
            level=LOOK if custom else MUST_MEND,
            where="name",
            citation=judged.citation,
        )
    if not judged.against and not judged.missing:
        for what in judged.asks:
            yield Finding(
                message=f"“{judged.name}” can stand only if the authority says so: {what}.",
                hint="Ask the local authority before you sell under this name.",
                level=LOOK,
                where="name",
                citation=judged.citation,
            )


def _way_out(facts: LabelFacts) -> str:
    instead = lawful_instead(facts)
    others = f" In this country it may be “{instead[0]}”." if instead else ""
    stock = ""
    if facts.made_on is not None and facts.made_on < JAM_2024_APPLIES <= law_day(facts):
        stock = (
            " Stock that was labelled before 14 June 2026 under the rules of then may be sold out; "
            "a label printed now follows those of now."
        )
    return (
        "Change the recipe or the point at which it is done, or give what is not known; or use a "
        f"name that is not reserved, such as “fruit spread” or “damson paste”.{others}{stock}"
    )


@rule(ES_MERMELADA, "annex, points 3 to 5", since=JAM_DIR_APPLIES, mark="from memory")
def a_name_of_one_country_has_statements_of_its_own(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """What a country reserves for itself follows its own act in ingredients and statements too."""
    named = national_name(facts.name_of_food, country=country_of(facts))
    if named is None:
        return None
    return Finding(
        message=f"“{named.name}” follows the act of its country, which has rules of its own on "
        "what may go in and on stating the fruit. They are not checked here.",
        hint="The quantity of the fruit is printed as the general rules ask. Hold the label "
        "against the decree, or ask the local authority.",
        level=LOOK,
        where="name",
    )


@rule(JAM_DIR, "Art. 2(1), second subparagraph", since=JAM_DIR_APPLIES)
def a_reserved_word_elsewhere_is_looked_at(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """A reserved word may name an ingredient, or stand where nobody takes the food for jam."""
    word = holds_a_reserved_word(facts.name_of_food)
    country = country_of(facts)
    if not word or name_claimed(facts) or national_name(facts.name_of_food, country=country):
        return None
    return Finding(
        message=f"“{word}” is a word of the jam family. That is lawful where it names an "
        "ingredient, or where nobody can take the food for jam.",
        hint="“Mermelada” is a product of its own in Spain; “jelly” alone is no name for a cut "
        "sweet. Ask the local authority if in doubt.",
        level=LOOK,
        where="name",
    )


@rule(JAM_DIR, "Art. 2(1) and Annex I", since=JAM_DIR_APPLIES)
def what_is_jam_is_called_jam(facts: LabelFacts, printed: PrintedText | None) -> Finding | None:
    """Food that meets a description of the directive is to be sold under its name."""
    solids = facts.soluble_solids_pct
    if verdict_on_label(facts) is not None or solids is None or solids < SOLIDS_PCT:
        return None
    if not any(i.category == "sugar" for i in facts.ingredients):
        return None
    if not verdict(JAM, facts).is_lawful:
        return None
    return Finding(
        message="By its fruit and sugar this could be jam, and what meets the description is to "
        "bear the name. Firm pastes and fruit cheeses that are cut go by their customary names.",
        hint="If it spreads, call it jam. If it is cut, keep the name and ask the local authority.",
        level=LOOK,
        where="name",
        citation=jam_citation(facts, "name"),
    )


@rule(JAM_DIR_2024, "Annex I, Part I", since=JAM_2024_APPLIES, mark="second-hand")
def marmalade_says_of_which_citrus(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """Since 14 June 2026 it is “citrus marmalade”, or marmalade of the citrus fruit named."""
    if name_claimed(facts) != MARMALADE or says_one_of(facts.name_of_food, CITRUS):
        return None
    parts = fruits(facts, name=JAM)
    if any(w.startswith(("citrin", "zitrus")) for w in words_of(plain(facts.name_of_food))):
        return None
    if parts and not all(map(is_citrus, parts)):
        return None
    if _names_citrus_in_one_word(facts):
        return None
    return Finding(
        message="“Marmalade” alone is no longer the name: it is “citrus marmalade”, or “orange "
        "marmalade” with the citrus fruit named.",
        hint="Name the fruit, or write “citrus marmalade”. “Mixed fruits marmalade” is for several "
        "citrus fruits.",
        where="name",
    )


def _names_citrus_in_one_word(facts: LabelFacts) -> bool:
    """German sets the fruit before the word without a space: Orangenmarmelade."""
    words = words_of(plain(facts.name_of_food))
    german = any(w.endswith("marmelade") and w.startswith(_GERMAN_CITRUS) for w in words)
    return german or "mixed" in words


_GERMAN_CITRUS = ("orange", "zitrone", "limette", "mandarine", "grapefruit", "bitterorange")


@rule(JAM_DIR, "Art. 2(2)", since=JAM_DIR_APPLIES)
def the_name_tells_the_fruits(facts: LabelFacts, printed: PrintedText | None) -> Iterator[Finding]:
    """The fruits stand in the name, the heaviest first; three or more may be "mixed fruit"."""
    parts = jam_fruits(facts) if states_fruit(facts) else ()
    if name_claimed(facts) == MARMALADE or not parts:
        return
    said = words_of(plain(facts.name_of_food))
    kinds = tuple(dict.fromkeys(i.name for i in parts))
    if len(kinds) >= 3 and _stands_for_many(said, len(kinds), facts):
        return
    level = MUST_MEND if facts.language == "en" else LOOK
    places = [_place(kind, said) for kind in kinds]
    unnamed = [kind for kind, place in zip(kinds, places, strict=True) if place is None]
    if unnamed:
        yield Finding(
            message=f"The name does not tell of {', '.join(unnamed)}.",
            hint="Name each fruit, the heaviest first. Three or more may go as “mixed fruit” or "
            "by their number.",
            level=level,
            where="name",
        )
    found = [place for place in places if place is not None]
    if found != sorted(found):
        yield Finding(
            message="The fruits in the name are not in falling order of what was used: it is "
            f"{', '.join(kinds)}.",
            hint="Put the heaviest first.",
            level=level,
            where="name",
        )


def _stands_for_many(said: tuple[str, ...], count: int, facts: LabelFacts) -> bool:
    is_counted = COUNTED.get(count, "") in said or f"{count} fr" in plain(facts.name_of_food)
    return is_counted or bool(set(_MANY) & set(said))


def _place(fruit: str, said: tuple[str, ...]) -> int | None:
    bare = plain(fruit)
    whole = (n for n, w in enumerate(said) if len(w) > 2 and names_one_of(bare, (w,)))
    joined = (n for n, w in enumerate(said) if any(w.startswith(f[:5]) for f in _long(bare)))
    return next(whole, next(joined, None))


def _long(text: str) -> tuple[str, ...]:
    return tuple(w for w in words_of(text) if len(w) >= 5)


@rule(JAM_DIR, "Art. 2(3)", since=JAM_DIR_APPLIES)
def the_fruit_statement_can_be_made(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """“prepared with ... g of fruit per 100 g” is printed in place of another quantity of fruit."""
    if not states_fruit(facts):
        return
    if fruit_g_per_100_g(facts) is None:
        yield Finding(
            message="“prepared with ... g of fruit per 100 g” is asked for, but the fruit or the "
            "finished mass is not known.",
            hint="Enter the recipe with its fruit, and how the cook ends.",
            where="extra",
        )
        return
    word = statement_word("prepared with", language=facts.language)
    if word.mark != "read":
        yield Finding(
            message=f"The words “{word.text.format('...')}” are {word.mark}.",
            hint="Have a native reader hold them against the national act before printing.",
            level=LOOK,
            where="extra",
        )


@rule(JAM_DIR, "Art. 2(4)", since=JAM_DIR_APPLIES, until=JAM_2024_APPLIES)
def the_sugar_statement_can_be_made(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """“total sugar content ... g per 100 g” was the refractometer reading at 20 °C."""
    if not needs_sugar_statement(facts) or facts.soluble_solids_pct is not None:
        return None
    return Finding(
        message="By the law of that day “total sugar content ... g per 100 g” is asked for, but "
        "the reading of the finished food is not known.",
        hint="Measure it with the refractometer at 20 °C and enter the Brix.",
        where="extra",
    )


@rule(JAM_DIR, "Annexes II and III", since=JAM_DIR_APPLIES)
def nothing_else_is_in_the_pan(facts: LabelFacts, printed: PrintedText | None) -> Iterator[Finding]:
    """Only what the annexes permit goes into jam besides fruit, sugar and water."""
    if not states_fruit(facts):
        return
    for ingredient in facts.ingredients:
        if ingredient.parts or ingredient.additive_class or ingredient.is_processing_aid:
            continue
        if counts_as_fruit(ingredient) or _is_permitted(ingredient):
            continue
        yield Finding(
            message=f"{ingredient.name} is not plainly one of the things that {name_claimed(facts)}"
            " may hold besides fruit, sugar and water; anything else takes it out of the name.",
            hint="Permitted are honey, citrus juice and peel, pectin, spirits, wine, nuts, herbs, "
            "spices, vanilla, oil or fat against foam, and additives that the law allows.",
            level=LOOK,
            where="ingredients",
            citation=Citation(JAM_DIR, "Annex II"),
        )


_PERMITTED = (
    "honey", "pectin", "juice", "peel", "zest", "rum", "brandy", "whisky", "gin", "vodka", "wine",
    "port", "sherry", "liqueur", "almond", "walnut", "hazelnut", "nut", "vanilla", "vanillin",
    "sugar", "syrup", "water", "chestnut", "miel", "pectina", "pectine", "zumo", "jus", "succo",
    "azucar", "sucre", "zucchero", "açucar", "zucker", "honig", "pektin", "wasser", "agua", "eau",
    "acqua", "vainilla", "vaniglia", "baunilha", "vanille", "wein", "vino", "vin", "vinho",
)  # fmt: skip


def _is_permitted(ingredient: UsedIngredient) -> bool:
    if ingredient.category in {"sugar", "water", "spice", "herb"}:
        return True
    return says_one_of(f"{ingredient.name} | {ingredient.called}", _PERMITTED)
