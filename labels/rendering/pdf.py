"""Labels to PDF: the single one that anybody can read, the proof, and many different ones."""

from collections.abc import Sequence

from labels.rendering.engine import page_of, type_setter
from labels.rendering.fonts import RenderingUnavailable, pango_is_missing
from labels.rendering.layout import FittedLabel, label_context, title_of

__all__ = ["RenderingUnavailable", "label_pdf", "pango_is_missing", "render_pdf_pages"]


def label_pdf(
    fitted: FittedLabel, *, proof: bool = False, title: str = "", language: str = ""
) -> bytes:
    """One label as a tagged PDF (declared PDF/UA-1), the same bytes for the same label.

    proof: marked "PROOF - not for sale" from corner to corner, behind the text.
    """
    face = fitted.face
    context = label_context(fitted.arrangement, face=face, box=fitted.box, proof=proof)
    html = page_of(
        [context], title=title or title_of(face), language=language or face.language
    )  # fmt: skip
    with type_setter() as setter:
        document = setter.lay_out(
            html, width_mm=float(fitted.box.width_mm), height_mm=float(fitted.box.height_mm)
        )
        return document.write_pdf(pdf_variant="pdf/ua-1")


def render_pdf_pages(labels: Sequence[FittedLabel], *, title: str = "Labels") -> bytes:
    """Labels that differ from each other, one a page, in one pass; all on paper of one size."""
    if not labels:
        raise ValueError("There is no label to draw.")
    box = labels[0].box
    if any((each.box.width_mm, each.box.height_mm) != (box.width_mm, box.height_mm)
           for each in labels):  # fmt: skip
        raise ValueError("Labels of different sizes cannot share a sheet; print them one by one.")
    contexts = [
        label_context(each.arrangement, face=each.face, box=each.box, number=number)
        for number, each in enumerate(labels)
    ]
    html = page_of(contexts, title=title, language=labels[0].face.language)
    with type_setter() as setter:
        document = setter.lay_out(
            html, width_mm=float(box.width_mm), height_mm=float(box.height_mm)
        )
        if len(document.pages) != len(labels):
            raise ValueError("A label ran over its paper; fit it again before printing.")
        return document.write_pdf()
