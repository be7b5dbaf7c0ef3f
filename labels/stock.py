"""Sheets of labels as pure geometry: one row per sheet, and every row adds up to its page."""

from dataclasses import dataclass
from decimal import Decimal
from typing import NamedTuple

from labels.facts import LabelBox

__all__ = ["SHEETS", "LabelSheet", "Position", "sheet"]

_EVEN_WITHIN_MM = Decimal("0.5")
_PAGE_LIMIT_MM = Decimal(1200)
_LABEL_FLOOR_MM = Decimal(8)
_LABELS_LIMIT = 1000


class Position(NamedTuple):
    """Where a label's top left corner lies, from the top left of the page [mm]."""

    x_mm: Decimal
    y_mm: Decimal


@dataclass(frozen=True)
class _Run:
    """One direction of a sheet: first margin, labels at equal steps, last margin [mm]."""

    across: str
    of: str
    sides: tuple[str, str]
    count: int
    pitch: Decimal
    label: Decimal
    first: Decimal
    last: Decimal | None
    page: Decimal

    def refuse_what_does_not_add_up(self, name: str) -> None:
        """Say which sum is wrong, with its numbers."""
        before, after = self.sides
        used = self.first + (self.count - 1) * self.pitch + self.label
        left_over = self.page - used
        sum_in_words = (
            f"{self.first} mm {before} margin + {self.count - 1} x {self.pitch} mm step + "
            f"{self.label} mm label = {used} mm"
        )
        if self.count > 1 and self.pitch < self.label:
            raise ValueError(
                f"{name}: the labels overlap {self.across} the page: each is {self.label} mm, but "
                f"the next one starts {self.pitch} mm further on."
            )
        if left_over < 0:
            raise ValueError(
                f"{name}: the {self.of} do not fit {self.across} the page: {sum_in_words}, and "
                f"the page has {self.page} mm."
            )
        if self.last is None and abs(left_over - self.first) > _EVEN_WITHIN_MM:
            raise ValueError(
                f"{name}: {sum_in_words}; of a page of {self.page} mm that leaves {left_over} mm "
                f"at the {after}, not the {self.first} mm of the {before}. Measure again, or give "
                f"the {after} margin too."
            )
        if self.last is not None and left_over != self.last:
            raise ValueError(
                f"{name}: {sum_in_words}; with {self.last} mm at the {after} that makes "
                f"{used + self.last} mm, and the page has {self.page} mm."
            )


@dataclass(frozen=True)
class LabelSheet:
    """A page of labels: how many, how large, and where the first one and the next ones begin.

    margin_right_mm, margin_bottom_mm: None means "as the left, as the top", which is then checked
        against what the other numbers leave; give them only for a sheet that is not centred.
    """

    code: str
    name: str
    page_width_mm: Decimal
    page_height_mm: Decimal
    columns: int
    rows: int
    label_width_mm: Decimal
    label_height_mm: Decimal
    margin_left_mm: Decimal
    margin_top_mm: Decimal
    pitch_x_mm: Decimal
    pitch_y_mm: Decimal
    corner_radius_mm: Decimal = Decimal(0)
    margin_right_mm: Decimal | None = None
    margin_bottom_mm: Decimal | None = None

    def __post_init__(self) -> None:
        if not self.code or not self.name:
            raise ValueError("A label sheet needs a short code and a name to choose it by.")
        self._refuse_nonsense()
        for run in self._runs():
            run.refuse_what_does_not_add_up(self.name)

    def _runs(self) -> tuple["_Run", "_Run"]:
        """The sheet from left to right, and from top to bottom."""
        return (
            _Run(
                "across", "columns", ("left", "right"), self.columns, self.pitch_x_mm,
                self.label_width_mm, self.margin_left_mm, self.margin_right_mm, self.page_width_mm,
            ),
            _Run(
                "down", "rows", ("top", "bottom"), self.rows, self.pitch_y_mm,
                self.label_height_mm, self.margin_top_mm, self.margin_bottom_mm,
                self.page_height_mm,
            ),
        )  # fmt: skip

    def _refuse_nonsense(self) -> None:
        lengths = {
            "page width": self.page_width_mm,
            "page height": self.page_height_mm,
            "label width": self.label_width_mm,
            "label height": self.label_height_mm,
            "left margin": self.margin_left_mm,
            "top margin": self.margin_top_mm,
            "step from one column to the next": self.pitch_x_mm,
            "step from one row to the next": self.pitch_y_mm,
            "corner radius": self.corner_radius_mm,
        }
        for what, length in lengths.items():
            if not length.is_finite() or not 0 <= length <= _PAGE_LIMIT_MM:
                raise ValueError(
                    f"{self.name}: the {what} is {length:.6} mm; it must lie between 0 and "
                    f"{_PAGE_LIMIT_MM} mm."
                )
        if self.columns < 1 or self.rows < 1 or self.columns * self.rows > _LABELS_LIMIT:
            raise ValueError(
                f"{self.name}: {self.columns} columns and {self.rows} rows; a sheet has at least "
                f"one of each and at most {_LABELS_LIMIT} labels."
            )
        if min(self.label_width_mm, self.label_height_mm) < _LABEL_FLOOR_MM:
            raise ValueError(
                f"{self.name}: a label of {self.label_width_mm} x {self.label_height_mm} mm is too "
                f"small to print on; each side needs at least {_LABEL_FLOOR_MM} mm."
            )
        if 2 * self.corner_radius_mm > min(self.label_width_mm, self.label_height_mm):
            raise ValueError(
                f"{self.name}: a corner radius of {self.corner_radius_mm} mm is more than half of "
                f"the label's shorter side."
            )

    @property
    def per_page(self) -> int:
        """Labels on one full page."""
        return self.columns * self.rows

    def position(self, index: int) -> Position:
        """Where label `index` lies, counted from 0 along the rows, as one reads."""
        if not 0 <= index < self.per_page:
            raise ValueError(f"{self.name} has {self.per_page} labels; there is no {index + 1}.")
        row, column = divmod(index, self.columns)
        return Position(
            self.margin_left_mm + column * self.pitch_x_mm,
            self.margin_top_mm + row * self.pitch_y_mm,
        )

    def box(self) -> LabelBox:
        """The paper of one label, with the margin that home printers need to stay inside."""
        smaller = min(self.label_width_mm, self.label_height_mm)
        inset_mm = Decimal("2.0") if smaller >= 20 else Decimal("1.0")
        return LabelBox(
            width_mm=self.label_width_mm,
            height_mm=self.label_height_mm,
            inset_mm=inset_mm,
            corner_radius_mm=self.corner_radius_mm,
        )


