"""Slabs: what a mould holds, how deep to pour, how to cut, and where every gram goes.

Volumes are length x width x depth; a thousand cubic millimetres are a millilitre. Density is never
guessed here: it comes from the maker's own test or from the recipe, and is named where it matters.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_FLOOR, Decimal

from costing.reckoning.cutting import Cutting, Piece, Tray, best_cutting
from costing.reckoning.errors import ReckoningError
from costing.reckoning.figures import more_than_nothing, nothing_or_more, say
from costing.reckoning.pan import settled

HUNDRED, MM3_PER_ML = Decimal(100), Decimal(1000)
LIGHTEST_G_PER_ML, HEAVIEST_G_PER_ML = Decimal("0.5"), Decimal("1.6")
"""Whipped foam and solid sugar (sucrose crystal is 1.59, CRC Handbook, from memory)."""


# --- Mass and depth -------------------------------------------------------------------------------


def volume_ml(*, length_mm: Decimal, width_mm: Decimal, depth_mm: Decimal) -> Decimal:
    """What a straight-sided mould holds to a depth [ml]. Raises ReckoningError unless all > 0."""
    for value, what, field in (
        (length_mm, "The length", "length_mm"),
        (width_mm, "The width", "width_mm"),
        (depth_mm, "The depth", "depth_mm"),
    ):
        more_than_nothing(value, what=what, field=field, unit="mm")
    return length_mm * width_mm * depth_mm / MM3_PER_ML


def slab_mass_g(
    *, length_mm: Decimal, width_mm: Decimal, depth_mm: Decimal, density_g_per_ml: Decimal
) -> Decimal:
    """Mass of a slab or of a piece of it [g].

    Raises ReckoningError unless lengths are above zero and 0.5 <= density <= 1.6 g/ml.

    >>> slab_mass_g(length_mm=Decimal(310), width_mm=Decimal(210), depth_mm=Decimal(30),
    ...     density_g_per_ml=Decimal("1.38"))
    Decimal('2695.14')
    """
    check_density(density_g_per_ml)
    return volume_ml(length_mm=length_mm, width_mm=width_mm, depth_mm=depth_mm) * density_g_per_ml


def slab_depth_mm(
    *, mass_g: Decimal, length_mm: Decimal, width_mm: Decimal, density_g_per_ml: Decimal
) -> Decimal:
    """How deep a mass stands on an area; the same for the depth that gives a piece its weight [mm].

    Give the density at filling temperature for the fill line, and the cold one for the set slab.

    Raises ReckoningError unless mass and lengths are above zero and 0.5 <= density <= 1.6 g/ml.
    """
    more_than_nothing(mass_g, what="The mass", field="mass_g", unit="g")
    more_than_nothing(length_mm, what="The length", field="length_mm", unit="mm")
    more_than_nothing(width_mm, what="The width", field="width_mm", unit="mm")
    check_density(density_g_per_ml)
    return mass_g * MM3_PER_ML / (length_mm * width_mm * density_g_per_ml)


def fill_line_mm(depth_mm: Decimal, *, cold_g_per_ml: Decimal, hot_g_per_ml: Decimal) -> Decimal:
    """How high to pour hot so that the set slab has its depth: hot paste takes more room [mm].

    Raises ReckoningError for a hot paste denser than the cold one.
    """
    more_than_nothing(depth_mm, what="The depth", field="depth_mm", unit="mm")
    check_density(cold_g_per_ml)
    check_density(hot_g_per_ml)
    if hot_g_per_ml > cold_g_per_ml:
        raise ReckoningError(
            f"Hot paste cannot be denser than cold: {say(hot_g_per_ml, places=3)} against "
            f"{say(cold_g_per_ml, places=3)} g/ml. Check which is which.",
            field="hot_g_per_ml",
        )
    return depth_mm * cold_g_per_ml / hot_g_per_ml


def check_density(density_g_per_ml: Decimal, *, field: str = "density_g_per_ml") -> None:
    """Refuse what no paste weighs; kilos per cubic metre are the usual slip."""
    more_than_nothing(density_g_per_ml, what="The density", field=field, unit="g/ml")
    if not LIGHTEST_G_PER_ML <= density_g_per_ml <= HEAVIEST_G_PER_ML:
        raise ReckoningError(
            f"A density of {say(density_g_per_ml, places=3)} g/ml cannot be: pastes weigh about "
            "1.30 to 1.40 g a millilitre, and solid sugar 1.59. Type it in g/ml, or do the density "
            "test with a small tub.",
            field=field,
        )


# --- Density and the weight of a piece ------------------------------------------------------------


@dataclass(frozen=True)
class PieceAtDensity:
    """What the same cut weighs at another density. is_short: below the weight on the label."""

    density_g_per_ml: Decimal
    piece_g: Decimal
    change_pct: Decimal
    is_short: bool | None


def piece_at_densities(
    piece: Piece,
    *,
    depth_mm: Decimal,
    assumed_g_per_ml: Decimal,
    densities: Sequence[Decimal],
    declared_g: Decimal | None = None,
) -> tuple[PieceAtDensity, ...]:
    """What a wrong density does to the weight of a piece, when the cut stays as it is.

    change_pct: against the density that was assumed. is_short is None without a declared weight.
    """

    def at(density: Decimal) -> Decimal:
        return slab_mass_g(
            length_mm=piece.length_mm,
            width_mm=piece.width_mm,
            depth_mm=depth_mm,
            density_g_per_ml=density,
        )

    planned_g = at(assumed_g_per_ml)
    return tuple(
        PieceAtDensity(
            density_g_per_ml=density,
            piece_g=at(density),
            change_pct=(at(density) - planned_g) * HUNDRED / planned_g,
            is_short=None if declared_g is None else at(density) < declared_g,
        )
        for density in densities
    )


# --- A pan of paste into moulds -------------------------------------------------------------------


@dataclass(frozen=True)
class Shares:
    """Where the mass of one slab goes; the four add up to it exactly."""

    pieces_g: Decimal
    trim_g: Decimal
    kerf_g: Decimal
    offcuts_g: Decimal

    @property
    def slab_g(self) -> Decimal:
        """All of it."""
        return self.pieces_g + self.trim_g + self.kerf_g + self.offcuts_g


def share_slab(cutting: Cutting, *, slab_g: Decimal) -> Shares:
    """Divide a slab of even depth by area. What rounding leaves goes to the largest of the parts
    that are not sold by the piece, else to the pieces.
    """
    areas = {
        "trim_g": cutting.trim_mm2,
        "kerf_g": cutting.kerf_mm2,
        "offcuts_g": cutting.offcuts_mm2,
        "pieces_g": cutting.pieces_mm2,
    }
    parts = {name: settled(slab_g * mm2 / cutting.tray_mm2) for name, mm2 in areas.items()}
    waste = max(("trim_g", "kerf_g", "offcuts_g"), key=lambda name: areas[name])
    rest = waste if areas[waste] > 0 else "pieces_g"
    parts[rest] += settled(slab_g) - sum(parts.values(), Decimal(0))
    return Shares(**parts)


@dataclass(frozen=True)
class Spread:
    """The same pan spread evenly over a number of moulds: how deep, and what a piece weighs."""

    moulds: int
    depth_mm: Decimal
    piece_g: Decimal
    pieces: int
    is_short: bool | None


@dataclass(frozen=True)
class SlabPlan:
    """A pan of paste in moulds of a required depth, and all of it accounted for.

    net = pieces + trim + kerf + offcuts (in `shares`, of all full moulds) + remainder, exactly.
    remainder_depth_mm: depth of the remainder in one mould more; it is shallower than asked, so it
        is sold by weight. None when nothing remains, or when the moulds ran out and it does not
        fit into one more.
    spread: what one mould more, all evenly filled, would give; None when nothing remains.
    """

    net_g: Decimal
    cutting: Cutting
    depth_mm: Decimal
    density_g_per_ml: Decimal
    moulds: int
    mould_g: Decimal
    piece_g: Decimal
    shares: Shares
    remainder_g: Decimal
    remainder_depth_mm: Decimal | None
    spread: Spread | None
    cautions: tuple[str, ...] = ()

    @property
    def pieces(self) -> int:
        """Pieces from all full moulds."""
        return self.moulds * self.cutting.pieces

    @property
    def trim_pct(self) -> Decimal:
        """Share of a full slab that the trimmed edge takes."""
        return self.cutting.trim_mm2 * HUNDRED / self.cutting.tray_mm2


def plan_slabs(
    net_g: Decimal,
    *,
    tray: Tray,
    piece: Piece,
    depth_mm: Decimal,
    density_g_per_ml: Decimal,
    kerf_mm: Decimal = Decimal(0),
    declared_g: Decimal | None = None,
    moulds_at_hand: int | None = None,
) -> SlabPlan:
    """Fill as many moulds as the required depth allows, cut the better way round.

    The number of moulds follows from the depth, never from spreading the pan evenly: a shallow
    pour makes every piece underweight. depth_mm: of the set slab.

    Raises ReckoningError for what cannot be cut or poured.
    """
    cutting = best_cutting(tray, piece=piece, kerf_mm=kerf_mm)
    return plan_cutting(
        net_g,
        cutting=cutting,
        depth_mm=depth_mm,
        density_g_per_ml=density_g_per_ml,
        declared_g=declared_g,
        moulds_at_hand=moulds_at_hand,
    )


def plan_cutting(
    net_g: Decimal,
    *,
    cutting: Cutting,
    depth_mm: Decimal,
    density_g_per_ml: Decimal,
    declared_g: Decimal | None = None,
    moulds_at_hand: int | None = None,
) -> SlabPlan:
    """The same for a cutting that is chosen already, such as a wire frame of fixed counts."""
    net_g = settled(nothing_or_more(net_g, what="The mass to pour", field="net_g", unit="g"))
    mould_g = _mould_g(cutting.tray, depth_mm, density_g_per_ml)
    moulds = _moulds(net_g, mould_g=mould_g, at_hand=moulds_at_hand)
    piece_g = share_slab(cutting, slab_g=mould_g).pieces_g / cutting.pieces
    remainder_g = net_g - moulds * mould_g
    rest_mm = depth_mm * remainder_g / mould_g
    spread = None
    if remainder_g > 0:
        spread = spread_evenly(
            net_g, cutting=cutting, moulds=moulds + 1, density_g_per_ml=density_g_per_ml,
            declared_g=declared_g,
        )  # fmt: skip
    return SlabPlan(
        net_g=net_g,
        cutting=cutting,
        depth_mm=depth_mm,
        density_g_per_ml=density_g_per_ml,
        moulds=moulds,
        mould_g=mould_g,
        piece_g=piece_g,
        shares=share_slab(cutting, slab_g=moulds * mould_g),
        remainder_g=remainder_g,
        remainder_depth_mm=rest_mm if 0 < rest_mm < depth_mm else None,
        spread=spread,
        cautions=_plan_cautions(
            moulds, piece_g, remainder_g, mould_g=mould_g, rest_mm=rest_mm, declared_g=declared_g
        ),
    )


def spread_evenly(
    net_g: Decimal,
    *,
    cutting: Cutting,
    moulds: int,
    density_g_per_ml: Decimal,
    declared_g: Decimal | None = None,
) -> Spread:
    """What spreading a pan over a number of moulds does to the weight of a piece."""
    if moulds < 1:
        raise ReckoningError("Say how many moulds: at least one.", field="moulds")
    each_g = more_than_nothing(net_g, what="The mass to pour", field="net_g", unit="g") / moulds
    deep_mm = slab_depth_mm(
        mass_g=each_g,
        length_mm=cutting.tray.length_mm,
        width_mm=cutting.tray.width_mm,
        density_g_per_ml=density_g_per_ml,
    )
    piece_g = each_g * cutting.piece_mm2 / cutting.tray_mm2
    return Spread(
        moulds=moulds,
        depth_mm=deep_mm,
        piece_g=piece_g,
        pieces=moulds * cutting.pieces,
        is_short=None if declared_g is None else piece_g < declared_g,
    )


def _mould_g(tray: Tray, deep_mm: Decimal, density_g_per_ml: Decimal) -> Decimal:
    _check_rim(tray, deep_mm)
    mould_g = settled(
        slab_mass_g(
            length_mm=tray.length_mm,
            width_mm=tray.width_mm,
            depth_mm=deep_mm,
            density_g_per_ml=density_g_per_ml,
        )
    )
    if mould_g <= 0:
        raise ReckoningError(
            "A mould of that size holds nothing. Lengths are in millimetres.", field="depth_mm"
        )
    return mould_g


def _check_rim(tray: Tray, deep_mm: Decimal) -> None:
    more_than_nothing(deep_mm, what="The depth", field="depth_mm", unit="mm")
    if tray.rim_mm is not None and deep_mm > tray.rim_mm:
        raise ReckoningError(
            f"{say(deep_mm)} mm does not fit: the rim of the mould is {say(tray.rim_mm)} mm high. "
            "Pour shallower or take a higher mould.",
            field="depth_mm",
        )


def _moulds(net_g: Decimal, *, mould_g: Decimal, at_hand: int | None) -> int:
    if at_hand is not None and at_hand < 0:
        raise ReckoningError("The moulds at hand cannot be fewer than none.", field="moulds")
    fit = int((net_g / mould_g).to_integral_value(ROUND_FLOOR))
    if fit * mould_g > net_g:  # a division that was rounded up to a whole number
        fit -= 1
    return fit if at_hand is None else min(fit, at_hand)


def _plan_cautions(
    moulds: int,
    piece_g: Decimal,
    remainder_g: Decimal,
    *,
    mould_g: Decimal,
    rest_mm: Decimal,
    declared_g: Decimal | None,
) -> tuple[str, ...]:
    said = []
    if declared_g is not None and piece_g < declared_g:
        said.append(
            f"At this depth and density a piece weighs {say(piece_g)} g, less than the "
            f"{say(declared_g)} g on its label. Pour deeper, cut larger or declare less."
        )
    if moulds == 0 and remainder_g > 0:
        said.append(
            f"{say(remainder_g)} g do not fill one mould, which takes {say(mould_g)} g. Take a "
            "smaller mould, or sell it by weight."
        )
    elif remainder_g >= mould_g:
        said.append(
            f"{say(remainder_g)} g are left over and would fill "
            f"{say(remainder_g / mould_g, places=1)} more moulds. Have them ready before pouring."
        )
    elif remainder_g > 0:
        said.append(
            f"{say(remainder_g)} g are left over: {say(rest_mm)} mm deep in one mould more, too "
            "shallow to cut to weight. Sell it by weight, or keep it for the next batch with its "
            "own lot."
        )
    return tuple(said)
