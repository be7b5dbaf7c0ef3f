"""Print labels from the command line: the same check, the same refusal, the same record."""

import difflib
from argparse import RawDescriptionHelpFormatter
from pathlib import Path
from typing import Any

from django.core.exceptions import ValidationError
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from costing.management.commands.costsheet import the_day, the_kitchen
from costing.models import Batch, Kitchen, Product
from costing.reckoning.errors import ReckoningError
from costing.selectors.batches import batches_of
from labels import law
from labels.models import LabelDesign
from labels.rulebook import Finding
from labels.services.comparison import WAYS_OF_SALE
from labels.services.designs import (
    design_of,
    is_kept,
    products_with_labels,
    sheet_named,
    sheets_for,
)
from labels.services.lot_prints import units_filled
from labels.services.printing import (
    LabelOrder,
    LabelRefused,
    PreparedLabel,
    prepare_label,
    print_labels,
    proof_pdf,
)
from labels.stock import LabelSheet

HELP = """Write a sheet of labels for a product as a PDF.

  manage.py label "Damson cheese, 100 g piece" --out labels.pdf --copies 24 --start-at 5
  manage.py label "Damson cheese, 100 g piece" --out proof.pdf --proof
  manage.py label "Damson cheese, 100 g piece" --out labels.pdf --batch DC-27248

With --batch, share of fruit, lot and dates are those of that lot, and as many labels are written as
were filled of it. --market gb-eng and --sold direct judge it by another law than the design's.

While anything must be mended nothing is printed: each finding is named with the article that asks
for it, and the command ends with 1. --proof writes one label marked as a proof instead.
"""


class Command(BaseCommand):
    """Check a product's label and write its sheets."""

    help = HELP

    def create_parser(self, prog_name: str, subcommand: str, **kwargs: Any) -> CommandParser:
        """Keep the lines of the help as they are written."""
        kwargs.setdefault("formatter_class", RawDescriptionHelpFormatter)
        return super().create_parser(prog_name, subcommand, **kwargs)

    def add_arguments(self, parser: CommandParser) -> None:
        """The product, the file, and what the print page asks for."""
        parser.add_argument("product", help="name of the product")
        parser.add_argument("--out", required=True, metavar="FILE.pdf", help="file to write")
        parser.add_argument("--copies", type=int, help="(default: 1; of a batch, as filled)")
        parser.add_argument("--start-at", type=int, default=1, help="first free label, from 1")
        parser.add_argument("--sheet", default="", help="code of the sheet (default: the design's)")
        parser.add_argument("--lot", default="", help="lot (default: from the day it was made)")
        parser.add_argument("--made-on", default="", metavar="DATE")
        parser.add_argument("--batch", default="", metavar="LOT", help="a finished batch")
        parser.add_argument("--on", default="", metavar="DATE", help="day whose law applies")
        parser.add_argument("--market", default="", metavar="CODE", help="where it is sold")
        parser.add_argument("--sold", default="prepacked", help="prepacked, direct or loose")
        parser.add_argument("--kitchen", default="", help="trading name or number of the kitchen")
        parser.add_argument("--proof", action="store_true", help="one label, marked as a proof")

    def handle(self, **options: Any) -> None:
        """Find the product, check its label, write the file or say what must be mended."""
        kitchen = the_kitchen(options["kitchen"])
        design = the_design(kitchen, options["product"])
        order = the_order(kitchen, design, options)
        target = the_file(options["out"])
        try:
            prepared = prepare_label(design, order=order)
        except ReckoningError as refused:
            raise CommandError(f"The recipe cannot be reckoned: {refused}") from refused
        except LabelRefused as refused:
            raise CommandError(str(refused)) from refused
        for finding in prepared.findings:
            if not finding.stops_printing:
                self.stderr.write(_told(finding))
        if options["proof"]:
            content = self._proof(prepared)
        else:
            content = self._print(design, order, prepared)
        try:
            target.write_bytes(content)
        except OSError as error:
            raise CommandError(f"{target} cannot be written: {error.strerror}.") from error
        what = "a proof" if options["proof"] else f"{order.copies} label(s), lot {_lot(prepared)}"
        self.stdout.write(f"{target}: {what}")

    def _proof(self, prepared: PreparedLabel) -> bytes:
        for finding in prepared.findings:
            if finding.stops_printing:
                self.stderr.write(_told(finding))
        try:
            return proof_pdf(prepared)
        except LabelRefused as refusal:
            raise CommandError(str(refusal)) from refusal

    def _print(self, design: LabelDesign, order: LabelOrder, prepared: PreparedLabel) -> bytes:
        questions = [question.sentence for question in prepared.food.questions]
        faults = [_told(f) for f in prepared.findings if f.stops_printing]
        if questions or faults:
            listed = "\n".join([*questions, *faults])
            raise CommandError(f"Nothing was printed. This must be mended first:\n{listed}")
        try:
            return print_labels(design, by=None, order=order)[1]
        except LabelRefused as refusal:
            raise CommandError(str(refusal)) from refusal
        except ValidationError as error:
            raise CommandError(" ".join(error.messages)) from error


