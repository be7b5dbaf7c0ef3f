"""Files put together: pages in order, title and language kept, what pages share stays shared."""

import io
from dataclasses import replace

import pikepdf
import pytest

from labels.rendering.joining import joined
from labels.rendering.series import fit_series, render_pdf_pages
from tests.labels.rendering.by_hand import SLAB, a_damson_cheese
from tests.labels.rendering.reading import text_by_pdfium


def a_part(*lots):
    faces = [replace(a_damson_cheese(lot=lot), language="fr") for lot in lots]
    return render_pdf_pages(fit_series(faces, box=SLAB), title="Pâte de prunes")


def test_pages_come_in_order_and_the_file_says_title_and_language():
    both = joined(iter([a_part("A-1", "A-2", "A-3"), a_part("B-1", "B-2", "B-3")]))
    for page, lot in enumerate(("A-1", "A-2", "A-3", "B-1", "B-2", "B-3")):
        assert lot in text_by_pdfium(both, page=page)
    with pikepdf.open(io.BytesIO(both)) as book:
        assert str(book.Root.Lang) == "fr"
        assert book.open_metadata()["dc:title"] == "Pâte de prunes"
        assert len({page.Resources.XObject.Common.objgen for page in book.pages}) == 2


def test_the_same_parts_give_the_same_file_and_no_parts_are_refused():
    part = a_part("A-1", "A-2", "A-3")
    assert joined([part, part]) == joined([part, part])
    with pytest.raises(ValueError, match="no label to join"):
        joined([])
