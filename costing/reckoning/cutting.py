"""How a slab is cut: trimmed edge, grid of pieces, what the wire takes, what is left over.

Everything is plain rectangles in millimetres from one corner of the tray, so that a picture can be
drawn to scale; together they cover the tray exactly once.
"""

from dataclasses import dataclass, replace
from decimal import ROUND_FLOOR, Decimal

from costing.reckoning.errors import ReckoningError
from costing.reckoning.figures import more_than_nothing, nothing_or_more, say

PIECE, OFFCUT, TRIM, KERF = "piece", "offcut", "trim", "kerf"
MOST_PIECES = 2000
USUAL_TRIM_MM = Decimal(5)
"""Meniscus and skin (common practice)."""

_STEP_MM = Decimal("0.000001")
_TOO_MANY = MOST_PIECES + 1


@dataclass(frozen=True)
class Tray:
    """A straight-sided mould, inside measures. trim_mm: cut off all round. rim_mm: its height."""

    length_mm: Decimal
    width_mm: Decimal
    trim_mm: Decimal = Decimal(0)
    rim_mm: Decimal | None = None


@dataclass(frozen=True)
class Piece:
    """What one piece measures from above."""

    length_mm: Decimal
    width_mm: Decimal


@dataclass(frozen=True)
class Rectangle:
    """A part of the tray seen from above. kind: "piece", "offcut", "trim" or "kerf"."""

    x_mm: Decimal
    y_mm: Decimal
    length_mm: Decimal
    width_mm: Decimal
    kind: str

    @property
    def mm2(self) -> Decimal:
        """Its area."""
        return self.length_mm * self.width_mm


@dataclass(frozen=True)
class Cut:
    """One straight cut, from one point to another; a kerf lies on the far side of it."""

    x1_mm: Decimal
    y1_mm: Decimal
    x2_mm: Decimal
    y2_mm: Decimal


@dataclass(frozen=True)
class Cutting:
    """A grid in a tray. along: pieces along the length, across: along the width.

    piece: as it lies in the tray, so turned when is_turned. is_turned: the piece was given the
    other way round.
    """

    tray: Tray
    piece: Piece
    along: int
    across: int
    kerf_mm: Decimal
    is_turned: bool = False

    @property
    def pieces(self) -> int:
        """Pieces from one slab."""
        return self.along * self.across

    @property
    def tray_mm2(self) -> Decimal:
        """Area of the whole tray."""
        return area_of(self.tray)

    @property
    def piece_mm2(self) -> Decimal:
        """Area of one piece."""
        return self.piece.length_mm * self.piece.width_mm

    @property
    def pieces_mm2(self) -> Decimal:
        """Area of all pieces."""
        return self.pieces * self.piece_mm2

    @property
    def trim_mm2(self) -> Decimal:
        """Area of the edge that is cut off all round."""
        length_mm, width_mm = usable_mm(self.tray)
        return self.tray_mm2 - length_mm * width_mm

    @property
    def offcuts_mm2(self) -> Decimal:
        """Area of the strips that are left beside the grid: good to eat, not to weight."""
        return sum((strip.mm2 for strip in _offcuts(self)), Decimal(0))

    @property
    def kerf_mm2(self) -> Decimal:
        """Area that the blade or wire takes away."""
        return self.tray_mm2 - self.trim_mm2 - self.pieces_mm2 - self.offcuts_mm2


def area_of(tray: Tray) -> Decimal:
    """Area of the whole tray [mm2]."""
    return tray.length_mm * tray.width_mm


def usable_mm(tray: Tray) -> tuple[Decimal, Decimal]:
    """Length and width inside the trimmed edge. Raises ReckoningError when nothing is left."""
    more_than_nothing(tray.length_mm, what="The length", field="length_mm", unit="mm")
    more_than_nothing(tray.width_mm, what="The width", field="width_mm", unit="mm")
    nothing_or_more(tray.trim_mm, what="The trimmed edge", field="trim_mm", unit="mm")
    length_mm = tray.length_mm - 2 * tray.trim_mm
    width_mm = tray.width_mm - 2 * tray.trim_mm
    if length_mm <= 0 or width_mm <= 0:
        raise ReckoningError(
            f"Trimming {say(tray.trim_mm)} mm all round leaves nothing of a tray of "
            f"{say(tray.length_mm)} x {say(tray.width_mm)} mm.",
            field="trim_mm",
        )
    return length_mm, width_mm


