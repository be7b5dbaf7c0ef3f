"""Worked examples, published and constructed, each with its sum.

"Published" figures are those printed in the source named; the others follow from its inputs.
Constructed examples use euros, food tax 10 %.
"""

from decimal import Decimal

import pytest

from costing.money import round_money, split_to_cents
from costing.reckoning.book import (
    BOIL_DOWN,
    FINAL_WEIGHT,
    NO_COOK,
    WEIGHED_OUT,
    CookRecord,
    IngredientRecord,
    LineRecord,
    RecipeRecord,
)
from costing.reckoning.cook import balance
from costing.reckoning.overheads import (
    absorbed,
    overhead_rate,
    share_labour,
    straight_line,
    under_absorbed,
    yearly_total,
)
from costing.reckoning.pricing import (
    ENDING,
    MARGIN,
    STEP,
    PackagingPart,
    cost_piece,
    ladder,
    ladder_back,
    margin_of,
    markup_of,
    price_for_margin,
    price_for_markup,
    price_holding_margin,
    price_piece,
    round_up_to_step,
    with_tax,
    without_tax,
)
from costing.reckoning.purchases import (
    StockLot,
    first_in_first_out,
    moving_average,
    per_usable_kg,
    share_delivery,
    unit_cost,
    use_at_average,
)
from costing.reckoning.recipes import cost_recipe
from costing.reckoning.scaling import factor_for_net, offcuts_credit, scale_to_net
from costing.reckoning.selling import (
    Sold,
    break_even_sales,
    break_even_units,
    card_fee,
    contribution,
    contribution_ratio,
    whole_units,
)
from costing.units import base_factor
from tests.costing.reckoning.builders import (
    R1,
    R4,
    ROOKFOLD,
    a_book,
    a_food,
    boil_to,
    in_pan,
    raw,
    recipe_of,
    rookfold,
    sugar,
    water,
)

D = Decimal


def weighed_out(finished_g, steam_g=0, **cook):
    return CookRecord(kind=WEIGHED_OUT, finished_g=D(finished_g), evaporated_g=D(steam_g), **cook)


# --- Published ------------------------------------------------------------------------------------


def test_p1_drying_makes_a_cheap_root_dear_flour():
    # University of Hawaii CTAHR, Entrepreneur's Toolbox ET-2 (1999): 10 lb at 0.50 dry to 2 lb:
    # 20 %, 5.00 / 2 = 2.50 per lb.
    lb = base_factor("lb")
    flour = RecipeRecord(
        1, "Flour", lines=(LineRecord(D(10), "lb", 1),), cook=weighed_out(2 * lb, 8 * lb)
    )
    book = a_book(flour, foods=[IngredientRecord(1, "Taro")], prices={1: D("0.50") * 1000 / lb})
    sheet = cost_recipe(book, 1)
    assert sheet.finished_g / sheet.ingoing_g == D("0.2")
    materials_per_lb = sheet.breakdown["materials"] / 2
    assert round_money(materials_per_lb, places=8) == D("2.50")


def test_p2_yield_is_usable_over_bought():
    # BC Cook Articulation Committee, Basic Kitchen and Food Service Management, "Yield Testing":
    # 1 kg of carrots gives 800 g, 80 %.
    mass = balance([raw(1000)], cook=weighed_out(800), kitchen=ROOKFOLD)
    assert mass.finished_g / mass.ingoing_g == D("0.8")


def test_p3_edible_portion_costs_more():
    # Culinary cost-control slides, ch. 9-10 (slideplayer.com/7840814): 50 lb at 1.86, yield 75 %:
    # 37.5 lb, 2.48 a lb, 93.00 in all.
    assert per_usable_kg(D("1.86"), usable_pct=D(75)) == D("2.48")
    assert per_usable_kg(D("1.86"), usable_pct=D(75)) * 50 * D("0.75") == D("93.00")


