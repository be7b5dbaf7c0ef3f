"""Pages of several files in one, one after the other."""

import io
from collections.abc import Iterable

__all__ = ["joined"]


def joined(parts: Iterable[bytes]) -> bytes:
    """The pages of all files in their order, with the title and the language of the first.

    Only one of them is open at a time; what their pages share stays shared.
    """
    import pikepdf

    out = io.BytesIO()
    with pikepdf.new() as book:
        for part in parts:
            with pikepdf.open(io.BytesIO(part)) as source:
                if not len(book.pages):
                    with (
                        source.open_metadata() as told,
                        book.open_metadata(set_pikepdf_as_editor=False) as about,
                    ):
                        about["dc:title"] = told.get("dc:title", "Labels")
                    if "/Lang" in source.Root:
                        book.Root.Lang = pikepdf.String(str(source.Root.Lang))
                book.pages.extend(source.pages)
        if not len(book.pages):
            raise ValueError("There is no label to join.")
        book.save(out, deterministic_id=True)
    return out.getvalue()
