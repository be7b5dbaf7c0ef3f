"""Questions at the stove with the answers that one tap gives."""

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from costing.models import BatchReading
from costing.reckoning.stove import Ask, Event
from costing.reckoning.stove_checks import net_g
from costing.views.recipe_words import NBSP, Pen

AS_MEANT, STRIKE = "meant", "strike"


@dataclass(frozen=True)
class Answer:
    """One button: what it says, what it does, and the mark by which it is kept once."""

    code: str
    words: str
    key: str


@dataclass(frozen=True)
class Asked:
    """A question, the reading it is about, and the answers to it; both may be missing."""

    sentence: str
    reading: BatchReading | None = None
    answers: tuple[Answer, ...] = ()
    suggestion: Event | None = None
    about: str = ""


def event_of(row: BatchReading) -> Event:
    """A reading as the sums take it."""
    return Event(
        kind=row.kind, value=row.value, at=row.read_at, tare_g=row.tare_g, sample_c=row.sample_c
    )


def asked(asks: Sequence[Ask], rows: Mapping[Event, BatchReading], *, pen: Pen) -> list[Asked]:
    """Each question beside its reading, with what can be answered by one tap."""
    found = []
    for ask in asks:
        row = None if ask.event is None else rows.get(ask.event)
        answers = () if row is None else _answers(ask, row, pen=pen)
        found.append(Asked(ask.sentence, row, answers, ask.suggestion, ask.about))
    return found


def _answers(ask: Ask, row: BatchReading, *, pen: Pen) -> tuple[Answer, ...]:
    strike = Answer(STRIKE, "It was misread: strike it out", answer_key(row, STRIKE))
    if ask.suggestion is None:
        return (strike,)
    meant = Answer(AS_MEANT, _meant(ask.suggestion, pen=pen), answer_key(row, AS_MEANT))
    return (meant, strike)


def _meant(suggestion: Event, *, pen: Pen) -> str:
    if suggestion.kind == BatchReading.Kind.TEMPERATURE:
        return f"Fahrenheit, yes: {pen.number(suggestion.value)}{NBSP}°C"
    food = pen.kilos(net_g(suggestion))
    if suggestion.tare_g is None:
        return f"The pan was not in it: {food} of food"
    return f"The pan was in it: {food} of food"


def answer_key(row: BatchReading, code: str) -> str:
    """The same for the same answer on whatever phone, so that it is kept once."""
    return hashlib.sha256(f"{row.pk}:{row.key}:{code}".encode()).hexdigest()[:32]
