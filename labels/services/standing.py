"""Whether a label that was printed is still what would be printed today, and what came between."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date

from labels import law
from labels.facts import Citation, LabelFacts, Particular
from labels.models import LabelDesign, PrintedLabel
from labels.rulebook import check
from labels.services.facts import FoodFacts
from labels.services.facts_kept import kept_facts, kept_statements
from labels.services.printing import LabelOrder, LabelRefused, facts_and_food, look_of
from labels.services.sheets_kept import kept_sheet

__all__ = ["LAW", "OURS", "OUR_WORDS", "Change", "Standing", "same_again", "standing_of"]

OUR_WORDS = {
    "brand_name": "The brand",
    "tagline": "The line under the name",
    "colour": "The colour",
    "layout": "The layout",
    "gtin": "The number under the bars",
    "qr_text": "What the square code says",
}


@dataclass(frozen=True)
class Change:
    """One thing that today's label would say otherwise. before, now: empty where it is not said.

    why: "the law" where the same facts are told otherwise now, else "the design, the recipe or an
        answer".
    """

    kind: str
    before: str
    now: str
    why: str
    citation: Citation | None = None


@dataclass(frozen=True)
class Standing:
    """How a printed label stands to today's. refused: why there would be none at all today.

    faults: what today's law has against the label as it would be today, in sentences.
    danger: an allergen that the old label does not tell, in a sentence; no reason outweighs it.
    """

    changes: tuple[Change, ...] = ()
    faults: tuple[str, ...] = ()
    refused: str = ""
    danger: str = ""

    @property
    def is_superseded(self) -> bool:
        """Whether today's label differs, or there would be none."""
        return bool(self.changes or self.faults or self.refused)


LAW, OURS = "the law", "the design, the recipe or an answer"


def standing_of(
    run: PrintedLabel, *, design: LabelDesign, on: date, planned: FoodFacts | None = None
) -> Standing:
    """Statement by statement, and look by look, for the same lot with the same days.

    planned: the recipe's own food as it stands, where it was read already.
    """
    before = kept_facts(run)
    order = same_again(run, facts=before, on=on)
    try:
        now, food, _ = facts_and_food(design, order=order, planned=planned)
    except LabelRefused as refusal:
        return Standing(refused=str(refusal))
    if _weighed(run):
        now = replace(now, net_quantity_g=before.net_quantity_g)
    asked = tuple(question.sentence for question in food.questions)
    found = check(law.rules_in_force(run.market, on=on), now, None, on=on)
    stopping = tuple(finding.message for finding in found if finding.stops_printing)
    said = (*_by_the_law(before, run=run, on=on), *_by_us(before, now, on=on))
    unanswered = next((f.message for f in found if f.stops_printing and f.where == "allergens"), "")
    return Standing(
        changes=(*said, *_looks(run, before, now, design=design)),
        faults=(*asked, *stopping),
        danger=_untold(before, now, run=run, on=on) or unanswered,
    )


def _untold(before: LabelFacts, now: LabelFacts, *, run: PrintedLabel, on: date) -> str:
    """The allergens that are set apart today and were not when it was printed."""
    told = _set_apart(kept_statements(before, on=run.rule_date))
    new = [word for word in _set_apart(kept_statements(now, on=on)) if word not in told]
    return f"Today’s label sets {', '.join(new)} apart, and this one does not." if new else ""


def _set_apart(said: Iterable[Particular]) -> list[str]:
    words = (word.casefold() for each in said for word in each.emphasised)
    return list(dict.fromkeys(words))


def same_again(run: PrintedLabel, *, facts: LabelFacts, on: date) -> LabelOrder:
    """The order of a run as one would place it today."""
    return LabelOrder(
        on=on,
        made_on=facts.made_on or run.rule_date,
        sheet=kept_sheet(run.sheet),
        lot=run.lot,
        best_before=run.best_before,
        printed_on=on,
        batch=run.batch,
        market=run.market,
        way_of_sale=facts.way_of_sale,
    )


def _weighed(run: PrintedLabel) -> bool:
    return getattr(run, "weighed", None) is not None


def _by_the_law(facts: LabelFacts, *, run: PrintedLabel, on: date) -> Iterable[Change]:
    old = kept_statements(facts, on=run.rule_date)
    return _differences(old, kept_statements(facts, on=on), why=LAW)


def _by_us(before: LabelFacts, now: LabelFacts, *, on: date) -> Iterable[Change]:
    old = kept_statements(before, on=on)
    return _differences(old, kept_statements(now, on=on), why=OURS)


def _differences(
    old: Sequence[Particular], new: Sequence[Particular], *, why: str
) -> Iterable[Change]:
    """Statements by their kind and language; of a kind that stands twice, each by itself."""
    before, after = _in_order(old), _in_order(new)
    for key in dict.fromkeys((*before, *after)):
        was, would = before.get(key), after.get(key)
        if _said(was) != _said(would):
            asked = would or was
            yield Change(
                kind=key[0],
                before=was.text if was else "",
                now=would.text if would else "",
                why=why,
                citation=asked.citation if asked else None,
            )


def _in_order(said: Iterable[Particular]) -> dict[tuple[str, str, int], Particular]:
    found: dict[tuple[str, str, int], Particular] = {}
    for each in said:
        place = sum(1 for key in found if key[:2] == (each.kind, each.language))
        found[each.kind, each.language, place] = each
    return found


def _said(each: Particular | None) -> tuple[str, tuple[str, ...]] | None:
    return None if each is None else (each.text, each.emphasised)


def _looks(
    run: PrintedLabel, before: LabelFacts, now: LabelFacts, *, design: LabelDesign
) -> Iterable[Change]:
    """What the law does not ask for and the buyer sees all the same."""
    mine: dict[str, str] = {"brand_name": before.brand_name, "tagline": before.tagline} | (
        run.look or {}
    )
    today = {"brand_name": now.brand_name, "tagline": now.tagline} | look_of(design)
    for name, was in mine.items():
        if name in today and was != today[name]:
            yield Change(OUR_WORDS.get(name, name), was or "none", today[name] or "none", OURS)
