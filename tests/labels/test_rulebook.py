"""How a provision becomes code: citations that cannot be forgotten, days, levels."""

from datetime import date, timedelta

import pytest

from labels.facts import Act, Citation, LabelFacts, PrintedText
from labels.rulebook import (
    INFORMATION,
    LOOK,
    MUST_MEND,
    Dated,
    Finding,
    check,
    rule,
)

ACT = Act("An Act", "https://example.org/act")
FIRST = date(2020, 1, 1)
ENDS = date(2022, 1, 1)


def a_rule(result, **options):
    @rule(ACT, "Art. 1", since=FIRST, **options)
    def bread_is_good(facts, printed):
        """Bread is good."""
        return result

    return bread_is_good


FAULT = Finding(message="Bread is stale.", hint="Bake.")


def test_the_rule_adds_its_citation_and_its_name():
    (found,) = a_rule(FAULT)(LabelFacts())
    assert str(found.citation) == "An Act, Art. 1"
    assert found.rule == "bread_is_good"
    assert FAULT.citation is None


def test_a_finding_may_bring_a_citation_of_its_own():
    own = Citation(ACT, "Art. 2")
    (found,) = a_rule(Finding("Bread is stale.", "Bake.", citation=own))(LabelFacts())
    assert found.citation == own


@pytest.mark.parametrize(
    ("result", "count"), [(None, 0), (FAULT, 1), ([FAULT, FAULT], 2), (iter([FAULT]), 1), ((), 0)]
)
def test_a_check_answers_with_nothing_one_or_many(result, count):
    assert len(a_rule(result)(LabelFacts())) == count


def test_a_rule_of_print_waits_for_print():
    judge = a_rule(FAULT, needs_print=True)
    assert judge(LabelFacts()) == ()
    assert len(judge(LabelFacts(), PrintedText())) == 1


@pytest.mark.parametrize(
    ("on", "applies"),
    [
        (FIRST - timedelta(days=1), False),
        (FIRST, True),
        (ENDS - timedelta(days=1), True),
        (ENDS, False),
    ],
)
def test_a_rule_applies_from_its_first_day_until_the_day_it_ends(on, applies):
    assert a_rule(FAULT, until=ENDS).is_in_force(on=on) is applies
    assert bool(check([a_rule(FAULT, until=ENDS)], LabelFacts(), None, on=on)) is applies


def test_a_check_without_a_sentence_is_no_rule():
    with pytest.raises(ValueError, match="does not say what is lawful"):
        rule(ACT, "Art. 1", since=FIRST)(lambda facts, printed: None)


def test_all_findings_come_at_once_the_worst_first():
    levels = [INFORMATION, MUST_MEND, LOOK]
    found = check(
        [a_rule([Finding("a", "b", level=each) for each in levels])], LabelFacts(), None, on=FIRST
    )
    assert [f.level for f in found] == [MUST_MEND, LOOK, INFORMATION]
    assert [f.stops_printing for f in found] == [True, False, False]


def test_the_day_of_the_check_is_the_day_of_printing_unless_the_facts_say():
    seen = []

    @rule(ACT, "Art. 1", since=FIRST)
    def look(facts, printed):
        """Look."""
        seen.append(facts.printed_on)

    check([look], LabelFacts(), None, on=ENDS)
    check([look], LabelFacts(printed_on=FIRST), None, on=ENDS)
    assert seen == [ENDS, FIRST]


@pytest.mark.parametrize(
    "make",
    [
        lambda: Finding("", "hint"),
        lambda: Finding("message", ""),
        lambda: Finding("message", "hint", level="fatal"),
        lambda: Citation(ACT, ""),
        lambda: Act("", "https://example.org"),
        lambda: Act("An Act", "http://example.org"),
    ],
)
def test_what_says_nothing_is_refused(make):
    with pytest.raises(ValueError, match=r"."):
        make()


def test_a_dated_value_changes_on_its_day():
    # from 350 to 450 g of fruit per kg on 14 June 2026: Directive (EU) 2024/1438, read in the
    # Spanish transposition, Real Decreto 863/2003 as changed by Real Decreto 1026/2025 [N]
    fruit = Dated(350, {date(2026, 6, 14): 450})
    assert fruit.on(date(2026, 6, 13)) == 350
    assert fruit.on(date(2026, 6, 14)) == 450
    assert Dated(1).on(date.min) == 1


def test_later_changes_hold_in_the_order_of_their_days():
    value = Dated("a", {date(2030, 1, 1): "c", date(2020, 1, 1): "b"})
    assert [value.on(date(year, 6, 1)) for year in (2019, 2025, 2031)] == ["a", "b", "c"]


def test_a_rule_is_told_the_day_of_the_law_and_not_only_that_of_printing():
    seen = []

    @rule(ACT, "Art. 9", since=date(2020, 1, 1))
    def looks_at_the_days(facts, printed):
        """Any day is lawful."""
        seen.append((facts.law_on, facts.printed_on))

    facts = LabelFacts(printed_on=date(2026, 5, 1))
    check([looks_at_the_days], facts, None, on=date(2026, 4, 5))
    check([looks_at_the_days], LabelFacts(), None, on=date(2026, 4, 5))
    assert seen == [
        (date(2026, 4, 5), date(2026, 5, 1)),
        (date(2026, 4, 5), date(2026, 4, 5)),
    ]
