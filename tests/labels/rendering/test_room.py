"""What a label without room would need: set on that paper it fits, and on less it does not."""

from dataclasses import replace
from decimal import Decimal

import pytest

from labels.facts import LabelBox
from labels.rendering.layout import fit_label
from labels.rendering.room import has_room, room_needed
from labels.stock import SHEETS
from tests.labels.rendering.by_hand import LARGE, a_damson_cheese, a_tomato_chutney
from tests.labels.rendering.reading import x_heights_mm

SMALL = LabelBox(Decimal(45), Decimal(25))
PAPERS = [(sheet, sheet.box()) for sheet in SHEETS]
HALF_MM = Decimal("0.5")


@pytest.fixture(scope="module")
def room():
    return room_needed(fit_label(a_tomato_chutney(), box=SMALL), papers=PAPERS)


def test_a_label_that_fits_needs_nothing():
    assert room_needed(fit_label(a_damson_cheese(), box=LARGE), papers=PAPERS) is None


@pytest.mark.parametrize("side", ["height_mm", "width_mm"])
def test_on_the_paper_it_asks_for_it_is_drawn_whole_and_on_half_a_millimetre_less_has_no_room(
    room, side
):
    least = getattr(room, side)
    assert least > getattr(SMALL, side)
    assert fit_label(a_tomato_chutney(), box=replace(SMALL, **{side: least})).fits
    assert not has_room(a_tomato_chutney(), box=replace(SMALL, **{side: least - HALF_MM}))


def test_the_type_that_would_fit_is_lower_than_the_law_allows_and_does_fit(room):
    # Regulation (EU) No 1169/2011, Art. 13(2): 1.2 mm.
    assert room.least_mm == Decimal("1.2")
    assert room.x_height_mm < Decimal("1.2")
    face = a_tomato_chutney()
    lower = tuple(
        replace(each, minimum_x_height_mm=room.x_height_mm - Decimal("0.05"))
        for each in face.particulars
    )
    fitted = fit_label(replace(face, particulars=lower), box=SMALL)
    assert fitted.fits
    assert min(x_heights_mm(fitted.pdf).values()) == pytest.approx(
        float(room.x_height_mm), abs=0.03
    )


def test_every_sheet_it_names_holds_it_the_smallest_labels_first(room):
    areas = [each.label_width_mm * each.label_height_mm for each in room.sheets]
    assert areas == sorted(areas)
    assert fit_label(a_tomato_chutney(), box=room.sheets[0].box()).fits
    others = [sheet for sheet in SHEETS if sheet not in room.sheets]
    assert all(not has_room(a_tomato_chutney(), box=sheet.box()) for sheet in others)


def test_around_a_jar_a_longer_paper_does_not_help():
    box = LabelBox(Decimal(90), Decimal(14), seen_mm=Decimal(40))
    face = a_tomato_chutney(layout="wrap")
    room = room_needed(fit_label(face, box=box), papers=())
    assert room.width_mm is None
    assert room.height_mm > box.height_mm
    assert room.sheets == ()


def test_what_no_readable_type_would_fit_says_so():
    face = a_tomato_chutney()
    endless = replace(face.particulars[1], runs=face.particulars[1].runs * 40)
    face = replace(face, particulars=(face.particulars[0], endless, *face.particulars[2:]))
    room = room_needed(fit_label(face, box=SMALL), papers=PAPERS[:1])
    assert room.x_height_mm is None
    assert "ingredients" in room.kinds
