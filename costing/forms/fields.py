"""Fields and lines that every form shares: numbers as people type them, boxes with a unit."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from crispy_forms.helper import FormHelper
from crispy_forms.layout import Div, Field, Layout, LayoutObject
from django import forms
from django.core.exceptions import NON_FIELD_ERRORS, ValidationError

from costing.units import UnitsError, read_number


def as_typed(value: Decimal) -> str:
    """A stored figure as it stands in a box, so that reading it again gives the same figure.

    2.375 alone would be asked about (two and a bit, or two thousand?), so it gets one more nought.

    >>> as_typed(Decimal("2.50000")), as_typed(Decimal("2.375"))
    ('2.5', '2.3750')
    """
    plain = f"{value.normalize():f}"
    whole, _, fraction = plain.lstrip("-").partition(".")
    if len(fraction) == 3 and 1 <= len(whole) <= 3 and whole != "0":
        return plain + "0"
    return plain


class AmountField(forms.CharField):
    """A number typed with a comma or a point; the sentence at the field asks when it is unclear.

    least, most: limits that are allowed; above, below: limits that are not. places: decimals kept.
    """

    def __init__(
        self,
        *,
        least: int | str | None = None,
        above: int | str | None = None,
        most: int | str | None = None,
        below: int | str | None = None,
        places: int | None = None,
        **options: Any,
    ) -> None:
        self.limits = {
            name: None if limit is None else Decimal(limit)
            for name, limit in {
                "least": least, "above": above, "most": most, "below": below,
            }.items()
        }  # fmt: skip
        self.places = places
        super().__init__(**options)

    def widget_attrs(self, widget: forms.Widget) -> dict[str, Any]:
        """The numeric pad on a phone, and no help from the browser's memory."""
        return {**super().widget_attrs(widget), "inputmode": "decimal", "autocomplete": "off"}

    def to_python(self, value: Any) -> Any:
        """The number, or None for an empty box."""
        text = super().to_python(value)
        if text in self.empty_values:
            return None
        try:
            number = read_number(str(text))
        except UnitsError as problem:
            raise ValidationError(str(problem), code="not_read") from problem
        self._check(number)
        return number

    def run_validators(self, value: Any) -> None:
        """Text validators do not apply to a number."""

    def prepare_value(self, value: Any) -> Any:
        """A stored figure as it would be typed; what was typed stays as it was typed."""
        return as_typed(value) if isinstance(value, Decimal) else value

    def _check(self, number: Decimal) -> None:
        limits, shown = self.limits, f"{number.normalize():f}"
        refused = (
            (limits["least"] is not None and number < limits["least"], "at least", limits["least"]),
            (limits["above"] is not None and number <= limits["above"], "more than",
             limits["above"]),
            (limits["most"] is not None and number > limits["most"], "at most", limits["most"]),
            (limits["below"] is not None and number >= limits["below"], "less than",
             limits["below"]),
        )  # fmt: skip
        for is_refused, words, limit in refused:
            if is_refused:
                raise ValidationError(
                    f"{shown} cannot be right: this must be {words} {limit}.", code="out_of_range"
                )
        exponent = number.normalize().as_tuple().exponent
        if self.places is not None and isinstance(exponent, int) and -exponent > self.places:
            raise ValidationError(
                f"{shown} has more decimals than are kept here: at most {self.places}.",
                code="too_fine",
            )


OLDEST_YEAR, LAST_YEAR = 1950, 2150


class DayField(forms.DateField):
    """A day, by the browser's own calendar."""

    widget = forms.DateInput(format="%Y-%m-%d", attrs={"type": "date"})

    def __init__(self, **options: Any) -> None:
        messages = {"invalid": "This is not a day that can be read. Type it as 2026-09-15."}
        super().__init__(error_messages=messages, **options)

    def validate(self, value: Any) -> None:
        """A year that nobody who cooks now will meet was mistyped."""
        super().validate(value)
        if value and not OLDEST_YEAR <= value.year <= LAST_YEAR:
            raise ValidationError(f"Check the year: {value.year} is not near enough to today.")