@pytest.mark.parametrize(
    ("price", "usable", "rounded", "whole"),
    # Icelandic textbook, "True cost of ingredients" (2.3): 1800 at 30 % loss, 120 at 15 % loss,
    # printed as 2571 and 141.
    [("1800", 70, "2571.43", 2571), ("120", 85, "141.18", 141)],
)
def test_p4_losses_raise_the_price_of_what_is_left(price, usable, rounded, whole):
    usable_price = per_usable_kg(D(price), usable_pct=D(usable))
    assert round_money(usable_price) == D(rounded)
    assert round_money(usable_price, places=0) == whole


def test_p5_pack_price_to_unit_price():
    # Centennial College Libraries, cost per unit guide: 12.50 for 10 lb is 1.25 a lb; two bags at
    # 12.00 are 24.00.
    lb = base_factor("lb")
    cost = unit_cost(price=D("12.50"), pack_g=10 * lb)
    assert round_money(cost.per_kg * lb / 1000, places=8) == D("1.25")
    assert unit_cost(price=D("12.00"), pack_each=D(1)).per_each * 2 == D("24.00")


def test_p6_case_price_and_cooking_yield():
    # Kitchen calculations slides (slidegur.com 33720): 20 lb at 60 is 3.00 a lb; 20 lb of pears
    # become 10 lb, 50 %.
    lb = base_factor("lb")
    assert round_money(unit_cost(price=D(60), pack_g=20 * lb).per_kg * lb / 1000, places=8) == 3
    mass = balance([raw(20 * lb)], cook=weighed_out(10 * lb), kitchen=ROOKFOLD)
    assert mass.finished_g * 2 == mass.ingoing_g


def test_p7_jam_yield_from_its_solids():
    # Practical Action, "Jams, jellies and marmalades", KnO 100247: 10 x 10 % + 10 + 0.060 + 0.055
    # = 11.115 kg; / 0.68 = 16.346 kg (printed as 16.4).
    pan = [
        in_pan(a_food(1, "Fruit", brix=D(10)), 10_000),
        in_pan(sugar(), 10_000),
        raw(60, soluble="60", name="Pectin"),
        raw(55, soluble="55", name="Acid"),
    ]
    mass = balance(pan, cook=boil_to(68), kitchen=ROOKFOLD)
    assert round_money(mass.pot_g, places=0) == 16346


def test_p8_apricot_jam_weighed():
    # Same brief: 1.5 kg apricots + 1.5 sugar + 0.3 water give 2.4 kg: 0.9 / 3.3 = 27.27 % lost;
    # (0.15 + 1.5) / 2.4 = 68.75 %.
    pan = [
        in_pan(a_food(1, "Apricots", brix=D(10)), 1500),
        in_pan(sugar(), 1500),
        in_pan(water(), 300),
    ]
    cook = CookRecord(kind=BOIL_DOWN, stop_form=FINAL_WEIGHT, stop_value=D(2400), inverted_pct=D(0))
    mass = balance(pan, cook=cook, kitchen=ROOKFOLD)
    assert round_money(mass.evaporated_g * 100 / mass.ingoing_g) == D("27.27")
    assert mass.finishing_brix == D("68.75")


def test_p9_fruit_and_sugar_for_a_hundred_kilos_of_jam():
    # Food engineering textbook problem (transtutors.com 9127486; answer ours): fruit:sugar 45:55,
    # fruit 10 %, finished 65 %: x (4.5 + 55) = 65, fruit 49.160, sugar 60.084;
    # water removed 109.244 - 100 = 9.244 kg.
    pan = [in_pan(a_food(1, "Fruit", brix=D(10)), "49160"), in_pan(sugar(), "60084")]
    mass = balance(pan, cook=boil_to(65), kitchen=ROOKFOLD)
    assert round_money(mass.pot_g / 1000, places=3) == D("100.000")
    assert round_money(mass.evaporated_g / 1000, places=3) == D("9.244")
    pectin_kg = D("60.084") / 100
    assert round_money(pectin_kg, places=3) == D("0.601")


