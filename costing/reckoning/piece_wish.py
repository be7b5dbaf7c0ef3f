"""What a piece shall be: of its size, its depth and its weight any two are chosen."""

from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from costing.reckoning.cutting import Piece
from costing.reckoning.errors import ReckoningError
from costing.reckoning.figures import more_than_nothing
from costing.reckoning.moulds import check_density, slab_depth_mm

MM3_PER_ML = Decimal(1000)
STEP_MM = Decimal("0.1")


@dataclass(frozen=True)
class Wish:
    """A piece and how deep the set slab is. follows: "weight", "depth" or "size" was worked out."""

    piece: Piece
    depth_mm: Decimal
    follows: str


def settle_piece(
    *,
    length_mm: Decimal | None,
    width_mm: Decimal | None,
    depth_mm: Decimal | None,
    piece_g: Decimal | None,
    density_g_per_ml: Decimal,
) -> Wish:
    """Work out the third of size, depth and weight; None is what was left open.

    What follows is rounded up to a tenth of a millimetre, because down would be short in weight.
    Raises ReckoningError for one side without the other, all three, or only one of them.
    """
    if (length_mm is None) != (width_mm is None):
        lacking = "piece_width_mm" if width_mm is None else "piece_length_mm"
        raise ReckoningError("A piece has two sides: type both, in millimetres.", field=lacking)
    if length_mm is None or width_mm is None:
        return _square(depth_mm, piece_g, density_g_per_ml)
    piece = Piece(length_mm, width_mm)
    if piece_g is None:
        if depth_mm is None:
            raise ReckoningError(
                "Type how deep the slab shall be, or what a piece shall weigh.", field="depth_mm"
            )
        return Wish(piece, depth_mm, "weight")
    if depth_mm is not None:
        raise ReckoningError(
            "Size, depth and weight together leave no choice. Take one of them out: it follows "
            "from the other two.",
            field="piece_g",
        )
    exact_mm = slab_depth_mm(
        mass_g=piece_g, length_mm=length_mm, width_mm=width_mm, density_g_per_ml=density_g_per_ml
    )
    return Wish(piece, _up(exact_mm), "depth")


def _square(depth_mm: Decimal | None, piece_g: Decimal | None, density_g_per_ml: Decimal) -> Wish:
    if depth_mm is None or piece_g is None:
        raise ReckoningError(
            "Type the size of a piece; or its weight and the depth, and it is cut square.",
            field="piece_length_mm",
        )
    check_density(density_g_per_ml)
    more_than_nothing(depth_mm, what="The depth", field="depth_mm", unit="mm")
    more_than_nothing(piece_g, what="The weight of a piece", field="piece_g", unit="g")
    side_mm = _up((piece_g * MM3_PER_ML / (depth_mm * density_g_per_ml)).sqrt())
    return Wish(Piece(side_mm, side_mm), depth_mm, "size")


def _up(value_mm: Decimal) -> Decimal:
    return value_mm.quantize(STEP_MM, rounding=ROUND_CEILING)
