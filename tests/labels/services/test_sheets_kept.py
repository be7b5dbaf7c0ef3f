"""A sheet as it was kept with a print run."""

import pytest

from labels.services.printing import plain
from labels.services.sheets_kept import kept_sheet
from labels.stock import SHEETS


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.code)
def test_a_sheet_comes_back_as_it_was_kept(sheet):
    run = {"start_at": 3, "offset_x_mm": "0.5", "offset_y_mm": "-1"}
    assert kept_sheet(plain(sheet) | run) == sheet
