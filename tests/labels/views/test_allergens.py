"""The allergen matrix as each role sees it, filtered, and on paper."""

from datetime import timedelta

import pypdfium2
import pytest
from django.utils import timezone

from costing.models import Member
from labels.models import CrossContact
from labels.views.allergens import HEADS
from tests.builders import a_kitchen, a_member, a_product, a_recipe, an_ingredient, sugar
from tests.labels.services.test_allergens import answered, apricot_paste

pytestmark = pytest.mark.django_db


@pytest.fixture
def kitchen():
    """A paste with walnuts, one with an unanswered spice, one of plain sugar."""
    kitchen = a_kitchen(trading_name="Rookfold Kitchen")
    white = answered(sugar(kitchen))
    walnuts = answered(an_ingredient(kitchen, name="Walnut pieces"), nuts="walnuts")
    anise = answered(an_ingredient(kitchen, name="Star anise"), celery=None, sulphites=None)
    for name, inside in (("Walnut paste", walnuts), ("Plum paste", anise), ("Candy", white)):
        a_product(a_recipe(kitchen, lines=[(inside, 1), (white, 1)]), name=name)
    return kitchen


def looked(kitchen, **values):
    today = timezone.localdate()
    values = {
        "group": "nuts",
        "outcome": "remains",
        "named_as": "hazelnuts",
        "looked_at": "The pan is shared.",
        "assessed_by": "Ana",
        "assessed_on": today,
        "review_by": today + timedelta(days=365),
    } | values
    return CrossContact.objects.create(kitchen=kitchen, **values)


def signed_in(client, kitchen, role=Member.Role.OWNER):
    client.force_login(a_member(kitchen, role=role).user)
    return client


def page(client, kitchen, query=""):
    return client.get(f"/labels/k/{kitchen.pk}/allergens/{query}").content.decode()


def text_of(client, kitchen, query=""):
    answer = client.get(f"/labels/k/{kitchen.pk}/allergens/sheet.pdf{query}")
    assert answer["Content-Type"] == "application/pdf"
    pages = pypdfium2.PdfDocument(answer.content)
    return " ".join(" ".join(p.get_textpage().get_text_bounded() for p in pages).split())


def test_what_is_not_known_is_the_big_number_and_says_whom_to_ask(client, kitchen):
    html = page(signed_in(client, kitchen), kitchen)
    assert '<span class="answer-figure">2</span> <span class="unit">answers not known' in html
    assert "In 1 product." in html
    assert html.count('<span class="matrix-word">NOT KNOWN</span>') == 2
    assert "ask about Star anise" in html
    assert "from Walnut pieces" in html
    # Three products times fourteen groups, each with a word beside its sign.
    assert html.count('<span class="matrix-word">') == 42
    assert all(f'<th scope="col">{head}</th>' in html for head in HEADS.values())


@pytest.mark.parametrize("role", [Member.Role.COOK, Member.Role.STALL_HAND])
def test_cooks_and_stall_hands_may_look_and_take_the_sheet(client, kitchen, role):
    signed_in(client, kitchen, role)
    html = page(client, kitchen)
    assert "walnuts" in html
    assert ("Write down a look" in html) == (role == Member.Role.COOK)
    assert "Walnut paste" in text_of(client, kitchen)


def test_a_stall_hand_finds_it_in_the_menu_and_no_page_that_is_not_for_her(client, kitchen):
    html = page(signed_in(client, kitchen, Member.Role.STALL_HAND), kitchen)
    assert f'href="/labels/k/{kitchen.pk}/allergens/"' in html
    assert f'href="/labels/k/{kitchen.pk}/"' not in html
    assert "cross-contact/" not in html


