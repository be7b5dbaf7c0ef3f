"""Where a label is sold, how, and by which day's law: the switch on the check page."""

from datetime import date
from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from costing.models import Kitchen, Member, Product
from labels.models import LabelDesign, PrintedLabel
from labels.services.designs import design_of
from labels.services.facts import label_facts
from tests.builders import a_member

pytestmark = pytest.mark.django_db
MADE = date(2026, 11, 20)


@pytest.fixture
def kitchen(demo, client):
    client.force_login(a_member(demo, role=Member.Role.OWNER).user)
    return demo


def product(kitchen, name="Damson cheese"):
    return Product.objects.get(kitchen=kitchen, recipe__name=name)


def check(client, kitchen, then="", **query):
    path = f"/labels/k/{kitchen.pk}/{product(kitchen).pk}/{then}"
    return client.get(path, query).content.decode()


def filled(client, path):
    """The design form as it stands there, as a browser would send it back."""
    form = client.get(path).context["form"]
    values = {name: form[name].value() for name in form.fields}
    return {name: value for name, value in values.items() if value not in {None, False}}


def test_every_market_is_offered_and_the_design_is_what_stands_there_first(client, kitchen):
    html = check(client, kitchen)
    for name in ("European Union", "England", "Wales", "Scotland", "Northern Ireland"):
        assert name in html
    assert 'value="eu" selected' in html
    assert "What this changes" not in html


def test_another_market_is_judged_by_its_own_law_and_the_change_is_shown(client, kitchen):
    html = check(client, kitchen, market="gb-eng")
    assert "What this changes" in html
    assert "Assimilated Regulation (EU) No 1169/2011" in html
    assert "Judged by the law of England" in html
    assert "this label is for England, but your kitchen sells in" in html.replace("This", "this")


def test_an_address_abroad_may_not_be_printed_for_england(client, kitchen):
    # Regulation (EU) No 1169/2011, Art. 8(1) as assimilated: British Islands
    html = check(client, kitchen, market="gb-eng")
    assert "British Islands" in html
    assert "Print labels" not in html
    assert PrintedLabel.objects.filter(kitchen=kitchen, market="gb-eng").count() == 0


def test_a_kitchen_in_england_prints_for_england_and_the_run_remembers_it(client, kitchen):
    Kitchen.objects.filter(pk=kitchen.pk).update(
        country="GB", address="2 Mill Lane\nLudlow SY8 1AA"
    )
    LabelDesign.objects.filter(product=product(kitchen)).update(market="gb-eng")
    html = check(client, kitchen)
    assert "Ready" in html
    assert "What this changes" not in html
    path = f"/labels/k/{kitchen.pk}/{product(kitchen).pk}/print/"
    form = client.get(path).context["form"]
    values = {name: form[name].value() or "" for name in form.fields}
    assert (values["market"], values["way_of_sale"]) == ("gb-eng", "prepacked")
    client.post(path, values)
    assert PrintedLabel.objects.get(kitchen=kitchen, market="gb-eng").facts["market"] == "gb-eng"


def test_direct_sale_in_england_says_what_it_no_longer_must(client, kitchen):
    LabelDesign.objects.filter(product=product(kitchen)).update(market="gb-eng")
    html = check(client, kitchen, way_of_sale="direct")
    assert "What this changes" in html
    assert "not asked for here, printed because you gave it" in html


def test_northern_ireland_is_told_whose_law_it_follows(client, kitchen):
    html = check(client, kitchen, market="gb-nir")
    assert "Northern Ireland follows" in html


@pytest.mark.parametrize("bad", ["xx", "gb", "<script>", "eu.quid", "1" * 300])
@pytest.mark.parametrize("field", ["market", "way_of_sale"])
def test_a_market_or_way_nobody_knows_is_a_sentence_and_not_a_fault(client, kitchen, field, bad):
    html = check(client, kitchen, **{field: bad})
    assert "Select a valid choice" in html
    assert "<script>" not in html.split("</head>")[1].replace('<script src="', "")


def test_the_questions_to_the_database_do_not_grow_with_a_comparison(client, kitchen):
    check(client, kitchen)  # the first page after signing in also keeps the session
    with CaptureQueriesContext(connection) as plain:
        check(client, kitchen)
    with CaptureQueriesContext(connection) as compared:
        check(client, kitchen, market="gb-wls")
    assert len(compared) == len(plain)


@pytest.mark.parametrize(("country", "market"), [("GB", "gb-eng"), ("PT", "eu"), ("US", "eu")])
def test_a_new_design_starts_in_the_market_of_its_kitchen(demo, country, market):
    LabelDesign.objects.filter(kitchen=demo).delete()
    Kitchen.objects.filter(pk=demo.pk).update(country=country)
    fresh = Product.objects.select_related("kitchen", "recipe").filter(kitchen=demo).first()
    assert design_of(fresh).market == market


def test_the_design_keeps_its_market(client, kitchen):
    path = f"/labels/k/{kitchen.pk}/{product(kitchen).pk}/design/"
    values = filled(client, path)
    client.post(path, values | {"market": "gb-sct"})
    assert LabelDesign.objects.get(product=product(kitchen)).market == "gb-sct"


def test_what_only_the_maker_knows_of_a_kilo_is_kept_and_reaches_the_law(client, kitchen):
    path = f"/labels/k/{kitchen.pk}/{product(kitchen).pk}/design/"
    values = filled(client, path)
    told = {"inner_flesh_g_per_kg": "75", "claims": "reduced sugar\n\n source of fibre "}
    client.post(path, values | told)
    design = LabelDesign.objects.get(product=product(kitchen))
    facts, _ = label_facts(
        design, on=MADE, lot="L 1", made_on=MADE, best_before=None
    )  # fmt: skip
    assert facts.contents_g_per_kg == (("inner flesh", Decimal(75)),)
    assert facts.claims == ("reduced sugar", "source of fibre")


def test_the_brix_that_the_recipe_stops_at_is_what_the_jam_law_reads(kitchen):
    # the demo's damson cheese stops at a Brix that its sheet tells
    facts, food = label_facts(
        product(kitchen).label_design, on=MADE, lot="L 1", made_on=MADE, best_before=None
    )
    assert facts.soluble_solids_pct == food.sheet.balance.finishing_brix
    assert facts.soluble_solids_pct > 60


@pytest.mark.parametrize("bad", ["-1", "1001", "1.25", "🍊", "nan"])
def test_grams_that_cannot_be_are_asked_about(client, kitchen, bad):
    path = f"/labels/k/{kitchen.pk}/{product(kitchen).pk}/design/"
    values = filled(client, path)
    answer = client.post(path, values | {"fat_g_per_kg": bad})
    assert answer.status_code == 200
    assert "fat_g_per_kg" in answer.context["form"].errors
