"""What holds for every pan, purchase and price, whatever the figures."""

from dataclasses import replace
from decimal import Decimal

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from costing.reckoning.book import (
    BOIL_DOWN,
    COOK_LOSS,
    NATURES,
    NO_COOK,
    RISE,
    SHARE,
    WEIGHED_OUT,
    CookRecord,
    KitchenRecord,
    RecipeRecord,
)
from costing.reckoning.cook import balance
from costing.reckoning.errors import MassUnknown, ReckoningError
from costing.reckoning.pricing import (
    ENDING,
    MARGIN,
    MARKUP,
    STEP,
    cost_piece,
    ladder,
    ladder_back,
    margin_of,
    markup_of,
    price_for_margin,
    price_for_markup,
    price_piece,
    with_tax,
)
from costing.reckoning.purchases import per_usable_kg, unit_cost
from costing.reckoning.recipes import cost_recipe
from costing.reckoning.scaling import scale
from tests.costing.reckoning.builders import (
    ROOKFOLD,
    a_book,
    a_food,
    boil_to,
    in_pan,
    kg,
    pct,
    sugar,
    water,
)

D = Decimal


def decimals(low, high, places=2):
    return st.decimals(min_value=D(low), max_value=D(high), places=places, allow_nan=False)


BRIX = decimals("5", "30", 1)
FIBRE = decimals("0", "8", 1)
LOSSES = st.fixed_dictionaries(
    {
        "pan_residue_pct": decimals("0", "20"),
        "pan_residue_g": decimals("0", "40"),
        "handling_loss_pct": decimals("0", "20"),
        "inverted_pct": decimals("0", "95"),
    }
)


@st.composite
def pans(draw):
    """Fruit, sugar and water in any proportion a kitchen might weigh."""
    fruit = a_food(1, "Fruit", brix=draw(BRIX), insoluble_pct=draw(FIBRE))
    return [
        in_pan(fruit, draw(decimals("100", "50000", 3))),
        in_pan(sugar(), draw(decimals("1", "50000", 3))),
        in_pan(water(), draw(decimals("0.001", "20000", 3))),
    ]


COOKS = st.one_of(
    st.builds(
        lambda form, value, more: CookRecord(BOIL_DOWN, stop_form=form, stop_value=value, **more),
        st.sampled_from(["brix", SHARE, RISE, "final weight", "reading"]),
        st.one_of(decimals("2", "12"), decimals("40", "85"), decimals("99", "112")),
        LOSSES,
    ),
    st.builds(
        lambda loss, more: CookRecord(COOK_LOSS, cook_loss_pct=loss, **more),
        decimals("0", "60"),
        LOSSES,
    ),
    st.builds(
        lambda out, steam, more: CookRecord(
            WEIGHED_OUT, finished_g=out, evaporated_g=steam, **more
        ),
        decimals("1", "3000", 3),
        decimals("0", "1000", 3),
        LOSSES,
    ),
    st.builds(lambda more: CookRecord(NO_COOK, **more), LOSSES),
)


@given(pan=pans(), cook=COOKS)
def test_mass_in_is_mass_out_to_the_last_digit_and_nothing_is_negative(pan, cook):
    try:
        mass = balance(pan, cook=cook, kitchen=ROOKFOLD)
    except ReckoningError:
        assume(False)
    parts = (
        *(mass.evaporated_g, mass.sieved_out_g, mass.pan_residue_g),
        *(mass.handling_loss_g, mass.finished_g),
    )
    assert mass.ingoing_g == sum(parts)
    assert min(parts) >= 0
    assert mass.finished_g > 0


@given(pan=pans(), brix=decimals("45", "85"), inverted=decimals("0", "95"))
def test_solids_in_are_solids_out_and_inversion_only_adds(pan, brix, inverted):
    before = sum(line.solids.soluble_g for line in pan)
    fibre = sum(line.solids.insoluble_g for line in pan)
    try:
        mass = balance(pan, cook=boil_to(brix, inverted_pct=inverted), kitchen=ROOKFOLD)
    except ReckoningError:
        assume(False)
    after = (mass.pot_g - fibre) * brix / 100
    sucrose = sum(line.solids.sucrose_g for line in pan)
    # One gram of sucrose binds 18.01528 / 342.2965 = 0.052631 g of water when it splits.
    gain = sucrose * inverted / 100 * D("18.01528") / D("342.2965")
    assert abs(after - before - gain) < D("1e-6")


