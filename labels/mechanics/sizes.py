"""Sizes of packs and of type: the wall of a jar, the point size that reaches a height."""

from decimal import ROUND_CEILING, Decimal

PI = Decimal("3.14159265358979323846")
MM_PER_POINT = Decimal("25.4") / Decimal(72)


def straight_wall_surface_cm2(*, diameter_cm: Decimal, height_cm: Decimal) -> Decimal:
    """Largest surface of a jar: its straight wall, without lid, base, neck and shoulder [cm2].

    diameter_cm, height_cm: outside diameter, and height of the straight wall [cm].
    That this is a jar's largest surface is a reading that each law judges for itself.

    >>> round(straight_wall_surface_cm2(diameter_cm=Decimal(5), height_cm=Decimal(5)), 1)
    Decimal('78.5')
    """
    return PI * diameter_cm * height_cm


def points_for_x_height(x_height_mm: Decimal, *, x_height_em: Decimal) -> Decimal:
    """Type size that reaches an x-height, rounded up to a tenth of a point [pt].

    x_height_em: x-height of the font, in parts of its size (OS/2 sxHeight / unitsPerEm).

    >>> points_for_x_height(Decimal("1.2"), x_height_em=Decimal("0.519"))
    Decimal('6.6')
    """
    return (x_height_mm / MM_PER_POINT / x_height_em).quantize(Decimal("0.1"), ROUND_CEILING)