_A4 = ("210", "297")
_LETTER = ("215.9", "279.4")


def _row(
    code: str,
    name: str,
    *,
    page: tuple[str, str],
    grid: tuple[int, int],
    label: tuple[str, str],
    margin: tuple[str, str],
    pitch: tuple[str, str],
    radius: str = "0",
) -> LabelSheet:
    return LabelSheet(
        code, name, Decimal(page[0]), Decimal(page[1]), *grid, Decimal(label[0]), Decimal(label[1]),
        Decimal(margin[0]), Decimal(margin[1]), Decimal(pitch[0]), Decimal(pitch[1]),
        Decimal(radius),
    )  # fmt: skip


def _single(width: str, height: str) -> LabelSheet:
    """A roll or a cut sheet: the page is the label."""
    size = (width, height)
    return _row(
        f"single-{width}x{height}", f"One label a page, {width} x {height} mm",
        page=size, grid=(1, 1), label=size, margin=("0", "0"), pitch=size,
    )  # fmt: skip


SHEETS: tuple[LabelSheet, ...] = (
    _row(
        "a4-3x7-63.5x38.1", "A4, 3 x 7, 63.5 x 38.1 mm", page=_A4, grid=(3, 7),
        label=("63.5", "38.1"), margin=("7.25", "15.15"), pitch=("66.0", "38.1"), radius="1.5",
    ),
    _row(
        "a4-3x8-70x37", "A4, 3 x 8, 70 x 37 mm (no side margins)", page=_A4, grid=(3, 8),
        label=("70", "37"), margin=("0", "0.5"), pitch=("70", "37"),
    ),
    _row(
        "a4-2x7-99.1x38.1", "A4, 2 x 7, 99.1 x 38.1 mm", page=_A4, grid=(2, 7),
        label=("99.1", "38.1"), margin=("4.65", "15.15"), pitch=("101.6", "38.1"), radius="1.5",
    ),
    _row(
        "a4-2x5-99.1x57", "A4, 2 x 5, 99.1 x 57 mm", page=_A4, grid=(2, 5),
        label=("99.1", "57"), margin=("4.65", "6"), pitch=("101.6", "57"), radius="1.5",
    ),
    _row(
        "a4-2x4-99.1x67.7", "A4, 2 x 4, 99.1 x 67.7 mm", page=_A4, grid=(2, 4),
        label=("99.1", "67.7"), margin=("4.65", "13.1"), pitch=("101.6", "67.7"), radius="1.5",
    ),
    _row(
        "a4-1x10-190x25", "A4, 1 x 10, 190 x 25 mm (strips to cut)", page=_A4, grid=(1, 10),
        label=("190", "25"), margin=("10", "14.5"), pitch=("190", "27"),
    ),
    _row(  # the page lies on its side
        "a4-1x4-277x45", "A4, 1 x 4, 277 x 45 mm (strips to cut)", page=("297", "210"),
        grid=(1, 4), label=("277", "45"), margin=("10", "12"), pitch=("277", "47"),
    ),
    # In inches: 2 5/8 x 1, side margin 3/16, step 2 3/4; top margin 1/2.
    _row(
        "letter-3x10-66.7x25.4", "US Letter, 3 x 10, 66.7 x 25.4 mm (2 5/8 x 1 in)", page=_LETTER,
        grid=(3, 10), label=("66.675", "25.4"), margin=("4.7625", "12.7"),
        pitch=("69.85", "25.4"), radius="1.5",
    ),
    # In inches: 4 x 2, side margin 5/32, step 4 3/16; top margin 1/2.
    _row(
        "letter-2x5-101.6x50.8", "US Letter, 2 x 5, 101.6 x 50.8 mm (4 x 2 in)", page=_LETTER,
        grid=(2, 5), label=("101.6", "50.8"), margin=("3.96875", "12.7"),
        pitch=("106.3625", "50.8"), radius="1.5",
    ),
    _single("63.5", "38.1"),
    _single("99.1", "67.7"),
    _single("100", "50"),
)  # fmt: skip
"""Common geometries, named by nothing but their numbers. A maker's own sheet is one more row."""


def sheet(code: str) -> LabelSheet:
    """The sheet with that code.

    >>> sheet("a4-3x7-63.5x38.1").per_page
    21
    """
    for each in SHEETS:
        if each.code == code:
            return each
    raise ValueError(
        f"There is no label sheet {code!r}. Choose one of: {', '.join(s.code for s in SHEETS)}."
    )