@st.composite
def kitchens_books(draw):
    """A paste of a puree and sugar: two levels, with percents, losses and every kind of cost."""
    fruit = a_food(
        1, "Fruit", brix=draw(BRIX), insoluble_pct=draw(FIBRE), usable_pct=draw(decimals(20, 100))
    )
    puree = RecipeRecord(
        10,
        "Puree",
        (kg(draw(decimals("1", "40")), 1), kg(draw(decimals("0.1", "5")), 3)),
        cook=CookRecord(COOK_LOSS, cook_loss_pct=draw(decimals("0", "30")), inverted_pct=D(0)),
        attended_minutes=draw(decimals("0", "200")),
    )
    paste = RecipeRecord(
        11,
        "Paste",
        (
            pct(100, recipe_id=10, is_base=True),
            pct(draw(decimals("40", "110")), 2),
        ),
        base_g=draw(decimals("500", "20000")),
        cook=boil_to(
            draw(decimals("64", "78")),
            inverted_pct=draw(decimals("0", "50")),
            pan_residue_pct=draw(decimals("0", "10")),
        ),
        attended_minutes=draw(decimals("0", "300")),
    )
    prices = {1: draw(decimals("0", "20")), 2: draw(decimals("0.5", "5"))}
    book = a_book(puree, paste, foods=(fruit, sugar(), water(3)), prices=prices)
    try:
        cost_recipe(book, 11)
    except ReckoningError:
        assume(False)
    return book


NEAR = D("1e-9")


def near(one, other, *, to=NEAR):
    return abs(one - other) <= to * max(abs(one), abs(other), D(1))


@given(book=kitchens_books(), factor=decimals("0.05", "20"))
@settings(deadline=None)
def test_natures_add_up_at_every_level_and_after_scaling(book, factor):
    for recipe_id in (10, 11):
        sheet = cost_recipe(book, recipe_id)
        assert sum(sheet.breakdown.values()) == sheet.cost_total
        assert set(sheet.breakdown) == set(NATURES)
        scaled = replace(
            book, recipes={**book.recipes, recipe_id: scale(sheet.recipe, factor=factor)}
        )
        other = cost_recipe(scaled, recipe_id)
        assert sum(other.breakdown.values()) == other.cost_total
        assert near(other.cost_total, sheet.cost_total * factor)
        assert near(other.finished_g, sheet.finished_g * factor)
        for nature in NATURES:
            assert near(other.breakdown[nature], sheet.breakdown[nature] * factor)


@given(book=kitchens_books())
@settings(deadline=None)
def test_cost_per_kilo_times_kilos_is_the_batch_cost(book):
    for recipe_id in (10, 11):
        sheet = cost_recipe(book, recipe_id)
        batch = sheet.cost_per_kg_finished * sheet.finished_g / 1000
        assert abs(batch - sheet.cost_total) < D("1e-9")
        if sheet.cost_total > 0:
            assert sheet.cost_per_kg_finished >= sheet.cost_per_kg_ingoing


@given(price=decimals("0", "1000"), usable=decimals("0.01", "100"))
def test_a_usable_kilo_never_costs_less_than_a_kilo_bought(price, usable):
    assert per_usable_kg(price, usable_pct=usable) >= price


@given(cost=decimals("0.01", "1000", 4), margin=decimals("-200", "99.9"))
def test_cost_to_price_to_margin_and_markup_and_back(cost, margin):
    price = price_for_margin(cost, margin_pct=margin)
    assert abs(margin_of(price, cost=cost) - margin) < D("1e-12")
    markup = markup_of(price, cost=cost)
    assert near(price_for_markup(cost, markup_pct=markup), price, to=D("1e-12"))
    # margin = k / (1 + k), in percent.
    assert abs(markup * 100 / (100 + markup) - margin) < D("1e-12")


@given(
    cost=decimals("0.01", "500", 4),
    aim=st.sampled_from([MARGIN, MARKUP]),
    aim_pct=decimals("0", "95"),
    tax_pct=decimals("0", "30"),
    rounding=st.sampled_from(
        [(STEP, D("0.05")), (STEP, D("0.50")), (ENDING, D("0.95")), (ENDING, D("0.50"))]
    ),
)
def test_a_price_point_upward_never_misses_its_aim(cost, aim, aim_pct, tax_pct, rounding):
    how, value = rounding
    price = price_piece(
        cost, aim=aim, aim_pct=aim_pct, tax_pct=tax_pct, rounding=how, rounding_value=value
    )
    wanted = (
        price_for_margin(cost, margin_pct=aim_pct)
        if aim == MARGIN
        else price_for_markup(cost, markup_pct=aim_pct)
    )
    unrounded = with_tax(wanted, tax_pct=tax_pct)
    assert price.inc_tax >= unrounded
    # Nor is it further away than one step, or one from an ending.
    assert price.inc_tax < unrounded + (value if how == STEP else 1) or price.inc_tax == value
    reached = price.margin_pct if aim == MARGIN else price.markup_pct
    assert reached >= aim_pct - D("1e-12")


@given(
    producer=decimals("0.01", "500"),
    margins=st.lists(decimals("0", "90"), max_size=3),
    tax_pct=decimals("0", "30"),
)
def test_a_ladder_leads_back_to_where_it_started(producer, margins, tax_pct):
    sellers = [(f"seller {i}", margin) for i, margin in enumerate(margins)]
    up = ladder(producer, sellers=sellers, tax_pct=tax_pct)
    back = ladder_back(up.shelf_inc_tax, sellers=sellers, tax_pct=tax_pct)
    assert near(back.producer_ex_tax, producer, to=D("1e-12"))


