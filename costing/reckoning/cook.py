"""The cook: where the mass goes, exactly, whatever way the maker knows when it is done."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from costing.reckoning.book import (
    BOIL_DOWN,
    COOK_KINDS,
    COOK_LOSS,
    NO_COOK,
    WEIGHED_OUT,
    CookRecord,
    KitchenRecord,
    MassBalance,
    Question,
    Solids,
)
from costing.reckoning.errors import MassUnknown, ReckoningError
from costing.reckoning.pan import (
    Pan,
    PanLine,
    brix_question,
    fill_pan,
    inverted,
    scaled,
    settled,
)
from costing.reckoning.stopping import NEEDS_SOLIDS, Stop, stop_at

HUNDRED = Decimal(100)


@dataclass(frozen=True)
class Cooked:
    """A cooked pan: its balance, the solids of the finished mass, and what is still asked.

    evaporated_is_known: False where only the maker could tell steam from what was sieved out.
    """

    balance: MassBalance
    solids: Solids | None
    questions: tuple[Question, ...] = ()
    evaporated_is_known: bool = True


def balance(
    lines: Sequence[PanLine], *, cook: CookRecord, kitchen: KitchenRecord, name: str = "this recipe"
) -> MassBalance:
    """Where the mass of a pan goes. See `cook_pan`, which also says what is in what is left."""
    return cook_pan(lines, cook=cook, kitchen=kitchen, name=name).balance


def cook_pan(
    lines: Sequence[PanLine],
    *,
    cook: CookRecord,
    kitchen: KitchenRecord,
    name: str = "this recipe",
    recipe_id: int | None = None,
) -> Cooked:
    """Cook a pan: ingoing = evaporated + sieved out + on the pan + handling loss + finished.

    Raises MassUnknown, with its questions, where the finished mass cannot be told; ReckoningError
    where what was entered contradicts arithmetic or boiling.
    """
    _check(cook)
    pan = fill_pan(lines)
    solids = _solids_when_done(pan, cook)
    if cook.kind == WEIGHED_OUT:
        return _weighed_out(pan, solids, cook, name=name, recipe_id=recipe_id)
    stop = _stop(pan, solids, cook, kitchen, name=name, recipe_id=recipe_id)
    losses = _losses(stop.pot_g, cook)
    mass = MassBalance(
        ingoing_g=pan.ingoing_g,
        evaporated_g=pan.ingoing_g - stop.pot_g,
        sieved_out_g=Decimal(0),
        pan_residue_g=losses.residue_g,
        handling_loss_g=losses.handling_g,
        finished_g=losses.finished_g,
        pot_g=stop.pot_g,
        finishing_brix=_told_brix(stop, cook),
        total_solids_pct=_total_solids_pct(solids, stop.pot_g),
        rise_k=stop.rise_k,
        true_temperature_c=stop.true_c,
        reading_c=stop.reading_c,
        water_boils_c=stop.water_boils_c,
        reliability=stop.reliability,
        cautions=(*pan.cautions, *stop.cautions),
    )
    left = None if solids is None else scaled(solids, factor=losses.finished_g / stop.pot_g)
    return Cooked(mass, _as_measured(left, losses.finished_g, cook))


def _told_brix(stop: Stop, cook: CookRecord) -> Decimal | None:
    """Where the stop was not a Brix, what the maker measured says more than what was added up."""
    is_measured = cook.kind != BOIL_DOWN and cook.measured_brix is not None
    return cook.measured_brix if is_measured else stop.brix


def _solids_when_done(pan: Pan, cook: CookRecord) -> Solids | None:
    """Solids of the whole pan after the fire; None where something's Brix is not known."""
    is_boiled = cook.is_heated and cook.kind != NO_COOK
    after = inverted(pan.solids, inverted_pct=cook.inverted_pct if is_boiled else Decimal(0))
    return None if pan.unknown else after


