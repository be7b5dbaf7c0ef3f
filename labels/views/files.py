"""Files as answers: a PDF to look at in the browser, and why there is none."""

from django.http import HttpResponse

__all__ = ["as_pdf", "in_words"]


def as_pdf(content: bytes, *, name: str) -> HttpResponse:
    """A file to look at in the browser, under a name that any system can keep."""
    safe = "".join(sign if sign.isalnum() or sign in "-." else "_" for sign in name)
    response = HttpResponse(content, content_type="application/pdf")
    response["Content-Disposition"] = (
        f'inline; filename="{safe.encode("ascii", "ignore").decode()}"'
    )
    return response


def in_words(sentence: str, *, status: int) -> HttpResponse:
    """Why there is no file, as plain text."""
    return HttpResponse(sentence, status=status, content_type="text/plain; charset=utf-8")
