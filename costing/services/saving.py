"""Saving a row: checked as a whole, every fault by the name of its field, and audited."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any, TypeVar

from django.contrib.auth.models import AbstractBaseUser
from django.core.exceptions import NON_FIELD_ERRORS, ValidationError
from django.db import IntegrityError, models, transaction
from django.db.models import CheckConstraint, F, Q, UniqueConstraint

from costing.models import Kitchen, KitchenOwned
from costing.services.audit import CREATED, record_changes, snapshot

Subject = TypeVar("Subject", bound=Kitchen | KitchenOwned)

NOT_BY_FORM = ("id", "kitchen", "kitchen_id", "pk")


def save_checked(
    subject: Subject, *, by: AbstractBaseUser | None, values: Mapping[str, Any]
) -> Subject:
    """Set the values, check the whole row, save it and write down what changed.

    Raises ValidationError with the faults by field, all of them together.
    """
    fields = tuple(name for name in values if name not in NOT_BY_FORM)
    is_new = subject._state.adding
    before = {} if is_new else snapshot(subject, fields=fields)
    for name in fields:
        setattr(subject, name, _tidy(values[name]))
    check(subject)
    try:
        with transaction.atomic():
            subject.save()
    except IntegrityError as error:  # somebody else was faster than our check
        raise ValidationError(
            "Somebody else saved something that does not go with this just now."
            " Look at the page again and try once more."
        ) from error
    if is_new:
        record_changes(subject, by=by, before={}, after={CREATED: str(subject)})
    else:
        after = snapshot(subject, fields=fields)
        record_changes(subject, by=by, before=before, after=after)
    return subject


def check(subject: models.Model, *, skip: tuple[str, ...] = ()) -> None:
    """Raise ValidationError with every fault of a row, by field, constraints included.

    skip: links that the caller has looked up already, many rows at a time; what must be unique
    among the rows of such a link is then the caller's to look after too.
    """
    errors: dict[str, list[Any]] = _not_storable(subject)
    try:
        subject.full_clean(exclude={*errors, *skip}, validate_constraints=False)
    except ValidationError as error:
        for name, faults in error.update_error_dict({}).items():
            errors.setdefault(name, []).extend(_in_words(fault) for fault in faults)
    for constraint in _broken(subject, skip=skip, faulty=set(errors)):
        message = constraint.get_violation_error_message()
        errors.setdefault(_blamed(constraint), []).append(message)
    if errors:
        raise ValidationError(errors)


def _broken(
    subject: models.Model, *, skip: tuple[str, ...], faulty: set[str]
) -> list[models.BaseConstraint]:
    """Constraints a row breaks; those over a faulty value would only confuse and are left out."""
    every = [c for c in subject._meta.constraints if not set(_names(c)) & faulty]
    checks = [c for c in every if isinstance(c, CheckConstraint)]
    unique = [c for c in every if c not in checks and not set(_names(c)) & set(skip)]
    # Each check is a question to the database. One asks them all; only a refusal asks which.
    whole = Q()
    for one in checks:
        whole &= Q(one.condition)
    if checks and _holds(CheckConstraint(condition=whole, name="all of them"), subject):
        checks = []
    return [constraint for constraint in [*checks, *unique] if not _holds(constraint, subject)]


def _holds(constraint: models.BaseConstraint, subject: models.Model) -> bool:
    try:
        constraint.validate(type(subject), subject)
    except ValidationError:
        return False
    return True


TOO_LARGE = "This is more than any kitchen has. Check the zeros and the unit."
SENTENCES = {
    "blank": "This cannot be left empty.",
    "null": "This cannot be left empty.",
    "max_digits": TOO_LARGE,
    "max_whole_digits": TOO_LARGE,
    "max_decimal_places": "This has more decimals than are kept: %(max)s at most.",
    "max_length": "This is too long: it has %(show_value)d characters of %(limit_value)d at most.",
    "invalid_choice": "Choose one of the answers offered.",
}
"""By Django's own codes, in the words of the kitchen."""


def _in_words(fault: ValidationError) -> ValidationError:
    sentence = SENTENCES.get(fault.code or "")
    if sentence is None:
        return fault
    return ValidationError(sentence, code=fault.code, params=fault.params)


def refuse_strangers(kitchen: Kitchen, *subjects: KitchenOwned | None) -> None:
    """Raise ValidationError for a row of another kitchen: a page that fetched it made a mistake."""
    for subject in subjects:
        if subject is not None and subject.kitchen_id != kitchen.pk:
            raise ValidationError(f"That {subject._meta.verbose_name} is not in this kitchen.")


def as_error(field: str, sentence: str) -> ValidationError:
    """A fault of one field, in a sentence."""
    return ValidationError({field: sentence})


def prefixed(
    error: ValidationError, *, where: str, field: str = NON_FIELD_ERRORS
) -> ValidationError:
    """The faults of a part (a line, a packing part) told by the whole, saying which part."""
    return ValidationError({field: [f"{where}: {sentence}" for sentence in error.messages]})


def _tidy(value: Any) -> Any:
    return value.strip() if isinstance(value, str) else value


def _not_storable(subject: models.Model) -> dict[str, list[Any]]:
    errors: dict[str, list[Any]] = {}
    for field in subject._meta.concrete_fields:
        value = getattr(subject, field.attname)
        if isinstance(value, str) and not _can_be_stored(value):
            errors[field.name] = ["This text has a character that cannot be stored. Type it anew."]
        if isinstance(value, Decimal) and not value.is_finite():
            errors[field.name] = ["This is not a number."]
    return errors


def _can_be_stored(text: str) -> bool:
    """PostgreSQL stores no NUL, and half a surrogate pair is no character at all."""
    return "\x00" not in text and not any("\ud800" <= sign <= "\udfff" for sign in text)


def _blamed(constraint: models.BaseConstraint) -> str:
    """The field a maker would change to satisfy a constraint."""
    names = [name for name in _names(constraint) if name != "kitchen"]
    if not names:
        return NON_FIELD_ERRORS
    return names[-1] if isinstance(constraint, UniqueConstraint) else names[0]


def _names(constraint: models.BaseConstraint) -> list[str]:
    if isinstance(constraint, CheckConstraint):
        return [name.split("__")[0] for name in _leaves(constraint.condition)]
    if isinstance(constraint, UniqueConstraint):
        named = list(constraint.fields)
        for expression in constraint.expressions:
            named += _columns(expression)
        return named
    return []


def _leaves(condition: Any) -> list[str]:
    names: list[str] = []
    for child in getattr(condition, "children", ()):
        names += _leaves(child) if isinstance(child, Q) else [child[0]]
    return names


def _columns(expression: Any) -> list[str]:
    if isinstance(expression, F):
        return [getattr(expression, "name", "")]
    return [name for part in expression.get_source_expressions() for name in _columns(part)]
