"""Nutrients in 100 g of a finished food: what went in over what came out; only water leaves.

Averages worked out from the known values of the ingredients used are one of the three lawful ways
to a declaration: Regulation (EU) No 1169/2011, Art. 31(4)(b). Energy is not worked out here: its
factors are the law's.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from costing.reckoning.book import Question
from costing.reckoning.composition import Used
from costing.reckoning.lines import HUNDRED

ALCOHOL = "alcohol_g"
DUE = ("fat_g", "saturates_g", "carbohydrate_g", "sugars_g", "fibre_g", "protein_g", "salt_g")
"""What must be known of every ingredient. Fibre too: it counts for energy."""
WITHIN_CARBOHYDRATE = ("polyols_g", "organic_acids_g")
"""What tables seldom tell apart: where it is not known it stays inside carbohydrate, which has the
higher energy factor."""
OF_AN_INGREDIENT = (
    "fat_g",
    "saturates_g",
    "carbohydrate_g",
    "sugars_g",
    "polyols_g",
    "organic_acids_g",
    "fibre_g",
    "protein_g",
    "salt_g",
)
"""Grams in 100 g of an ingredient, in the order of the table on a label."""
NUTRIENTS = (*OF_AN_INGREDIENT, ALCOHOL)
NAMES = {
    "fat_g": "fat",
    "saturates_g": "saturates",
    "carbohydrate_g": "carbohydrate",
    "sugars_g": "sugars",
    "polyols_g": "polyols",
    "organic_acids_g": "organic acids",
    "fibre_g": "fibre",
    "protein_g": "protein",
    "salt_g": "salt",
    ALCOHOL: "alcohol",
}

TRACE_BELOW_PCT = Decimal("0.5")
"""Of the finished food. All that is counted as nothing stays below it together: then none of its
nutrients can pass 0.5 g in 100 g, up to where the rounding guidance of the European Commission
(December 2012, section 6, second-hand) shows fat, carbohydrate and protein as nearly none."""

# Stoichiometry of C12H22O11 + H2O -> 2 C6H12O6: 18.015 g of water to 342.297 g of sucrose.
WATER_BOUND_PER_SUCROSE = Decimal("18.015") / Decimal("342.297")


@dataclass(frozen=True)
class NutrientRecord:
    """What is known of 100 g of an ingredient [g], and where each figure comes from.

    per_100_g: a nutrient that is left out is not known, which is not zero.
    is_water: holds none of them. is_sweetener: its polyols must be known, whatever it is.
    holds_alcohol: a spirit or wine; how much stays in the finished food only the maker can tell.
    """

    ingredient_id: int
    name: str
    per_100_g: Mapping[str, Decimal] = field(default_factory=dict)
    sources: Mapping[str, str] = field(default_factory=dict)
    is_water: bool = False
    is_sweetener: bool = False
    holds_alcohol: bool = False

    @property
    def missing(self) -> tuple[str, ...]:
        """What must be known of it and is not."""
        if self.is_water:
            return ()
        due = (*DUE, "polyols_g") if self.is_sweetener else DUE
        return tuple(name for name in due if name not in self.per_100_g)


@dataclass(frozen=True)
class Contribution:
    """What one ingredient brings into 100 g of the finished food.

    share_pct: its mass as used, in 100 g of the finished food [g]; over 100 where water has left.
    grams: nutrient -> grams brought, only what is known.
    missing: not known, here and now. reason: why that counts as nothing; empty where it does not.
    """

    record: NutrientRecord
    share_pct: Decimal
    grams: Mapping[str, Decimal]
    missing: tuple[str, ...] = ()
    reason: str = ""

    @property
    def is_trace(self) -> bool:
        """Whether the maker may decide that what is missing counts as nothing."""
        return self.share_pct < TRACE_BELOW_PCT


@dataclass(frozen=True)
class NutrientSum:
    """Nutrients in 100 g of the finished food [g], and how they came about.

    With `questions` the amounts are lower bounds, and no declaration may be made of them.
    notes: sentences on how something was counted.
    """

    per_100_g: Mapping[str, Decimal]
    contributions: tuple[Contribution, ...]
    questions: tuple[Question, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def is_complete(self) -> bool:
        """Whether nothing that a declaration needs is unknown."""
        return not self.questions


def nutrients(
    used: Used,
    *,
    larder: Mapping[int, NutrientRecord],
    counts_as_nothing: Mapping[int, str] | None = None,
    alcohol_left_g: Decimal | None = None,
) -> NutrientSum:
    """Add up what went in and divide by what came out.

    used: the recipe or batch, its mass the finished one. What stuck to the pan or stayed in the
        sieve took its share of everything with it, so the divisor is in effect the mass in the pan.
    counts_as_nothing: ingredient -> why its missing values do; only heeded for traces.
    alcohol_left_g: alcohol in 100 g of the finished food, as the maker knows it; it boils off, so
        what went in does not tell.
    """
    if used.used_g is None or used.used_g <= 0:
        return NutrientSum({}, (), (_no_mass(used),))
    masses, unweighed = _gathered(used)
    rows = []
    for ingredient_id, mass_g in masses.items():
        record = larder.get(ingredient_id)
        if record is not None:
            rows.append(_contribution(record, share_pct=mass_g * HUNDRED / used.used_g))
    decided = _decided(rows, counts_as_nothing or {})
    grams = {
        name: sum((row.grams.get(name, Decimal(0)) for row in decided), Decimal(0))
        for name in NUTRIENTS
    }
    grams[ALCOHOL] = alcohol_left_g or Decimal(0)
    return NutrientSum(
        per_100_g=grams,
        contributions=tuple(decided),
        questions=(*unweighed, *_questions(decided, alcohol_left_g)),
        notes=(*_notes(decided, grams), *_sieved(used)),
    )


def _gathered(used: Used) -> tuple[dict[int, Decimal], tuple[Question, ...]]:
    """Mass of each ingredient in the finished food, preparations opened; water has no row."""
    masses: dict[int, Decimal] = {}
    unweighed = []
    for part, mass_g in _leaves(used, used.kept_share):
        if mass_g is None or (part.ingredient_id is None and part.recipe_id is not None):
            unweighed.append(_no_mass(part))
        elif part.ingredient_id is not None:
            masses[part.ingredient_id] = masses.get(part.ingredient_id, Decimal(0)) + mass_g
    return masses, tuple(unweighed)


def _leaves(used: Used, share: Decimal) -> Iterator[tuple[Used, Decimal | None]]:
    for part in used.parts:
        if part.parts:
            yield from _leaves(part, share * part.kept_share)
        else:
            yield part, None if part.used_g is None else part.used_g * share


def _contribution(record: NutrientRecord, *, share_pct: Decimal) -> Contribution:
    known = {} if record.is_water else record.per_100_g
    grams = {name: value * share_pct / HUNDRED for name, value in known.items() if name != ALCOHOL}
    return Contribution(record, share_pct, grams, record.missing)


def _decided(rows: Iterable[Contribution], reasons: Mapping[int, str]) -> list[Contribution]:
    """The largest first. A decision is heeded while all such traces together stay below the limit;
    the smallest come first."""
    left_pct = TRACE_BELOW_PCT
    decided = []
    for row in sorted(rows, key=lambda row: row.share_pct):
        reason = reasons.get(row.record.ingredient_id, "").strip()
        if row.missing and reason and row.share_pct < left_pct:
            left_pct -= row.share_pct
            decided.append(Contribution(row.record, row.share_pct, row.grams, row.missing, reason))
        else:
            decided.append(row)
    return decided[::-1]


def _questions(rows: Iterable[Contribution], alcohol_left_g: Decimal | None) -> list[Question]:
    asked = [_not_known(row) for row in rows if row.missing and not row.reason]
    spirits = [row.record for row in rows if row.record.holds_alcohol]
    if spirits and alcohol_left_g is None:
        asked += [_alcohol(record) for record in spirits]
    return asked


def _notes(rows: Iterable[Contribution], grams: Mapping[str, Decimal]) -> tuple[str, ...]:
    notes = []
    unsplit = [
        row.record.name
        for row in rows
        if not row.record.is_water and not set(WITHIN_CARBOHYDRATE) <= set(row.record.per_100_g)
    ]
    if unsplit:
        notes.append(
            "Polyols and organic acids are not known apart everywhere; there they stay inside "
            "carbohydrate, where they count for a little more energy than they have."
        )
    if grams["sugars_g"] > 0:
        most_g = grams["sugars_g"] * WATER_BOUND_PER_SUCROSE
        notes.append(
            "Sugar counts as weighed. Boiled with acid it binds up to 5.3 % of its mass in water "
            f"when it splits: for that an analysis can find up to {most_g:.1f} g more sugars."
        )
    return tuple(notes)


def _sieved(used: Used) -> Iterator[str]:
    if used.sieved_g >= 1:  # a gram; below it is what rounding left
        yield (
            f"{used.name}: the sieve kept back {used.sieved_g / 1000:.2f} kg. It is taken to be "
            "made of the same as what passed; skins and pips hold more fibre than that, so there "
            "can be less fibre than told."
        )
    for part in used.parts:
        yield from _sieved(part)


# --- Questions ------------------------------------------------------------------------------------


def _not_known(row: Contribution) -> Question:
    names = [NAMES[name] for name in row.missing]
    listed = " and ".join(filter(None, [", ".join(names[:-1]), names[-1]]))
    per = "" if row.share_pct >= 1 else f" It is {row.share_pct:.2g} % of the finished food."
    return Question(
        sentence=f"{row.record.name}: how much {listed} is in 100 g? It stands on the supplier's "
        f"specification.{per}",
        about="nutrition",
        ingredient_id=row.record.ingredient_id,
        blocks="nutrition",
        name=row.record.name,
    )


def _alcohol(record: NutrientRecord) -> Question:
    return Question(
        sentence=f"{record.name}: how much alcohol is left in 100 g of the finished food? It boils "
        "off, so what went in does not tell.",
        about="alcohol",
        ingredient_id=record.ingredient_id,
        blocks="nutrition",
        name=record.name,
    )


def _no_mass(used: Used) -> Question:
    return Question(
        sentence=f"{used.name}: its mass is not known, so nothing can be said of 100 g.",
        about="finished weight",
        ingredient_id=used.ingredient_id,
        recipe_id=used.recipe_id,
        blocks="nutrition",
        name=used.name,
    )
