"""A cook on a phone in a real browser: self-check, readings, the network cut, finish, record."""

import re
from datetime import timedelta
from decimal import Decimal
from io import BytesIO

import pikepdf
import pytest
from django.conf import settings
from django.core.cache import cache
from django.urls import reverse
from django.utils import timezone
from playwright.sync_api import Error, expect

from costing.models import Batch, BatchReading, Pan
from costing.services.batches import note_event, start_batch
from tests.builders import a_cook, a_damson_paste, a_kitchen, an_owner
from tests.journeys.hands import Hands

pytestmark = pytest.mark.django_db(transaction=True)
TOO_SMALL = """() => [...document.querySelectorAll('.stove button, .stove .box, .stove label,'
    + ' .stove .action-quiet')].filter(el => el.offsetParent && !el.matches('.visually-hidden'))
    .filter(el => el.tagName !== 'LABEL' || el.querySelector('[type=radio]'))
    .filter(el => el.getBoundingClientRect().height < 55.5).map(el => el.outerHTML.slice(0, 80))"""


KEPT = """async () => Promise.all((await caches.keys()).map(async name =>
    [name, (await (await caches.open(name)).keys()).map(one => new URL(one.url).pathname)]))"""


IS_KEPT = """async () => {
    await navigator.serviceWorker.ready;
    if (!navigator.serviceWorker.controller) await new Promise(done =>
        navigator.serviceWorker.addEventListener('controllerchange', done)); }"""
UNTIL_FORGOTTEN = """async () => { for (let n = 0; n < 50 && (await caches.keys()).length; n += 1)
    await new Promise(done => setTimeout(done, 100)); }"""
EXPECTED = re.compile(r"ERR_INTERNET_DISCONNECTED|status of 422")
"""What a browser writes when the network is cut, and when a reading is refused."""


@pytest.fixture(autouse=True)
def fresh_cache():
    cache.clear()


@pytest.fixture
def kitchen():
    return a_kitchen(trading_name="Rookfold Kitchen", altitude_m=240)


@pytest.fixture
def paste(kitchen):
    Pan.objects.create(
        kitchen=kitchen, name="Copper pan", tare_g=Decimal(4200), capacity_l=Decimal(40),
        residue_g=Decimal(400), evaporation_g_per_min=Decimal(60),
    )  # fmt: skip
    return a_damson_paste(kitchen)


@pytest.fixture
def phone(page, live_server, client, kitchen):
    """A cook's phone whose network may be cut: that alone may stand in the console."""
    noticed = []
    page.on("pageerror", lambda error: noticed.append(str(error)))
    page.on(
        "console",
        lambda said: (
            noticed.append(said.text)
            if said.type == "error" and not EXPECTED.search(said.text)
            else None
        ),
    )
    client.force_login(a_cook(kitchen))
    name = settings.SESSION_COOKIE_NAME
    page.context.add_cookies(
        [{"name": name, "value": client.cookies[name].value, "url": live_server.url}]
    )
    yield page
    assert noticed == []


def _cook_of(paste):
    return start_batch(
        paste, by=None, on=timezone.localdate(), started_at=timezone.now() - timedelta(minutes=50),
        pan=Pan.objects.get(), water_reading_c=Decimal("99.4"),
    )  # fmt: skip


def _type(page, kind, value):
    page.get_by_label(re.compile(kind)).check(force=True)
    page.get_by_label("What you read", exact=True).fill(value)
    page.get_by_role("button", name="Keep").click()


