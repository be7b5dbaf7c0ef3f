"""That a lot may need a second label, and the way to print it."""

from collections.abc import Iterable
from dataclasses import dataclass
from urllib.parse import urlencode

from django.urls import reverse

from labels.facts import LabelFacts
from labels.models import PrintedLabel
from labels.services.comparison import Changes, Standpoint
from labels.services.elsewhere import labels_elsewhere

_LONGEST = 160
"""Characters of a statement that are shown; the check page has it whole."""


@dataclass(frozen=True)
class SecondLabel:
    """Where another label is needed, what it says otherwise, and where it is printed."""

    place: str
    says: str
    leaves: str
    url: str


def second_labels(run: PrintedLabel, facts: LabelFacts) -> list[SecondLabel]:
    """The labels this lot needs besides the one that was printed, if it is sold there."""
    usual = Standpoint(run.market, facts.way_of_sale, run.rule_date)
    return [_shown(run, facts, changes) for changes in labels_elsewhere(facts, usual=usual)]


def _shown(run: PrintedLabel, facts: LabelFacts, changes: Changes) -> SecondLabel:
    there = changes.after
    asked = {"market": there.market, "way_of_sale": there.way_of_sale, "sheet": run.sheet["code"]}
    if run.batch_id:
        asked["batch"] = str(run.batch_id)
    else:
        asked |= {"lot": run.lot}
        days = {"made_on": facts.made_on, "best_before": run.best_before}
        asked |= {name: day.isoformat() for name, day in days.items() if day}
    page = reverse("label_print", args=(run.kitchen_id, run.product_id))
    return SecondLabel(
        place=there.name.rpartition(", law of")[0],
        says=_briefly(statement.text for statement in changes.said_now),
        leaves=_briefly(statement.text for statement in changes.said_no_more),
        url=f"{page}?{urlencode(asked)}",
    )


def _briefly(texts: Iterable[str]) -> str:
    return "; ".join(t if len(t) <= _LONGEST else t[: _LONGEST - 1] + "…" for t in texts)
