"""The tables that are printed: ratios first, times beside them, and whether a goal is met."""

from collections.abc import Sequence
from dataclasses import dataclass

MET, NOT_MET = "goal met", "goal not met"


@dataclass(frozen=True)
class Table:
    """One table with its heading, and what must be known to read it."""

    title: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    notes: tuple[str, ...] = ()

    def as_text(self) -> str:
        """The table for a terminal: the first column to the left, the others to the right."""
        lines = [self.head, *self.rows]
        widths = [max(len(cell) for cell in column) for column in zip(*lines, strict=True)]
        text = [self.title, "=" * len(self.title), *(_laid_out(line, widths) for line in lines)]
        text.insert(3, "-" * (sum(widths) + 2 * (len(widths) - 1)))
        return "\n".join([*text, *(f"  {note}" for note in self.notes), ""])


def _laid_out(cells: Sequence[str], widths: Sequence[int]) -> str:
    first, *others = zip(cells, widths, strict=True)
    texts = [first[0].ljust(first[1]), *(cell.rjust(width) for cell, width in others)]
    return "  ".join(texts).rstrip()


def in_ms(time_ms: float) -> str:
    """A time with three figures or so: 0.123 ms, 4.56 ms, 78.9 ms, 1234 ms."""
    decimals = 3 if time_ms < 1 else 2 if time_ms < 10 else 1 if time_ms < 100 else 0
    return f"{time_ms:.{decimals}f} ms"


def in_ratio(ours: float, floor: float) -> str:
    """Ours over the floor, to two decimals; below one we are the quicker."""
    return f"{ours / floor:.2f}"


def verdict(*, is_met: bool) -> str:
    """Whether a goal is met, in words that can be searched for."""
    return MET if is_met else NOT_MET
