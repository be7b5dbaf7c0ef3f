"""The kitchen's allergens: product by allergen on a page, and the same on paper for a stall."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone

from costing.models import Kitchen, Member, Product
from costing.selectors.kitchens import this_kitchens
from costing.views.access import kitchen_view
from costing.views.recipe_words import day
from labels.facts import ALLERGEN_GROUPS
from labels.forms.cross_contact import MatrixFilter
from labels.rendering.allergen_sheet import AllergenSheet, SheetCell, SheetRow, allergen_sheet_pdf
from labels.rendering.fonts import RenderingUnavailable
from labels.services.allergens import (
    CONTAINS,
    FREE,
    MAY_CONTAIN,
    NOT_KNOWN,
    AllergenCell,
    ProductAllergens,
    allergens_of_products,
    products_to_tell,
)

COOK, STALL_HAND = Member.Role.COOK, Member.Role.STALL_HAND
PER_PAGE = 100

HEADS = {
    "gluten": "Gluten", "crustaceans": "Crustaceans", "eggs": "Eggs", "fish": "Fish",
    "peanuts": "Peanuts", "soybeans": "Soya", "milk": "Milk", "nuts": "Nuts", "celery": "Celery",
    "mustard": "Mustard", "sesame": "Sesame", "sulphites": "Sulphites", "lupin": "Lupin",
    "molluscs": "Molluscs",
}  # fmt: skip
"""The fourteen groups in one word each, as heads of columns."""

SIGNS = {CONTAINS: "contains", MAY_CONTAIN: "may", FREE: "free", NOT_KNOWN: "unknown"}
WORDS = {
    CONTAINS: "contains",
    MAY_CONTAIN: "may contain",
    FREE: "not used",  # “free” would be a promise
    NOT_KNOWN: "NOT KNOWN",
}
MEANINGS = {
    CONTAINS: "it is in what goes in.",
    MAY_CONTAIN: "not used, but somebody looked and found that it can get in.",
    NOT_KNOWN: "nobody has answered: treat it as if it were in.",
    FREE: "by the answers we have. This is no promise that nothing got in.",
}
ASK = "An allergy or an intolerance? Ask us before you taste or buy."
CAUTIONS = (
    "All of this is made in one kitchen.",
    "This sheet tells what we know on its date; it is no promise that a food is free of anything.",
    "Sulphites count from more than 10 mg/kg of the finished food.",
    "How allergens of loose food must be told is for the local food authority to say: ask it.",
)


@dataclass(frozen=True)
class ShownCell:
    """One cell as it is shown: a sign, a word, which ones, and what stands behind it."""

    sign: str
    word: str
    head: str
    named: str
    behind: str


@dataclass(frozen=True)
class ShownRow:
    """One product with its cells, as they are shown."""

    product: Product
    cells: tuple[ShownCell, ...]
    not_known: int

    @property
    def told(self) -> tuple[ShownCell, ...]:
        """The cells that somebody has to be told of: what is in it, may be, or is not known."""
        return tuple(cell for cell in self.cells if cell.sign != SIGNS[FREE] or cell.behind)


@kitchen_view(COOK, STALL_HAND)
def label_allergens(request: HttpRequest, kitchen: Kitchen) -> HttpResponse:
    """May somebody with an allergy eat it: every product against the fourteen groups."""
    asked = _asked(request)
    groups = (asked["group"],) if asked["group"] else ALLERGEN_GROUPS
    page = Paginator(products_to_tell(kitchen, called=asked["q"]), PER_PAGE).get_page(
        request.GET.get("page")
    )
    every = allergens_of_products(kitchen, list(page.object_list), on=timezone.localdate())
    rows = _filtered(every, groups=groups, state=asked["state"])
    context = {
        "rows": [_shown(row, groups=groups) for row in rows],
        "heads": [HEADS[group] for group in groups],
        "filter": MatrixFilter(asked),
        "is_filtered": any(asked.values()),
        "not_known": sum(row.not_known for row in every),
        "products": sum(bool(row.not_known) for row in every),
        "page": page,
        "has_products": bool(every),
        "legend": [(SIGNS[state], WORDS[state], MEANINGS[state]) for state in MEANINGS],
        "may_record": _may_record(request),
        "query": request.GET.urlencode(),
    }
    return render(request, "labels/allergens.html", context)


@kitchen_view(COOK, STALL_HAND)
def label_allergens_pdf(request: HttpRequest, kitchen: Kitchen) -> HttpResponse:
    """The same on one page of paper, to lie beside loose food and tastings."""
    today = timezone.localdate()
    asked = _asked(request)
    every = allergens_of_products(
        kitchen, list(products_to_tell(kitchen, called=asked["q"])), on=today
    )
    rows = _filtered(every, groups=ALLERGEN_GROUPS, state="")
    if not rows:
        words = "There is no product to tell the allergens of. Make one first."
        return HttpResponse(words, status=404, content_type="text/plain; charset=utf-8")
    sheet = AllergenSheet(
        kitchen=kitchen.trading_name,
        day=day(today),
        groups=tuple(HEADS.values()),
        rows=tuple(_on_paper(row) for row in rows),
        legend=tuple(SheetCell(SIGNS[s], WORDS[s], MEANINGS[s]) for s in MEANINGS),
        ask=ASK,
        sources=_sources(rows),
        cautions=CAUTIONS,
    )
    try:
        pdf = allergen_sheet_pdf(sheet, paper="A4" if kitchen.paper_size == "A4" else "Letter")
    except RenderingUnavailable as reason:
        return HttpResponse(str(reason), status=503, content_type="text/plain; charset=utf-8")
    response = HttpResponse(pdf, content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="allergens-{today}.pdf"'
    return response


@kitchen_view(COOK, STALL_HAND)
def label_told(request: HttpRequest, kitchen: Kitchen, product_pk: int) -> HttpResponse:
    """What one product's allergens come to, for a corner of its page."""
    product = this_kitchens(
        Product, kitchen=kitchen, pk=product_pk, related=("recipe", "label_design")
    )
    (row,) = allergens_of_products(kitchen, [product], on=timezone.localdate())
    return render(request, "labels/told.html", {"row": _shown(row, groups=ALLERGEN_GROUPS)})


