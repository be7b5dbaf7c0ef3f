"""The facts of a print run read back from the plain data they were kept as."""

import types
from collections.abc import Mapping
from dataclasses import fields, is_dataclass, replace
from datetime import date
from decimal import Decimal
from functools import cache
from typing import Any, Union, cast, get_args, get_origin, get_type_hints

from labels import law
from labels.facts import LabelFacts, Particular
from labels.models import PrintedLabel

__all__ = ["kept_facts", "kept_statements"]

_hints = cache(get_type_hints)


def kept_facts(run: PrintedLabel) -> LabelFacts:
    """What was true of the food that day; what nobody asked after then stays at its usual value."""
    facts = cast("LabelFacts", _read(LabelFacts, run.facts))
    return replace(facts, market=run.market, lot=run.lot, best_before=run.best_before)


def kept_statements(facts: LabelFacts, *, on: date) -> tuple[Particular, ...]:
    """The statements that the law of a day asks of facts as they were kept."""
    return law.particulars(replace(facts, law_on=on), on=on)


def _read(wanted: Any, kept: Any) -> Any:
    """Plain data as what it was: the other way round of `printing.plain`."""
    if kept is None:
        return None
    if is_dataclass(wanted) and isinstance(wanted, type):
        return _record(wanted, kept)
    origin, inner = get_origin(wanted), get_args(wanted)
    if origin in {Union, types.UnionType}:
        return _read(next(each for each in inner if each is not type(None)), kept)
    if origin is tuple:
        each = inner[:1] * len(kept) if inner[-1] is Ellipsis else inner
        return tuple(_read(one, value) for one, value in zip(each, kept, strict=True))
    if wanted is Decimal:
        return Decimal(kept)
    return date.fromisoformat(kept) if wanted is date else kept


def _record(wanted: type, kept: Mapping[str, Any]) -> Any:
    hints = _hints(wanted)
    known = [field.name for field in fields(wanted) if field.name in kept]
    return wanted(**{name: _read(hints[name], kept[name]) for name in known})
