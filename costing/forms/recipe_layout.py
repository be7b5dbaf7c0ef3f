"""The recipe form on the page: which boxes stand together, and which belong to one way only."""

from typing import Any

from crispy_forms.layout import Div

from costing.forms.fields import Chapter, Line, as_typed, side_by_side
from costing.models import Kitchen

NEEDED = "needed for the answer"


def head_lines() -> list[Any]:
    """What it is called and what it is."""
    return [Line("name"), Line("kind"), Line("is_preparation")]


def cook_lines(kitchen: Kitchen) -> list[Any]:
    """When it is done, what is lost, how long it takes; only what belongs to the way chosen."""
    reading = kitchen.water_reading_c
    known = f"empty: {as_typed(reading)}, as in the kitchen's settings" if reading else ""
    return [
        Chapter(
            "The cook",
            Line("cook_kind"),
            Div(
                side_by_side(Line("stop_form"), Line("stop_value", short=True, mark=NEEDED)),
                Div(Line("water_reading_c", unit="°C", mark=known), css_class="only only-reading"),
                css_class="only only-boil",
            ),
            Div(Line("cook_loss_pct", unit="%", mark=NEEDED), css_class="only only-loss"),
            Div(
                side_by_side(
                    Line("finished", short=True, mark=NEEDED), Line("evaporated", short=True)
                ),
                css_class="only only-weighed",
            ),
            side_by_side(Line("pan_residue", short=True), Line("handling_loss_pct", unit="%")),
            Line("attended", short=True, mark=NEEDED),
        )
    ]


def pan_lines(*, mark: str) -> list[Any]:
    """What a first recipe needs not know, and the method. mark: beside a default."""
    return [
        Chapter(
            "Finer points of the pan",
            Line("is_heated"),
            Line("inverted_pct", unit="%", mark=mark),
            side_by_side(
                Line("measured_brix", unit="Brix"), Line("measured_insoluble_pct", unit="%")
            ),
            opens=True,
        ),
        Chapter("Method", Line("method")),
    ]


def label_lines(*, has_archive: bool) -> list[Any]:
    """How it stands in the ingredient list of something else; and putting it away."""
    on_label = Chapter("As an ingredient of something else", Line("label_name"), Line("on_label"))
    last = [Chapter("Put it away", Line("is_archived"), opens=True)] if has_archive else []
    return [Div(on_label, css_class="only-preparation"), *last]
