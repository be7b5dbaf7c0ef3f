"""The labels that are measured: an invented paste, with an allergen set apart in its list."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from labels import law
from labels.facts import Allergen, LabelFace, LabelFacts, UsedIngredient
from labels.stock import sheet

SHEET = sheet("a4-3x7-63.5x38.1")
"""Three across and seven down on A4, 63.5 x 38.1 mm each."""

ON = date(2026, 9, 20)

_PASTE = LabelFacts(
    name_of_food="Fig and walnut paste",
    ingredients=(
        UsedIngredient("figs", Decimal(600), category="fruit", quid_reason="in the name"),
        UsedIngredient("sugar", Decimal(400), category="sugar"),
        UsedIngredient(
            "walnuts",
            Decimal(80),
            allergens=(Allergen("nuts", "walnuts"),),
            quid_reason="in the name",
        ),
        UsedIngredient("lemon juice", Decimal(20), category="fruit"),
    ),
    finished_g=Decimal(900),
    net_quantity_g=Decimal(100),
    largest_surface_cm2=Decimal(90),
    operator_name="Kiln Orchard",
    operator_address="4 Weir Row, Aldermoor",
    made_on=ON,
    best_before=date(2027, 6, 30),
    lot="FW-26263",
    storage="Keep wrapped, in a cool and dry place.",
)


def paste_face(*, lot: str = "FW-26263", net_g: int = 100) -> LabelFace:
    """One label as the law wants it, before anything is set in type."""
    facts = replace(_PASTE, lot=lot, net_quantity_g=Decimal(net_g))
    return LabelFace(
        particulars=law.particulars(facts, on=ON),
        brand_name="Kiln Orchard",
        tagline="Cut by hand",
        colour="#5a2340",
    )


def numbered_faces(count: int, *, series: int = 0) -> list[LabelFace]:
    """Labels that differ in the lot: one number each, of a series that was not seen before."""
    return [paste_face(lot=f"FW-{series:02d}-{number:04d}") for number in range(count)]


def weighed_faces(count: int, *, series: int = 0) -> list[LabelFace]:
    """Labels that differ in lot and weight, as when every piece is put on the scale."""
    return [
        paste_face(lot=f"FW-{series:02d}-{number:04d}", net_g=100 + number * 7 % 90)
        for number in range(count)
    ]