def _lot(prepared: PreparedLabel) -> str:
    return prepared.facts.lot


def _told(finding: Finding) -> str:
    cited = f" [{finding.citation}]" if finding.citation else ""
    return f"- {finding.level}: {finding.message} {finding.hint}{cited}"


def the_design(kitchen: Kitchen, name: str) -> LabelDesign:
    """The design of the product of that name; names like it when there is none."""
    products: dict[str, Product] = {
        product.name.casefold(): product for product in products_with_labels(kitchen)
    }
    product = products.get(" ".join(name.split()).casefold())
    if product is None:
        near = difflib.get_close_matches(name.casefold(), products, n=5, cutoff=0.4)
        known = ", ".join(f"“{products[key].name}”" for key in near or sorted(products)[:20])
        told = f"Those like it are: {known}." if known else "It has no products yet."
        raise CommandError(f"{kitchen} has no product called “{name}”. {told}")
    design = design_of(product)
    if not is_kept(design):
        raise CommandError(
            f"“{product.name}” has no label design yet. Make one on its page under Labels."
        )
    return design


def the_order(kitchen: Kitchen, design: LabelDesign, options: dict[str, Any]) -> LabelOrder:
    """The print run asked for, every number checked against the sheet."""
    sheet = the_sheet(kitchen, options["sheet"] or design.sheet_code)
    batch = the_batch(kitchen, options)
    filled = 1 if batch is None else units_filled(batch).get(design.product_id) or 1
    copies, start_at = options["copies"], options["start_at"]
    copies = filled if copies is None else copies
    if not 1 <= copies <= 5000:
        raise CommandError(f"--copies {copies}: between 1 and 5000 at a time.")
    if not 1 <= start_at <= sheet.per_page:
        raise CommandError(f"--start-at {start_at}: {sheet.name} has labels 1 to {sheet.per_page}.")
    on = the_day(options["on"])
    return LabelOrder(
        on=on,
        made_on=the_day(options["made_on"], option="--made-on") if options["made_on"] else on,
        sheet=sheet,
        lot=" ".join(options["lot"].split()),
        printed_on=timezone.localdate(),
        copies=copies,
        start_at=start_at,
        batch=batch,
        market=the_market(options.get("market") or ""),
        way_of_sale=the_way_of_sale(options.get("sold") or "prepacked"),
    )


def the_market(code: str) -> str:
    """A market whose law is known; none named means that of the design."""
    wanted = code.strip().casefold()
    if wanted and wanted not in law.markets():
        known = ", ".join(f"{market.code} ({market.name})" for market in law.MARKETS)
        raise CommandError(f"--market {code}: no label law is known here for it. There is {known}.")
    return wanted


def the_way_of_sale(way: str) -> str:
    """How it is sold, as the law of every market tells it apart."""
    wanted = way.strip().casefold()
    if wanted not in dict(WAYS_OF_SALE):
        raise CommandError(f"--sold {way}: choose {', '.join(dict(WAYS_OF_SALE))}.")
    return wanted


def the_batch(kitchen: Kitchen, options: dict[str, Any]) -> Batch | None:
    """The batch of that lot; its lot and day are its own, so they cannot be named as well."""
    lot = " ".join((options.get("batch") or "").split())
    if not lot:
        return None
    for name, option in (("lot", "--lot"), ("made_on", "--made-on")):
        if options[name]:
            raise CommandError(f"{option}: a batch has its own. Leave it out with --batch.")
    batch = batches_of(kitchen).filter(lot__iexact=lot).first()
    if batch is None:
        latest = ", ".join(batches_of(kitchen).values_list("lot", flat=True)[:10])
        known = f"The latest are: {latest}." if latest else "It has no batches yet."
        raise CommandError(f"{kitchen} has no batch with the lot “{lot}”. {known}")
    return batch


def the_sheet(kitchen: Kitchen, code: str) -> LabelSheet:
    """The sheet of that code; the first of the kitchen's when none was named."""
    sheets = sheets_for(kitchen)
    if not code:
        return sheets[0]
    sheet = sheet_named(kitchen, code)
    if sheet is None:
        known = "\n".join(f"  {each.code}  {each.name}" for each in sheets)
        raise CommandError(f"There is no sheet “{code}”. Those known are:\n{known}")
    return sheet


def the_file(text: str) -> Path:
    """Where to write; its folder must be there."""
    target = Path(text)
    if target.is_dir():
        raise CommandError(f"{target} is a folder. Name a file in it, such as {target}/label.pdf.")
    if not target.parent.is_dir():
        raise CommandError(f"There is no folder {target.parent}. Make it first.")
    return target
