"""Packs as plain shapes: how large their largest surface is, and who says it is counted so."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, fields, replace
from decimal import ROUND_DOWN, ROUND_HALF_UP, Decimal

from labels.facts import Citation
from labels.mechanics.sizes import PI, straight_wall_surface_cm2

__all__ = [
    "SHAPES",
    "Pack",
    "Relief",
    "Shape",
    "Surface",
    "largest_surface",
    "limit_within_reach",
    "shape",
    "shown_cm2",
]

_TENTH = Decimal("0.1")
_HALF_A_MM = Decimal("0.5")


@dataclass(frozen=True)
class Relief:
    """What a law lets go on packs whose largest surface is under a limit [cm2]."""

    under_cm2: Decimal
    words: str
    citation: Citation


@dataclass(frozen=True)
class Pack:
    """A pack as it was measured outside [mm]; None means that nobody has.

    height_mm: of a jar, of its straight wall only.
    """

    shape: str
    length_mm: Decimal | None = None
    width_mm: Decimal | None = None
    height_mm: Decimal | None = None
    diameter_mm: Decimal | None = None

    @property
    def missing(self) -> tuple[str, ...]:
        """The sides its shape needs that are not known, by their names."""
        return tuple(name for side, name in shape(self.shape).sides if not getattr(self, side))

    @property
    def circumference_mm(self) -> Decimal | None:
        """Once around its wall, if the pack is round and was measured [mm]."""
        is_round = any(side == "diameter_mm" for side, _ in shape(self.shape).sides)
        return PI * self.diameter_mm if is_round and self.diameter_mm else None


@dataclass(frozen=True)
class Surface:
    """The largest surface of a pack: what it is, how it was reckoned, and on whose word.

    mark: how the source was read. doubt: why another reading is possible; empty if none is.
    """

    area_cm2: Decimal
    what: str
    how: str
    source: str
    mark: str = "read"
    doubt: str = ""


@dataclass(frozen=True)
class Shape:
    """A kind of pack: the sides to measure, as field and name, and how its surface is found."""

    code: str
    name: str
    sides: tuple[tuple[str, str], ...]
    surface: Callable[[Pack], Surface]


def _written(length_mm: Decimal) -> str:
    return f"{length_mm.normalize():f}"


def _known(length_mm: Decimal | None) -> Decimal:
    if length_mm is None:
        raise ValueError("A side that was not measured has no surface.")
    return length_mm


def _largest_face(pack: Pack) -> Surface:
    """The largest of the six faces of a block."""
    sides = [_known(side) for side in (pack.length_mm, pack.width_mm, pack.height_mm)]
    longer, shorter = sorted(sides, reverse=True)[:2]
    return Surface(
        area_cm2=longer * shorter / 100,
        what="its largest face",
        how=f"{_written(longer)} mm × {_written(shorter)} mm",
        source="Regulation (EU) No 1169/2011, Art. 13(3): the largest surface; one whole face of "
        "a pack with flat faces",
        mark="common practice",
    )


def _straight_wall(pack: Pack) -> Surface:
    """The wall of a round jar, laid flat."""
    across, height = _known(pack.diameter_mm), _known(pack.height_mm)
    area = straight_wall_surface_cm2(diameter_cm=across / 10, height_cm=height / 10)
    lid = PI * across * across / 400
    doubt = (
        f"The lid is larger than the wall ({lid:.1f} cm²). The reading that leaves lids out was "
        "made for cans and bottles: ask your authority before you rely on the smaller surface."
    )
    return Surface(
        area_cm2=area,
        what="its straight wall",
        how=f"π × {_written(across)} mm × {_written(height)} mm; lid, base, neck and shoulder are "
        "left out",
        source="ALS (food chemistry experts of the German states), 125th meeting: height times "
        "circumference",
        mark="second-hand",
        doubt=doubt if lid > area else "",
    )


SHAPES = (
    Shape(
        "box", "A box",
        (("length_mm", "length"), ("width_mm", "width"), ("height_mm", "height")), _largest_face,
    ),
    Shape(
        "slab", "A slab or wrapped block",
        (("length_mm", "length"), ("width_mm", "width"), ("height_mm", "height")), _largest_face,
    ),
    Shape(
        "jar", "A round jar",
        (("diameter_mm", "diameter"), ("height_mm", "height of the straight wall")),
        _straight_wall,
    ),
)  # fmt: skip
"""Shapes that can be reckoned; any other pack is measured by its maker."""


def shape(code: str) -> Shape:
    """The shape of that code. Raises ValueError."""
    for each in SHAPES:
        if each.code == code:
            return each
    known = ", ".join(each.code for each in SHAPES)
    raise ValueError(f"There is no pack shape {code!r}; choose {known}.")


def largest_surface(pack: Pack) -> Surface | None:
    """The largest surface of a pack; None while one of its sides is not known.

    >>> jar = Pack("jar", diameter_mm=Decimal(50), height_mm=Decimal(52))
    >>> round(largest_surface(jar).area_cm2, 1)
    Decimal('81.7')
    """
    return None if pack.missing else shape(pack.shape).surface(pack)


def shown_cm2(area_cm2: Decimal, *, limits: Iterable[Decimal]) -> Decimal:
    """A surface to a tenth, but never rounded up to a limit that it is under.

    >>> shown_cm2(Decimal("79.96"), limits=[Decimal(80)])
    Decimal('79.9')
    """
    rounded = area_cm2.quantize(_TENTH, ROUND_HALF_UP)
    if any(area_cm2 < limit <= rounded for limit in limits):
        return area_cm2.quantize(_TENTH, ROUND_DOWN)
    return rounded


def limit_within_reach(pack: Pack, *, limits: Iterable[Decimal]) -> Decimal | None:
    """The limit that the surface is under, but is not if each side is half a millimetre longer."""
    surface = largest_surface(pack)
    longer = {
        each.name: getattr(pack, each.name) + _HALF_A_MM
        for each in fields(pack)
        if each.name != "shape" and getattr(pack, each.name) is not None
    }
    larger = largest_surface(replace(pack, **longer))
    if surface is None or larger is None:
        return None
    return next((each for each in limits if surface.area_cm2 < each <= larger.area_cm2), None)
