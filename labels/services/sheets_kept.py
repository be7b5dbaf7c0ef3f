"""A sheet of labels as it was kept with a print run, whatever became of it since."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from labels.stock import LabelSheet

__all__ = ["kept_sheet"]

_OF_THE_RUN = {"offset_x_mm", "offset_y_mm"}


def kept_sheet(kept: Mapping[str, Any]) -> LabelSheet:
    """The geometry that was kept as plain data."""
    lengths: dict[str, Any] = {
        name: None if value is None else Decimal(value)
        for name, value in kept.items()
        if name.endswith("_mm") and name not in _OF_THE_RUN
    }
    return LabelSheet(
        code=kept["code"], name=kept["name"], columns=kept["columns"], rows=kept["rows"], **lengths
    )
