"""Ten labels of an invented kitchen, made the way its pages make them: rows, law, then type."""

import io
import os
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from pathlib import Path

import pikepdf

from costing.models import AllergenAnswer, Ingredient, IngredientName
from costing.services.pantry import add_to_kitchen
from labels import law
from labels.facts import LabelFacts, Particular
from labels.models import DesignWords, LabelDesign, QuantifiedIngredient
from labels.rendering.layout import fit_label
from labels.rendering.pdf import render_pdf_pages
from labels.rendering.preview import label_png
from labels.rulebook import Finding, check
from labels.services.designs import design_of
from labels.services.facts import label_facts
from labels.services.languages import languages_of
from labels.services.printing import LabelOrder, prepare_label, proof_pdf
from labels.services.tickets import TicketWish, make_tickets
from labels.services.weighed import prepare_pieces, start_run, step
from labels.stock import LabelSheet, sheet
from tests.builders import (
    a_damson_paste,
    a_finished_batch,
    a_fruit,
    a_kitchen,
    a_product,
    a_recipe,
    an_ingredient,
    an_owner,
    no_allergens,
)

ON = date(2026, 11, 25)
MADE = date(2026, 11, 16)
PICTURES = "LABEL_PICTURES"
PRINT_DOTS_PER_MM = 12  # 304.8 dots an inch
STRIP = LabelSheet(
    "strip", "Strip of 84 x 11 mm", Decimal(84), Decimal(11), 1, 1, Decimal(84), Decimal(11),
    Decimal(0), Decimal(0), Decimal(84), Decimal(11), Decimal(0),
)  # fmt: skip
LOOK = {
    "brand_name": "Rookfold Kitchen",
    "storage": "Store in a cool, dry place.",
    "nutrition_exemption": "small quantities",
    "lot_prefix": "RF",
    "shelf_life_months": 9,
}


@dataclass(frozen=True)
class Shown:
    """One label as it comes out: what it rests on, what was found, and its file."""

    facts: LabelFacts
    particulars: tuple[Particular, ...]
    findings: tuple[Finding, ...]
    pdf: bytes


def _england() -> dict[str, str]:
    return {
        "country": "GB", "currency": "GBP", "number_format": "en_GB",
        "address": "1 Orchard Lane\nMillford MF1 2AB",
    }  # fmt: skip


def _kitchen(**changed):
    return a_kitchen(trading_name="Rookfold Kitchen", label_language="en", **changed)


def _design(recipe, *, name, net_g=100, form="piece", quantified=(), **changed):
    for each in Ingredient.objects.filter(kitchen=recipe.kitchen, allergen_answers=None):
        no_allergens(each)
    product = a_product(recipe, name=name, net_quantity_g=net_g, fill_g=net_g + 1, form=form)
    design = LabelDesign.objects.create(
        kitchen=recipe.kitchen, product=product, name_of_food=name, **(LOOK | changed)
    )
    for each in quantified:
        link = "ingredient" if isinstance(each, Ingredient) else "preparation"
        QuantifiedIngredient.objects.create(kitchen=recipe.kitchen, design=design, **{link: each})
    return design


def _damson(kitchen=None, **changed):
    recipe = a_damson_paste(kitchen or _kitchen())
    puree = recipe.versions.get().lines.get(preparation__isnull=False).preparation
    return _design(recipe, **({"name": "Damson paste", "quantified": [puree]} | changed))


def _with_walnuts(kitchen=None, **changed):
    """Damsons, sugar and walnuts, the nuts folded in when it is done."""
    kitchen = kitchen or _kitchen()
    damsons = a_fruit(kitchen, name="Damsons", brix="12.5")
    (sugar,) = add_to_kitchen(kitchen, by=None, slugs=["sugar-white"])
    nuts = no_allergens(an_ingredient(kitchen, name="Walnuts"))
    AllergenAnswer.objects.filter(ingredient=nuts, group="nuts").update(
        answer=AllergenAnswer.Answer.CONTAINS, named_as="walnuts"
    )
    recipe = a_recipe(
        kitchen, name="Damson and walnut paste", kind="fruit paste",
        cook_kind="weighed out", finished_g=6500, evaporated_g=3100,
        lines=[(damsons, 5), (sugar, 4), (nuts, "0.6")],
    )  # fmt: skip
    values = {"name": "Damson and walnut paste", "quantified": [damsons, nuts]}
    return _design(recipe, **(values | changed))


