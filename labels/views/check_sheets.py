"""The check of a label on paper, for the inspector: before it is printed, and as it was printed."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from costing.models import Kitchen, Member, Product
from costing.selectors.kitchens import this_kitchens
from costing.views.access import kitchen_view
from labels import law
from labels.facts import LabelFacts
from labels.models import PrintedLabel
from labels.rendering.check_paper import (
    CheckedFinding,
    CheckedStatement,
    CheckSheet,
    check_pdf,
)
from labels.rendering.fonts import RenderingUnavailable
from labels.rendering.preview import label_png
from labels.rulebook import LOOK, MUST_MEND, Finding, check
from labels.services.comparison import WAYS_OF_SALE
from labels.services.designs import design_of, is_kept
from labels.services.facts_kept import kept_facts, kept_statements
from labels.services.printing import LabelRefused, PreparedLabel, prepare_label, proof_pdf
from labels.views.designs import order_asked_for
from labels.views.files import as_pdf, in_words
from labels.views.showing import ShownStatement, marks_in, shown_statements, statements

COOK = Member.Role.COOK
ASK = "Ask your local authority before you sell a new product: its word counts, not this sheet’s."
LEVELS = {MUST_MEND: "Must mend", LOOK: "Look at this"}


@dataclass(frozen=True)
class Judged:
    """A print run as it was judged that day, from the facts that were kept with it."""

    facts: LabelFacts
    statements: list[ShownStatement]
    findings: tuple[Finding, ...]


def judged(run: PrintedLabel) -> Judged:
    """The statements and the findings of a run, by the law of its own day."""
    facts = kept_facts(run)
    rules = law.rules_in_force(run.market, on=run.rule_date)
    said = kept_statements(facts, on=run.rule_date)
    return Judged(
        facts, shown_statements(said, printed=None), check(rules, facts, None, on=run.rule_date)
    )


@kitchen_view(COOK)
def label_check_pdf(request: HttpRequest, kitchen: Kitchen, product_pk: int) -> HttpResponse:
    """The check page as a sheet of paper."""
    product = this_kitchens(Product, kitchen=kitchen, pk=product_pk, related=("recipe", "kitchen"))
    design = design_of(product)
    order = order_asked_for(request, design, kitchen) if is_kept(design) else None
    if order is None:
        return in_words("Open the label page first: what was asked for cannot be read.", status=400)
    try:
        prepared = prepare_label(design, order=order)
        drawn = proof_pdf(prepared)
    except LabelRefused as refusal:
        return in_words(str(refusal), status=503)
    sheet = of_prepared(prepared, product=product, law_on=order.on, drawn=drawn)
    return _answer(sheet, kitchen=kitchen, name=f"check-{prepared.facts.lot}")


@kitchen_view(COOK)
def printed_check_pdf(request: HttpRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """A print run as a sheet of paper: what its label says, judged as on its own day."""
    run = this_kitchens(
        PrintedLabel, kitchen=kitchen, pk=pk, related=("product", "recipe_version", "kitchen")
    )
    return _answer(of_run(run), kitchen=kitchen, name=f"check-{run.lot}")


@kitchen_view(COOK)
def printed_picture(request: HttpRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """The label of a print run as a picture, drawn from the file that was kept."""
    run = this_kitchens(PrintedLabel, kitchen=kitchen, pk=pk)
    return HttpResponse(label_png(bytes(run.label_pdf)), content_type="image/png")


def of_prepared(
    prepared: PreparedLabel, *, product: Product, law_on: date, drawn: bytes
) -> CheckSheet:
    """The sheet of a label that is not printed yet. drawn: one label, as a PDF."""
    facts, shown = prepared.facts, statements(prepared)
    asked = [CheckedFinding("Must mend", q.sentence) for q in prepared.food.questions]
    to_mend = len(asked) + sum(finding.stops_printing for finding in prepared.findings)
    explained = "There is a proof to look at, and nothing to print until then."
    if not to_mend:
        explained = "Nothing has to be mended by what this tool checks."
    return CheckSheet(
        title=product.name,
        verdict=f"{to_mend} to mend" if to_mend else "Ready to print",
        explained=explained,
        facts=(
            *_head(facts, kitchen=product.kitchen, law_on=law_on),
            ("This sheet is of", _day(timezone.localdate())),
        ),
        statements=_on_paper(shown, has_letters=True),
        findings=(*asked, *_found(prepared.findings)),
        not_checked=law.not_checked(facts.market),
        asks=_asks(facts, on=law_on),
        marks=marks_in(shown, findings=prepared.findings),
        label_pdf=drawn,
    )


def of_run(run: PrintedLabel) -> CheckSheet:
    """The sheet of a print run."""
    seen = judged(run)
    printed_on = timezone.localtime(run.printed_at).date()
    return CheckSheet(
        title=run.product.name,
        verdict=f"{run.copies} label{'' if run.copies == 1 else 's'} printed",
        explained="As it was judged that day, from the facts that were kept with it. The height of "
        "its letters was checked when it was set.",
        facts=(
            *_head(seen.facts, kitchen=run.kitchen, law_on=run.rule_date),
            ("Recipe", f"version {run.recipe_version.number}"),
            ("Labels printed on", _day(printed_on)),
            ("This sheet is of", _day(timezone.localdate())),
            ("Fingerprint", run.label_sha256),
        ),
        statements=_on_paper(seen.statements, has_letters=False),
        findings=_found(seen.findings),
        not_checked=law.not_checked(run.market),
        asks=_asks(seen.facts, on=run.rule_date),
        marks=marks_in(seen.statements, findings=seen.findings),
        label_pdf=bytes(run.label_pdf),
    )


def _head(facts: LabelFacts, *, kitchen: Kitchen, law_on: date) -> tuple[tuple[str, str], ...]:
    until = _day(facts.best_before) if facts.best_before else "none"
    return (
        ("Kitchen", kitchen.trading_name),
        ("Lot", facts.lot),
        ("Best before", until),
        ("Sold in", law.market_named(facts.market).name),
        ("Sold how", dict(WAYS_OF_SALE).get(facts.way_of_sale, facts.way_of_sale)),
        ("Law as on", _day(law_on)),
    )


def _asks(facts: LabelFacts, *, on: date) -> tuple[str, ...]:
    """The note of the market, the names that only the authority can judge, and the plain advice."""
    note = law.market_named(facts.market).note
    bears = law.name_on_label(facts, on=on)
    about = f"“{bears.name}”: {' '.join(bears.asks)}" if bears and bears.asks else ""
    return tuple(filter(None, (note, about, ASK)))


def _on_paper(
    shown: Iterable[ShownStatement], *, has_letters: bool
) -> tuple[CheckedStatement, ...]:
    return tuple(
        CheckedStatement(
            number=each.number,
            heading=each.heading,
            text=each.text,
            provision=each.provision,
            act=each.act,
            link=each.link,
            letters=f"x-height {each.x_height_mm}" if has_letters else "",
            mark=each.mark,
        )
        for each in shown
    )


def _found(findings: Iterable[Finding]) -> tuple[CheckedFinding, ...]:
    return tuple(
        CheckedFinding(
            LEVELS.get(finding.level, "For information"),
            finding.message,
            finding.hint,
            _source(finding),
        )
        for finding in findings
    )


def _source(finding: Finding) -> str:
    if finding.citation is None:
        return ""
    mark = "" if finding.citation.mark == "read" else f" ({finding.citation.mark})"
    return f"{finding.citation}{mark}"


def _day(day: date) -> str:
    return f"{day.day} {day:%B %Y}"


def _answer(sheet: CheckSheet, *, kitchen: Kitchen, name: str) -> HttpResponse:
    try:
        pdf = check_pdf(sheet, paper="A4" if kitchen.paper_size == "A4" else "Letter")
    except RenderingUnavailable as reason:
        return in_words(str(reason), status=503)
    return as_pdf(pdf, name=f"{name}.pdf")
