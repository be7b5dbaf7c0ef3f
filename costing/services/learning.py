"""What a kitchen's own batches teach: a usual value that gives way to what was measured."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal

from django.contrib.auth.models import AbstractBaseUser

from costing.models import Batch, Ingredient, Kitchen, Lesson, Pan, Recipe, RecipeVersion, Supplier
from costing.reckoning.learning import Blend, Observation, blend, short
from costing.selectors import batch_lessons
from costing.selectors.batch_lessons import Decided, Key, Measured
from costing.selectors.recipes import current_version
from costing.services.saving import as_error, refuse_strangers, save_checked

USABLE, BRIX, RESIDUE, EVAPORATION, INVERSION = (
    "usable",
    "brix",
    "residue",
    "evaporation",
    "inversion",
)
SUBJECTS = (USABLE, BRIX, RESIDUE, EVAPORATION, INVERSION)
SHARES = (USABLE, BRIX, INVERSION)
"""Percentages: never above a hundred."""

INVERSION_IS_NOT_MEASURED = (
    "Scale, thermometer and refractometer together do not tell how much of the sugar turned;"
    " a laboratory does."
)


@dataclass(frozen=True)
class About:
    """What something is learnt about: an ingredient (of one supplier), a pan or a recipe.

    version: the recipe's current one, where it was read already.
    """

    ingredient: Ingredient | None = None
    supplier: Supplier | None = None
    pan: Pan | None = None
    recipe: Recipe | None = None
    version: RecipeVersion | None = field(default=None, compare=False)

    def key(self, subject: str) -> Key:
        """The same by the numbers of the rows."""
        one = self.ingredient, self.supplier, self.pan, self.recipe
        return Key(subject, *(None if row is None else row.pk for row in one))

    def links(self) -> dict[str, Ingredient | Supplier | Pan | Recipe | None]:
        """By the names of the columns of a lesson."""
        return {
            "ingredient": self.ingredient,
            "supplier": self.supplier,
            "pan": self.pan,
            "recipe": self.recipe,
        }


@dataclass(frozen=True)
class Learnt:
    """What to reckon with from now on.

    value: None = not known at all. spread: standard deviation of the batches, None below two.
    unit: "%", "g", "g/min" or "Brix". questions: about batches that were left out.
    """

    value: Decimal | None
    spread: Decimal | None
    batches: int
    sentence: str
    unit: str
    default: Decimal | None = None
    mean: Decimal | None = None
    standard_error: Decimal | None = None
    is_pinned: bool = False
    questions: tuple[str, ...] = ()


@dataclass(frozen=True)
class Prediction:
    """What would have been expected before a batch, and what it then was."""

    lot: str
    made_on: date
    expected: Decimal
    usual: Decimal
    measured: Decimal

    @property
    def error(self) -> Decimal:
        """Distance of what was expected from what was measured."""
        return abs(self.measured - self.expected)

    @property
    def usual_error(self) -> Decimal:
        """The same had nothing been learnt."""
        return abs(self.measured - self.usual)


def learnt(
    kitchen: Kitchen,
    subject: str,
    *,
    ingredient: Ingredient | None = None,
    supplier: Supplier | None = None,
    pan: Pan | None = None,
    recipe: Recipe | None = None,
) -> Learnt:
    """The usual value, worth two batches, blended with the kitchen's own; or what was pinned.

    "usable" and "brix" are about an ingredient, of one supplier if named; "brix" also about a
    recipe (a puree); "residue" about a pan [g] or a recipe [%]; "evaporation" about a pan.
    """
    about = About(ingredient, supplier, pan, recipe)
    _check(kitchen, subject, about)
    decided = batch_lessons.decisions(kitchen).get(about.key(subject), Decided())
    measured = _measured(kitchen, subject, about)
    return told(measured, subject=subject, about=about, decided=decided).learnt


@dataclass(frozen=True)
class Point:
    """One batch's figure and whether it counts.

    state: "counts", "asked" (left out until the question is answered), "sure" (counts because its
    maker said so), "left out" (by its maker) or "forgotten" (before the day that was chosen).
    """

    measured: Measured
    state: str
    question: str = ""


@dataclass(frozen=True)
class Told:
    """What is learnt about one thing, with every batch behind it, oldest first."""

    subject: str
    about: About
    learnt: Learnt
    points: tuple[Point, ...]
    forget_before: date | None = None

    @property
    def key(self) -> Key:
        """What it is of, by the numbers of the rows."""
        return self.about.key(self.subject)


def told(measured: Sequence[Measured], *, subject: str, about: About, decided: Decided) -> Told:
    """What batches say about one thing, after what their maker decided."""
    lesson = decided.latest
    forget_before = None if lesson is None else lesson.forget_before
    states = [_state(one, decided=decided) for one in measured]
    heard = [
        Observation(one.value, str(place), is_sure=state == "sure")
        for place, (one, state) in enumerate(zip(measured, states, strict=True))
        if state in ("counts", "sure")
    ]
    default = _default(subject, about)
    blended = _blend(heard, subject=subject, default=default)
    asked = {int(one.observation.source): one.question for one in blended.refused}
    points = []
    for place, (one, state) in enumerate(zip(measured, states, strict=True)):
        question = asked.get(place, "").replace(f"{place} gives", f"{one.lot} gives", 1)
        points.append(Point(one, "asked" if question else state, question))
    return Told(
        subject,
        about,
        _learnt(blended, subject=subject, about=about, lesson=lesson, points=points),
        tuple(points),
        forget_before,
    )


def _state(one: Measured, *, decided: Decided) -> str:
    lesson, counts = decided.latest, decided.answers.get(one.batch_id)
    if lesson is not None and lesson.forget_before and one.made_on < lesson.forget_before:
        return "forgotten"
    if counts is None:
        return "counts"
    return "sure" if counts else "left out"


def _learnt(
    blended: Blend,
    *,
    subject: str,
    about: About,
    lesson: Lesson | None,
    points: Sequence[Point],
) -> Learnt:
    pinned = None if lesson is None else lesson.pinned
    unit = _unit(subject, about)
    return Learnt(
        value=blended.value if pinned is None else pinned,
        spread=blended.sd,
        batches=blended.batches,
        sentence=_sentence(blended, subject=subject, unit=unit, pinned=pinned),
        unit=unit,
        default=_default(subject, about),
        mean=blended.mean,
        standard_error=blended.standard_error,
        is_pinned=pinned is not None,
        questions=tuple(point.question for point in points if point.question),
    )


def predictions(kitchen: Kitchen, subject: str, *, about: About) -> tuple[Prediction, ...]:
    """For each batch in turn, what the batches before it let expect, and what it was."""
    _check(kitchen, subject, about)
    measured = _measured(kitchen, subject, about)
    return foretold(measured, subject=subject, usual=_default(subject, about))


def foretold(
    measured: Sequence[Measured], *, subject: str, usual: Decimal | None
) -> tuple[Prediction, ...]:
    """The same for figures that were read already, oldest first."""
    found = []
    for number, one in enumerate(measured):
        before = [Observation(each.value, each.lot) for each in measured[:number]]
        expected = _blend(before, subject=subject, default=usual).value
        if usual is not None and expected is not None:
            found.append(Prediction(one.lot, one.made_on, expected, usual, one.value))
    return tuple(found)


def pin(
    kitchen: Kitchen,
    subject: str,
    *,
    by: AbstractBaseUser | None,
    about: About,
    value: Decimal | None,
) -> Lesson:
    """Reckon with one figure whatever the batches say; None lets them speak again."""
    return _decide(kitchen, subject, by=by, about=about, values={"pinned": value})


def forget(
    kitchen: Kitchen,
    subject: str,
    *,
    by: AbstractBaseUser | None,
    about: About,
    before: date | None,
) -> Lesson:
    """Leave out what was measured before a day: another sieve, another variety. None takes all."""
    return _decide(kitchen, subject, by=by, about=about, values={"forget_before": before})


def answer(
    kitchen: Kitchen,
    subject: str,
    *,
    by: AbstractBaseUser | None,
    about: About,
    batch: Batch,
    counts: bool | None,
) -> Lesson:
    """Whether the figure of one batch counts; None lets the question be asked again."""
    _check(kitchen, subject, about)
    refuse_strangers(kitchen, batch)
    values = {"subject": subject, **about.links(), "batch": batch, "counts": counts}
    return save_checked(Lesson(kitchen=kitchen), by=by, values={**values, "decided_by": by})


def _decide(
    kitchen: Kitchen,
    subject: str,
    *,
    by: AbstractBaseUser | None,
    about: About,
    values: dict[str, Decimal | date | None],
) -> Lesson:
    """A new row each time, so that what was decided before can still be read."""
    _check(kitchen, subject, about)
    pinned = values.get("pinned")
    if isinstance(pinned, Decimal) and subject in SHARES and not 0 <= pinned <= 100:
        raise as_error("pinned", f"{pinned:f} is not a percentage from 0 to 100.")
    if isinstance(pinned, Decimal) and pinned < 0:
        raise as_error("pinned", "This cannot be less than nothing.")
    last = batch_lessons.lesson_of(kitchen, subject=subject, **about.links())  # type: ignore[arg-type]
    kept = {
        "pinned": None if last is None else last.pinned,
        "forget_before": None if last is None else last.forget_before,
    }
    all_values = {"subject": subject, **about.links(), **kept, **values, "decided_by": by}
    return save_checked(Lesson(kitchen=kitchen), by=by, values=all_values)


def _check(kitchen: Kitchen, subject: str, about: About) -> None:
    refuse_strangers(kitchen, *about.links().values())
    if subject not in SUBJECTS:
        raise as_error("subject", f"Nothing is learnt about “{subject}”.")
    fits = {
        USABLE: about.ingredient is not None,
        BRIX: about.ingredient is not None or about.recipe is not None,
        RESIDUE: about.pan is not None or about.recipe is not None,
        EVAPORATION: about.pan is not None,
        INVERSION: about.recipe is not None,
    }
    if not fits[subject]:
        raise as_error("subject", f"Say what the {subject} is of.")


def _measured(kitchen: Kitchen, subject: str, about: About) -> list[Measured]:
    fruit, pan, recipe = about.ingredient, about.pan, about.recipe
    if fruit is not None:
        of_fruit = batch_lessons.usable_shares if subject == USABLE else batch_lessons.brix_of
        return of_fruit(kitchen, ingredient=fruit, supplier=about.supplier)
    if pan is not None:
        is_rate = subject == EVAPORATION
        of_pan = batch_lessons.evaporation_rates if is_rate else batch_lessons.residues_g
        return of_pan(kitchen, pan=pan)
    if recipe is None or subject == INVERSION:
        return []
    is_brix = subject == BRIX
    of_recipe = batch_lessons.brix_of_finished if is_brix else batch_lessons.residue_shares
    return of_recipe(kitchen, recipe=recipe)


def _default(subject: str, about: About) -> Decimal | None:
    """What is reckoned with before any batch: the figure entered with the thing itself."""
    if about.ingredient is not None:
        return about.ingredient.usable_pct if subject == USABLE else about.ingredient.brix
    if about.pan is not None:
        of_pan = about.pan.residue_g, about.pan.evaporation_g_per_min
        return of_pan[0] if subject == RESIDUE else of_pan[1]
    if about.recipe is None:
        return None
    version = about.version or current_version(about.recipe)
    if subject == BRIX:
        return version.measured_brix
    return version.pan_residue_pct if subject == RESIDUE else version.inverted_pct


def _blend(heard: Sequence[Observation], *, subject: str, default: Decimal | None) -> Blend:
    return blend(
        heard,
        default=default,
        least=Decimal(0),
        most=Decimal(100) if subject in SHARES else None,
        what=WORDS[subject],
    )


WORDS = {
    USABLE: "the usable share",
    BRIX: "the Brix",
    RESIDUE: "what stays in the pan",
    EVAPORATION: "the water lost in a minute at full fire",
    INVERSION: "the inverted sugar",
}


def _unit(subject: str, about: About) -> str:
    if subject == RESIDUE:
        return "g" if about.pan is not None else "%"
    return {USABLE: "%", BRIX: "Brix", EVAPORATION: "g/min", INVERSION: "%"}[subject]


def _sentence(answer: Blend, *, subject: str, unit: str, pinned: Decimal | None) -> str:
    """In words: "from 5 of your batches: 74.1 % ± 0.9"; the band is the standard error."""
    if pinned is not None:
        return f"pinned by you: {short(pinned)} {unit}"
    if subject == INVERSION:
        value = "not known" if answer.value is None else f"{short(answer.value)} {unit}"
        return f"{value}, the usual figure. {INVERSION_IS_NOT_MEASURED}"
    if answer.value is None:
        return "not known: no usual figure and no batch yet"
    if not answer.batches:
        return f"the usual figure, no batch of yours yet: {short(answer.value)} {unit}"
    noun = "batch" if answer.batches == 1 else "batches"
    band = "" if answer.standard_error is None else f" ± {short(answer.standard_error, digits=1)}"
    return f"from {answer.batches} of your {noun}: {short(answer.value, digits=3)} {unit}{band}"
