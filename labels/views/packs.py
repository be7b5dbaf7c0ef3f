"""What the label pages show of the pack: its surface, its picture, and room that is missing."""

from collections.abc import Iterable
from typing import Any

from labels.models import LabelDesign
from labels.services.packs import pack_of, pack_sight, room_for
from labels.services.printing import LabelOrder, PreparedLabel
from labels.stock import LabelSheet
from labels.views.pack_picture import pack_picture
from labels.views.showing import HEADINGS

_OWN_WORDS = {
    "brand": "Brand name",
    "tagline": "Your own line",
    "note": "Your note",
    "code": "The code",
}


def pack_context(
    design: LabelDesign,
    prepared: PreparedLabel,
    *,
    order: LabelOrder,
    sheets: Iterable[LabelSheet],
) -> dict[str, Any]:
    """The pack with what the law spares it, drawn to scale, and what a full label would need."""
    pack = pack_of(design)
    shown: dict[str, Any] = {
        "sight": pack_sight(design, facts=prepared.facts, on=order.on),
        "pack_drawing": pack_picture(pack, sheet=order.sheet) if pack else None,
    }
    if prepared.fitted is None or prepared.fitted.fits:
        return shown
    room = room_for(prepared.fitted, design, sheets=sheets)
    kinds = room.kinds if room else ()
    headings = HEADINGS | _OWN_WORDS
    return shown | {"room": room, "room_headings": [headings.get(kind, kind) for kind in kinds]}