def test_p10_the_year_spread_over_five_products_and_500_jars():
    # "A Cottage Food Budgeting Example" (paperzz.com/doc/8033266):
    # 161.94/10 + 21.99/5 + 125/5 + 68 + 500 + 114.15/5 = 636.42;
    # / 5 = 127.28; / 500 = 0.2546. Its own rounded parts add to 0.26: round once, at the end.
    things = [
        *((D("161.94"), D(10)), (D("21.99"), D(5)), (D(125), D(5)), (D(68), D(1))),
        *((D(500), D(1)), (D("114.15"), D(5))),
    ]
    year = yearly_total(things)
    assert round_money(year) == D("636.42")
    assert round_money(year / 5) == D("127.28")
    assert round_money(year / 5 / 500, places=4) == D("0.2546")


def test_p11_home_picked_berries_still_cost():
    # Farmers' Market Association of Manitoba, newsletter 2008: jar .66 + pectin .25 + sugar .22 +
    # fruit 1.00 + picking .50.
    jam = RecipeRecord(
        1,
        "Jam",
        lines=tuple(LineRecord(D(1000), "g", i) for i in (1, 2, 3)),
        cook=CookRecord(kind=NO_COOK),
        attended_minutes=D(2),  # 0.50 at 15.00 an hour
    )
    foods = [IngredientRecord(i, name) for i, name in ((1, "Pectin"), (2, "Sugar"), (3, "Fruit"))]
    kitchen = a_book().kitchen
    book = a_book(jam, foods=foods, prices={1: "0.25", 2: "0.22", 3: "1.00"}, kitchen=kitchen)
    sheet = cost_recipe(book, 1)
    piece = cost_piece(
        sheet,
        fill_g=sheet.finished_g,
        parts=[PackagingPart("jar", D("0.66"))],
        kitchen=kitchen,
    )
    overhead = piece.breakdown["overhead"]  # the newsletter has none
    assert round_money(piece.total - overhead) == D("2.63")


def test_p12_margin_is_not_markup():
    # Pricing articles (audacious.marketing, yummyyammy.com): cost 10, price 15: markup 50 %,
    # margin 33.33 %; 5 and 7.50 likewise.
    assert markup_of(D(15), cost=D(10)) == 50
    assert round_money(margin_of(D(15), cost=D(10))) == D("33.33")
    assert markup_of(D("7.50"), cost=D(5)) == 50
    assert round_money(margin_of(D("7.50"), cost=D(5)), places=0) == 33


def test_p13_what_a_shop_that_wants_40_pct_can_pay():
    # Question in Alberta Agriculture, "Pricing Processed Food Products", Agdex 845-3 (answer ours):
    # 2.49 x 0.60 = 1.494; misread as markup 2.49 / 1.4 = 1.7786.
    back = ladder_back(D("2.49"), sellers=[("shop", D(40))], tax_pct=D(0))
    assert back.producer_ex_tax == D("1.494")
    assert round_money(back.producer_ex_tax) == D("1.49")
    wrong = D("1.7786")
    assert round_money(price_for_markup(wrong, markup_pct=D(40))) == D("2.49")


def test_p14_break_even_in_packs():
    # Same factsheet: 2.25 - 1.50 = 0.75; 1200 / 0.75 = 1600.
    each = contribution(price_ex_tax=D("2.25"), variable_cost=D("1.50"))
    assert each == D("0.75")
    assert break_even_units(fixed=D(1200), contribution_each=each) == 1600


def test_p15_break_even_is_rounded_up():
    # Pennsylvania State University, ACCTG 211, 7.2: 20000 / (400 - 250) = 133.33, so 134.
    units = break_even_units(
        fixed=D(20000), contribution_each=contribution(price_ex_tax=D(400), variable_cost=D(250))
    )
    assert round_money(units) == D("133.33")
    assert whole_units(units) == 134


def test_p16_predetermined_overhead():
    # Cost-accounting example (tradingkuymctjj.netlify.app): 300000 / 200000 h = 1.50; 400 h carry
    # 600.
    rate = overhead_rate(planned=D(300000), planned_hours=D(200000))
    assert rate == D("1.50")
    assert absorbed(rate_per_h=rate, hours=D(400)) == 600