def _check(cook: CookRecord) -> None:
    if cook.kind not in COOK_KINDS:
        raise ReckoningError(f"“{cook.kind}” is not a way to cook.", field="cook_kind")
    for field in ("pan_residue_pct", "handling_loss_pct", "cook_loss_pct"):
        share = getattr(cook, field)
        if share is not None and not 0 <= share < HUNDRED:
            raise ReckoningError(
                f"A loss of {share} % must be at least 0 and below 100 %.", field=field
            )
    for field in ("pan_residue_g", "finished_g", "evaporated_g"):
        mass_g = getattr(cook, field)
        if mass_g is not None and mass_g < 0:
            raise ReckoningError("A mass cannot be negative.", field=field)
    for field in ("measured_brix", "measured_insoluble_pct"):
        figure = getattr(cook, field)
        if figure is not None and not 0 <= figure <= HUNDRED:
            raise ReckoningError(f"{figure} is not a percentage from 0 to 100.", field=field)


def _stop(
    pan: Pan,
    solids: Solids | None,
    cook: CookRecord,
    kitchen: KitchenRecord,
    *,
    name: str,
    recipe_id: int | None,
) -> Stop:
    if cook.kind == BOIL_DOWN:
        if cook.stop_value is None:
            raise _unsaid(
                f"Where does {name} stop? Give a Brix, a reading, a weight or a share.",
                about="stop",
                name=name,
                recipe_id=recipe_id,
            )
        if solids is None and cook.stop_form in NEEDS_SOLIDS:
            raise MassUnknown(tuple(brix_question(line) for line in pan.unknown))
        return stop_at(ingoing_g=pan.ingoing_g, solids=solids, cook=cook, kitchen=kitchen)
    pot_g = pan.ingoing_g
    if cook.kind == COOK_LOSS:
        if cook.cook_loss_pct is None:
            raise _unsaid(
                f"How much does {name} lose in the pan? Weigh what goes in and what comes out of "
                "one batch.",
                about="cook loss",
                name=name,
                recipe_id=recipe_id,
            )
        pot_g = settled(pot_g * (HUNDRED - cook.cook_loss_pct) / HUNDRED)
        _refuse_less_than_solids(pot_g, solids)
    return Stop(pot_g=pot_g, brix=_brix(solids, pot_g))


def _refuse_less_than_solids(pot_g: Decimal, solids: Solids | None) -> None:
    if solids is not None and pot_g < solids.soluble_g + solids.insoluble_g:
        raise ReckoningError(
            f"That cook loss leaves {pot_g:.1f} g, less than the "
            f"{solids.soluble_g + solids.insoluble_g:.1f} g of solids that went in. Only water "
            "boils off: check the loss and the Brix of what went in.",
            field="cook_loss_pct",
        )


def _weighed_out(
    pan: Pan, solids: Solids | None, cook: CookRecord, *, name: str, recipe_id: int | None
) -> Cooked:
    """Weighed at the end: what steam did not take and was not weighed, the sieve kept back."""
    finished_g = _weighed_g(cook, name=name, recipe_id=recipe_id)
    handled_g = settled(finished_g * HUNDRED / (HUNDRED - cook.handling_loss_pct))
    pot_g = settled((handled_g + cook.pan_residue_g) * HUNDRED / (HUNDRED - cook.pan_residue_pct))
    evaporated_g = settled(cook.evaporated_g or Decimal(0))
    sieved_g = pan.ingoing_g - evaporated_g - pot_g
    if sieved_g < 0:
        raise ReckoningError(
            f"{pot_g:.1f} g in the end and {evaporated_g:.1f} g of steam are more than the "
            f"{pan.ingoing_g:.1f} g that went in. Check the weights and the tare of the pan.",
            field="finished_g",
        )
    left, cautions = _after_sieve(pan, solids, evaporated_g, finished_g, cook, name=name)
    mass = MassBalance(
        ingoing_g=pan.ingoing_g,
        evaporated_g=evaporated_g,
        sieved_out_g=sieved_g,
        pan_residue_g=pot_g - handled_g,
        handling_loss_g=handled_g - finished_g,
        finished_g=finished_g,
        pot_g=pot_g,
        finishing_brix=_brix(left, finished_g),
        total_solids_pct=_total_solids_pct(left, finished_g),
        cautions=(*pan.cautions, *cautions),
    )
    if cook.evaporated_g is None and cook.is_heated:
        return Cooked(mass, left, (_steam_question(name, recipe_id),), evaporated_is_known=False)
    return Cooked(mass, left)


