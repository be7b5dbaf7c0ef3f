"""What came out of a pan, shared out over pieces, offcuts and what nobody counted; odd figures."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

NOTHING = Decimal(0)
OFFCUTS_KEPT, THROWN_AWAY = "Offcuts, kept", "Offcuts, thrown away"
"""What a yield without a product may be. What is thrown away is no part of the finished mass."""
UNCOUNTED_PCT = Decimal(10)
"""Of what came out: above, something was probably not counted (judgement)."""
BRIX_APART = Decimal(5)
"""Between the plan's end and the one read: further is a slip or another product (judgement)."""
LOWEST_PH, LOW_ACID_PH = Decimal("2.2"), Decimal("4.6")
"""Lemon juice is at 2.2 to 2.4 (common practice); above 4.6 food is low-acid (21 CFR 114.3(d))."""


@dataclass(frozen=True)
class Counted:
    """Some of one product, at its fill or as weighed; or something without a number."""

    name: str
    units: int | None
    mass_g: Decimal


@dataclass(frozen=True)
class ComingOut:
    """What came out of a pan [g], and where it went.

    came_out_g: filled or cut, offcuts included; None = not weighed yet.
    kept_g: offcuts kept for something; thrown_away_g: offcuts that nobody will eat or buy.
    """

    came_out_g: Decimal | None
    counted: Sequence[Counted] = ()
    kept_g: Decimal = NOTHING
    thrown_away_g: Decimal = NOTHING

    @property
    def counted_g(self) -> Decimal:
        """Pieces and jars together."""
        return sum((one.mass_g for one in self.counted), NOTHING)

    @property
    def told_g(self) -> Decimal:
        """Everything that was put down."""
        return self.counted_g + self.kept_g + self.thrown_away_g

    @property
    def rest_g(self) -> Decimal | None:
        """Not put down yet; less than nothing where more was put down than came out."""
        return None if self.came_out_g is None else self.came_out_g - self.told_g

    @property
    def finished_g(self) -> Decimal | None:
        """What can be sold or used: the kilo bears the offcuts that are thrown away."""
        return None if self.came_out_g is None else self.came_out_g - self.thrown_away_g


@dataclass(frozen=True)
class Measured:
    """What else was read of a pan. planned_g and planned_brix: of the plan, where it tells."""

    pot_g: Decimal | None = None
    planned_g: Decimal | None = None
    planned_brix: Decimal | None = None
    end_brix: Decimal | None = None
    ph: Decimal | None = None
    moulds_filled: int | None = None
    moulds_owned: int | None = None


@dataclass(frozen=True)
class OddFigure:
    """A figure to look at again: at which box, and why. is_impossible: it cannot be kept so."""

    field: str
    sentence: str
    is_impossible: bool = False


def odd_figures(out: ComingOut, measured: Measured) -> list[OddFigure]:
    """What cannot be true together, then what is seldom true."""
    cannot = _impossible(out, measured)
    return cannot or [*_seldom_out(out, measured), *_seldom_read(measured)]


def _impossible(out: ComingOut, measured: Measured) -> list[OddFigure]:
    found = []
    came_g, rest_g = out.came_out_g, out.rest_g
    if came_g is not None and measured.pot_g is not None and came_g > measured.pot_g:
        sentence = (
            f"{_kg(came_g)} came out of {_kg(measured.pot_g)} in the pan. Check both weights: was"
            " the pan's own weight taken off twice, or a tray's not at all?"
        )
        found.append(OddFigure("net_kg", sentence, is_impossible=True))
    if rest_g is not None and rest_g < 0:
        sentence = (
            f"Pieces, jars and offcuts weigh {_kg(out.told_g)} together, {_kg(-rest_g)} more than"
            " the pan gave. Count again, and weigh one: it may be lighter than its fill."
        )
        found.append(OddFigure("net_kg", sentence, is_impossible=True))
    return found


def _seldom_out(out: ComingOut, measured: Measured) -> list[OddFigure]:
    found = []
    came_g, planned_g, rest_g = out.came_out_g, measured.planned_g, out.rest_g
    if came_g is not None and planned_g and not planned_g / 2 <= came_g <= planned_g * 3 / 2:
        way = "more" if came_g > planned_g else "less"
        sentence = (
            f"{_kg(came_g)} came out and {_kg(planned_g)} were planned: is it so much {way}, or did"
            " the point slip?"
        )
        found.append(OddFigure("net_kg", sentence))
    if came_g and rest_g is not None and out.told_g and rest_g * 100 > came_g * UNCOUNTED_PCT:
        sentence = (
            f"{_kg(rest_g)} of {_kg(came_g)} are in no piece, jar or offcut. Were all counted?"
        )
        found.append(OddFigure("offcuts_kg", sentence))
    filled, owned = measured.moulds_filled, measured.moulds_owned
    if filled is not None and owned is not None and filled > owned:
        sentence = f"{filled} moulds were filled, and the kitchen has {owned} of these."
        found.append(OddFigure("moulds_filled", sentence))
    return found


def _seldom_read(measured: Measured) -> list[OddFigure]:
    found = []
    brix, planned = measured.end_brix, measured.planned_brix
    if brix is not None and planned is not None and abs(brix - planned) > BRIX_APART:
        sentence = (
            f"It ended at {brix.normalize():f} Brix and {planned:.1f} were planned. Read on a drop"
            " at about 20 °C? Hot, it shows too little."
        )
        found.append(OddFigure("end_brix", sentence))
    if measured.ph is not None and measured.ph < LOWEST_PH:
        sentence = f"pH {measured.ph.normalize():f} is more sour than lemon juice. Read again?"
        found.append(OddFigure("ph", sentence))
    return found


def _kg(grams: Decimal) -> str:
    kilos = grams / 1000
    return f"{kilos:.2f} kg" if kilos >= 1 else f"{kilos:.3f} kg"
