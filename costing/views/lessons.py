"""What the kitchen's own batches taught, the batches behind it, and what the owner decides."""

from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.core.exceptions import PermissionDenied, ValidationError
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse

from costing.forms.fields import mistakes, take_errors
from costing.forms.lessons import ABOUT_A_BATCH, FORGET, LET, PIN, REMEMBER, LessonForm
from costing.models import Batch, Ingredient, Kitchen, Member, Pan, Recipe, Supplier
from costing.reckoning.learning import short
from costing.selectors.kitchens import this_kitchens
from costing.services.learning import (
    BRIX,
    EVAPORATION,
    INVERSION_IS_NOT_MEASURED,
    RESIDUE,
    USABLE,
    About,
    Point,
    Told,
    answer,
    forget,
    pin,
)
from costing.services.lessons import aim_of, every_lesson
from costing.views.access import KitchenRequest, kitchen_view
from costing.views.dot_picture import DotPicture, dot_picture
from costing.views.menu import COOK

TITLES = {
    USABLE: "gets past the sieve",
    BRIX: "Brix",
    RESIDUE: "stays in the pan",
    EVAPORATION: "water lost in a minute at full fire",
}
MODELS: dict[str, Any] = {
    "ingredient": Ingredient,
    "supplier": Supplier,
    "pan": Pan,
    "recipe": Recipe,
}


@dataclass(frozen=True)
class LessonRow:
    """One thing learnt, as the page shows it. form: what was typed about it and must be mended."""

    key: str
    name: str
    title: str
    figure: str
    told: Told
    picture: DotPicture | None
    hidden: tuple[tuple[str, object], ...]
    form: LessonForm
    aim: str = ""

    @property
    def asked(self) -> list[Point]:
        """Batches left out until somebody says."""
        return [point for point in self.told.points if point.state == "asked"]

    @property
    def answered(self) -> list[Point]:
        """Batches somebody decided about."""
        return [point for point in self.told.points if point.state in ("sure", "left out")]


@kitchen_view(COOK)
def lessons(request: KitchenRequest, kitchen: Kitchen) -> HttpResponse:
    """What is learnt of pans, fruit and recipes; the owner decides what counts."""
    typed = None
    may_decide = request.member.role == Member.Role.OWNER
    if request.method == "POST":
        if not may_decide:
            raise PermissionDenied(
                "What the batches taught is there for you to read. The owner decides what counts."
            )
        typed = LessonForm(request.POST, auto_id="typed-%s")
        done = _decided(request, kitchen, typed) if typed.is_valid() else None
        if done is not None:
            return redirect(f"{reverse('lessons', args=[kitchen.pk])}#{done}")
    rows = [_row(one, typed) for one in every_lesson(kitchen)]
    context = {
        "groups": [(name, found) for name, found in _groups(rows) if found],
        "has_lessons": bool(rows),
        "asked": sum(len(row.asked) for row in rows),
        "may_decide": may_decide,
        "mistakes": [] if typed is None else mistakes(typed),
        "inversion": INVERSION_IS_NOT_MEASURED,
    }
    return render(request, "costing/lessons.html", context)


def _groups(rows: list[LessonRow]) -> list[tuple[str, list[LessonRow]]]:
    return [
        ("Pans", [row for row in rows if row.told.about.pan]),
        ("Fruit", [row for row in rows if row.told.about.ingredient]),
        ("Recipes", [row for row in rows if row.told.about.recipe]),
    ]


def slug(told: Told) -> str:
    """Where on the page a lesson stands."""
    return "-".join(str(one or 0) for one in told.key)


def _row(told: Told, typed: LessonForm | None) -> LessonRow:
    about, learnt, key = told.about, told.learnt, slug(told)
    name = str(about.pan or about.ingredient or about.recipe)
    if about.supplier is not None:
        name = f"{name} from {about.supplier}"
    title = TITLES[told.subject]
    pinned = learnt.value if learnt.is_pinned else None
    form = LessonForm(initial={"value": pinned, "before": told.forget_before}, auto_id=f"{key}-%s")
    if typed is not None and _is_about(typed, told):
        typed.auto_id = f"{key}-%s"
        form = typed
    numbers = zip(("ingredient", "supplier", "pan", "recipe"), told.key[1:], strict=True)
    return LessonRow(
        key=key,
        name=name,
        title=title,
        figure="" if learnt.value is None else short(learnt.value, digits=3),
        told=told,
        picture=dot_picture(told, key=key, title=f"{name}: {title}"),
        hidden=(("subject", told.subject), *((n, pk) for n, pk in numbers if pk is not None)),
        form=form,
        aim=_aim_in_words(told),
    )


def _aim_in_words(told: Told) -> str:
    """How far off the last batches were, with what was learnt and without."""
    aim = None if told.learnt.is_pinned else aim_of(told)
    if aim is None:
        return ""
    unit = told.learnt.unit
    return (
        f"The last {aim.batches} batches, each told from those before it, were off by"
        f" {short(aim.learnt, digits=2)} {unit} on average; by the usual figure"
        f" {short(aim.usual, digits=2)} {unit}."
    )


def _is_about(typed: LessonForm, told: Told) -> bool:
    named = [typed.data.get(name, "") for name in ("subject", *MODELS)]
    return named == [str(one or "") for one in told.key]


def _decided(request: KitchenRequest, kitchen: Kitchen, form: LessonForm) -> str | None:
    """Write the decision down; where on the page to go back to, None when something is wrong."""
    data = form.cleaned_data
    rows = {
        name: this_kitchens(model, kitchen=kitchen, pk=data[name]) if data[name] else None
        for name, model in MODELS.items()
    }
    about, subject, do = About(**rows), data["subject"], data["do"]
    by = request.user
    try:
        if do in ABOUT_A_BATCH:
            batch = this_kitchens(Batch, kitchen=kitchen, pk=data["batch"])
            counts = ABOUT_A_BATCH[do]
            answer(kitchen, subject, by=by, about=about, batch=batch, counts=counts)  # type: ignore[arg-type]
        elif do in (PIN, LET):
            value = data["value"] if do == PIN else None
            pin(kitchen, subject, by=by, about=about, value=value)  # type: ignore[arg-type]
        elif do in (FORGET, REMEMBER):
            before = data["before"] if do == FORGET else None
            forget(kitchen, subject, by=by, about=about, before=before)  # type: ignore[arg-type]
    except ValidationError as error:
        take_errors(form, error, names={"pinned": "value", "forget_before": "before"})
        return None
    messages.success(request, "Decided. What was decided before is kept in the history.")
    return "-".join(str(one or 0) for one in about.key(subject))
