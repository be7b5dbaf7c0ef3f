"""The matrix of products and allergens: nesting, sums, and what nobody knows.

The groups and the line of 10 mg/kg: Regulation (EU) No 1169/2011, Annex II [R]. The numbered cases
are arithmetic on it.
"""

from datetime import date, timedelta
from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from costing.models import AllergenAnswer, CompoundPart, Product
from costing.services.batches import InputGiven
from labels.facts import ALLERGEN_GROUPS
from labels.models import CrossContact
from labels.services.allergens import (
    CONTAINS,
    FREE,
    MAY_CONTAIN,
    NOT_KNOWN,
    allergens_of_products,
)
from labels.services.batch_facts import food_of_batch, read_batch
from labels.services.printing import LabelOrder, prepare_label
from labels.stock import sheet
from tests.builders import (
    TODAY,
    a_finished_batch,
    a_fruit,
    a_kitchen,
    a_line,
    a_product,
    a_recipe,
    an_ingredient,
    no_allergens,
    sugar,
)
from tests.labels.services.test_batch_labels import a_printable

pytestmark = pytest.mark.django_db


def answered(ingredient, **groups):
    """Free of all groups but these: nuts="walnuts"; None means not known."""
    no_allergens(ingredient)
    for group, word in groups.items():
        AllergenAnswer.objects.filter(ingredient=ingredient, group=group).update(
            answer="contains" if word else "unknown", named_as=word or ""
        )
    return ingredient


def rows_of(kitchen):
    products = list(
        Product.objects.filter(kitchen=kitchen).select_related("label_design", "recipe")
    )
    return allergens_of_products(kitchen, products, on=TODAY)


def cell_of(product, group):
    return allergens_of_products(product.kitchen, [product], on=TODAY)[0].cell(group)


def nested(inmost, *, depth):
    """A product whose ingredient lies below so many preparations."""
    kitchen = inmost.kitchen
    white = answered(sugar(kitchen))
    inside = inmost
    for _ in range(depth):
        inside = a_recipe(kitchen, is_preparation=True, lines=[(inside, 1), (white, 1)])
    return a_product(a_recipe(kitchen, lines=[(inside, 1), (white, 1)]))


@pytest.mark.parametrize("depth", [0, 1, 8])
def test_an_allergen_is_found_however_deep_with_where_it_comes_from(depth):
    walnuts = answered(an_ingredient(name="Walnut pieces"), nuts="walnuts")
    cell = cell_of(nested(walnuts, depth=depth), "nuts")
    assert (cell.state, cell.named, cell.because) == (CONTAINS, ("walnuts",), ("Walnut pieces",))


@pytest.mark.parametrize("depth", [0, 1, 8])
def test_what_nobody_answered_is_not_known_however_deep(depth):
    anise = answered(an_ingredient(name="Star anise"), celery=None)
    product = nested(anise, depth=depth)
    cell = cell_of(product, "celery")
    assert (cell.state, cell.because) == (NOT_KNOWN, ("Star anise",))
    assert cell_of(product, "milk").state == FREE


def test_parts_of_a_bought_in_ingredient_count_too():
    kitchen = a_kitchen()
    filling = answered(an_ingredient(kitchen, name="Filling", is_compound=True))
    chocolate = answered(
        an_ingredient(kitchen, name="Chocolate", is_compound=True), soybeans="soya"
    )
    milk = answered(an_ingredient(kitchen, name="Milk powder"), milk="milk")
    for compound, part in ((filling, chocolate), (chocolate, milk)):
        CompoundPart.objects.create(kitchen=kitchen, compound=compound, part=part, share_pct=50)
    product = a_product(a_recipe(kitchen, lines=[(filling, 1)]))
    assert cell_of(product, "milk").because == ("Milk powder",)
    assert cell_of(product, "soybeans").named == ("soya",)
    assert cell_of(product, "nuts").state == FREE


def test_a_second_nut_may_hide_behind_what_nobody_answered():
    kitchen = a_kitchen()
    walnuts = answered(an_ingredient(kitchen), nuts="walnuts")
    mix = answered(an_ingredient(kitchen, name="Mix"), nuts=None)
    cell = cell_of(a_product(a_recipe(kitchen, lines=[(walnuts, 1), (mix, 1)])), "nuts")
    assert (cell.state, cell.note) == (CONTAINS, "not answered for Mix")