def test_p17_average_cost_of_stock():
    # Perpetual average example (homeworksource.com 1123599):
    # (125 x 8 + 375 x 10) / 500 = 9.50; 280 cost 2660; 220 left, 2090.
    lots = [StockLot(D(125), D(8)), StockLot(D(375), D(10))]
    assert moving_average(lots) == D("9.50")
    taken = use_at_average(lots, quantity=D(280))
    assert (taken.cost, taken.left_quantity, taken.left_value) == (2660, 220, 2090)


# --- Constructed ----------------------------------------------------------------------------------


def test_c1_sugar_by_the_sack():
    # 23.75 / 25 = 0.95; x 8.1 = 7.695.
    per_kg = unit_cost(price=D("23.75"), pack_g=D(25000)).per_kg
    assert per_kg == D("0.95")
    assert per_kg * D("8.1") == D("7.695")


def test_c2_breakage_makes_good_jars_dearer():
    # 21.60 / 60 = 0.36; / 0.98 = 0.367347.
    each = unit_cost(price=D("21.60"), pack_each=D(60)).per_each
    assert each == D("0.36")
    part = PackagingPart("jar", each, loss_pct=D(2))
    assert round_money(part.cost, places=6) == D("0.367347")


def test_c3_delivery_by_value():
    # 12.00 over 159.40: 6.504391 / 3.387704 / 2.107905 to the cent; (86.40 + 6.50) / 240.
    shares = share_delivery(D("12.00"), weights=[D("86.40"), D("45.00"), D("28.00")])
    assert shares == (D("6.50"), D("3.39"), D("2.11"))
    landed = unit_cost(price=D("86.40"), pack_each=D(240), delivery_share=shares[0])
    assert round_money(landed.per_each, places=6) == D("0.387083")


@pytest.mark.parametrize(("recoverable", "cost"), [(100, "100.00"), (0, "110.00"), (50, "105.00")])
def test_c4_tax_that_cannot_be_recovered_is_a_cost(recoverable, cost):
    # 100.00 x (1 + 10 % x (1 - r)).
    terms = {"tax_rate_pct": D(10), "recoverable_share_pct": D(recoverable)}
    plain = unit_cost(price=D("100.00"), pack_g=D(1000), **terms)
    assert plain.cost_pack == D(cost)
    inclusive = unit_cost(price=D("110.00"), price_includes_tax=True, pack_g=D(1000), **terms)
    assert inclusive.ex_tax_pack == 100
    assert inclusive.cost_pack == D(cost)


def test_c5_lemons_by_their_juice():
    # 12.00 / 40 = 0.30; 0.30 / 0.040 = 7.50 per kg of juice; 180 / 40 = 4.5; 4.5 x 0.30 = 1.35.
    each = unit_cost(price=D("12.00"), pack_each=D(40)).per_each
    assert each == D("0.30")
    sheet = cost_recipe(rookfold(), R1)
    juice = sheet.lines[2]
    assert round_money(juice.per_kg_used, places=9) == D("7.50")
    lemons = juice.purchased_g / 120
    assert round_money(lemons, places=9) == D("4.5")
    assert whole_units(round_money(lemons, places=9)) == 5
    assert round_money(juice.cost, places=9) == D("1.35")


def test_c6_tomatoes_prepared():
    # 1.35 / 0.92 = 1.467391; 18.0 / 0.92 = 19.565217 kg; 4 trays of 6; 4.434783 left.
    tomatoes = cost_recipe(rookfold(), 107).lines[0]
    assert round_money(tomatoes.per_kg_used, places=6) == D("1.467391")
    assert round_money(tomatoes.purchased_g / 1000, places=6) == D("19.565217")
    trays = whole_units(tomatoes.purchased_g / 6000)
    assert trays == 4
    left_kg = (trays * 6000 - tomatoes.purchased_g) / 1000
    assert round_money(left_kg, places=6) == D("4.434783")