def _light(hands, live_server, kitchen, paste):
    """From the list of cooks, with the thermometer read in boiling water, to the lit fire."""
    page = hands.page
    page.goto(live_server.url + reverse("cooks", args=[kitchen.pk]))
    hands.look("Cooks")
    hands.follow("Start the first cook")
    page.get_by_label("What do you cook?").select_option(label=paste.name)
    hands.fill(page.get_by_label(re.compile("What does your")), "99,4")
    page.get_by_label(re.compile("^Pan")).select_option(label="Copper pan")
    hands.press("Show the weights")
    page.get_by_label("By what is scarcest").check()
    hands.fill(page.locator("[name=hand-0-0]"), "9 kg")
    hands.fill(page.locator("[name=hand-1-0]"), "8200")
    page.locator("summary", has_text="suppliers and lots").click()
    hands.fill(page.locator("[name=lot-1-0]"), "SF-0816")
    hands.press("Show the weights")
    hands.look("Start a cook")
    expect(page.locator("#weights")).to_contain_text("9000 g of Damson puree, the scarcest")
    expect(page.locator("#weights")).to_contain_text("100\u00a0g stays over")
    hands.press("Light the fire")
    hands.look(paste.name)
    assert Batch.objects.get().inputs.get(position=1).supplier_lot == "SF-0816"


def _finish(hands, paste, net):
    hands.follow("It is done")
    hands.fill("Finished, filled or cut", net)
    lot = Batch.objects.get().lot
    hands.look(f"{paste.name}, lot {lot}")
    hands.press("Finish this batch")
    hands.look(f"{paste.name}, lot {lot}")


def test_a_cook_from_the_self_check_over_its_stop_to_the_record(
    phone, live_server, axe_faults, kitchen, paste
):
    # 9 kg of puree of 12.5 Brix and 8.1 kg of sugar: 75 Brix at 12.32 kg, 16.5 kg with the pan.
    hands = Hands(phone, axe_faults=axe_faults, width="phone", journey="cook")
    _light(hands, live_server, kitchen, paste)
    now = phone.locator("#stove-now")
    _type(phone, "Thermometer", "101,2")
    expect(now).to_contain_text("101.2")
    _type(phone, "Thermometer", "218")  # (218 - 32) / 1.8 = 103.3
    expect(now).to_contain_text("Is that Fahrenheit?")
    assert phone.evaluate(TOO_SMALL) == []
    hands.look(paste.name)
    hands.press("Fahrenheit, yes: 103.3")
    expect(now).not_to_contain_text("Is that Fahrenheit?")
    _type(phone, "Scale", "19")
    expect(now).to_contain_text("Too soft yet by solids")
    _type(phone, "Thermometer", "108,6")
    expect(now).to_contain_text("108.6")
    _type(phone, "Scale", "15,9")
    expect(now).to_contain_text("Too far: off the fire now.")
    expect(now).to_contain_text("of hot water a little at a time")
    expect(now).to_contain_text("Ready to cut")
    hands.open("Set and keeping")
    hands.look(paste.name)
    _finish(hands, paste, "11,2")
    expect(phone.get_by_role("main")).to_contain_text("Ready to cut")
    assert Batch.objects.get().net_g == Decimal(11200)
    assert hands.faults == []


def test_the_same_with_the_network_cut_in_the_middle_and_the_page_loaded_again(
    phone, live_server, axe_faults, kitchen, paste
):
    page, waiting = phone, phone.locator("#stove-waiting")
    hands = Hands(page, axe_faults=axe_faults, width="phone", journey="cook-cut")
    _light(hands, live_server, kitchen, paste)
    _type(page, "Thermometer", "101,2")
    expect(page.locator("#stove-now")).to_contain_text("101.2")
    page.evaluate(IS_KEPT)

    page.context.set_offline(True)
    typed_at = timezone.now()
    _type(page, "Thermometer", "103,1")
    expect(waiting).to_contain_text("1 reading is not saved yet")
    page.reload()
    expect(waiting).to_contain_text("No connection: this page is as it was at")
    expect(waiting).to_contain_text("1 reading is not saved yet: Thermometer 103,1")
    _type(page, "Scale", "17,9")
    expect(waiting).to_contain_text("2 readings are not saved yet")
    hands.look(paste.name)
    # Chromium's offline switch may let one request out while the page loads again, so what has
    # arrived by now is not told; that nothing is lost and nothing kept twice is told below.
    page.context.set_offline(False)
    expect(waiting).to_be_hidden()
    expect(page.locator("#stove-now")).to_contain_text("17.90")
    assert BatchReading.objects.count() == 3
    late = BatchReading.objects.get(value=Decimal("103.1"))
    assert typed_at - timedelta(seconds=1) < late.read_at < late.received_at

    _finish(hands, paste, "11,9")
    assert Batch.objects.get().net_g == Decimal(11900)
    assert page.evaluate(KEPT) == []
    assert hands.faults == []


