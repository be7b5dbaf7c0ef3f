"""Findings and statements as the pages show them."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any
from urllib.parse import urlencode

from django.urls import reverse

from costing.models import Kitchen, Member, Product
from costing.models.names import LABEL_LANGUAGES
from labels.facts import Particular, PrintedText
from labels.rulebook import INFORMATION, LOOK, MUST_MEND, Finding
from labels.services.printing import PreparedLabel

LEVEL = {MUST_MEND: "mend", LOOK: "look", INFORMATION: "info"}

HEADINGS = {
    "name": "Name of the food",
    "ingredients": "Ingredients",
    "allergens": "Allergens",
    "cross_contact": "What may get in beside it",
    "quid": "Quantity of an ingredient",
    "net_quantity": "Net quantity",
    "date": "Date",
    "lot": "Lot",
    "storage": "Storage",
    "instructions": "Use",
    "origin": "Origin",
    "operator": "Who answers for it",
    "nutrition": "Nutrition",
    "extra": "Also required",
    "price": "Price",
    "unit_price": "Price of a kilo",
}


MARKS = {
    "second-hand": "“second-hand”: the provision was read as another source gives it, not in the "
    "official text. Follow the link before you rely on it.",
    "from memory": "“from memory”: the provision was written down without its text at hand. Look "
    "it up before you rely on it.",
}
"""What the marks beside a provision mean, for whoever reads one."""


@dataclass(frozen=True)
class ShownFinding:
    """A finding with the address of its provision and of the page where it can be mended."""

    level: str
    message: str
    hint: str
    citation: str = ""
    link: str = ""
    url: str = ""


@dataclass(frozen=True)
class ShownStatement:
    """One statement of the label: what it says, how high its letters are, and who asks for it.

    number: its place in the list; on paper it is found by that.
    """

    number: int
    heading: str
    text: str
    x_height_mm: str
    citation: str
    mark: str
    link: str
    provision: str = ""
    act: str = ""


def as_shown(
    prepared: PreparedLabel, *, kitchen: Kitchen, product: Product, is_owner: bool
) -> list[ShownFinding]:
    """Every finding, the worst first, each leading to where this person can mend it."""
    asked = [
        ShownFinding(
            level="mend",
            message=question.sentence,
            hint="Until then the finished mass is not known, and with it the share of the fruit.",
            url=_page_of_question(question, kitchen=kitchen, product=product),
        )
        for question in prepared.food.questions
    ]
    found = [
        ShownFinding(
            level=LEVEL[finding.level],
            message=finding.message,
            hint=finding.hint,
            citation=_words(finding),
            link=finding.citation.act.url if finding.citation else "",
            url=_page_for(finding, kitchen=kitchen, product=product, is_owner=is_owner),
        )
        for finding in prepared.findings
    ]
    return asked + found


def as_run_findings(findings: Iterable[Finding]) -> list[ShownFinding]:
    """What was found when a label was printed: nothing of it can be mended any more."""
    return [
        ShownFinding(
            level=LEVEL[finding.level],
            message=finding.message,
            hint=finding.hint,
            citation=_words(finding),
            link=finding.citation.act.url if finding.citation else "",
        )
        for finding in findings
    ]


def is_owner(request: Any) -> bool:
    """Whether the person who asks may change what belongs to the owner."""
    return bool(request.member.role == Member.Role.OWNER)


def _words(finding: Finding) -> str:
    if finding.citation is None:
        return ""
    mark = "" if finding.citation.mark == "read" else f" · {finding.citation.mark}"
    return f"{finding.citation}{mark}"


def _page_for(finding: Finding, *, kitchen: Kitchen, product: Product, is_owner: bool) -> str:
    """Where it can be mended; no link where nothing has to be, nor to a page of the owner's."""
    if finding.level == INFORMATION:
        return ""
    page = _page_of(finding, kitchen=kitchen, product=product)
    of_the_owner = (
        reverse("kitchen", args=[kitchen.pk]),
        reverse("label_design", args=[kitchen.pk, product.pk]),
        reverse("label_words", args=[kitchen.pk, product.pk]),
    )
    return "" if not is_owner and page.startswith(of_the_owner) else page