def test_c7_losses_multiply():
    # 0.75 x (1 - 0.035) = 72.375 %; adding the losses would say 71.5 %.
    puree = balance([raw(10000)], cook=weighed_out(7500), kitchen=ROOKFOLD)
    cook = CookRecord(kind=NO_COOK, pan_residue_pct=D("3.5"))
    paste = balance([raw(puree.finished_g)], cook=cook, kitchen=ROOKFOLD)
    assert paste.finished_g / 100 == D("72.375")


def test_c8_percents_of_the_base():
    # 9.0 + 90 % + 2 %: 8.10 and 0.18, 17.28 kg in all, 192 % of the base.
    sheet = cost_recipe(rookfold(), R1)
    assert [line.used_g for line in sheet.lines] == [9000, 8100, 180]
    assert sheet.ingoing_g == 17280
    assert sum(line.pct_of_base for line in sheet.lines) == 192


def test_c9_paste_boiled_to_75_pct():
    # 9.2412 / 0.75 = 12.3216; 17.28 - 12.3216 = 4.9584 (28.69 %); less 3.5 % = 11.8903.
    mass = cost_recipe(rookfold(), R1).balance
    assert mass.pot_g == D("12321.6")
    assert mass.evaporated_g == D("4958.4")
    assert round_money(mass.evaporated_g * 100 / mass.ingoing_g) == D("28.69")
    assert round_money(mass.finished_g / 1000, places=4) == D("11.8903")


@pytest.mark.parametrize(
    ("brix", "net_kg", "per_kg"),
    [
        ("72", "12.3858", "8.7620"),
        ("74.5", "11.9701", "9.0663"),
        ("77", "11.5815", "9.3705"),
        ("78", "11.4330", "9.4922"),
    ],
)
def test_c10_the_stopping_point_is_a_cost_decision(brix, net_kg, per_kg):
    # 9.2412 / brix x 0.965, batch cost held at 108.5247.
    recipe = recipe_of(R1)
    other = RecipeRecord(
        R1, recipe.name, recipe.lines, recipe.base_name, recipe.base_g,
        boil_to(brix, pan_residue_pct=D("3.5")),
    )  # fmt: skip
    net_g = cost_recipe(rookfold(r105=other), R1).finished_g
    assert round_money(net_g / 1000, places=4) == D(net_kg)
    assert round_money(D("108.5247") * 1000 / net_g, places=4) == D(per_kg)


def test_c11_cost_per_kilo_finished():
    # 108.5247 / 11.8903 = 9.1271.
    assert round_money(cost_recipe(rookfold(), R1).cost_per_kg_finished, places=4) == D("9.1271")


def test_c12_scaled_to_what_is_wanted():
    # 20.000 / 11.8903 = 1.682037; 9 -> 15.1383; 8.1 -> 13.6245; 0.18 -> 0.3028;
    # damsons 15.1383 / 0.75 = 20.1844 kg as purchased.
    sheet = cost_recipe(rookfold(), R1)
    assert round_money(factor_for_net(sheet, net_g=D(20000)), places=6) == D("1.682037")
    scaled = cost_recipe(rookfold(r105=scale_to_net(sheet, net_g=D(20000))), R1)
    assert round_money(scaled.finished_g, places=6) == 20000
    assert [round_money(line.used_g / 1000, places=4) for line in scaled.lines] == [
        D("15.1383"),
        D("13.6245"),
        D("0.3028"),
    ]
    assert round_money(scaled.lines[0].used_g / D("0.75") / 1000, places=4) == D("20.1844")


def test_c13_one_person_two_pans():
    # 60.00 by 150:90 minutes; by 11.89:22.93 kg.
    assert share_labour(D(60), weights=[D(150), D(90)]) == (D("37.50"), D("22.50"))
    assert share_labour(D(60), weights=[D("11.89"), D("22.93")]) == (D("20.49"), D("39.51"))


def test_c14_the_heat_bill():
    # 17.28 x 3.7 x 85 / 3600 = 1.5096; 4.9584 x 2257 / 3600 = 3.1086; / 0.55 = 8.3968; x 0.28.
    sheet = cost_recipe(rookfold(), R1)
    assert round_money(sheet.energy_kwh, places=4) == D("8.3968")
    from_puree = sheet.lines[0].natures["energy"]
    assert round_money(sheet.breakdown["energy"] - from_puree, places=4) == D("2.3511")


