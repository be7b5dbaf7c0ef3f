"""What law and drawing both speak of: true facts, statements to print, and text as it was set.

Law never draws and drawing never knows law. Facts go to law, law answers with particulars,
particulars go to the page, and the page answers with printed text, which law then judges.
"""

from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal

from labels.allergens import ALLERGEN_GROUPS, Allergen, CrossContactAnswer
from labels.ingredients import UsedIngredient

__all__ = [
    "ALLERGEN_GROUPS", "Act", "Allergen", "Citation", "CrossContactAnswer", "LabelBox", "LabelCode",
    "LabelFace", "LabelFacts", "NutrientSource", "Nutrition", "Particular", "PrintedBlock",
    "PrintedText", "Table", "TextRun", "Untranslated", "UsedIngredient", "Wording",
]  # fmt: skip


@dataclass(frozen=True)
class Act:
    """A piece of legislation, with the official address of its text."""

    title: str
    url: str

    def __post_init__(self) -> None:
        if not self.title or not self.url.startswith("https://"):
            raise ValueError(
                f"An act needs its title and an https link: {self.title!r} {self.url!r}"
            )


@dataclass(frozen=True)
class Citation:
    """The place in an act that asks for something. `mark` says how its text was read."""

    act: Act
    provision: str
    mark: str = "read"

    def __post_init__(self) -> None:
        if not self.provision:
            raise ValueError(f"{self.act.title}: a citation names its article, point or annex.")

    def __str__(self) -> str:
        return f"{self.act.title}, {self.provision}"


@dataclass(frozen=True)
class Wording:
    """What the maker says of the food in one more language; empty where he said nothing.

    ingredients: those of the facts, in the same order and with the same parts, by their names in
        this language.
    """

    language: str
    name_of_food: str
    ingredients: tuple[UsedIngredient, ...] = ()
    storage: str = ""
    storage_after_opening: str = ""
    origin: str = ""


@dataclass(frozen=True)
class Untranslated:
    """Something the label must say in a language and the maker has not given in it.

    what: "ingredient-12", "recipe-3", or "name", "storage", "storage_after_opening", "origin".
    called: its name, or what stands there in the kitchen's own language.
    """

    what: str
    called: str
    language: str


@dataclass(frozen=True)
class NutrientSource:
    """One ingredient in the nutrition record: what it holds, where that stands, what is missing.

    share_g: its mass as used in 100 g of the finished food [g].
    known: nutrient, grams in 100 g of the ingredient, and the source of that figure.
    missing: nutrients that nobody knows. counts_as_nothing: why they are taken as none, if so.
    question: what to ask, in a sentence; empty where nothing is asked.
    """

    name: str
    key: str = ""
    share_g: Decimal = Decimal(0)
    known: tuple[tuple[str, Decimal, str], ...] = ()
    missing: tuple[str, ...] = ()
    counts_as_nothing: str = ""
    question: str = ""


@dataclass(frozen=True)
class Nutrition:
    """Average nutrients in 100 g of the finished food, and how they were found.

    per_100_g: by the names "fat", "saturates", "carbohydrate" (with polyols, without fibre),
        "sugars", "polyols", "organic acids", "fibre", "protein", "salt", "alcohol" [g].
    questions: what is not known; while there is one, the amounts are lower bounds.
    notes: how something was counted, in sentences for the maker.
    portion_g: the portion the maker wants told as well [g].
    """

    per_100_g: tuple[tuple[str, Decimal], ...] = ()
    sources: tuple[NutrientSource, ...] = ()
    questions: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    portion_g: Decimal | None = None

    @property
    def is_complete(self) -> bool:
        """Whether a declaration may be made of it."""
        return bool(self.per_100_g) and not self.questions

    @property
    def grams(self) -> dict[str, Decimal]:
        """Amounts in 100 g by name [g]."""
        return dict(self.per_100_g)