def _weighed_g(cook: CookRecord, *, name: str, recipe_id: int | None) -> Decimal:
    if cook.finished_g is None:
        raise _unsaid(
            f"How much {name} is there in the end? Weigh one batch.",
            about="finished weight",
            name=name,
            recipe_id=recipe_id,
        )
    if cook.finished_g <= 0:
        raise ReckoningError(
            "Nothing was weighed out. A batch that was thrown away has no cost per kilo.",
            field="finished_g",
        )
    return settled(cook.finished_g)


def _after_sieve(
    pan: Pan,
    solids: Solids | None,
    evaporated_g: Decimal,
    finished_g: Decimal,
    cook: CookRecord,
    *,
    name: str,
) -> tuple[Solids | None, tuple[str, ...]]:
    """Solids of what was weighed out: as measured, else as if the sieve took a bit of all."""
    eaten_g = pan.edible_g - evaporated_g
    left = None
    if solids is not None and eaten_g > 0:
        left = scaled(solids, factor=min(finished_g / eaten_g, Decimal(1)))
    measured = _as_measured(left, finished_g, cook)
    if measured is None or cook.measured_brix is not None:
        return measured, ()
    if measured.soluble_g + measured.insoluble_g > finished_g:
        return None, ()
    return measured, (
        (
            f"The solids of {name} are worked out from what went in. Measure its Brix once: "
            "a sieve changes it."
        ),
    )


def _as_measured(left: Solids | None, mass_g: Decimal, cook: CookRecord) -> Solids | None:
    """The solids with the maker's own measurements put in place of what was worked out."""
    if cook.measured_brix is None:
        return left
    fibre_g = left.insoluble_g if left is not None else Decimal(0)
    if cook.measured_insoluble_pct is not None:
        fibre_g = mass_g * cook.measured_insoluble_pct / HUNDRED
    soluble_g = (mass_g - fibre_g) * cook.measured_brix / HUNDRED
    if left is not None and left.soluble_g > 0:
        return replace(
            scaled(left, factor=soluble_g / left.soluble_g),
            soluble_g=soluble_g,
            insoluble_g=fibre_g,
        )
    # Nothing is known of its sugars: the split of fruit, as for any fruit.
    shares = (Decimal("0.15"), Decimal("0.75"), Decimal("0.10"))
    return Solids(soluble_g, fibre_g, *(soluble_g * share for share in shares))


@dataclass(frozen=True)
class _Losses:
    residue_g: Decimal
    handling_g: Decimal
    finished_g: Decimal


def _losses(pot_g: Decimal, cook: CookRecord) -> _Losses:
    residue_g = settled(pot_g * cook.pan_residue_pct / HUNDRED + cook.pan_residue_g)
    if residue_g >= pot_g:
        raise ReckoningError(
            f"{residue_g:.1f} g stick to the pan, but only {pot_g:.1f} g are in it. Weigh the "
            "scraped pan once.",
            field="pan_residue_g",
        )
    handling_g = settled((pot_g - residue_g) * cook.handling_loss_pct / HUNDRED)
    return _Losses(residue_g, handling_g, pot_g - residue_g - handling_g)


def _brix(solids: Solids | None, mass_g: Decimal) -> Decimal | None:
    if solids is None or solids.soluble_g <= 0 or mass_g <= solids.insoluble_g:
        return None
    return solids.soluble_g * HUNDRED / (mass_g - solids.insoluble_g)


def _total_solids_pct(solids: Solids | None, mass_g: Decimal) -> Decimal | None:
    if solids is None:
        return None
    return (solids.soluble_g + solids.insoluble_g) * HUNDRED / mass_g


def _unsaid(sentence: str, *, about: str, name: str, recipe_id: int | None) -> MassUnknown:
    return MassUnknown(
        (Question(sentence=sentence, about=about, recipe_id=recipe_id, blocks="mass", name=name),)
    )


def _steam_question(name: str, recipe_id: int | None) -> Question:
    return Question(
        sentence=f"How much steam does {name} lose? Weigh the pan before and after the fire, "
        "before sieving.",
        about="evaporated",
        recipe_id=recipe_id,
        name=name,
    )
