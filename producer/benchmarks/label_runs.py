"""Print runs of labels, ours and the floor's, ready to be timed."""

from collections.abc import Callable, Sequence
from typing import Literal

from labels.facts import LabelFace
from labels.rendering.arrangement import arrange
from labels.rendering.blocks import Setting
from labels.rendering.joining import joined
from labels.rendering.layout import fit_label
from labels.rendering.pdf import label_pdf, render_pdf_pages
from labels.rendering.series import fit_series
from labels.rendering.sheet import impose, impose_distinct
from producer.benchmarks.label_samples import SHEET, numbered_faces, paste_face, weighed_faces
from producer.benchmarks.reportlab_floor import (
    FloorLabel,
    floor_label,
    floor_pdf,
    floor_repeated_pdf,
)

Side = Literal["ours", "floor", "floor once"]
Kind = Literal["same", "numbered", "weighed"]

A_STEP = 250
"""Labels that one step draws, as in labels.services.weighed (which needs a database)."""
A_LONG_RUN = 500
"""More than that are drawn in steps."""


def printed_alike(face: LabelFace, *, copies: int) -> bytes:
    """One label on many places, by the functions that a print run uses: fit, draw, impose."""
    fitted = fit_label(face, box=SHEET.box())
    return impose(label_pdf(fitted), sheet=SHEET, copies=copies)


def printed_apart(faces: Sequence[LabelFace]) -> bytes:
    """Labels that differ, by the functions made for them: fit, draw, impose."""
    fitted = fit_series(faces, box=SHEET.box())
    return impose_distinct(render_pdf_pages(fitted), sheet=SHEET)


def printed_in_steps(faces: Sequence[LabelFace]) -> bytes:
    """A long run as the pages print it: drawn in steps, put together, and imposed at the end."""
    like = max(faces, key=lambda face: sum(len(each.text) for each in face.particulars))
    parts = (
        render_pdf_pages(fit_series(faces[start : start + A_STEP], box=SHEET.box(), like=like))
        for start in range(0, len(faces), A_STEP)
    )
    return impose_distinct(joined(parts), sheet=SHEET)


def found_setting() -> Setting:
    """The type that ours finds for the label; the floor is told."""
    return fit_label(paste_face(), box=SHEET.box()).arrangement.setting


def faces_of(kind: Kind, *, count: int, series: int = 0) -> list[LabelFace]:
    """The labels of a run; a new series shares no text with an earlier one that could be kept."""
    if kind == "same":
        return [paste_face(lot=f"FW-26{series:03d}")] * count
    make = numbered_faces if kind == "numbered" else weighed_faces
    return make(count, series=series)


def for_floor(faces: Sequence[LabelFace], *, setting: Setting) -> list[FloorLabel]:
    """Labels as the floor takes them; the same one again where a face comes again."""
    box = SHEET.box()
    made = {face: floor_label(arrange(face, box=box, setting=setting), box=box)
            for face in dict.fromkeys(faces)}  # fmt: skip
    return [made[face] for face in faces]


def run_of(
    side: Side, kind: Kind, *, count: int, setting: Setting, series: int = 0
) -> Callable[[], bytes]:
    """The work of one side on one run, its statements written and ready."""
    faces = faces_of(kind, count=count, series=series)
    if side == "ours":
        if kind == "same":
            return lambda: printed_alike(faces[0], copies=count)
        return lambda: printed_apart(faces) if count <= A_LONG_RUN else printed_in_steps(faces)
    labels = for_floor(faces, setting=setting)
    if side == "floor once":
        return lambda: floor_repeated_pdf(labels[0], copies=count, sheet=SHEET)
    return lambda: floor_pdf(labels, sheet=SHEET)
