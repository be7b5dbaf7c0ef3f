"""Runs of label text: joined, put in brackets, with words set apart."""

import re
from collections.abc import Iterable, Sequence

from labels.facts import Particular, TextRun
from labels.mechanics.text import bare, forms, one_line

Runs = tuple[TextRun, ...]


def tidy(runs: Iterable[TextRun]) -> Runs:
    """Neighbouring plain stretches made one."""
    found: list[TextRun] = []
    for run in runs:
        if found and not run.is_emphasised and not found[-1].is_emphasised:
            found[-1] = TextRun(found[-1].text + run.text)
        else:
            found.append(run)
    return tuple(found)


def join(pieces: Iterable[Runs], *, between: str = ", ") -> Runs:
    """Pieces one after the other."""
    joined: list[TextRun] = []
    for piece in pieces:
        if joined:
            joined.append(TextRun(between))
        joined += piece
    return tidy(joined)


def in_brackets(name: Runs, details: Sequence[Runs]) -> Runs:
    """A name, then all that is said of it in one pair of brackets; none where nothing is said."""
    if not details:
        return name
    return tidy((*name, TextRun(" ("), *join(details, between="; "), TextRun(")")))


def whole_words(names: Iterable[str]) -> re.Pattern[str]:
    """A pattern that finds any of some names as whole words, singular or plural.

    "mustard seed" holds mustard, "goats' cheese" holds no oats.
    """
    every = {form for name in names for form in forms(one_line(name))}
    longest_first = sorted(every, key=len, reverse=True) or ["(?!)"]
    return re.compile(rf"(?<!\w)(?:{'|'.join(map(re.escape, longest_first))})(?!\w)", re.IGNORECASE)


def emphasised(text: str, patterns: Sequence[re.Pattern[str]]) -> tuple[Runs, tuple[int, ...]]:
    """The text with what the patterns find set apart, and the places of those that found nothing.

    Where two finds overlap, the earlier pattern has it.
    """
    spans: list[tuple[int, int]] = []
    missing: list[int] = []
    for place, pattern in enumerate(patterns):
        found = [m.span() for m in pattern.finditer(text)]
        if not found:
            missing.append(place)
        spans += [s for s in found if not any(s[0] < e and b < s[1] for b, e in spans)]
    runs: list[TextRun] = []
    at = 0
    for begin, end in sorted(spans):
        runs += [TextRun(text[at:begin]), TextRun(text[begin:end], is_emphasised=True)]
        at = end
    runs.append(TextRun(text[at:]))
    return tuple(run for run in runs if run.text), tuple(missing)


def stands_in(particular: Particular, text: str) -> bool:
    """Whether a statement stands in a text whole: in one line, or as its table."""
    said = bare(text)
    body = "".join(run.text for run in particular.runs)
    if bare(body) in said and bare(particular.heading) in said:
        return True
    return particular.table is not None and bare(particular.table.text) in said
