"""One season's book in the database: four products with invented figures, worked out by hand.

The kitchen, its prices and its recipes are invented. Expected sums stand beside the tests.
"""

from datetime import date

from tests.builders import (
    a_fruit,
    a_kitchen,
    a_line,
    a_price,
    a_product,
    a_recipe,
    a_supplier,
    an_ingredient,
    packaging,
    sugar,
    water,
)

LONG_AGO, LATER = date(2020, 1, 1), date(2021, 1, 1)


def a_season(*, new_sugar=False, **of_kitchen):
    """The kitchen with its four products by a short name, sugar at 0.95 or (new) at 1.19."""
    kitchen = a_kitchen(**of_kitchen)
    shop = a_supplier(kitchen, name="Everything & Co.")

    def buy(name, per_kg, **facts):
        known = {"brix": 0, "insoluble_pct": 0} | facts
        return _at(an_ingredient(kitchen, name=name, **known), per_kg=per_kg, supplier=shop)

    white = _at(sugar(kitchen), per_kg="0.95", supplier=shop)
    if new_sugar:
        a_price(white, per_kg="1.19", supplier=shop, valid_from=LATER)
    juice = _at(a_fruit(kitchen, name="Lemon juice", brix=9), per_kg="7.50", supplier=shop)
    tap = water(kitchen)

    def puree(name, fruit, *, water_kg, out_g, steam_g, minutes, brix):
        return a_recipe(
            kitchen, name=name, is_preparation=True, cook_kind="weighed out", finished_g=out_g,
            evaporated_g=steam_g, measured_brix=brix, measured_insoluble_pct=0,
            attended_minutes=minutes, lines=[(*fruit, "kg", "as purchased"), (tap, water_kg)],
        )  # fmt: skip

    damson = puree("Damson puree", (buy("Damsons", "1.80"), 24), water_kg="2.4", out_g=18000,
                   steam_g=1200, minutes=90, brix="12.5")  # fmt: skip
    apple = puree("Apple puree", (buy("Cooking apples", "1.10"), 20), water_kg=2, out_g=15000,
                  steam_g=1000, minutes=75, brix="11.5")  # fmt: skip
    pear = puree("Pear puree", (buy("Pears", "1.30"), 20), water_kg=1, out_g=15200,
                 steam_g=800, minutes=75, brix=13)  # fmt: skip
    ginger = buy("Ground ginger", "12.80")
    spice = a_recipe(
        kitchen, name="Spice mix", is_preparation=True, attended_minutes=15,
        lines=[(buy("Cinnamon", "16.80"), "0.5"), (ginger, "0.3"), (buy("Cloves", "36"), "0.1"),
               (buy("Star anise", "25"), "0.1")],
    )  # fmt: skip
    cheese = _boiled(kitchen, "Damson cheese", 75, 150, "3.5", base_g=9000, base_name="puree",
                     lines=[(damson, 100, "%"), (white, 90, "%"), (juice, 2, "%")])  # fmt: skip
    paste = _boiled(kitchen, "Pear and apple paste", 74, 165, 4, base_g=10000, base_name="puree",
                    lines=[(white, 75, "%"), (juice, 3, "%"), (spice, "0.5", "%")])  # fmt: skip
    _base(paste, (pear, 60), (apple, 40))
    chutney = a_recipe(
        kitchen, name="Tomato chutney", kind="chutney", cook_kind="cook loss", cook_loss_pct=38,
        pan_residue_pct="2.5", inverted_pct=0, attended_minutes=270,
        lines=[
            (buy("Plum tomatoes", "1.35", usable_pct=92), 18),
            (buy("Onions", "0.75", usable_pct=88), 6), (apple, 3), (white, "4.5"),
            # 1.85 a litre of 1.01 kg.
            (buy("Cider vinegar", "1.83168317", density_kg_per_l="1.01"), 4, "l"),
            (buy("Sultanas", "3.30"), 2), (buy("Salt", "0.80"), "0.25"),
            (buy("Mustard seed", "7.80"), "0.10"), (ginger, "0.05"),
        ],
    )  # fmt: skip
    lemons = buy("Lemons", "2.50", each_g=120, brix=3)  # 0.30 each
    marmalade = _boiled(kitchen, "Seville-style marmalade", 66, 300, 3,
                        lines=[(buy("Bitter oranges", "1.60", brix=9), 10), (tap, 20), (white, 20),
                               (lemons, 8, "each")])  # fmt: skip
    products = _products(kitchen, shop, cheese, paste, chutney, marmalade)
    return kitchen, products


def _at(item, *, supplier, **price):
    a_price(item, supplier=supplier, valid_from=LONG_AGO, **price)
    return item


def _boiled(kitchen, name, brix, minutes, residue_pct, **more):
    return a_recipe(
        kitchen, name=name, cook_kind="boil down", stop_form="brix", stop_value=brix,
        inverted_pct=0, pan_residue_pct=residue_pct, attended_minutes=minutes, **more,
    )  # fmt: skip


def _base(recipe, *parts):
    """Lines that make up the base between them."""
    for preparation, percent in parts:
        a_line(recipe.versions.get(), preparation, percent, "%", is_base=True)


def _products(kitchen, shop, cheese, paste, chutney, marmalade):
    def pack(name, each):
        return _at(packaging(kitchen, name=name), per_each=each, supplier=shop)

    # A label: 28.00 for 100 sheets of 21, and ink.
    sheet, ink = pack("Sheet of 21 labels", "0.28"), pack("Ink", "0.01")
    label = [(sheet, "0.04761905", 5), (ink, 1, 5)]
    jar = [(pack("Lid", "0.09"), 1, 2), *label, (pack("Tamper dot", "0.004"), 1, 0)]
    piece = [(pack("Wrap", "0.038"), 1, 3), *label, (pack("Tray", "0.02"), 1, 0)]
    small, large = pack("Jar 212 ml", "0.36"), pack("Jar 282 ml", "0.42")
    rows = {
        "SM340": (marmalade, "jar", 340, 342, "0.75", "5.20", "3.40", [(large, 1, 2), *jar]),
        "TC230": (chutney, "jar", 230, 232, "0.75", "5.00", "3.20", [(small, 1, 2), *jar]),
        "DC100": (cheese, "piece", 100, "103.5", "0.60", "3.00", "1.90", piece),
        "PA100": (paste, "piece", 100, "103.5", "0.60", "3.20", "2.00", piece),
    }
    return {
        name: a_product(
            recipe, name=name, form=form, net_quantity_g=net, fill_g=fill, packing_minutes=minutes,
            stall_price=stall, wholesale_price=wholesale, parts=parts,
        )
        for name, (recipe, form, net, fill, minutes, stall, wholesale, parts) in rows.items()
    }  # fmt: skip