def _page_of(finding: Finding, *, kitchen: Kitchen, product: Product) -> str:
    if finding.where in {"operator", "operator_name", "operator_address"}:
        return _and_back(reverse("kitchen", args=[kitchen.pk]), kitchen=kitchen, product=product)
    if finding.about and finding.where in {"allergens", "nutrition"}:
        there = reverse("ingredient_edit", args=[kitchen.pk, int(finding.about)])
        anchor = {"allergens": "allergens", "nutrition": "id_fat_g"}[finding.where]
        return _and_back(there, kitchen=kitchen, product=product, anchor=anchor)
    if finding.where == "translation":
        return _page_of_name(finding, kitchen=kitchen, product=product)
    if finding.where == "cross_contact":
        return f"{reverse('label_cross_contact', args=[kitchen.pk])}?product={product.pk}"
    pages = {
        "allergens": reverse("ingredients", args=[kitchen.pk]),
        "finished_g": reverse("recipe", args=[kitchen.pk, product.recipe_id]),
    }
    return pages.get(finding.where) or reverse("label_design", args=[kitchen.pk, product.pk])


def _page_of_name(finding: Finding, *, kitchen: Kitchen, product: Product) -> str:
    """Where a name or the label's own words are given in another language."""
    kind, _, pk = finding.about.partition("-")
    if kind in {"ingredient", "recipe"} and pk.isdecimal():
        there = reverse(f"{kind}_names", args=[kitchen.pk, int(pk)])
        return _and_back(there, kitchen=kitchen, product=product)
    return reverse("label_words", args=[kitchen.pk, product.pk])


def _and_back(there: str, *, kitchen: Kitchen, product: Product, anchor: str = "") -> str:
    """A page that, once something is kept there, leads back to this label."""
    here = urlencode({"back": reverse("label", args=[kitchen.pk, product.pk])})
    return f"{there}?{here}" + (f"#{anchor}" if anchor else "")


def _page_of_question(question: object, *, kitchen: Kitchen, product: Product) -> str:
    ingredient_id = getattr(question, "ingredient_id", None)
    if ingredient_id:
        there = reverse("ingredient_edit", args=[kitchen.pk, ingredient_id])
        return _and_back(there, kitchen=kitchen, product=product)
    return reverse("recipe", args=[kitchen.pk, product.recipe_id])


def _heading(particular: Particular) -> str:
    heading = HEADINGS.get(particular.kind, particular.kind.replace("_", " "))
    tongue = dict(LABEL_LANGUAGES).get(particular.language, particular.language)
    return f"{heading}, in {tongue}" if tongue else heading


def statements(prepared: PreparedLabel) -> list[ShownStatement]:
    """What the label says, statement by statement, with the provision that asks for each."""
    printed = prepared.fitted.printed if prepared.fitted else None
    return shown_statements(prepared.particulars, printed=printed)


def shown_statements(
    particulars: Iterable[Particular], *, printed: PrintedText | None
) -> list[ShownStatement]:
    """Statements by number; printed: as they were set, for the height of their letters."""
    shown = []
    for number, particular in enumerate(particulars, start=1):
        block = printed.block(particular.kind) if printed else None
        citation = particular.citation
        shown.append(
            ShownStatement(
                number=number,
                heading=_heading(particular),
                text=particular.text,
                x_height_mm=f"{block.x_height_mm:.2f} mm" if block else "not set",
                citation=str(citation),
                mark="" if citation.mark == "read" else citation.mark,
                link=citation.act.url,
                provision=citation.provision,
                act=citation.act.title,
            )
        )
    return shown


def marks_in(shown: Iterable[ShownStatement], *, findings: Iterable[Finding]) -> tuple[str, ...]:
    """What the marks mean that stand beside these statements and findings."""
    cited = [finding.citation.mark for finding in findings if finding.citation]
    stand = {*(each.mark for each in shown), *cited}
    return tuple(meaning for mark, meaning in MARKS.items() if mark in stand)