@dataclass(frozen=True)
class LabelFacts:
    """Everything that is true of one food in one pack, before anything is set in type.

    finished_g: the food that the ingredients gave, before what stays on the pan is lost [g];
        None means not known. It is the divisor of the quantitative ingredient declaration.
    date_style: "best before", "use by" or "none" (with `no_date_reason`).
    largest_surface_cm2: the pack's largest surface; None means not known.
    way_of_sale: "prepacked", "direct" (prepacked for direct sale), "loose" or "on request" (packed
        when the buyer asks).
    quid_rounding: "whole" (nearest whole per cent, under 5 the nearest half) or "one decimal".
    date_form: "shortest" lawful, "month" (month and year) or "full" (day, month and year).
    printed_on: the day of printing; the check of rules fills in its own day when it is empty.
    soluble_solids_pct: of the finished food, by refractometer at 20 C [%]; None means not known.
    contents_g_per_kg: what the law of marmalade, curd or mincemeat asks after, by its name ("inner
        flesh" of citrus fruit, "fat", "egg yolk solids", "vine fruit", "peel", "suet"); what is
        not in it is not known.
    claims: nutrition and health claims on the label, in its own words.
    shows_nutrition: the maker declares nutrition. nutrition: the figures for it; None means that
        nobody worked them out.
    cross_contact: what recorded assessments say; a group that is not there was never looked at.
    tagline: the maker's own line on the face of the label, which may hold a claim too.
    law_on: the day whose law judges the label; the check of rules fills it in.
    second: the same food in the second language of the label, if it has one.
    untranslated: what is missing in one of the label's languages; the kitchen's own stands there.
    """

    name_of_food: str = ""
    ingredients: tuple[UsedIngredient, ...] = ()
    finished_g: Decimal | None = None
    net_quantity_g: Decimal | None = None
    net_quantity_ml: Decimal | None = None
    largest_surface_cm2: Decimal | None = None
    operator_name: str = ""
    operator_address: str = ""
    made_on: date | None = None
    best_before: date | None = None
    date_style: str = "best before"
    no_date_reason: str = ""
    lot: str = ""
    storage: str = ""
    storage_after_opening: str = ""
    instructions: str = ""
    origin: str = ""
    brand_name: str = ""
    market: str = "eu"
    country_of_sale: str = ""
    way_of_sale: str = "prepacked"
    language: str = "en"
    has_e_mark: bool = False
    shows_nutrition: bool = False
    nutrition_exemption: str = ""
    is_sold_at_distance: bool = False
    groups_spices: bool = False
    product_kind: str = ""
    groups_sugars: bool = False
    additives_by_number: bool = False
    quid_rounding: str = "whole"
    date_form: str = "shortest"
    printed_on: date | None = None
    soluble_solids_pct: Decimal | None = None
    contents_g_per_kg: tuple[tuple[str, Decimal], ...] = ()
    claims: tuple[str, ...] = ()
    tagline: str = ""
    law_on: date | None = None
    nutrition: Nutrition | None = None
    cross_contact: tuple[CrossContactAnswer, ...] = ()
    second: Wording | None = None
    untranslated: tuple[Untranslated, ...] = ()

    @property
    def usable_finished_g(self) -> Decimal | None:
        """The finished mass [g] if it is a number one can divide by, else None."""
        if self.finished_g is None or not self.finished_g.is_finite() or self.finished_g <= 0:
            return None
        return self.finished_g

    @property
    def ingoing_g(self) -> Decimal:
        """All that went into the pan, water included [g]."""
        return sum((i.used_g for i in self.ingredients), start=Decimal(0))

    @property
    def in_second_language(self) -> "LabelFacts | None":
        """The same facts as the second language tells them; None if there is none."""
        if self.second is None:
            return None
        return replace(
            self,
            second=None,
            language=self.second.language,
            name_of_food=self.second.name_of_food,
            ingredients=self.second.ingredients,
            storage=self.second.storage,
            storage_after_opening=self.second.storage_after_opening,
            origin=self.second.origin,
        )


@dataclass(frozen=True)
class TextRun:
    """A stretch of label text; `is_emphasised` sets it apart (an allergen's name)."""

    text: str
    is_emphasised: bool = False


@dataclass(frozen=True)
class Table:
    """A statement in columns: a head, rows of as many cells, and what must stand right below.

    indented: places of the rows that are a part of the row above them.
    """

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    notes: tuple[str, ...] = ()
    indented: tuple[int, ...] = ()

    @property
    def text(self) -> str:
        """All of it, row by row."""
        cells = [cell for row in (self.head, *self.rows) for cell in row if cell]
        return " ".join([*cells, *self.notes])