def _asked(request: HttpRequest) -> dict[str, str]:
    """The filter of the address; what it cannot be is left out, and everything is shown."""
    form = MatrixFilter(request.GET)
    form.is_valid()
    return {name: form.cleaned_data.get(name, "") for name in form.fields}


def _filtered(
    rows: Iterable[ProductAllergens], *, groups: Sequence[str], state: str
) -> list[ProductAllergens]:
    if not state:
        return list(rows)
    return [row for row in rows if any(row.cell(group).state == state for group in groups)]


def _may_record(request: Any) -> bool:
    return request.member.role in {Member.Role.OWNER, COOK}


def _shown(row: ProductAllergens, *, groups: Sequence[str]) -> ShownRow:
    cells = tuple(_shown_cell(row.cell(group)) for group in groups)
    return ShownRow(row.product, cells, row.not_known)


def _shown_cell(cell: AllergenCell) -> ShownCell:
    behind = [cell.note] if cell.note else []
    if cell.because:
        first = "ask about" if cell.state == NOT_KNOWN else "from"
        behind.insert(0, f"{first} {', '.join(cell.because)}")
    return ShownCell(
        sign=SIGNS[cell.state],
        word=_word(cell),
        head=HEADS[cell.group],
        named=_named(cell),
        behind="; ".join(behind),
    )


def _word(cell: AllergenCell) -> str:
    """The word of a state; sulphites that stay under the line are in it all the same."""
    return "too little to declare" if cell.state == FREE and cell.note else WORDS[cell.state]


def _named(cell: AllergenCell) -> str:
    """Which ones, where the head of the column does not tell it already."""
    return ", ".join(name for name in cell.named if name.casefold() != HEADS[cell.group].casefold())


def _on_paper(row: ProductAllergens) -> SheetRow:
    cells = []
    for cell in row.cells:
        named = _named(cell)
        if cell.state in {CONTAINS, NOT_KNOWN} and "may also contain" in cell.note:
            also = cell.note.partition("may also contain ")[2].partition(",")[0]
            named = ", ".join(filter(None, (named, f"may also contain {also}")))
        cells.append(SheetCell(SIGNS[cell.state], _word(cell), named))
    return SheetRow(row.product.name, tuple(cells))


def _sources(rows: Iterable[ProductAllergens]) -> tuple[str, ...]:
    looked = dict.fromkeys(
        cell.note for row in rows for cell in row.cells if cell.state == MAY_CONTAIN
    )
    beside = "; ".join(looked) or "nobody has written down a risk that remains"
    return (
        "Where the answers come from: suppliers' specifications, as entered for each ingredient.",
        f"What can get in beside it: {beside}.",
    )