def test_signing_out_throws_away_the_page_that_was_kept(phone, live_server, kitchen, paste):
    batch = _cook_of(paste)
    phone.goto(live_server.url + reverse("cook", args=[kitchen.pk, batch.pk]))
    phone.evaluate(IS_KEPT)
    ((_, kept),) = phone.evaluate(KEPT)
    stove_page = reverse("cook", args=[kitchen.pk, batch.pk])
    assert stove_page in kept
    assert [one for one in kept if one != stove_page and not one.startswith("/static/")] == []
    phone.goto(live_server.url + reverse("cooks", args=[kitchen.pk]))
    phone.get_by_role("button", name="Sign out").first.click()
    expect(phone.locator("h1")).to_have_text("Sign in")
    phone.evaluate(UNTIL_FORGOTTEN)
    assert phone.evaluate(KEPT) == []
    phone.context.set_offline(True)
    with pytest.raises(Error, match="ERR_INTERNET_DISCONNECTED"):
        phone.goto(live_server.url + reverse("cook", args=[kitchen.pk, batch.pk]))
    phone.context.set_offline(False)


def test_what_is_refused_comes_back_into_the_box_with_its_reason(
    phone, live_server, kitchen, paste
):
    batch = _cook_of(paste)
    phone.goto(live_server.url + reverse("cook", args=[kitchen.pk, batch.pk]))
    _type(phone, "Thermometer", "1031")
    expect(phone.locator("#stove-refused")).to_contain_text("at most 130")
    expect(phone.locator("#stove-value")).to_have_value("1031")
    expect(phone.locator("#stove-waiting")).to_be_hidden()
    assert not BatchReading.objects.exists()


def test_the_sheet_is_one_page_of_a4(sign_in_as, live_server, kitchen, paste):
    batch = _cook_of(paste)
    page = sign_in_as(a_cook(kitchen))
    page.goto(live_server.url + reverse("cook_sheet", args=[kitchen.pk, batch.pk]))
    with pikepdf.open(BytesIO(page.pdf(format="A4", prefer_css_page_size=True))) as paper:
        assert len(paper.pages) == 1


@pytest.mark.parametrize("width", ["phone", "laptop"])
def test_every_page_of_the_cook_is_sound(
    sign_in_as, live_server, axe_faults, kitchen, paste, width
):
    batch = _cook_of(paste)
    at = batch.started_at
    for number, (kind, value) in enumerate(
        [("temperature", "100.2"), ("weight", "19800"), ("temperature", "103.0")]
    ):
        note_event(
            batch, by=None, kind=kind, value=Decimal(value), key=f"{number:032x}",
            read_at=at + timedelta(minutes=15 * (number + 1)),
            tare_g=Decimal(4200) if kind == "weight" else None,
        )  # fmt: skip
    page = sign_in_as(an_owner(kitchen))
    hands = Hands(page, axe_faults=axe_faults, width=width, journey="cook-pages")
    reading = batch.readings.first()
    pages = [
        ("cooks", (), "", "Cooks"),
        ("cook_start", (), f"?recipe={paste.pk}", "Start a cook"),
        ("cook", (batch.pk,), "", paste.name),
        ("cook_correct", (batch.pk,), f"?reading={reading.pk}", "Temperature, 100.2\u00a0°C"),
        ("cook_inputs", (batch.pk,), "", f"{paste.name}, lot {batch.lot}"),
        ("cook_finish", (batch.pk,), "", f"{paste.name}, lot {batch.lot}"),
        ("cook_sheet", (batch.pk,), "", paste.name),
        ("pans", (), "", "Pans"),
        ("pan_new", (), "", "A new pan"),
        ("pan_edit", (batch.pan_id,), "", "Copper pan"),
    ]
    for name, more, query, heading in pages:
        page.goto(live_server.url + reverse(name, args=[kitchen.pk, *more]) + query)
        hands.look(heading)
    assert hands.faults == []
