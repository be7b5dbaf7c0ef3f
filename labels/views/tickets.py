"""Price tickets and cards for a shelf."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone

from costing.forms.fields import mistakes
from costing.models import Kitchen, Member
from costing.views.access import kitchen_view
from costing.views.recipe_words import Pen
from labels import law
from labels.forms.tickets import TicketForm
from labels.rendering.fonts import RenderingUnavailable
from labels.services.designs import sheets_for
from labels.services.tickets import make_tickets, products_for_tickets, tickets_pdf
from labels.views.printing import as_pdf


@kitchen_view(Member.Role.COOK, Member.Role.STALL_HAND)
def tickets(request: HttpRequest, kitchen: Kitchen) -> HttpResponse:
    """What stands beside the food: choose products, get cards; those that get none are named."""
    products = products_for_tickets(kitchen)
    form = TicketForm(
        request.POST or None,
        sheets=sheets_for(kitchen),
        products=products,
        initial={
            "market": law.home_market(kitchen.country).code,
            "place": "stall",
            "start_at": 1,
            "law_on": timezone.localdate(),
        },
    )
    page: dict[str, Any] = {"form": form, "rows": _rows(form, pen=Pen(kitchen))}
    if request.method == "POST" and form.is_valid():
        data = form.cleaned_data
        made, page["refused"] = make_tickets(
            kitchen, form.wishes, on=data["law_on"], market=data["market"], place=data["place"]
        )
        page["notes"] = tuple(dict.fromkeys(note for ticket in made for note in ticket.notes))
        page["made"] = sum(ticket.wish.copies for ticket in made)
        if made and (not page["refused"] or "print_the_rest" in request.POST):
            try:
                pdf = tickets_pdf(made, sheet=form.label_sheet, start_at=data["start_at"])
            except (RenderingUnavailable, ValueError) as reason:
                form.add_error(None, str(reason))
            else:
                return as_pdf(pdf, name=f"tickets-{data['law_on']}.pdf")
    page["mistakes"] = mistakes(form)
    return render(request, "labels/tickets.html", page)


def _rows(form: TicketForm, *, pen: Pen) -> list[dict[str, Any]]:
    return [
        row
        | {
            "price": pen.money(row["product"].stall_price) if row["product"].stall_price else "",
            "net": f"{pen.number(row['product'].net_quantity_g)} g",
        }
        for row in form.rows
    ]
