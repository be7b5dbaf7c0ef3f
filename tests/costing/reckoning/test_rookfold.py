"""The invented kitchen in full: every standard result, from the pan to the shop's shelf.

All figures constructed. Sums: solids balance, heat bill, minutes at 15.00 and 8.00 an hour.
"""

from decimal import Decimal

import pytest

from costing.money import round_money
from costing.reckoning.book import ENERGY, LABOUR, MATERIALS, OVERHEAD
from costing.reckoning.pricing import PackagingPart, cost_piece, ladder, price_decided
from costing.reckoning.recipes import cost_all, cost_recipe
from tests.costing.reckoning.builders import QA, QD, QP, R1, R2, R3, R4, ROOKFOLD, SX, rookfold

D = Decimal


@pytest.mark.parametrize(
    ("recipe_id", "net_kg", "kwh", "materials", "labour", "energy", "overhead", "total", "per_kg"),
    [
        # QD: 24 x 1.80; (26.4 x 3.7 x 85 + 1.2 x 2257) / 3600 / 0.55 kWh; 1.5 h.
        (QD, "18.0", "5.5612", "43.2000", "22.50", "1.5571", "12.00", "79.2571", "4.403174"),
        (QA, "15.0", "4.6343", "22.0000", "18.75", "1.2976", "10.00", "52.0476", "3.469841"),
        (QP, "15.2", "4.2475", "26.0000", "18.75", "1.1893", "10.00", "55.9393", "3.680218"),
        # SX: 0.5 x 16.80 + 0.3 x 12.80 + 0.1 x 36 + 0.1 x 25 = 18.34; no fire.
        (SX, "1.0", "0", "18.3400", "3.75", "0", "2.00", "24.0900", "24.090000"),
    ],
)
def test_preparations(recipe_id, net_kg, kwh, materials, labour, energy, overhead, total, per_kg):
    sheet = cost_recipe(rookfold(), recipe_id)

    assert sheet.is_complete
    assert sheet.finished_g == D(net_kg) * 1000
    assert round(sheet.energy_kwh, 4) == D(kwh)
    costs = [round(sheet.breakdown[n], 4) for n in (MATERIALS, LABOUR, ENERGY, OVERHEAD)]
    assert costs == [D(materials), D(labour), D(energy), D(overhead)]
    assert round(sheet.cost_total, 4) == D(total)
    assert round(sheet.cost_per_kg_finished, 6) == D(per_kg)


OLD, NEW, DEAR = {}, {"sugar_price": "1.19"}, {"sugar_price": "1.19", "damson_price": "2.20"}


@pytest.mark.parametrize(
    ("recipe_id", "prices", "pot_kg", "steam_kg", "net_kg", "materials", "total", "per_kg"),
    [
        # R1: solids 9 x 0.125 + 8.1 + 0.18 x 0.09 = 9.2412; / 0.75 = 12.3216 of 17.28 kg.
        (R1, OLD, "12.3216", "4.9584", "11.8903", "30.6450", "108.5247", "9.1271"),
        (R1, NEW, "12.3216", "4.9584", "11.8903", "32.5890", "110.4687", "9.2906"),
        (R1, DEAR, "12.3216", "4.9584", "11.8903", "37.3890", "115.2687", "9.6943"),
        # R2: 6 x 0.13 + 4 x 0.115 + 7.5 + 0.3 x 0.09 = 8.767; / 0.74 of 17.85 kg.
        (R2, OLD, "11.8473", "6.0027", "11.3734", "26.4218", "112.4999", "9.8915"),
        (R2, NEW, "11.8473", "6.0027", "11.3734", "28.2218", "114.2999", "10.0498"),
        # R3: 37.94 kg less 38 %.
        (R3, OLD, "23.5228", "14.4172", "22.9347", "55.8217", "171.6201", "7.4830"),
        (R3, NEW, "23.5228", "14.4172", "22.9347", "56.9017", "172.7001", "7.5301"),
        # R4: 10 x 0.09 + 20 + 0.0288 = 20.9288; / 0.66 of 50.96 kg.
        (R4, OLD, "31.7103", "19.2497", "30.7590", "37.4000", "160.8104", "5.2281"),
        (R4, NEW, "31.7103", "19.2497", "30.7590", "42.2000", "165.6104", "5.3841"),
    ],
)
def test_finished_recipes(recipe_id, prices, pot_kg, steam_kg, net_kg, materials, total, per_kg):
    sheet = cost_recipe(rookfold(**prices), recipe_id)

    assert sheet.is_complete
    assert round(sheet.balance.pot_g / 1000, 4) == D(pot_kg)
    assert round(sheet.balance.evaporated_g / 1000, 4) == D(steam_kg)
    assert round(sheet.finished_g / 1000, 4) == D(net_kg)
    assert round(sheet.breakdown[MATERIALS], 4) == D(materials)
    assert round(sheet.cost_total, 4) == D(total)
    assert round(sheet.cost_per_kg_finished, 4) == D(per_kg)


@pytest.mark.parametrize(
    ("recipe_id", "kwh", "labour", "energy", "overhead"),
    [
        # R1: own 37.50 + half of the puree's 22.50 (9 of 18 kg); natures survive nesting.
        (R1, "8.397", "48.7500", "3.1297", "26.0000"),
        (R2, "9.678", "53.8388", "3.5253", "28.7140"),
        (R3, "22.460", "71.2500", "6.5485", "38.0000"),
        (R4, "30.037", "75.0000", "8.4104", "40.0000"),
    ],
)
def test_the_kind_of_cost_survives_nesting(recipe_id, kwh, labour, energy, overhead):
    sheet = cost_recipe(rookfold(), recipe_id)

    assert round(sheet.energy_kwh, 3) == D(kwh)
    costs = [round(sheet.breakdown[n], 4) for n in (LABOUR, ENERGY, OVERHEAD)]
    assert costs == [D(labour), D(energy), D(overhead)]