def test_c15_hours_that_were_not_worked():
    # 4000 / 500 = 8.00; 4000 - 430 x 8 = 560.00.
    rate = overhead_rate(planned=D(4000), planned_hours=D(500))
    assert rate == 8
    assert under_absorbed(spent=D(4000), rate_per_h=rate, hours=D(430)) == 560


def test_c16_a_pan_over_six_years():
    # (1200 - 120) / 6 = 180.00.
    assert straight_line(cost=D(1200), residual=D(120), years=D(6)) == 180


def test_c17_margin_and_markup_of_one_price():
    # (4 - 2.5) / 4 = 37.5 %; / 2.5 = 60 %; 2.5 / 0.6 = 4.1667; 2.5 x 1.4 = 3.50.
    assert margin_of(D("4.00"), cost=D("2.50")) == D("37.5")
    assert markup_of(D("4.00"), cost=D("2.50")) == 60
    assert round_money(price_for_margin(D("2.50"), margin_pct=D(40)), places=4) == D("4.1667")
    assert price_for_markup(D("2.50"), markup_pct=D(40)) == D("3.50")


@pytest.mark.parametrize(
    ("rounding", "value", "inc", "margin"),
    [(STEP, "0.10", "4.60", "40.217"), (ENDING, "0.95", "4.95", "44.444")],
)
def test_c18_price_points(rounding, value, inc, margin):
    # 2.50 / 0.6 x 1.1 = 4.5833; 4.60 / 1.1 = 4.1818; (4.1818 - 2.5) / 4.1818 = 40.217 %.
    price = price_piece(
        D("2.50"),
        aim=MARGIN,
        aim_pct=D(40),
        tax_pct=D(10),
        rounding=rounding,
        rounding_value=D(value),
    )
    assert price.inc_tax == D(inc)
    assert round_money(price.margin_pct, places=3) == D(margin)
    # Rounded down to 4.50, it would have missed the aim: 38.889 %.
    down = margin_of(without_tax(D("4.50"), tax_pct=D(10)), cost=D("2.50"))
    assert round_money(down, places=3) == D("38.889")


def test_c19_the_ladder_both_ways():
    # 3.40 / 0.8 = 4.25; / 0.65 = 6.538462; x 1.1 = 7.19. Back from 5.95: 5.409091, 3.515909,
    # 2.812727.
    sellers = [("distributor", D(20)), ("shop", D(35))]
    up = ladder(D("3.40"), sellers=sellers, tax_pct=D(10))
    assert [round_money(rung.sells_at, places=6) for rung in up.rungs] == [
        D("4.25"),
        D("6.538462"),
    ]
    assert round_money(up.shelf_inc_tax) == D("7.19")
    back = ladder_back(D("5.95"), sellers=sellers, tax_pct=D(10))
    assert round_money(back.shelf_ex_tax, places=6) == D("5.409091")
    assert [round_money(rung.buys_at, places=6) for rung in back.rungs] == [
        D("2.812727"),
        D("3.515909"),
    ]
    assert round_money(back.producer_ex_tax, places=6) == D("2.812727")


def test_c20_tax_out_of_a_price():
    # 5.20 / 1.1 = 4.7273; tax 0.4727.
    ex_tax = without_tax(D("5.20"), tax_pct=D(10))
    assert round_money(ex_tax, places=4) == D("4.7273")
    assert round_money(D("5.20") - ex_tax, places=4) == D("0.4727")
    assert round_money(with_tax(ex_tax, tax_pct=D(10)), places=12) == D("5.20")


def test_c21_a_market_day_to_break_even():
    # 3.00 / 1.1 - 1.2753 = 1.451973; 164.60 / 1.451973 = 113.363 -> 114.
    each = contribution(
        price_ex_tax=without_tax(D("3.00"), tax_pct=D(10)), variable_cost=D("1.2753")
    )
    assert round_money(each, places=6) == D("1.451973")
    units = break_even_units(fixed=D("164.60"), contribution_each=each)
    assert round_money(units, places=3) == D("113.363")
    assert whole_units(units) == 114


