"""What is in the pan before the fire: masses and solids, and what is assumed of them."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from costing.physics import FRUIT
from costing.physics.composition import SUCROSE_G_PER_MOL, WATER_G_PER_MOL
from costing.reckoning.book import IngredientRecord, Question, Solids
from costing.reckoning.errors import ReckoningError
from costing.units import exact

HUNDRED = Decimal(100)
NO_SOLIDS = Solids(*[Decimal(0)] * 5)
MOST_INVERTED_PCT = Decimal(95)

_STEP_G = Decimal("1e-9")
_LARGEST_G = Decimal(10) ** 12
_NEARLY_ALL_SUGAR = Decimal(95)
# One part in a hundred of the pan, dissolved or not, moves the finished mass by 1 % at most.
_SMALL_SHARE = Decimal("0.01")
# Grams of water that one gram of sucrose takes up when it splits.
_BOUND = exact(WATER_G_PER_MOL, step="0.00001") / exact(SUCROSE_G_PER_MOL, step="0.0001")


@dataclass(frozen=True)
class PanLine:
    """One thing that goes into the pan. solids None = not known, which is not zero.

    edible_g: what is left of mass_g without stones and skins; the same unless it goes in whole.
    assumed_split: the sugars of fruit were taken because its own are not known.
    fibre_unknown: insoluble solids are not known and were left out.
    cautions: sentences on how a preparation's solids came about.
    """

    name: str
    mass_g: Decimal
    edible_g: Decimal
    solids: Solids | None
    ingredient_id: int | None = None
    recipe_id: int | None = None
    assumed_split: bool = False
    fibre_unknown: bool = False
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True)
class Pan:
    """The sum of its lines. unknown: lines whose solids are needed and not known."""

    ingoing_g: Decimal
    edible_g: Decimal
    solids: Solids
    unknown: tuple[PanLine, ...]
    cautions: tuple[str, ...]


def settled(mass_g: Decimal) -> Decimal:
    """A mass kept short enough that masses add up exactly, far below what any scale shows."""
    if abs(mass_g) > _LARGEST_G:
        raise ReckoningError(
            "That is more than any pan holds. Check the zeros and the unit.", field="finished_g"
        )
    return mass_g.quantize(_STEP_G)


def ingredient_in_pan(
    ingredient: IngredientRecord, *, mass_g: Decimal, edible_g: Decimal | None = None
) -> PanLine:
    """An ingredient with the solids it brings: Brix is read on the juice, so fibre comes off.

    Raises ReckoningError for a Brix or fibre that is not a percentage.
    """
    edible_g = mass_g if edible_g is None else edible_g
    for field in ("brix", "insoluble_pct"):
        figure = getattr(ingredient, field)
        if figure is not None and not 0 <= figure <= HUNDRED:
            raise ReckoningError(
                f"{ingredient.name} has {figure} where a percentage from 0 to 100 belongs.",
                field=field,
            )
    solids, assumed_split, fibre_unknown = _solids(ingredient, edible_g)
    return PanLine(
        name=ingredient.name,
        mass_g=mass_g,
        edible_g=edible_g,
        solids=solids,
        ingredient_id=ingredient.id,
        assumed_split=assumed_split,
        fibre_unknown=fibre_unknown,
    )


def _solids(ingredient: IngredientRecord, edible_g: Decimal) -> tuple[Solids | None, bool, bool]:
    if ingredient.is_water:
        return NO_SOLIDS, False, False
    brix, fibre_pct = ingredient.brix, ingredient.insoluble_pct
    if fibre_pct == HUNDRED:
        return with_share(NO_SOLIDS, insoluble_g=edible_g), False, False
    if brix is None:
        return None, False, False
    fibre_g = edible_g * (fibre_pct or Decimal(0)) / HUNDRED
    soluble_g = (edible_g - fibre_g) * brix / HUNDRED
    given = (ingredient.sucrose_share, ingredient.hexose_share, ingredient.acid_share)
    shares = tuple(share or Decimal(0) for share in given)
    assumed = not any(shares)
    if assumed:
        shares = _usual_shares(brix)
    parts = tuple(soluble_g * share / sum(shares) for share in shares)
    # Sugar holds no fibre; a fruit of unknown fibre holds some.
    fibre_unknown = fibre_pct is None and 0 < brix < _NEARLY_ALL_SUGAR
    assumed_split = assumed and soluble_g > 0 and brix < _NEARLY_ALL_SUGAR
    return Solids(soluble_g, fibre_g, *parts), assumed_split, fibre_unknown


def _usual_shares(brix: Decimal) -> tuple[Decimal, ...]:
    if brix >= _NEARLY_ALL_SUGAR:  # no fruit is; it is sugar
        return Decimal(1), Decimal(0), Decimal(0)
    return tuple(Decimal(str(share)) for share in (FRUIT.sucrose, FRUIT.hexose, FRUIT.acid))


def with_share(solids: Solids, *, insoluble_g: Decimal) -> Solids:
    """The same soluble solids with another mass of fibre."""
    return Solids(solids.soluble_g, insoluble_g, solids.sucrose_g, solids.hexose_g, solids.acid_g)


def scaled(solids: Solids, *, factor: Decimal) -> Solids:
    """The solids of a part of the mass."""
    return Solids(
        solids.soluble_g * factor,
        solids.insoluble_g * factor,
        solids.sucrose_g * factor,
        solids.hexose_g * factor,
        solids.acid_g * factor,
    )


def fill_pan(lines: Sequence[PanLine]) -> Pan:
    """Add up a pan. What is a hundredth of it or less and not known counts as fibre, and is said.

    Raises ReckoningError when nothing goes in.
    """
    ingoing_g = settled(sum((line.mass_g for line in lines), Decimal(0)))
    if ingoing_g <= 0:
        raise ReckoningError("Nothing goes into the pan. Add an ingredient.", field="lines")
    unknown = [line for line in lines if line.solids is None]
    small = sum((line.mass_g for line in unknown), Decimal(0)) <= ingoing_g * _SMALL_SHARE
    total = _added(
        with_share(NO_SOLIDS, insoluble_g=line.edible_g) if line.solids is None else line.solids
        for line in lines
        if small or line.solids is not None
    )
    return Pan(
        ingoing_g=ingoing_g,
        edible_g=sum((line.edible_g for line in lines), Decimal(0)),
        solids=total,
        unknown=() if small else tuple(unknown),
        cautions=_cautions(lines, small=unknown if small else [], ingoing_g=ingoing_g),
    )


def _added(parts: Iterable[Solids]) -> Solids:
    total = NO_SOLIDS
    for part in parts:
        total = Solids(
            total.soluble_g + part.soluble_g,
            total.insoluble_g + part.insoluble_g,
            total.sucrose_g + part.sucrose_g,
            total.hexose_g + part.hexose_g,
            total.acid_g + part.acid_g,
        )
    return total


def _cautions(
    lines: Sequence[PanLine], *, small: Sequence[PanLine], ingoing_g: Decimal
) -> tuple[str, ...]:
    cautions = list(dict.fromkeys(said for line in lines for said in line.cautions))
    if split := _names(line for line in lines if line.assumed_split):
        cautions.append(
            f"The sugars of {split} are taken as is usual in fruit: 15 % sucrose, 75 % glucose "
            "and fructose, 10 % acid (judgement)."
        )
    if fibre := _names(line for line in lines if line.fibre_unknown):
        cautions.append(
            f"The fibre of {fibre} is not known and is left out: the pan will weigh a little "
            "more than shown."
        )
    if small:
        share = sum((line.mass_g for line in small), Decimal(0)) * HUNDRED / ingoing_g
        cautions.append(
            f"The solids of {_names(small)} are not known; being {share:.1f} % of the pan, they "
            f"are counted as fibre, which moves the finished mass by {share:.1f} % of what went "
            "in at most."
        )
    return tuple(cautions)


def _names(lines: Iterable[PanLine]) -> str:
    names = list(dict.fromkeys(line.name for line in lines))
    return " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)


def inverted(solids: Solids, *, inverted_pct: Decimal) -> Solids:
    """Solids after part of the sucrose has split; each gram binds 0.0526 g of water and grows.

    Raises ReckoningError unless 0 <= inverted_pct <= 95.
    """
    if not 0 <= inverted_pct <= MOST_INVERTED_PCT:
        raise ReckoningError(
            f"{inverted_pct} % of the sugar inverted: it must lie between 0 and 95 %. "
            "10 to 45 % is usual in a fruit pan.",
            field="inverted_pct",
        )
    split_g = solids.sucrose_g * inverted_pct / HUNDRED
    bound_g = split_g * _BOUND
    return Solids(
        soluble_g=solids.soluble_g + bound_g,
        insoluble_g=solids.insoluble_g,
        sucrose_g=solids.sucrose_g - split_g,
        hexose_g=solids.hexose_g + split_g + bound_g,
        acid_g=solids.acid_g,
    )


def brix_question(line: PanLine) -> Question:
    """Asks for the Brix of something in the pan."""
    return Question(
        sentence=f"What is the Brix of {line.name}? Put a cooled drop of its juice on a "
        "refractometer, or read it on the supplier's sheet.",
        about="brix",
        ingredient_id=line.ingredient_id,
        recipe_id=line.recipe_id,
        blocks="mass",
        name=line.name,
    )
