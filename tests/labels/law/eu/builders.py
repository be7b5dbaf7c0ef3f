"""Smallest valid label facts, overridable by keyword, for tests of the Union's label law.

Marks beside a source say how its text was read: [R] the act itself, [N] a national act or an
official page, [2] second-hand, (from memory). [calc] is arithmetic on a rule marked otherwise.
"""

from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from typing import Any

from labels import law
from labels.facts import (
    Allergen,
    LabelFacts,
    Particular,
    PrintedBlock,
    PrintedText,
    UsedIngredient,
)
from labels.law.eu.ingredient_list import entries
from labels.rulebook import Finding, check

TODAY = date(2026, 11, 25)
FIC_URL = "https://eur-lex.europa.eu/eli/reg/2011/1169/oj"


def used(name: str, grams: str | int | Decimal, **more: Any) -> UsedIngredient:
    """An ingredient by name and grams used; `allergens` may be {"group": "word"}."""
    allergens = more.pop("allergens", ())
    if isinstance(allergens, dict):
        allergens = tuple(Allergen(group, word) for group, word in allergens.items())
    for key in ("sulphite_mg_per_kg", "remaining_g", "fresh_equivalent_g"):
        if more.get(key) is not None:
            more[key] = Decimal(str(more[key]))
    return UsedIngredient(name, Decimal(str(grams)), allergens=allergens, **more)


def a_label(*ingredients: UsedIngredient, **changed: Any) -> LabelFacts:
    """A damson paste on which nothing needs mending, with some of its facts changed."""
    facts: dict[str, Any] = {
        "name_of_food": "Damson paste",
        "ingredients": ingredients
        or (used("damson puree", 5000), used("sugar", 4000, category="sugar")),
        "finished_g": Decimal(6500),
        "net_quantity_g": Decimal(200),
        "largest_surface_cm2": Decimal(90),
        "operator_name": "Sloe Bank Kitchen",
        "operator_address": "2 Mill Lane, 4990-100 Ponte",
        "made_on": date(2026, 11, 20),
        "best_before": date(2027, 11, 20),
        "lot": "L 26324",
        "storage": "Keep in a cool place.",
        "storage_after_opening": "Once open, refrigerate and eat within 4 weeks.",
        "nutrition_exemption": "small quantities",
        "country_of_sale": "IE",
        **changed,
    }
    for key in ("finished_g", "net_quantity_g", "net_quantity_ml", "largest_surface_cm2"):
        if facts.get(key) is not None:
            facts[key] = Decimal(str(facts[key]))
    return LabelFacts(**facts)


def findings(
    facts: LabelFacts, printed: PrintedText | None = None, *, on: date = TODAY
) -> tuple[Finding, ...]:
    """What every rule in force finds."""
    return check(law.rules_in_force("eu", on=on), facts, printed, on=on)


def by_rule(
    name: str, facts: LabelFacts, printed: PrintedText | None = None, *, on: date = TODAY
) -> list[Finding]:
    """What one rule finds; the rule must be there."""
    assert name in {rule.name for rule in law.rules_in_force("eu", on=on)}
    return [f for f in findings(facts, printed, on=on) if f.rule == name]


def faults(facts: LabelFacts, printed: PrintedText | None = None, *, on: date = TODAY) -> list[str]:
    """Names of the rules that stop printing."""
    return [f.rule for f in findings(facts, printed, on=on) if f.stops_printing]


def statement(kind: str, facts: LabelFacts, *, on: date = TODAY) -> Particular | None:
    """The statement of a kind that the law asks to be printed."""
    return next((p for p in law.particulars(facts, on=on) if p.kind == kind), None)


def text_of(kind: str, facts: LabelFacts) -> str:
    """A statement as plain text, heading included; empty if there is none."""
    found = statement(kind, facts)
    return found.text if found else ""


def extras(facts: LabelFacts, *, on: date = TODAY) -> list[str]:
    """What the jam directive makes the label say beside the name."""
    return [p.text for p in law.particulars(facts, on=on) if p.kind == "extra"]


def listed_names(facts: LabelFacts) -> list[str]:
    """The entries of the ingredient list, one text each."""
    return [entry.text for entry in entries(facts)]


def as_printed(
    facts: LabelFacts, *, x_height_mm: str = "1.3", figure_height_mm: str = "6", **panels: str
) -> PrintedText:
    """The law's statements set just as they are; `panels` moves a kind to another face."""
    return printed_from(
        law.particulars(facts, on=TODAY),
        x_height_mm=x_height_mm,
        figure_height_mm=figure_height_mm,
        panels=panels,
    )


def printed_from(
    particulars: Iterable[Particular],
    *,
    x_height_mm: str,
    figure_height_mm: str,
    panels: dict[str, str],
) -> PrintedText:
    """Statements as blocks of set type."""
    return PrintedText(
        blocks=tuple(
            PrintedBlock(
                kind=p.kind,
                text=p.text,
                x_height_mm=Decimal(x_height_mm),
                figure_height_mm=Decimal(figure_height_mm),
                panel=panels.get(p.kind, "front"),
                emphasised=p.emphasised,
            )
            for p in particulars
        )
    )