@dataclass(frozen=True)
class Particular:
    """One statement that the law makes you print, ready to be set.

    kind: "name", "ingredients", "allergens", "cross_contact", "quid", "net_quantity", "date",
        "lot", "storage", "instructions", "origin", "operator", "nutrition", "price",
        "unit_price" or "extra".
    same_field: True if it must stand in the same field of vision as the name of the food.
    minimum_x_height_mm: smallest lawful height of its lower-case x [mm].
    minimum_figure_height_mm: smallest lawful height of its figures, where one is set [mm].
    table: the same statement in columns, for where there is room; `runs` is its linear form.
    language: of a statement in the second language of the label; empty: the first, or none.
    """

    kind: str
    runs: tuple[TextRun, ...]
    citation: Citation
    heading: str = ""
    same_field: bool = False
    minimum_x_height_mm: Decimal = Decimal("1.2")
    minimum_figure_height_mm: Decimal | None = None
    table: Table | None = None
    language: str = ""

    @property
    def text(self) -> str:
        """The statement as plain text, heading included."""
        body = "".join(run.text for run in self.runs)
        return f"{self.heading} {body}" if self.heading else body

    @property
    def emphasised(self) -> tuple[str, ...]:
        """The words set apart, in order."""
        return tuple(run.text for run in self.runs if run.is_emphasised)


@dataclass(frozen=True)
class PrintedBlock:
    """One statement as it was set: how high its letters are and on which face it stands.

    panel: "front" for the face that carries the name of the food, "back" for any other.
    """

    kind: str
    text: str
    x_height_mm: Decimal
    figure_height_mm: Decimal
    panel: str = "front"
    emphasised: tuple[str, ...] = ()


@dataclass(frozen=True)
class PrintedText:
    """A label as set in type: what law needs to know of the drawing, and no more.

    does_not_fit: kinds of the statements for which there was no room at the legal size.
    missing_glyphs: characters that our type has no drawing for.
    """

    blocks: tuple[PrintedBlock, ...] = ()
    does_not_fit: tuple[str, ...] = ()
    missing_glyphs: str = ""

    @property
    def x_height_mm(self) -> Decimal:
        """Height of the smallest lower-case x among the statements [mm]."""
        return min((block.x_height_mm for block in self.blocks), default=Decimal(0))

    def block(self, kind: str) -> PrintedBlock | None:
        """The statement of that kind, if it was set."""
        return next((block for block in self.blocks if block.kind == kind), None)


@dataclass(frozen=True)
class LabelBox:
    """The paper a label has: its size, the safe inset and the corner radius [mm].

    seen_mm: how much of it is seen from one place, where it goes around a jar; None on a flat face.
    lap_mm: what the right end covers once it is wrapped, at the left: nothing is printed there.
    """

    width_mm: Decimal
    height_mm: Decimal
    inset_mm: Decimal = Decimal("2.0")
    corner_radius_mm: Decimal = Decimal(0)
    seen_mm: Decimal | None = None
    lap_mm: Decimal = Decimal(0)

    def __post_init__(self) -> None:
        if min(self.width_mm - self.lap_mm, self.height_mm) <= 2 * self.inset_mm:
            raise ValueError(
                f"A label of {self.width_mm} x {self.height_mm} mm leaves no room inside a margin "
                f"of {self.inset_mm} mm."
            )


@dataclass(frozen=True)
class LabelCode:
    """A code that a scanner reads: which modules are dark, how large, and the figures under it.

    kind: "ean13" or "qr". text: what is read. rows: "1" for a dark module, "0" for a light one.
    row_mm: height of a row; module_mm: width of a module. shown: what people read below it.
    quiet: modules that stay free at the left, above, at the right and below.
    """

    kind: str
    text: str
    rows: tuple[str, ...]
    module_mm: Decimal
    row_mm: Decimal
    quiet: tuple[int, int, int, int]
    shown: str = ""

    @property
    def width_mm(self) -> Decimal:
        """Its width with what stays free beside it [mm]."""
        return (len(self.rows[0]) + self.quiet[0] + self.quiet[2]) * self.module_mm

    @property
    def height_mm(self) -> Decimal:
        """Its height with what stays free above and below, without the figures [mm]."""
        return len(self.rows) * self.row_mm + (self.quiet[1] + self.quiet[3]) * self.module_mm


@dataclass(frozen=True)
class LabelFace:
    """What goes on the paper: the maker's own words and look, and the law's particulars.

    layout: "quiet" (name large, rule, facts), "two-panel" (front, facts), "long" (wraps, lids) or
        "ticket" (the price large, for a shelf).
    colour: the maker's one colour as "#rrggbb"; it must also read in black and white.
    """

    particulars: tuple[Particular, ...]
    brand_name: str = ""
    tagline: str = ""
    colour: str = "#6b1f3a"
    layout: str = "quiet"
    language: str = "en"
    notes: tuple[str, ...] = field(default=())
    codes: tuple[LabelCode, ...] = ()