class Line(Field):
    """One field of a form, drawn by our own template: label, help, error, box, unit.

    short: a narrow box. mark: words beside the label, such as "default". silent: a box that may
    stay empty does not say "if you like", because its help says when it is needed.
    """

    template = "partials/field.html"

    def __init__(
        self,
        name: str,
        *,
        unit: str = "",
        short: bool = False,
        mark: str = "",
        silent: bool = False,
        **attrs: Any,
    ) -> None:
        self.unit, self.short, self.mark, self.silent = unit, short, mark, silent
        super().__init__(name, **attrs)

    def render(self, form: Any, context: Any, *args: Any, **options: Any) -> Any:
        """Tell the template the unit, and what sort of box it is."""
        widget = form.fields[self.fields[0]].widget
        options["extra_context"] = {
            "unit": self.unit,
            "is_short": self.short or bool(self.unit),
            "mark": self.mark,
            "is_silent": self.silent,
            "is_check": isinstance(widget, forms.CheckboxInput),
            "is_choices": isinstance(widget, forms.RadioSelect | forms.CheckboxSelectMultiple),
        }
        return super().render(form, context, *args, **options)


class Chapter(LayoutObject):
    """A part of a form under a heading; `opens` makes it the second level, closed at first."""

    def __init__(self, heading: str, *fields: Any, lead: str = "", opens: bool = False) -> None:
        self.heading, self.lead, self.opens, self.fields = heading, lead, opens, list(fields)

    def render(self, form: Any, context: Any, *args: Any, **options: Any) -> Any:
        """Draw the heading and the lines; a part with a mistake in it stands open."""
        from django.template.loader import render_to_string

        names = [pointer.name for pointer in self.get_field_names()]
        return render_to_string(
            "partials/chapter.html",
            {
                "heading": self.heading,
                "lead": self.lead,
                "opens": self.opens,
                "is_open": any(name in form.errors for name in names),
                "lines": self.get_rendered_fields(form, context, *args, **options),
            },
        )


def side_by_side(*lines: Any) -> Div:
    """Lines that stand in one row where the screen is wide enough."""
    return Div(*lines, css_class="line-row")


def form_layout(*parts: Any) -> FormHelper:
    """A crispy helper that draws only the lines: the page has the form tag, the token, the end."""
    helper = FormHelper()
    helper.form_tag = False
    helper.disable_csrf = True
    helper.form_show_errors = False  # our own templates say every mistake, once at each place
    helper.layout = Layout(*parts)
    return helper


@dataclass(frozen=True)
class Mistake:
    """One entry of the summary at the top of a form: the sentence and the field it leads to."""

    sentence: str
    label: str = ""
    anchor: str = ""


def mistakes(*some_forms: forms.BaseForm) -> list[Mistake]:
    """Every mistake of these forms, in the order of the fields; whole-form ones first."""
    found = [
        Mistake(sentence=str(sentence))
        for form in some_forms
        for sentence in form.errors.get(NON_FIELD_ERRORS, [])
    ]
    for form in some_forms:
        for name in form.fields:
            bound = form[name]
            anchor = bound.id_for_label or bound.auto_id
            found += [
                Mistake(sentence=str(sentence), label=str(bound.label), anchor=str(anchor))
                for sentence in bound.errors
            ]
    return found


def take_errors(
    form: forms.BaseForm, error: ValidationError, *, names: Mapping[str, str] | None = None
) -> None:
    """Put what a service refused at the fields it concerns; the rest at the top of the form.

    names: the service's word for a field -> the form's.
    """
    if not hasattr(error, "error_dict"):
        form.add_error(None, error)
        return
    for name, problems in error.error_dict.items():
        field = (names or {}).get(name, name)
        form.add_error(field if field in form.fields else None, problems)
