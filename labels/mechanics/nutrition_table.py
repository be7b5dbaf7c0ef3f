"""A nutrition declaration as a table or in one line; words, numbers and order are each law's."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from labels.facts import Table


@dataclass(frozen=True)
class Row:
    """One line of a declaration, each amount as printed.

    per_portion, share: empty where no portion is told. is_part: it is a part of the row above.
    """

    label: str
    per_100_g: str
    per_portion: str = ""
    share: str = ""
    is_part: bool = False


def as_table(rows: Sequence[Row], *, head: Sequence[str], notes: Iterable[str] = ()) -> Table:
    """Rows under a head: of two columns, or of four with a portion and its share of an intake."""
    return Table(
        head=tuple(head),
        rows=tuple(
            (_begins(row), row.per_100_g, row.per_portion, row.share)[: len(head)] for row in rows
        ),
        notes=tuple(notes),
        indented=tuple(place for place, row in enumerate(rows) if row.is_part),
    )


def _begins(row: Row) -> str:
    """A row of its own begins with a capital; a part of another does not."""
    return row.label if row.is_part else row.label[:1].upper() + row.label[1:]


def in_line(
    rows: Sequence[Row], *, portion: str = "", mark: str = "", notes: Iterable[str] = ()
) -> str:
    """All of it in one line; what a portion holds follows what 100 g hold.

    mark: leads from each share of an intake to the note about it.

    >>> in_line([Row("fat", "1.2 g"), Row("of which saturates", "0.1 g", is_part=True)])
    'fat 1.2 g, of which saturates 0.1 g.'
    """
    sentences = [", ".join(f"{row.label} {row.per_100_g}" for row in rows) + "."]
    if portion:
        told = (
            f"{row.label} {row.per_portion}" + (f" ({row.share}{mark})" if row.share else "")
            for row in rows
        )
        sentences.append(f"{portion} {', '.join(told)}.")
    return " ".join([*sentences, *notes])


@dataclass(frozen=True)
class RecordRow:
    """How one declared amount came about: exact, as printed, by which rounding, and what a control
    lets stand; the last is empty for energy.
    """

    name: str
    exact: str
    shown: str
    rounding: str
    control: str = ""
