"""A sheet of labels as a picture: which labels are printed, which are used up, which stay free."""

from dataclasses import dataclass
from decimal import Decimal

from labels.stock import LabelSheet


@dataclass(frozen=True)
class PlannedLabel:
    """One label of the first sheet, in the picture's own units (millimetres)."""

    x: Decimal
    y: Decimal
    number: int
    state: str
    middle_x: Decimal
    middle_y: Decimal


@dataclass(frozen=True)
class PlanPicture:
    """The first sheet drawn to scale, and how many sheets there will be."""

    sheet: LabelSheet
    labels: tuple[PlannedLabel, ...]
    printed_here: int
    pages: int
    copies: int
    start_at: int

    @property
    def page_width(self) -> Decimal:
        """The page's width less its drawn edge [mm]."""
        return self.sheet.page_width_mm - 1

    @property
    def page_height(self) -> Decimal:
        """The page's height less its drawn edge [mm]."""
        return self.sheet.page_height_mm - 1


def plan_picture(sheet: LabelSheet, *, copies: int, start_at: int) -> PlanPicture:
    """Draw the first sheet: used labels before `start_at`, then those printed, then free ones."""
    first = min(max(start_at, 1), sheet.per_page) - 1
    here = min(copies, sheet.per_page - first)
    labels = []
    for index in range(sheet.per_page):
        where = sheet.position(index)
        state = "used" if index < first else "printed" if index < first + here else "free"
        labels.append(
            PlannedLabel(
                where.x_mm,
                where.y_mm,
                index + 1,
                state,
                where.x_mm + sheet.label_width_mm / 2,
                where.y_mm + sheet.label_height_mm / 2,
            )
        )
    left = copies - here
    pages = (1 if copies else 0) + -(-left // sheet.per_page)
    return PlanPicture(sheet, tuple(labels), here, pages, copies, first + 1)
