"""Labels to PDF: the single one that anybody can read, its proof, and many different ones."""

from labels.rendering.engine import page_of, type_setter
from labels.rendering.fonts import RenderingUnavailable, pango_is_missing
from labels.rendering.layout import FittedLabel
from labels.rendering.markup import leaf_contexts, title_of
from labels.rendering.series import render_pdf_pages

__all__ = ["RenderingUnavailable", "label_pdf", "pango_is_missing", "render_pdf_pages"]


def label_pdf(
    fitted: FittedLabel, *, proof: bool = False, title: str = "", language: str = ""
) -> bytes:
    """One label as a tagged PDF (declared PDF/UA-1), the same bytes for the same label.

    A front and a back are two pages.

    proof: marked "PROOF - not for sale" from corner to corner, behind the text.
    """
    face = fitted.face
    contexts = leaf_contexts(fitted.arrangement, face=face, box=fitted.box, proof=proof)
    html = page_of(
        contexts, title=title or title_of(face), language=language or face.language
    )  # fmt: skip
    with type_setter() as setter:
        document = setter.lay_out(
            html, width_mm=float(fitted.box.width_mm), height_mm=float(fitted.box.height_mm)
        )
        return document.write_pdf(pdf_variant="pdf/ua-1")