def test_c22_a_mix_to_break_even():
    # Contribution ratio 0.47716; 164.60 / 0.47716 = 344.96, with tax 379.45.
    mix = [
        Sold(D(quantity), without_tax(D(price), tax_pct=D(10)), D(cost))
        for quantity, price, cost in (
            (18, "5.20", "2.6245"),
            (31, "5.00", "2.5113"),
            (46, "3.00", "1.2753"),
        )
    ]
    assert round_money(contribution_ratio(mix), places=5) == D("0.47716")
    sales = break_even_sales(mix, fixed=D("164.60"))
    assert round_money(sales) == D("344.96")
    assert round_money(with_tax(sales, tax_pct=D(10))) == D("379.45")


def test_c23_which_sugar_was_used():
    # 40 at 0.95 + 5 at 1.19 = 43.95; average 97.50 / 90 = 1.083333 -> 48.75; latest 53.55.
    lots = [StockLot(D(40), D("0.95")), StockLot(D(50), D("1.19"))]
    assert first_in_first_out(lots, quantity=D(45)).cost == D("43.95")
    assert round_money(moving_average(lots), places=6) == D("1.083333")
    assert round_money(use_at_average(lots, quantity=D(45)).cost, places=9) == D("48.75")
    assert 45 * lots[-1].unit_price == D("53.55")


def test_c24_dear_sugar_in_marmalade():
    # 0.24 x 20 / 30.7590 = 0.15605 a kg; x 0.342 = 0.05337 a jar; the price that holds 44.48 %
    # is 5.20 x (2.6245 + 0.05337) / 2.6245 = 5.3057 (5.3056 when worked from rounded steps).
    old, new = (cost_recipe(rookfold(sugar_price=p), R4) for p in ("0.95", "1.19"))
    more = new.cost_per_kg_finished - old.cost_per_kg_finished
    assert round_money(more, places=5) == D("0.15605")
    per_jar = more * D("0.342")
    assert round_money(per_jar, places=5) == D("0.05337")
    other = D("0.548970") + D("0.2875")
    old_cost = old.cost_per_kg_finished * D("0.342") + other
    ex_tax = without_tax(D("5.20"), tax_pct=D(10))
    assert round_money(margin_of(ex_tax, cost=old_cost)) == D("44.48")
    assert round_money(margin_of(ex_tax, cost=old_cost + per_jar)) == D("43.35")
    held = price_holding_margin(D("5.20"), old_cost=old_cost, new_cost=old_cost + per_jar)
    assert round_money(held, places=4) == D("5.3057")
    new_margin = margin_of(without_tax(held, tax_pct=D(10)), cost=old_cost + per_jar)
    assert round_money(new_margin, places=9) == round_money(
        margin_of(ex_tax, cost=old_cost), places=9
    )


def test_c25_offcuts_sold_below_cost_make_pieces_dearer():
    # 0.8446 x 6.00 = 5.0676; (108.5247 - 5.0676) / (11.8903 - 0.8446) = 9.3662.
    sheet = cost_recipe(rookfold(), R1)
    left = offcuts_credit(
        cost_total=sheet.cost_total,
        net_g=sheet.finished_g,
        offcuts_g=D("844.6"),
        value_per_kg=D("6.00"),
    )
    assert left.credit == D("5.0676")
    assert round_money(left.main_per_kg, places=4) == D("9.3662")


def test_c26_what_the_card_company_keeps():
    # 230.40 x 1.75 % = 4.032.
    fee = card_fee(D("230.40"), fee_pct=D("1.75"))
    assert fee == D("4.032")
    assert round_money(fee) == D("4.03")


def test_amounts_shared_are_those_of_the_till():
    # 10.00 in three: 3.34, 3.33, 3.33; and a step that is hit exactly stays.
    assert split_to_cents(D(10), weights=[D(1)] * 3) == (D("3.34"), D("3.33"), D("3.33"))
    assert round_up_to_step(D("4.60"), step=D("0.10")) == D("4.60")