@pytest.mark.parametrize(
    ("query", "there", "gone"),
    [
        ("?q=plum", ["Plum paste"], ["Walnut paste", "Candy"]),
        ("?group=nuts&state=contains", ["Walnut paste"], ["Plum paste", "Candy"]),
        ("?group=nuts&state=free", ["Plum paste", "Candy"], ["Walnut paste"]),
        ("?state=not+known", ["Plum paste"], ["Walnut paste", "Candy"]),
        ("?group=nuts", ["Walnut paste", "Plum paste", "Candy"], ["Molluscs</th>"]),
        # What cannot be read shows all rather than nothing.
        ("?group=pollen&state=%00&page=x", ["Walnut paste", "Plum paste", "Candy"], []),
    ],
)
def test_the_filter_shows_what_was_asked_for(client, kitchen, query, there, gone):
    html = page(signed_in(client, kitchen), kitchen, query)
    assert [words for words in there if words not in html] == []
    assert [words for words in gone if words in html] == []


def test_a_risk_that_remains_is_told_with_who_looked(client, kitchen):
    looked(kitchen)
    html = page(signed_in(client, kitchen), kitchen)
    assert html.count('<span class="matrix-word">may contain</span>') == 2
    assert "assessed by Ana" in html
    text = text_of(client, kitchen)
    assert text.count("may contain hazelnuts") == 2
    # Beside the walnuts that are in it.
    assert "walnuts, may also contain hazelnuts" in text


def test_the_sheet_says_its_day_its_sources_and_that_it_promises_nothing(client, kitchen):
    text = text_of(signed_in(client, kitchen), kitchen)
    today = timezone.localdate()
    assert f"Rookfold Kitchen, as of {today.day} {today:%B %Y}" in text
    assert "contains walnuts" in text
    assert text.count("NOT KNOWN") >= 3  # twice in the table, once in what the words mean
    assert "Ask us before you taste" in text
    assert "suppliers' specifications" in text
    assert "no promise" in text
    assert "local food authority" in text
    assert "free from" not in text


def test_the_sheet_of_some_products_only(client, kitchen):
    text = text_of(signed_in(client, kitchen), kitchen, "?q=walnut")
    assert "Plum paste" not in text


def test_one_products_allergens_are_told_in_short_with_the_sum_of_sulphites(client):
    # Annex II, point 12 [R]: 1500 mg/kg x 200 g / 1000 g = 300 mg/kg (case 32).
    product = apricot_paste(200)
    signed_in(client, product.kitchen)
    html = client.get(f"/labels/k/{product.kitchen_id}/{product.pk}/told/").content.decode()
    assert "<strong>Sulphites: contains</strong>, sulphur dioxide" in html
    assert "from Dried apricots; 300 mg/kg: above 10, declared" in html
    assert "Milk" not in html
    little = apricot_paste(6)
    signed_in(client, little.kitchen)
    html = client.get(f"/labels/k/{little.kitchen_id}/{little.pk}/told/").content.decode()
    # Case 33: 1500 x 6 / 1000 = 9.
    assert "<strong>Sulphites: too little to declare</strong>" in html
    assert "9 mg/kg: not above 10, not declared" in html


def test_a_kitchen_without_products_is_told_so(client):
    kitchen = a_kitchen()
    signed_in(client, kitchen)
    assert "there is no product yet" in page(client, kitchen)
    answer = client.get(f"/labels/k/{kitchen.pk}/allergens/sheet.pdf")
    assert (answer.status_code, "Make one first" in answer.content.decode()) == (404, True)
    assert "No product answers to that" in page(client, kitchen, "?q=plum")


def test_products_of_another_kitchen_are_not_shown(client, kitchen):
    other = a_product(name="Strange paste")
    looked(other.kitchen)
    html = page(signed_in(client, kitchen), kitchen)
    assert "Strange paste" not in html
    assert "hazelnuts" not in html


@pytest.mark.parametrize("count", [3, 60])
def test_the_page_asks_the_same_few_questions_of_three_products_and_of_sixty(
    client, count, django_assert_max_num_queries
):
    kitchen = a_kitchen()
    recipe = a_recipe(kitchen, lines=[(answered(an_ingredient(kitchen)), 1)])
    for _ in range(count):
        a_product(recipe)
    looked(kitchen)
    signed_in(client, kitchen)
    page(client, kitchen)
    # Who it is and where she works (4), products (2), the book (4), the larder (5), looks (4).
    with django_assert_max_num_queries(19):
        page(client, kitchen)
