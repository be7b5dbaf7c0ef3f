"""Labels written by hand for the tests of the drawing; the kitchen in them is invented."""

from decimal import Decimal

from labels.facts import Act, Citation, LabelBox, LabelFace, Particular, TextRun

FIC = Act("Regulation (EU) No 1169/2011", "https://eur-lex.europa.eu/eli/reg/2011/1169/oj")

SLAB = LabelBox(Decimal("63.5"), Decimal("38.1"))
WIDE = LabelBox(Decimal("99.1"), Decimal("38.1"))
JAR = LabelBox(Decimal("99.1"), Decimal(57))
LARGE = LabelBox(Decimal("99.1"), Decimal("67.7"))
STRIP = LabelBox(Decimal(190), Decimal(25))


def particular(kind, *runs, heading="", **more):
    """A statement; a run in a list is set apart."""
    return Particular(
        kind=kind,
        runs=tuple(
            TextRun(run) if isinstance(run, str) else TextRun(run[0], is_emphasised=True)
            for run in runs
        ),
        citation=Citation(FIC, "Art. 9(1)"),
        heading=heading,
        **more,
    )


def a_damson_cheese(*, lot="DC-27248", name="Damson cheese", **look):
    return LabelFace(
        particulars=(
            particular("name", name, same_field=True),
            particular(
                "ingredients",
                "damsons (65 g per 100 g), sugar, lemon juice.",
                heading="Ingredients:",
            ),
            particular(
                "net_quantity", "100 g", same_field=True, minimum_figure_height_mm=Decimal(3)
            ),
            particular("date", "November 2027", heading="Best before end:"),
            particular("storage", "Keep cool and dry."),
            particular("lot", lot, heading="Lot"),
            particular("operator", "Rookfold Kitchen, 3 Millrace Yard, Fennelford"),
        ),
        **{"brand_name": "Rookfold Kitchen", **look},
    )


def a_tomato_chutney(**look):
    return LabelFace(
        particulars=(
            particular("name", "Tomato chutney", same_field=True),
            particular(
                "ingredients",
                "tomatoes (48 %), onions, sugar, spirit vinegar, apple puree (apples, water), "
                "sultanas (sultanas, preservative: ",
                ["sulphur dioxide"],
                " (",
                ["sulphites"],
                ")), salt, ",
                ["mustard"],
                " seed, ground ginger.",
                heading="Ingredients:",
            ),
            particular(
                "net_quantity", "230 g", same_field=True, minimum_figure_height_mm=Decimal(4)
            ),
            particular("date", "May 2028", heading="Best before end:"),
            particular(
                "storage",
                "Store in a cool, dark place. Once opened, keep in the refrigerator and eat "
                "within six weeks.",
            ),
            particular("lot", "TC-27251", heading="Lot"),
            particular("operator", "Rookfold Kitchen, 3 Millrace Yard, Fennelford"),
        ),
        **{"brand_name": "Rookfold Kitchen", **look},
    )


CHUTNEY_ALLERGENS = ("sulphur dioxide", "sulphites", "mustard")