def test_a_recipe_without_lines_is_not_known_in_every_group():
    (row,) = allergens_of_products((product := a_product()).kitchen, [product], on=TODAY)
    assert row.not_known == 14
    assert [cell.group for cell in row.cells] == list(ALLERGEN_GROUPS)
    assert "Nothing goes into the recipe" in row.cells[0].note


def apricot_paste(grams, mg_per_kg="1500", **recipe):
    """Dried apricots with sulphites and fresh fruit without, 1000 g finished."""
    kitchen = a_kitchen()
    apricots = answered(
        an_ingredient(kitchen, name="Dried apricots", sulphite_mg_per_kg=mg_per_kg),
        sulphites="sulphur dioxide",
    )
    fruit = answered(a_fruit(kitchen))
    lines = [(apricots, Decimal(grams) / 1000), (fruit, Decimal(1000 - grams) / 1000)]
    return a_product(a_recipe(kitchen, lines=lines, **recipe))


@pytest.mark.parametrize(
    ("case", "grams", "mg_per_kg", "state", "note"),
    [
        # Annex II, point 12 [R]: above 10 mg/kg of the food ready to eat.
        # 32: 1500 x 200 / 1000 = 300. 33: 1500 x 6 / 1000 = 9. 34: 1000 x 10 / 1000 = 10.
        (32, 200, "1500", CONTAINS, "300 mg/kg: above 10, declared"),
        (33, 6, "1500", FREE, "9 mg/kg: not above 10, not declared"),
        (34, 10, "1000", FREE, "10 mg/kg: not above 10, not declared"),
        ("34, above", 10, "1001", CONTAINS, "10.01 mg/kg: above 10, declared"),
    ],
)
def test_cases_32_to_34_sulphites_go_by_the_sum_in_the_finished_food(
    case, grams, mg_per_kg, state, note
):
    cell = cell_of(apricot_paste(grams, mg_per_kg), "sulphites")
    assert (cell.state, cell.note) == (state, note), case


def test_sulphites_without_a_figure_are_declared_and_without_an_answer_not_known():
    no_figure = cell_of(apricot_paste(200, mg_per_kg=None), "sulphites")
    assert (no_figure.state, no_figure.note) == (CONTAINS, "how much is not known")
    wine = answered(an_ingredient(name="Wine"), sulphites=None)
    assert cell_of(nested(wine, depth=2), "sulphites").state == NOT_KNOWN


def test_without_a_finished_mass_sulphites_are_declared_to_be_safe():
    product = apricot_paste(200, cook_kind="boil down")
    cell = cell_of(product, "sulphites")
    assert (cell.state, cell.note) == (CONTAINS, "how much is not known")


def looked(kitchen, **values):
    values = {
        "group": "nuts",
        "outcome": "remains",
        "named_as": "hazelnuts",
        "looked_at": "The pan is shared.",
        "assessed_by": "Ana",
        "assessed_on": TODAY,
        "review_by": TODAY + timedelta(days=365),
    } | values
    return CrossContact.objects.create(kitchen=kitchen, **values)


def test_a_risk_that_remains_turns_free_into_may_contain_and_nothing_else():
    walnuts = answered(an_ingredient(name="Walnut pieces"), milk=None)
    product = nested(walnuts, depth=1)
    looked(product.kitchen)
    looked(product.kitchen, group="milk", named_as="milk")
    cell = cell_of(product, "nuts")
    assert (cell.state, cell.named) == (MAY_CONTAIN, ("hazelnuts",))
    assert "Ana" in cell.note
    # Not known stays not known: it is louder.
    assert cell_of(product, "milk").state == NOT_KNOWN
    assert "may also contain milk" in cell_of(product, "milk").note


def test_no_risk_found_promises_nothing_more_than_free():
    product = nested(answered(an_ingredient()), depth=0)
    looked(product.kitchen, outcome="none found", named_as="")
    assert cell_of(product, "nuts").state == FREE


