"""Best before and use by: the form of the date, and when there is none."""

from collections.abc import Iterator
from datetime import date
from decimal import Decimal

from labels.facts import LabelFacts, Particular, PrintedText, TextRun
from labels.law.eu.acts import FIC, FIC_APPLIES
from labels.law.eu.ways_of_sale import UNPACKED
from labels.law.eu.words import date_text, one_line, word, words_of
from labels.mechanics import stated_dates
from labels.mechanics.stated_dates import StatedDate, form_to_print
from labels.rulebook import INFORMATION, LOOK, Citation, Finding, rule

DAY_MONTH_UP_TO_MONTHS = 3
MONTH_YEAR_UP_TO_MONTHS = 18
STYLES = ("best before", "use by", "none")

NO_DATE_REASONS = (
    "uncut fresh fruit or vegetables",
    "wine",
    "10 % alcohol or more",
    "eaten within 24 hours of making",
    "vinegar",
    "cooking salt",
    "solid sugar",
    "confectionery of flavoured or coloured sugar",
    "chewing gum",
)
"""Foods that need no date of minimum durability (Annex X, point 1(d))."""
_ALMOST_SOLELY_SUGAR = "confectionery of flavoured or coloured sugar"
_SWEET_WORDS = {"sugar", "glucose", "dextrose", "fructose", "syrup", "flavouring", "flavour",
                "colour", "colouring", "water"}  # fmt: skip


def shortest_form(*, made_on: date | None, best_before: date) -> str:
    """What is enough for this life: "day", "month" or "year"; "full" if the life is not known.

    Source: Regulation (EU) No 1169/2011, Annex X, point 1(c).
    """
    return stated_dates.shortest_form(
        made_on=made_on,
        best_before=best_before,
        day_up_to_months=DAY_MONTH_UP_TO_MONTHS,
        month_up_to_months=MONTH_YEAR_UP_TO_MONTHS,
    )


def stated_date(facts: LabelFacts) -> StatedDate | None:
    """The date as it is to be printed; None where there is none or it is not known."""
    day = facts.best_before
    if day is None or facts.date_style not in {"best before", "use by"}:
        return None
    language = facts.language
    if facts.date_style == "use by":
        text = _in_words(day, "full", language=language)
        return StatedDate(word("use by", language=language), text, day, True)
    enough = shortest_form(made_on=facts.made_on, best_before=day)
    return stated_dates.stated(
        day,
        form=form_to_print(enough, asked=facts.date_form),
        heading=word("best before", language=language),
        heading_end=word("best before end", language=language),
        text=lambda end, form: _in_words(end, form, language=language),
    )


def _in_words(day: date, form: str, *, language: str) -> str:
    return date_text(form, day=day.day, month_number=day.month, year=day.year, language=language)


def statement(facts: LabelFacts, *, minimum_x_height_mm: Decimal) -> Particular | None:
    """The date as it is to be printed."""
    stated = stated_date(facts)
    if stated is None:
        return None
    return Particular(
        kind="date",
        heading=stated.heading,
        runs=(TextRun(stated.text),),
        citation=Citation(FIC, "Art. 9(1)(f), Art. 24 and Annex X"),
        minimum_x_height_mm=minimum_x_height_mm,
    )


@rule(FIC, "Art. 9(1)(f) and Art. 24", since=FIC_APPLIES)
def the_food_has_a_date(facts: LabelFacts, printed: PrintedText | None) -> Finding | None:
    """A best-before or use-by date stands on the label, or a lawful reason for none."""
    if facts.way_of_sale in UNPACKED:
        return None
    if facts.date_style not in STYLES:
        return Finding(
            message=f"“{facts.date_style}” is no kind of date.",
            hint="Choose best before, use by, or none with its reason.",
            where="date",
        )
    if facts.date_style != "none" and facts.best_before is None:
        return Finding(
            message=f"The {facts.date_style} date is missing.",
            hint="Enter how long the food keeps; base it on tests, not on hope.",
            where="date",
        )
    return None


@rule(FIC, "Annex X, point 1(d)", since=FIC_APPLIES)
def a_label_without_a_date_has_a_lawful_reason(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """Only the foods of the list need no date; sweets only if they are almost solely sugar."""
    if facts.date_style != "none" or facts.way_of_sale in UNPACKED:
        return
    reason = one_line(facts.no_date_reason).casefold()
    if reason not in NO_DATE_REASONS:
        yield Finding(
            message="The label has no date, and no lawful reason for that is given."
            if not reason
            else f"“{one_line(facts.no_date_reason)}” is no reason for having no date.",
            hint=f"Give a date. Without one are only: {'; '.join(NO_DATE_REASONS)}.",
            where="date",
        )
    if reason == _ALMOST_SOLELY_SUGAR:
        others = [
            i.name
            for i in facts.ingredients
            if i.category not in {"sugar", "water"}
            and not i.additive_class
            and not _SWEET_WORDS & set(words_of(i.name))
        ]
        if others:
            yield Finding(
                message=f"{', '.join(others)}: this is not almost solely flavoured or coloured "
                "sugar, so a date is needed.",
                hint="Enter how long the food keeps.",
                where="date",
            )


@rule(FIC, "Annex X, point 1(c)", since=FIC_APPLIES)
def the_form_of_the_date_suits_the_life(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """Day and month up to 3 months, month and year up to 18, then the year is enough."""
    stated = stated_date(facts)
    if stated is None or facts.best_before is None:
        return
    if facts.made_on is None:
        yield Finding(
            message="The day of making is not known, so the date is printed in full.",
            hint="Nothing to do; with the day of making a shorter form may be enough.",
            level=INFORMATION,
            where="date",
        )
    elif facts.best_before < facts.made_on:
        yield Finding(
            message="The date lies before the day of making.",
            hint="Correct the day of making or the date.",
            where="date",
        )
    elif facts.printed_on is not None and facts.made_on > facts.printed_on:
        yield Finding(
            message="The day of making lies after the day of printing.",
            hint="Labels may be printed ahead; else correct the day, for lot and date follow it.",
            level=LOOK,
            where="date",
        )
    lost = (facts.best_before - stated.last_day).days
    if lost > 0:
        yield Finding(
            message=f"“{stated.heading} {stated.text}” ends {lost} "
            f"day{'s' if lost > 1 else ''} before your date.",
            hint="That is lawful and on the safe side. For the exact day choose the full form.",
            level=INFORMATION,
            where="date",
        )


@rule(FIC, "Art. 24(1) and Annex X", since=FIC_APPLIES)
def the_date_is_not_past_when_printed(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """A label printed today does not say that the food was best before yesterday."""
    stated = stated_date(facts)
    if stated is None or facts.printed_on is None or stated.last_day >= facts.printed_on:
        return None
    return Finding(
        message=f"“{stated.heading} {stated.text}” is already over on the day of printing.",
        hint="Check the day of making, the shelf life and the form of the date.",
        where="date",
    )


@rule(FIC, "Annex X, point 2(b)", since=FIC_APPLIES)
def a_use_by_date_comes_with_how_to_keep_it(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """A use-by date is followed by the storage conditions it depends on."""
    if facts.date_style != "use by" or one_line(facts.storage):
        return None
    return Finding(
        message="There is a use-by date, but no storage conditions.",
        hint="Say how to keep it, with the temperature: “Keep refrigerated below 5 °C”.",
        where="storage",
    )