def _strawberry(kitchen=None, *, fruit_g, sugar_g, finished_g, **changed):
    """A jam of the pantry's strawberries and sugar, whose nutrients are known."""
    kitchen = kitchen or _kitchen()
    slugs = ["strawberry", "sugar-white"]
    fruit, sugar = add_to_kitchen(kitchen, by=None, slugs=slugs)
    recipe = a_recipe(
        kitchen, name="Strawberry jam", kind="jam", cook_kind="weighed out",
        finished_g=finished_g, evaporated_g=fruit_g + sugar_g - finished_g,
        measured_brix=65, lines=[(fruit, fruit_g, "g"), (sugar, sugar_g, "g")],
    )  # fmt: skip
    return _design(recipe, form="jar", **changed)


JAR = {
    "pack_shape": "jar", "pack_diameter_mm": Decimal(80), "pack_height_mm": Decimal(62),
    "storage_after_opening": "Keep in the fridge after opening and eat within four weeks.",
}  # fmt: skip
SMALL_BOX = {
    "pack_shape": "box", "pack_length_mm": Decimal(90), "pack_width_mm": Decimal(60),
    "pack_height_mm": Decimal(20),
}  # fmt: skip


def _shown(design, *, paper, **order):
    wanted = LabelOrder(on=ON, made_on=MADE, sheet=paper, **order)
    prepared = prepare_label(design, order=wanted)
    return Shown(prepared.facts, prepared.particulars, prepared.findings, proof_pdf(prepared))


def slab():
    """A wrapped slab on the common sheet of twenty-one."""
    return _shown(_with_walnuts(**SMALL_BOX), paper=sheet("a4-3x7-63.5x38.1"))


def jar():
    """A jar whose label stands on its front."""
    design = _damson(name="Damson paste", net_g=340, form="jar", layout="two-panel", **JAR)
    return _shown(design, paper=sheet("a4-2x5-99.1x57"))


def tiny_jar():
    """A taster whose wall is 94.2 x 10 mm: 9.4 cm2."""
    design = _with_walnuts(
        name="Damson and nut paste", net_g=30, form="jar", layout="long", pack_shape="jar",
        pack_diameter_mm=Decimal(30), pack_height_mm=Decimal(10),
    )  # fmt: skip
    return _shown(design, paper=STRIP)


def wrap_around():
    """Around a jar, with nutrition declared."""
    design = _strawberry(
        fruit_g=480, sugar_g=600, finished_g=990, name="Strawberry jam", net_g=340,
        layout="wrap", **(JAR | {"nutrition_exemption": "declared", "portion_g": Decimal(20)}),
    )  # fmt: skip
    return _shown(design, paper=sheet("a4-1x4-277x45"))


SPANISH = {
    "Damsons": "ciruelas damascenas", "Sugar, white": "azúcar", "White sugar": "azúcar",
    "Walnuts": "nueces",
}  # fmt: skip


def bilingual():
    """English and Spanish on one label, sold in Spain."""
    design = _with_walnuts(
        _kitchen(country="ES"), second_language="es", **SMALL_BOX, layout="columns"
    )
    for each in Ingredient.objects.filter(kitchen=design.kitchen):
        IngredientName.objects.create(
            kitchen=design.kitchen, ingredient=each, language="es",
            name=SPANISH.get(each.name, "azúcar"),
        )  # fmt: skip
    DesignWords.objects.create(
        kitchen=design.kitchen, design=design, language="es",
        name_of_food="Pasta de ciruelas damascenas y nueces",
        storage="Conservar en lugar fresco y seco.",
    )  # fmt: skip
    assert languages_of(design) == ("en", "es")
    return _shown(design, paper=sheet("a4-2x4-99.1x67.7"))