def _piece(book):
    return cost_piece(cost_recipe(book, 11), fill_g=D(100), kitchen=book.kitchen).total


@given(book=kitchens_books(), which=st.sampled_from([1, 2]), more=decimals("0.01", "10"))
@settings(deadline=None)
def test_a_dearer_ingredient_never_makes_a_piece_cheaper(book, which, more):
    price = book.prices[which]
    dearer = replace(price, per_kg=price.per_kg + more)
    assert _piece(replace(book, prices={**book.prices, which: dearer})) > _piece(book)


@given(book=kitchens_books(), share=decimals("0", "1"))
@settings(deadline=None)
def test_a_better_yield_never_makes_a_piece_dearer(book, share):
    fruit = book.ingredients[1]
    usable = fruit.usable_pct + (100 - fruit.usable_pct) * share
    better = {**book.ingredients, 1: replace(fruit, usable_pct=usable)}
    assert _piece(replace(book, ingredients=better)) <= _piece(book)


@given(book=kitchens_books(), less=decimals("0.1", "3"))
@settings(deadline=None)
def test_a_softer_stop_never_makes_a_piece_dearer(book, less):
    paste = book.recipes[11]
    softer = replace(paste, cook=replace(paste.cook, stop_value=paste.cook.stop_value - less))
    other = replace(book, recipes={**book.recipes, 11: softer})
    try:
        assert _piece(other) <= _piece(book)
    except ReckoningError as refused:
        assume("already stands at" not in str(refused))
        raise


@given(book=kitchens_books(), which=st.sampled_from([1, 2]))
@settings(deadline=None)
def test_a_missing_price_is_always_reported_and_never_raises_the_total(book, which):
    prices = {key: price for key, price in book.prices.items() if key != which}
    sheet = cost_recipe(replace(book, prices=prices), 11)
    assert not sheet.is_complete
    assert sheet.unpriced == (book.ingredients[which].name,)
    assert sheet.cost_total <= cost_recipe(book, 11).cost_total


@given(brix=decimals("50", "84"), more=decimals("0.1", "1"), altitude=st.integers(0, 3500))
@settings(deadline=None)
def test_the_thermometer_rises_with_the_solids_and_falls_with_altitude(brix, more, altitude):
    pan = [in_pan(a_food(), 2000), in_pan(sugar(), 1400)]

    def reading(stop, height):
        kitchen = KitchenRecord(altitude_m=D(height))
        return balance(pan, cook=boil_to(stop), kitchen=kitchen).reading_c

    assert reading(brix + more, altitude) > reading(brix, altitude)
    assert reading(brix, altitude + 100) < reading(brix, altitude)


@given(
    price=decimals("0", "1000"),
    pack_g=decimals("1", "100000"),
    tax=decimals("0", "30"),
    recoverable=decimals("0", "100"),
    delivery=decimals("0", "50"),
)
def test_a_price_with_tax_and_the_same_without_cost_the_same(
    price, pack_g, tax, recoverable, delivery
):
    terms = {"pack_g": pack_g, "tax_rate_pct": tax, "recoverable_share_pct": recoverable}
    plain = unit_cost(price=price, delivery_share=delivery, **terms)
    taxed = unit_cost(
        price=with_tax(price, tax_pct=tax),
        delivery_share=with_tax(delivery, tax_pct=tax),
        price_includes_tax=True,
        **terms,
    )
    assert near(plain.per_kg, taxed.per_kg, to=D("1e-20"))
    # Whoever recovers nothing pays the tax; whoever recovers all does not.
    assert plain.ex_tax_pack <= plain.cost_pack <= with_tax(plain.ex_tax_pack, tax_pct=tax)


@given(
    brix=st.one_of(st.none(), st.decimals(allow_nan=False, allow_infinity=False)),
    form=st.sampled_from(["reading", "rise", "brix", "final weight", "share", "other"]),
    stop=st.one_of(st.none(), st.decimals()),
    water_c=st.one_of(st.none(), st.decimals(allow_nan=False, allow_infinity=False)),
)
@settings(deadline=None)
def test_no_figures_whatever_give_anything_but_an_answer_or_a_sentence(brix, form, stop, water_c):
    cook = CookRecord(BOIL_DOWN, stop_form=form, stop_value=stop, water_reading_c=water_c)
    try:
        pan = [in_pan(a_food(brix=brix), 1000), in_pan(sugar(), 500)]
        mass = balance(pan, cook=cook, kitchen=ROOKFOLD)
    except (ReckoningError, MassUnknown) as refused:
        said = str(refused)
    else:
        said = "answer" if mass.finished_g > 0 else ""
    assert said
