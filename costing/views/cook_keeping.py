"""Set and keeping, beside the pan: what texture to expect, whether it grains, how it may keep."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal

from django.utils import timezone

from costing.product_kinds import PIECE, SLAB, product_kind
from costing.reckoning.keeping_words import LOW_ACID_AW, REFRIGERATED
from costing.reckoning.setting import ready_times
from costing.reckoning.stove import (
    DONE,
    TOO_FAR,
    KeepingWords,
    Now,
    StovePlan,
    keeping,
    low_acid_names,
    set_words,
    target_brix,
)
from costing.views.recipe_words import Pen

_ORDER = {False: 0, None: 1, True: 2}
_WORDS = {False: "Outside this limit", None: "Not known", True: "Inside this limit"}


@dataclass(frozen=True)
class LimitLine:
    """One official limit: its word, what it says, and whose it is."""

    word: str
    sentence: str
    source: str


@dataclass(frozen=True)
class KeepingChapter:
    """What the page says of set and keeping, the worst first.

    at: of which Brix it speaks. is_open: it belongs in the cold, or a fruit that may be low in
    acid has no pH yet, so the chapter stands open.
    """

    at: str
    expect: str
    set_caution: str
    set_source: str
    graining: str
    activity: str
    asks: tuple[str, ...]
    cautions: tuple[str, ...]
    limits: tuple[LimitLine, ...]
    storage: tuple[str, ...]
    is_open: bool


def keeping_chapter(
    plan: StovePlan, state: Now, *, ph: Decimal | None, pen: Pen
) -> KeepingChapter | None:
    """Of the Brix the pan stands at once it is done or past it, else of where it is to stop."""
    is_there = state.brix is not None and state.verdict in (DONE, TOO_FAR)
    brix = state.brix.value if state.brix is not None and is_there else target_brix(plan)
    if brix is None:
        return None
    found, words = keeping(plan, brix=brix, ph=ph), set_words(brix)
    limits = sorted(found.limits, key=lambda one: _ORDER[one.is_inside])
    return KeepingChapter(
        at=f"{'As it stands' if is_there else 'At its stop'}, {pen.number(brix, places=1)} Brix",
        expect=words.expect,
        set_caution=words.caution,
        set_source=words.source,
        graining=found.graining,
        activity=_activity(found, pen=pen),
        asks=tuple(ask.sentence for ask in found.asks),
        cautions=found.cautions,
        limits=tuple(LimitLine(_WORDS[one.is_inside], one.sentence, one.source) for one in limits),
        storage=found.storage,
        is_open=REFRIGERATED in found.storage or (ph is None and bool(low_acid_names(plan.names))),
    )


def _activity(found: KeepingWords, *, pen: Pen) -> str:
    if found.aw is None or found.cautious_aw is None:
        return ""
    said = (
        f"Water activity {pen.number(found.aw, places=2)} ± {pen.number(found.aw_off, places=2)} "
        "at 20 °C, computed, not measured."
    )
    cautious = pen.number(found.cautious_aw, places=2)
    if found.cautious_aw > found.aw:
        said += f" A second model says {cautious}: the limits below go by that one."
    if found.cautious_aw + found.aw_off > LOW_ACID_AW:
        said += " With its doubt it may lie above 0.85."
    return said


@dataclass(frozen=True)
class SettingLine:
    """One wait after pouring, as times of day."""

    name: str
    when: str


@dataclass(frozen=True)
class SettingChapter:
    """When a slab can be cut and packed, with where the hours come from and what to mind."""

    lines: tuple[SettingLine, ...]
    caution: str
    source: str


def setting_chapter(kind: str, *, poured_at: datetime | None) -> SettingChapter | None:
    """Clock times on the kitchen's clock; None for what is not poured into a slab."""
    if poured_at is None or not {SLAB, PIECE} & set(product_kind(kind).forms):
        return None
    poured = timezone.localtime(poured_at)
    ready = ready_times(poured)

    def at(moment: datetime) -> str:
        days = (moment.date() - poured.date()) // timedelta(days=1)
        day = "" if days == 0 else f" on {moment:%A}" if days < 7 else f" on {moment:%d %B}"
        return f"{moment:%H:%M}{day}"

    return SettingChapter(
        (
            SettingLine("Ready to cut", f"{at(ready.cut_from)} to {at(ready.cut_by)}"),
            SettingLine("Best cut", at(ready.cut_best)),
            SettingLine("Ready to pack", f"{at(ready.pack_from)} to {at(ready.pack_by)}"),
        ),
        ready.caution,
        ready.source,
    )