def test_per_kilo_put_in_is_shown_beside_and_is_far_too_low():
    # C11: 108.5247 / 17.28 kg = 6.2804, that is 31.19 % below 9.1271.
    sheet = cost_recipe(rookfold(), R1)
    assert round(sheet.cost_per_kg_ingoing, 4) == D("6.2804")
    too_low = 100 - sheet.cost_per_kg_ingoing * 100 / sheet.cost_per_kg_finished
    assert round(too_low, 2) == D("31.19")


def test_every_recipe_of_the_book_is_costed_in_one_go():
    answers = cost_all(rookfold())
    assert len(answers) == 8
    assert answers[R1] == cost_recipe(rookfold(), R1)


# Packing bought: jars 21.60 and 25.20 for 60, lids 45.00 for 500, wraps 38.00 for 1000,
# labels 28.00 for 100 sheets of 21 plus 0.01 of ink, dots 0.004, trays 0.02.
LABEL = PackagingPart("label", D(28) / 2100 + D("0.01"), loss_pct=D(5))
LID = PackagingPart("lid", D(45) / 500, loss_pct=D(2))
DOT = PackagingPart("tamper dot", D("0.004"))
JAR_212 = PackagingPart("jar 212 ml", D("21.60") / 60, loss_pct=D(2))
JAR_282 = PackagingPart("jar 282 ml", D("25.20") / 60, loss_pct=D(2))
WRAP = PackagingPart("paste wrap", D(38) / 1000, loss_pct=D(3))
TRAY = PackagingPart("piece card tray", D("0.02"))
SM340 = (R4, "342", (JAR_282, LID, LABEL, DOT), "0.75")
TC230 = (R3, "232", (JAR_212, LID, LABEL, DOT), "0.75")
DC100 = (R1, "103.5", (WRAP, LABEL, TRAY), "0.60")
PA100 = (R2, "103.5", (WRAP, LABEL, TRAY), "0.60")


def _piece(product, *, sugar_price):
    recipe_id, fill_g, parts, minutes = product
    return cost_piece(
        cost_recipe(rookfold(sugar_price=sugar_price), recipe_id),
        fill_g=D(fill_g),
        parts=parts,
        packing_minutes=D(minutes),
        kitchen=ROOKFOLD,
    )


@pytest.mark.parametrize(
    ("product", "content", "packaging", "packing", "old", "new"),
    [
        # SM340: 5.2281 x 0.342; 0.42/0.98 + 0.09/0.98 + 0.023333/0.95 + 0.004; 0.75 min at 23.
        (SM340, "1.7880", "0.548970", "0.2875", "2.6245", "2.6778"),
        (TC230, "1.7361", "0.487745", "0.2875", "2.5113", "2.5222"),
        # DC100: 9.1271 x 0.1035; 0.038/0.97 + 0.023333/0.95 + 0.02; 0.6 min at 23.
        (DC100, "0.9447", "0.083737", "0.2300", "1.2584", "1.2753"),
        (PA100, "1.0238", "0.083737", "0.2300", "1.3375", "1.3539"),
    ],
)
def test_unit_costs(product, content, packaging, packing, old, new):
    piece = _piece(product, sugar_price="0.95")

    assert piece.is_complete
    assert round(piece.content, 4) == D(content)
    assert round(piece.packaging, 6) == D(packaging)
    assert piece.packing_labour + piece.packing_overhead == D(packing)
    assert round(piece.total, 4) == D(old)
    assert sum(piece.breakdown.values()) == piece.total
    assert round(_piece(product, sugar_price="1.19").total, 4) == D(new)


@pytest.mark.parametrize(
    ("product", "sugar_price", "stall", "margin", "markup", "wholesale", "keeps", "shelf"),
    [
        # SM340: 5.20 / 1.10 = 4.7273 less 2.6245; wholesale 3.40 / 0.65 x 1.10 = 5.75.
        (SM340, "0.95", "5.20", "44.48", "80.12", "3.40", "22.81", "5.75"),
        (TC230, "0.95", "5.00", "44.75", "81.00", "3.20", "21.52", "5.42"),
        (DC100, "1.19", "3.00", "53.24", "113.85", "1.90", "32.88", "3.22"),
        (PA100, "1.19", "3.20", "53.46", "114.87", "2.00", "32.31", "3.38"),
    ],
)
def test_what_the_prices_leave(
    product, sugar_price, stall, margin, markup, wholesale, keeps, shelf
):
    # The table's unit costs stand at four decimals, and its percentages are rounded half up.
    cost = round_money(_piece(product, sugar_price=sugar_price).total, places=4)

    at_stall = price_decided(cost, inc_tax=D(stall), tax_pct=D(10))
    assert round_money(at_stall.margin_pct) == D(margin)
    assert round_money(at_stall.markup_pct) == D(markup)
    to_shop = price_decided(cost, ex_tax=D(wholesale), tax_pct=D(10))
    assert round_money(to_shop.margin_pct) == D(keeps)
    up = ladder(D(wholesale), sellers=[("shop", D(35))], tax_pct=D(10))
    assert round_money(up.shelf_inc_tax) == D(shelf)