def both_cuttings(
    tray: Tray, *, piece: Piece, kerf_mm: Decimal = Decimal(0)
) -> tuple[Cutting, Cutting]:
    """The grid with the piece as given, and with it turned; either may have no piece at all.

    kerf_mm: width a blade takes away at each cut. A wire through soft paste takes none; a saw-like
    or guitar cut through sugared paste about 0-1 mm (common practice).
    Raises ReckoningError for measures that cannot be, or thousands of pieces.
    """
    more_than_nothing(piece.length_mm, what="The length", field="piece_length_mm", unit="mm")
    more_than_nothing(piece.width_mm, what="The width", field="piece_width_mm", unit="mm")
    nothing_or_more(kerf_mm, what="The kerf", field="kerf_mm", unit="mm")
    turned = Piece(piece.width_mm, piece.length_mm)
    return (
        _grid(tray, piece, kerf_mm),
        replace(_grid(tray, turned, kerf_mm), is_turned=True),
    )


def best_cutting(tray: Tray, *, piece: Piece, kerf_mm: Decimal = Decimal(0)) -> Cutting:
    """The way round that gives more pieces; as given when both give the same.

    Raises ReckoningError when the piece fits neither way.
    """
    as_given, turned = both_cuttings(tray, piece=piece, kerf_mm=kerf_mm)
    best = turned if turned.pieces > as_given.pieces else as_given
    if best.pieces == 0:
        length_mm, width_mm = usable_mm(tray)
        raise ReckoningError(
            f"A piece of {say(piece.length_mm)} x {say(piece.width_mm)} mm does not fit into the "
            f"{say(length_mm)} x {say(width_mm)} mm that are left after trimming. Cut smaller, or "
            "take a larger mould.",
            field="piece_length_mm",
        )
    return best


def cut_to_count(tray: Tray, *, along: int, across: int, kerf_mm: Decimal = Decimal(0)) -> Cutting:
    """A frame with a fixed number of wires: the pieces share what the kerfs leave, evenly.

    Raises ReckoningError for fewer than one piece each way, or when the kerfs take it all.
    """
    length_mm, width_mm = usable_mm(tray)
    nothing_or_more(kerf_mm, what="The kerf", field="kerf_mm", unit="mm")
    for count, field in ((along, "along"), (across, "across")):
        if count < 1:
            raise ReckoningError("Cut into at least one piece each way.", field=field)
    _refuse_crumbs(along * across)
    sides = [
        ((whole_mm - (count - 1) * kerf_mm) / count).quantize(_STEP_MM, rounding=ROUND_FLOOR)
        for whole_mm, count in ((length_mm, along), (width_mm, across))
    ]
    if min(sides) <= 0:
        raise ReckoningError(
            f"A kerf of {say(kerf_mm)} mm leaves nothing of so many pieces.", field="kerf_mm"
        )
    return Cutting(tray, Piece(*sides), along, across, kerf_mm)


def _grid(tray: Tray, piece: Piece, kerf_mm: Decimal) -> Cutting:
    length_mm, width_mm = usable_mm(tray)
    along = _that_fit(length_mm, piece.length_mm, kerf_mm)
    across = _that_fit(width_mm, piece.width_mm, kerf_mm)
    if not along or not across:
        along = across = 0
    _refuse_crumbs(along * across)
    return Cutting(tray, piece, along, across, kerf_mm)


def _that_fit(whole_mm: Decimal, side_mm: Decimal, kerf_mm: Decimal) -> int:
    """n pieces need n sides and n - 1 kerfs."""
    fit = (whole_mm + kerf_mm) / (side_mm + kerf_mm)
    if fit >= _TOO_MANY:
        return _TOO_MANY
    return int(fit.to_integral_value(ROUND_FLOOR))


def _refuse_crumbs(pieces: int) -> None:
    if pieces > MOST_PIECES:
        raise ReckoningError(
            f"That would be more than {MOST_PIECES} pieces from one mould. Lengths are in "
            "millimetres: 5 cm are 50.",
            field="piece_length_mm",
        )


# --- For the picture ------------------------------------------------------------------------------


def rectangles(cutting: Cutting) -> tuple[Rectangle, ...]:
    """All of the tray as rectangles that do not overlap: trim, pieces row by row, offcuts, kerf.

    x runs along the length of the tray, y along its width, from one corner.
    """
    return (*_trim(cutting.tray), *_pieces(cutting), *_offcuts(cutting), *_kerfs(cutting))