def test_walnuts_in_it_and_hazelnuts_beside_it_are_both_told():
    product = nested(answered(an_ingredient(), nuts="walnuts"), depth=0)
    looked(product.kitchen)
    cell = cell_of(product, "nuts")
    assert (cell.state, cell.named) == (CONTAINS, ("walnuts",))
    assert "may also contain hazelnuts" in cell.note


def test_sixty_products_take_no_more_questions_than_three():
    kitchen = a_kitchen()
    white = answered(sugar(kitchen))

    def add(count):
        for _ in range(count):
            fruit = answered(a_fruit(kitchen))
            puree = a_recipe(kitchen, is_preparation=True, lines=[(fruit, 1)])
            product = a_product(a_recipe(kitchen, lines=[(puree, 1), (white, 1)]))
            looked(kitchen, product=product)

    add(3)
    with CaptureQueriesContext(connection) as few:
        assert len(rows_of(kitchen)) == 3
    add(57)
    with CaptureQueriesContext(connection) as many:
        assert len(rows_of(kitchen)) == 60
    assert len(few) == len(many)
    assert len(many) <= 13


# --- On the way to the printer --------------------------------------------------------------------


def blocking(design, batch=None):
    """What keeps a label of today from the printer because of allergens, in words."""
    order = LabelOrder(
        on=date(2026, 11, 25),
        made_on=TODAY,
        sheet=sheet("a4-3x7-63.5x38.1"),
        batch=batch,
    )
    prepared = prepare_label(design, order=order)
    found = [f.message for f in prepared.findings if f.stops_printing and f.where == "allergens"]
    assert prepared.may_print == (not found)
    return found


def test_art_21_a_question_below_five_preparations_and_two_compounds_blocks_printing():
    design = a_printable()
    kitchen = design.kitchen
    anise = answered(an_ingredient(kitchen, name="Star anise"), celery=None)
    spices, mix = (
        answered(an_ingredient(kitchen, name=name, is_compound=True, brix=0, insoluble_pct=0))
        for name in ("Spices", "Mix")
    )
    for compound, part in ((mix, spices), (spices, anise)):
        CompoundPart.objects.create(kitchen=kitchen, compound=compound, part=part, share_pct=100)
    inside = mix
    for _ in range(5):
        inside = a_recipe(
            kitchen, is_preparation=True, measured_brix=0, measured_insoluble_pct=0,
            lines=[(inside, 1)],
        )  # fmt: skip
    assert blocking(design) == []
    a_line(design.product.recipe.versions.get(), inside, "0.1", position=9)
    assert any("star anise" in words and "celery" in words for words in blocking(design))
    AllergenAnswer.objects.filter(ingredient=anise).update(answer="free")
    assert blocking(design) == []


def test_what_went_into_a_source_batch_instead_blocks_the_pan_that_was_filled_from_it():
    design = a_printable()
    recipe = design.product.recipe
    puree = recipe.versions.get().lines.get(preparation__isnull=False).preparation
    plums = answered(a_fruit(design.kitchen, name="Wild plums", brix="12.5"), nuts=None)
    instead = [InputGiven(0, Decimal(22500), ingredient=plums), InputGiven(1, Decimal(2400))]
    source = a_finished_batch(puree, inputs=instead, net_g=18000)
    inputs = [
        InputGiven(0, Decimal(9000), from_batch=source),
        InputGiven(1, Decimal(8100)),
        InputGiven(2, Decimal(180)),
    ]
    batch = a_finished_batch(recipe, inputs=inputs, pot_g=14500, net_g=14000, end_brix=68)
    assert blocking(design) == []  # by the recipe nothing is open
    (words,) = blocking(design, batch)
    assert "wild plums" in words.lower()
    assert "nuts" in words
    # In the pan the plums hold nuts after all: then the list must say so, whatever the recipe says.
    AllergenAnswer.objects.filter(ingredient=plums, group="nuts").update(
        answer="contains", named_as="almonds"
    )
    food = food_of_batch(read_batch(batch), quantified=())
    inside = {a.named_as for i in food.ingredients for p in i.with_parts() for a in p.allergens}
    assert inside == {"almonds"}
