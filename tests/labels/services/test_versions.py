"""Versions of a label: told apart, superseded with the cause named, and printed again as it was."""

import hashlib
from dataclasses import replace
from datetime import date, timedelta

import pytest
from django.db import IntegrityError, connection, transaction
from django.test.utils import CaptureQueriesContext

from costing.models import AllergenAnswer, Ingredient
from labels.models import LabelDesign, PrintedLabel
from labels.services.facts_kept import kept_facts
from labels.services.printing import LabelOrder, plain, prepare_label, print_labels, sheets_pdf
from labels.services.standing import LAW, OURS
from labels.services.versions import (
    Reprint,
    ReprintRefused,
    reprint,
    standing_today,
    versions_of,
    with_standing,
)
from labels.stock import sheet
from tests.builders import an_owner
from tests.labels.services.test_batch_labels import a_printable, a_weighed

pytestmark = pytest.mark.django_db
ON = date(2026, 11, 25)


def printed(design, **values):
    usual = {"on": ON, "made_on": ON, "printed_on": ON, "sheet": sheet("a4-3x7-63.5x38.1")}
    run, _ = print_labels(design, by=None, order=LabelOrder(**(usual | values)))
    return PrintedLabel.objects.get(pk=run.pk)


def changed(design, **values):
    LabelDesign.objects.filter(pk=design.pk).update(**values)
    return LabelDesign.objects.get(pk=design.pk)


def test_facts_come_back_as_they_were_kept():
    design = a_printable()
    batch = a_weighed(design.product.recipe)
    for made_of in (None, batch):
        order = LabelOrder(
            on=ON, made_on=ON, printed_on=ON, batch=made_of, sheet=sheet("a4-3x7-63.5x38.1")
        )
        facts = prepare_label(design, order=order).facts
        run = PrintedLabel(
            facts=plain(facts), market=facts.market, lot=facts.lot, best_before=facts.best_before
        )
        assert kept_facts(run) == facts


def test_two_lots_of_the_same_label_are_one_version_and_another_colour_is_a_second():
    design = a_printable()
    printed(design, copies=12)
    printed(design, copies=5, made_on=ON - timedelta(days=1))
    printed(design, copies=1)
    printed(changed(design, colour="#123456"), copies=4)
    newest, oldest = versions_of(design.product)
    assert (newest.number, oldest.number) == (2, 1)
    assert {lot.lot: lot.copies for lot in oldest.lots} == {"DC-26329": 13, "DC-26328": 5}
    assert (oldest.copies, newest.copies) == (18, 4)


def test_only_todays_label_is_not_superseded():
    design = a_printable()
    printed(design)
    design = changed(design, storage="Keep cool.")
    printed(design)
    newest, oldest = with_standing(versions_of(design.product), design=design, on=ON)
    assert not newest.standing.is_superseded
    (change,) = oldest.standing.changes
    assert change.kind == "storage"
    assert (change.before, change.now) == ("Store in a cool, dry place.", "Keep cool.")
    assert change.why == OURS


def test_the_look_counts_where_every_word_is_the_same():
    design = a_printable()
    run = printed(design)
    changed(design, colour="#000000")
    (change,) = standing_today(PrintedLabel.objects.get(pk=run.pk), on=ON).changes
    assert (change.kind, change.before, change.now) == ("The colour", "#6b1f3a", "#000000")


@pytest.mark.parametrize(
    ("judged_on", "is_superseded"), [(date(2021, 9, 30), True), (date(2021, 10, 1), False)]
)
def test_a_law_that_asks_for_more_supersedes_a_label_whose_facts_stay(judged_on, is_superseded):
    # The Food Information (Amendment) (England) Regulations 2019 (SI 2019/1218), reg. 1: food
    # packed where it is sold carries its list of ingredients from 1 October 2021.
    design = a_printable()
    order = LabelOrder(
        on=judged_on, made_on=judged_on, sheet=sheet("a4-3x7-63.5x38.1"),
        market="gb-eng", way_of_sale="direct",
    )  # fmt: skip
    facts = prepare_label(design, order=order).facts
    run = PrintedLabel(
        design=design, product=design.product, facts=plain(facts), market="gb-eng",
        lot=facts.lot, best_before=facts.best_before, rule_date=judged_on, sheet=plain(order.sheet),
    )  # fmt: skip
    by_law = [c for c in standing_today(run, on=date(2021, 10, 1)).changes if c.why == LAW]
    assert ("ingredients" in [change.kind for change in by_law]) is is_superseded