def cuts(cutting: Cutting) -> tuple[Cut, ...]:
    """The cuts in the order they are made: the edge, the strips off the grid, then the grid."""
    tray, edge_mm = cutting.tray, cutting.tray.trim_mm
    length_mm, width_mm = usable_mm(tray)
    right_mm, far_mm = edge_mm + length_mm, edge_mm + width_mm
    made: list[Cut] = []
    if edge_mm > 0:
        nothing = Decimal(0)
        made += [
            Cut(edge_mm, nothing, edge_mm, tray.width_mm),
            Cut(right_mm, nothing, right_mm, tray.width_mm),
            Cut(edge_mm, edge_mm, right_mm, edge_mm),
            Cut(edge_mm, far_mm, right_mm, far_mm),
        ]
    if cutting.pieces == 0:
        return tuple(made)
    block_x_mm, block_y_mm = _block_mm(cutting)
    if block_x_mm < length_mm:
        made.append(Cut(edge_mm + block_x_mm, edge_mm, edge_mm + block_x_mm, far_mm))
    if block_y_mm < width_mm:
        y_mm = edge_mm + block_y_mm
        made.append(Cut(edge_mm, y_mm, edge_mm + block_x_mm, y_mm))
    for n in range(1, cutting.across):
        y_mm = edge_mm + n * cutting.piece.width_mm + (n - 1) * cutting.kerf_mm
        made.append(Cut(edge_mm, y_mm, edge_mm + block_x_mm, y_mm))
    for n in range(1, cutting.along):
        x_mm = edge_mm + n * cutting.piece.length_mm + (n - 1) * cutting.kerf_mm
        made.append(Cut(x_mm, edge_mm, x_mm, edge_mm + block_y_mm))
    return tuple(made)


def _block_mm(cutting: Cutting) -> tuple[Decimal, Decimal]:
    """Length and width of the grid with the kerfs inside it."""
    return (
        cutting.along * cutting.piece.length_mm + (cutting.along - 1) * cutting.kerf_mm,
        cutting.across * cutting.piece.width_mm + (cutting.across - 1) * cutting.kerf_mm,
    )


def _trim(tray: Tray) -> list[Rectangle]:
    edge_mm = tray.trim_mm
    if edge_mm == 0:
        return []
    length_mm, width_mm = usable_mm(tray)
    nothing = Decimal(0)
    return [
        Rectangle(nothing, nothing, edge_mm, tray.width_mm, TRIM),
        Rectangle(edge_mm + length_mm, nothing, edge_mm, tray.width_mm, TRIM),
        Rectangle(edge_mm, nothing, length_mm, edge_mm, TRIM),
        Rectangle(edge_mm, edge_mm + width_mm, length_mm, edge_mm, TRIM),
    ]


def _pieces(cutting: Cutting) -> list[Rectangle]:
    piece, edge_mm, kerf_mm = cutting.piece, cutting.tray.trim_mm, cutting.kerf_mm
    return [
        Rectangle(
            edge_mm + column * (piece.length_mm + kerf_mm),
            edge_mm + row * (piece.width_mm + kerf_mm),
            piece.length_mm,
            piece.width_mm,
            PIECE,
        )
        for row in range(cutting.across)
        for column in range(cutting.along)
    ]


def _strip_starts_mm(cutting: Cutting) -> tuple[Decimal, Decimal]:
    """Where the strips begin: behind the cut that takes them off, if it leaves any."""
    length_mm, width_mm = usable_mm(cutting.tray)
    block_x_mm, block_y_mm = _block_mm(cutting)
    return (
        min(block_x_mm + cutting.kerf_mm, length_mm),
        min(block_y_mm + cutting.kerf_mm, width_mm),
    )


def _offcuts(cutting: Cutting) -> list[Rectangle]:
    edge_mm = cutting.tray.trim_mm
    length_mm, width_mm = usable_mm(cutting.tray)
    if cutting.pieces == 0:
        return [Rectangle(edge_mm, edge_mm, length_mm, width_mm, OFFCUT)]
    x_mm, y_mm = _strip_starts_mm(cutting)
    block_x_mm, _ = _block_mm(cutting)
    strips = (
        Rectangle(edge_mm + x_mm, edge_mm, length_mm - x_mm, width_mm, OFFCUT),
        Rectangle(edge_mm, edge_mm + y_mm, block_x_mm, width_mm - y_mm, OFFCUT),
    )
    return [strip for strip in strips if strip.mm2 > 0]


def _kerfs(cutting: Cutting) -> list[Rectangle]:
    if cutting.pieces == 0 or cutting.kerf_mm == 0:
        return []
    piece, edge_mm, kerf_mm = cutting.piece, cutting.tray.trim_mm, cutting.kerf_mm
    _, width_mm = usable_mm(cutting.tray)
    block_x_mm, block_y_mm = _block_mm(cutting)
    x_mm, y_mm = _strip_starts_mm(cutting)
    taken = [
        Rectangle(edge_mm + block_x_mm, edge_mm, x_mm - block_x_mm, width_mm, KERF),
        Rectangle(edge_mm, edge_mm + block_y_mm, block_x_mm, y_mm - block_y_mm, KERF),
    ]
    for row in range(cutting.across):
        row_mm = edge_mm + row * (piece.width_mm + kerf_mm)
        if row:
            taken.append(Rectangle(edge_mm, row_mm - kerf_mm, block_x_mm, kerf_mm, KERF))
        for column in range(1, cutting.along):
            column_mm = edge_mm + column * (piece.length_mm + kerf_mm)
            taken.append(Rectangle(column_mm - kerf_mm, row_mm, kerf_mm, piece.width_mm, KERF))
    return [strip for strip in taken if strip.mm2 > 0]
