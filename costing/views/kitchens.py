"""The kitchen: made, set up, and who works in it."""

from datetime import timedelta
from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone

from costing.forms.fields import as_typed, mistakes, take_errors
from costing.forms.kitchens import MAY, KitchenForm, NewKitchenForm, PersonForm
from costing.models import Kitchen, Member
from costing.physics.air_pressure import standard_pressure_pa, water_boiling_point_c
from costing.selectors.kitchens import people as people_of
from costing.selectors.kitchens import this_kitchens
from costing.selectors.recipes import recipes_of
from costing.services.kitchens import (
    add_person,
    change_role,
    create_kitchen,
    remove_person,
    update_kitchen,
)
from costing.services.lots import example_lot, scheme_fault
from costing.units import as_float
from costing.views.access import KitchenRequest, kitchen_view, way_back


@login_required
def kitchen_new(request: HttpRequest) -> HttpResponse:
    """A new kitchen: three questions, everything else at its default."""
    form = NewKitchenForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            kitchen = create_kitchen(by=request.user, **form.values())  # type: ignore[arg-type]
        except ValidationError as error:
            take_errors(form, error)
        else:
            return redirect("today", kitchen.pk)
    page = {"form": form, "mistakes": mistakes(form)}
    return render(request, "costing/kitchen_new.html", page)


@kitchen_view()
def kitchen(request: KitchenRequest, kitchen: Kitchen) -> HttpResponse:
    """Settings: all that sums and labels take from the kitchen."""
    boils = _boils(kitchen)
    back = way_back(request, request.GET.get("back", ""))
    form = KitchenForm(request.POST or None, kitchen=kitchen, boils=boils)
    if request.method == "POST" and form.is_valid():
        try:
            update_kitchen(kitchen, by=request.user, **form.cleaned_data)  # type: ignore[arg-type]
        except ValidationError as error:
            take_errors(form, error)
        else:
            messages.success(request, "Kept. Every cost reckons with this from now on.")
            return redirect(back) if back else redirect("kitchen", kitchen.pk)
    page = {
        "form": form,
        "mistakes": mistakes(form),
        **_lot_example(kitchen, str(form["lot_scheme"].value() or "")),
    }
    return render(request, "costing/kitchen.html", page)


@kitchen_view()
def kitchen_lot(request: KitchenRequest, kitchen: Kitchen) -> HttpResponse:
    """What a scheme that is being typed gives, or what is wrong with it; nothing is kept."""
    scheme = request.GET.get("lot_scheme", kitchen.lot_scheme)
    return render(request, "costing/kitchen_lot.html", _lot_example(kitchen, scheme))


def _lot_example(kitchen: Kitchen, scheme: str) -> dict[str, str]:
    """Tomorrow's first lot of a recipe of this kitchen."""
    recipe = recipes_of(kitchen).first()
    name = "Damson cheese" if recipe is None else recipe.name
    tomorrow = timezone.localdate() + timedelta(days=1)
    scheme = scheme.strip()
    return {
        "lot_example": example_lot(kitchen, scheme, name=name, on=tomorrow),
        "lot_of": name,
        "lot_fault": scheme_fault(scheme, currency=kitchen.currency),
    }


def _boils(kitchen: Kitchen) -> str:
    pressure_pa = standard_pressure_pa(altitude_m=as_float(kitchen.altitude_m))
    boils_c = float(water_boiling_point_c(pressure_pa=pressure_pa))
    return (
        f"At {as_typed(kitchen.altitude_m)} metres water boils at about {boils_c:.1f} °C "
        "in ordinary weather."
    )


@kitchen_view()
def people(request: KitchenRequest, kitchen: Kitchen) -> HttpResponse:
    """Who works here: add, change the role, take away. One of three acts by the button pressed."""
    form = PersonForm()
    problem = ""
    if request.method == "POST":
        try:
            done, form = _people_act(request, kitchen)
        except ValidationError as error:
            done, problem = "", " ".join(error.messages)
        if done:
            messages.success(request, done)
            return redirect("people", kitchen.pk)
    page = {
        "form": form,
        "mistakes": mistakes(form),
        "problem": problem,
        "people": people_of(kitchen),
        "roles": [(role, label, MAY[role]) for role, label in Member.Role.choices],
    }
    return render(request, "costing/people.html", page)


def _people_act(request: KitchenRequest, kitchen: Kitchen) -> tuple[str, PersonForm]:
    """Do what the button says; the sentence to show, empty when the form has mistakes."""
    act = request.POST.get("act")
    user: Any = request.user
    if act == "add":
        form = PersonForm(request.POST)
        if not form.is_valid():
            return "", form
        try:
            added = add_person(kitchen, by=user, **form.cleaned_data)
        except ValidationError as error:
            take_errors(form, error)
            return "", form
        return f"{added.user.get_username()} can sign in now.", form
    number = request.POST.get("person", "")
    person = this_kitchens(
        Member, kitchen=kitchen, pk=int(number) if number.isdecimal() else 0, related=("user",)
    )
    name = person.user.get_username()
    if act == "remove":
        remove_person(person, by=user)
        return f"{name} no longer works in this kitchen.", PersonForm()
    changed = change_role(person, by=user, role=request.POST.get("role", ""))
    return f"{name} is now {changed.get_role_display().lower()}.", PersonForm()
