"""The pack behind a label: its largest surface, what that spares it, and the paper on its wall."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from labels import law
from labels.facts import LabelBox, LabelFacts
from labels.models import LabelDesign
from labels.packs import Pack, Relief, Surface, largest_surface, limit_within_reach, shown_cm2
from labels.rendering.layout import FittedLabel
from labels.rendering.room import Room, room_needed
from labels.stock import LabelSheet

_SEEN = 3
"""A third of the way around a jar is seen well from one place (common practice)."""
_LEAST_BARE_MM = Decimal("0.5")


@dataclass(frozen=True)
class PackSight:
    """A pack as its maker should see it.

    area_cm2: the largest surface, reckoned or typed; None where it is not known. surface: how it
    was reckoned. spared, kept_to: what the law lets go, and what it would on a smaller pack.
    close_to_cm2: the limit that half a millimetre more on each side would reach.
    """

    pack: Pack | None
    surface: Surface | None
    area_cm2: Decimal | None
    x_height_mm: Decimal
    spared: tuple[Relief, ...]
    kept_to: tuple[Relief, ...]
    close_to_cm2: Decimal | None = None

    @property
    def missing(self) -> tuple[str, ...]:
        """The sides that are still to be measured."""
        return self.pack.missing if self.pack else ()


def pack_of(design: LabelDesign) -> Pack | None:
    """The pack a design was measured on; None if its shape is another or was not said."""
    if not design.pack_shape:
        return None
    return Pack(
        design.pack_shape,
        length_mm=design.pack_length_mm,
        width_mm=design.pack_width_mm,
        height_mm=design.pack_height_mm,
        diameter_mm=design.pack_diameter_mm,
    )


def surface_cm2(design: LabelDesign) -> Decimal | None:
    """The largest surface of a design's pack, not rounded: reckoned, else as it was typed [cm2]."""
    pack = pack_of(design)
    surface = largest_surface(pack) if pack else None
    return surface.area_cm2 if surface else design.largest_surface_cm2


def layout_of(design: LabelDesign, *, is_weighed: bool = False) -> str:
    """The layout of a design; a piece that is weighed has one label, so a pair becomes a panel."""
    layout = LabelDesign.Layout
    return layout.TWO_PANEL if is_weighed and design.layout == layout.PAIR else design.layout


def papers_of(design: LabelDesign) -> int:
    """How many labels of a sheet one pack takes."""
    return 2 if design.layout == LabelDesign.Layout.PAIR else 1


def room_for(
    fitted: FittedLabel, design: LabelDesign, *, sheets: Iterable[LabelSheet]
) -> Room | None:
    """What a label that does not fit would need, and which of some sheets hold it."""
    return room_needed(fitted, papers=[(sheet, paper_of(design, sheet)) for sheet in sheets])


def paper_of(design: LabelDesign, sheet: LabelSheet) -> LabelBox:
    """The paper of one label as it lies on the pack: what is seen at once, and what is lapped."""
    pack, box = pack_of(design), sheet.box()
    around = pack.circumference_mm if pack else None
    if around is None:
        return box
    lap = box.width_mm - around
    if around <= 2 * box.inset_mm or lap < _LEAST_BARE_MM:
        lap = Decimal(0)
    return replace(box, seen_mm=around / _SEEN, lap_mm=lap)


def pack_sight(design: LabelDesign, *, facts: LabelFacts, on: date) -> PackSight:
    """The pack of a design with its largest surface and what the law of a market makes of it."""
    pack, area = pack_of(design), facts.largest_surface_cm2
    reliefs = law.reliefs(facts.market)
    limits = [each.under_cm2 for each in reliefs]
    spared = tuple(each for each in reliefs if area is not None and area < each.under_cm2)
    return PackSight(
        pack=pack,
        surface=largest_surface(pack) if pack else None,
        area_cm2=None if area is None else shown_cm2(area, limits=limits),
        x_height_mm=law.minimum_x_height_mm(facts, on=on),
        spared=spared,
        kept_to=tuple(each for each in reliefs if each not in spared),
        close_to_cm2=limit_within_reach(pack, limits=limits) if pack else None,
    )
