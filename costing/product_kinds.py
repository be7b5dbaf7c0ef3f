"""One row per kind of product: where it is usually finished, how it is sold, what can hurt."""

from dataclasses import dataclass

SLAB, PIECE, JAR = "slab", "piece", "jar"

HOT_SUGAR = (
    "Boiling fruit and sugar sticks to skin and burns deep: long sleeves, a deep pan, no child "
    "near, and never taste from the pan."
)
LOW_ACID = (
    "Low-acid food in closed jars can grow botulism, and boiling does not prevent it. Measure the "
    "pH of every batch, and ask your food authority before selling it."
)
THICK_SPITS = (
    "Thick paste spits and catches on the bottom: turn the heat down and keep scraping, wear "
    "gloves."
)
EGGS_AND_BUTTER = (
    "Curd holds eggs and butter: it is not kept by its sugar. It needs a proven process, the cold "
    "and a short date; ask your food authority."
)
SUGAR_ALONE = (
    "Too little sugar, or a soft finish, lets moulds grow: below about 60 Brix keep it cold or "
    "have its keeping tested."
)


@dataclass(frozen=True)
class ProductKind:
    """A kind of product. The Brix range is common practice, not a legal or a safe limit.

    forms: of slab, piece and jar, the ones it is sold in. usual_brix: lowest and highest at
    which makers stop, None where it is not finished by Brix. cautions: shown where it is cooked.
    """

    code: str
    words: str
    forms: tuple[str, ...]
    usual_brix: tuple[int, int] | None = None
    cautions: tuple[str, ...] = ()

    @property
    def usual_brix_in_words(self) -> str:
        """The range as a sentence that says what kind of figure it is."""
        if self.usual_brix is None:
            return "Usually finished by weight, by look or by a set test, not by Brix."
        low, high = self.usual_brix
        return f"Usually finished at {low} to {high} Brix (common practice)."


PRODUCT_KINDS = (
    ProductKind(
        "fruit paste", "Fruit paste or fruit cheese", (SLAB, PIECE), (66, 68),
        (HOT_SUGAR, THICK_SPITS),
    ),
    ProductKind("jam", "Jam", (JAR,), (60, 68), (HOT_SUGAR, SUGAR_ALONE)),
    ProductKind("jelly", "Jelly", (JAR,), (63, 68), (HOT_SUGAR, SUGAR_ALONE)),
    ProductKind("marmalade", "Marmalade", (JAR,), (62, 68), (HOT_SUGAR, SUGAR_ALONE)),
    ProductKind("fruit butter", "Fruit butter", (JAR,), (35, 45), (THICK_SPITS, SUGAR_ALONE)),
    ProductKind("chutney", "Chutney or relish", (JAR,), None, (HOT_SUGAR, LOW_ACID)),
    ProductKind("curd", "Fruit curd", (JAR,), None, (EGGS_AND_BUTTER,)),
    ProductKind("sweets", "Sweets, fruit jellies, caramel", (SLAB, PIECE), (74, 80), (HOT_SUGAR,)),
    ProductKind("syrup", "Syrup or cordial", (JAR,), (60, 66), (HOT_SUGAR,)),
    ProductKind("preparation", "Preparation (puree, juice, spice mix)", (), None, (LOW_ACID,)),
    ProductKind("other", "Something else", (SLAB, PIECE, JAR), None, (HOT_SUGAR, LOW_ACID)),
)  # fmt: skip
_BY_CODE = {kind.code: kind for kind in PRODUCT_KINDS}


def product_kind(code: str) -> ProductKind:
    """The row for a code; an unknown one is treated as "other", with every caution.

    >>> product_kind("fruit paste").usual_brix
    (66, 68)
    """
    return _BY_CODE.get(code, _BY_CODE["other"])