def test_a_date_that_has_passed_is_a_fault_of_today():
    run = printed(a_printable())
    assert not standing_today(run, on=ON + timedelta(days=200)).is_superseded
    assert standing_today(run, on=ON + timedelta(days=300)).faults


def test_an_old_label_comes_out_again_to_the_byte():
    design = a_printable()
    first = printed(design, copies=3)
    again, sheets = reprint(
        first, by=an_owner(design.kitchen), order=Reprint(copies=3), reason="", on=ON
    )
    again.refresh_from_db()
    assert bytes(again.label_pdf) == bytes(first.label_pdf)
    assert again.label_sha256 == first.label_sha256
    assert again.label_sha256 == hashlib.sha256(bytes(again.label_pdf)).hexdigest()
    assert (again.reprint_of, again.reason) == (first, None)
    assert again.facts == first.facts
    assert sheets == sheets_pdf(first) == sheets_pdf(again)
    (version,) = versions_of(design.product)
    assert version.copies == 6


def test_a_superseded_label_asks_for_a_reason_and_keeps_it():
    design = a_printable()
    first = printed(design)
    changed(design, storage="Keep cool.")
    first = PrintedLabel.objects.get(pk=first.pk)
    order = Reprint(copies=2, start_at=4)
    for nothing in ("", "  \n "):
        with pytest.raises(ReprintRefused, match="superseded"):
            reprint(first, by=None, order=order, reason=nothing, on=ON)
    assert PrintedLabel.objects.count() == 1
    again, _ = reprint(first, by=None, order=order, reason=" Two  torn off. ", on=ON)
    assert again.reason == "Two torn off."
    assert again.label_sha256 == first.label_sha256
    assert again.sheet["start_at"] == 4
    with pytest.raises(IntegrityError, match="kept as it was printed"), transaction.atomic():
        PrintedLabel.objects.filter(pk=again.pk).update(reason="Another one.")


def test_no_reason_outweighs_an_allergen_that_the_old_label_does_not_tell():
    # Regulation (EU) No 1169/2011, Art. 9(1)(c) and 21(1)(b).
    design = a_printable()
    run = printed(design)
    sugar = Ingredient.objects.get(kitchen=design.kitchen, name="White sugar")
    AllergenAnswer.objects.filter(ingredient=sugar, group="milk").update(
        answer="contains", named_as="milk"
    )
    with pytest.raises(ReprintRefused, match="milk"):
        reprint(run, by=None, order=Reprint(copies=1), reason="Torn off.", on=ON)
    assert PrintedLabel.objects.count() == 1


def test_a_lot_that_was_given_up_gets_no_label_again():
    design = a_printable()
    batch = a_weighed(design.product.recipe)
    run = printed(design, batch=batch)
    run.batch.status = "given up"  # as the database keeps one that never was finished
    assert standing_today(run, on=ON).is_superseded
    with pytest.raises(ReprintRefused, match="given up"):
        reprint(run, by=None, order=Reprint(copies=1), reason="Torn off.", on=ON)


def test_more_runs_of_a_version_cost_no_more_queries():
    design = a_printable()
    run = printed(design)

    def queries():
        fresh = LabelDesign.objects.select_related("product__recipe", "kitchen").get(pk=design.pk)
        with CaptureQueriesContext(connection) as caught:
            with_standing(versions_of(fresh.product), design=fresh, on=ON)
        return len(caught)

    one = queries()
    reprint(run, by=None, order=Reprint(copies=1), reason="", on=ON)
    printed(design, made_on=ON - timedelta(days=2))
    assert queries() == one


def test_a_run_without_its_look_is_told_by_its_words_alone():
    run = printed(a_printable())
    run.look = None
    assert not standing_today(run, on=ON).is_superseded
    assert replace(standing_today(run, on=ON), refused="given up").is_superseded