def weigh_and_price():
    """One of three pieces cut from a pan, with its own weight and price."""
    design = _damson(**SMALL_BOX)
    batch = a_finished_batch(design.product.recipe, on=MADE, pot_g=14500, net_g=14000, end_brix=68)
    order = LabelOrder(on=ON, made_on=MADE, sheet=sheet("a4-3x7-63.5x38.1"), batch=batch)
    pieces = {"weights": [Decimal(124), Decimal(98), Decimal(201)]}
    per_kg = Decimal("19.80")
    model = prepare_pieces(design, order=order, price_per_kg=per_kg, **pieces)
    run = step(
        start_run(design, by=an_owner(design.kitchen), order=order, price_per_kg=per_kg, **pieces),
        by=None,
    )
    # The heaviest is the model; its page is the third.
    return Shown(model.facts, model.particulars, model.findings, _page_of(bytes(run.pages_pdf), 2))


def _page_of(pdf, index):
    with pikepdf.open(io.BytesIO(pdf)) as book:
        for other in reversed([n for n in range(len(book.pages)) if n != index]):
            del book.pages[other]
        out = io.BytesIO()
        book.save(out)
    return out.getvalue()


def loose_ticket():
    """A card for a tray of loose pieces: the price of a kilo, and the allergens."""
    design = _with_walnuts(name="Damson and nut paste")
    design.product.stall_price = Decimal("2.20")  # for 100 g
    design.product.save()
    made, refused = make_tickets(
        design.kitchen, [TicketWish(design.product, is_loose=True)], on=ON, market="eu",
        place="shop",
    )  # fmt: skip
    assert not refused
    facts, _ = label_facts(design_of(design.product), on=ON, lot="", made_on=ON, best_before=None)
    facts = replace(facts, way_of_sale="loose", printed_on=ON)
    fitted = fit_label(made[0].face, box=sheet("a4-3x7-63.5x38.1").box())
    rules = law.rules_in_force("eu", on=ON)
    return Shown(
        facts, made[0].face.particulars, tuple(check(rules, facts, fitted.printed, on=ON)),
        render_pdf_pages([fitted], title="Price tickets"),
    )  # fmt: skip


def direct_sale():
    """Packed where it is sold, in England."""
    design = _with_walnuts(_kitchen(**_england()), market="gb-eng", **SMALL_BOX)
    return _shown(design, paper=sheet("a4-3x7-63.5x38.1"), way_of_sale="direct")


def gb_jam():
    """A jam for England, with both of its statements."""
    design = _strawberry(
        _kitchen(**_england()), fruit_g=450, sugar_g=600, finished_g=980, name="Strawberry jam",
        net_g=227, layout="two-panel", market="gb-eng", **JAR,
    )  # fmt: skip
    return _shown(design, paper=sheet("a4-2x5-99.1x57"))


def eu_extra_jam():
    """An extra jam for Ireland by the minima in force since 14 June 2026."""
    design = _strawberry(
        fruit_g=600, sugar_g=600, finished_g=1000, name="Strawberry extra jam", net_g=340,
        layout="pair", **JAR,
    )  # fmt: skip
    return _shown(design, paper=sheet("a4-2x5-99.1x57"))


TEN: dict[str, Callable[[], Shown]] = {
    "slab": slab, "jar": jar, "tiny jar": tiny_jar, "wrap-around": wrap_around,
    "bilingual": bilingual, "weigh-and-price": weigh_and_price, "loose ticket": loose_ticket,
    "direct sale": direct_sale, "GB jam": gb_jam, "EU extra jam": eu_extra_jam,
}  # fmt: skip


def keep_pictures(labels: dict[str, Shown]) -> None:
    """Write each label as a PNG at print size, where somebody asked for that."""
    if not (folder := os.environ.get(PICTURES)):
        return
    Path(folder).mkdir(parents=True, exist_ok=True)
    for name, shown in labels.items():
        picture = label_png(shown.pdf, dots_per_mm=PRINT_DOTS_PER_MM)
        (Path(folder) / f"{name.replace(' ', '-')}.png").write_bytes(picture)
