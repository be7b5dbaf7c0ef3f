"""How large a cook is, from what was typed; and what stands in the way, said at its box."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from decimal import ROUND_DOWN, Decimal

from costing.forms.cook_lines import LinesForm
from costing.forms.cook_start import (
    AS_WRITTEN,
    BY_BASE,
    BY_MOULDS,
    BY_NET,
    BY_PAN,
    BY_PIECES,
    BY_SCARCEST,
    BY_UNITS,
    StartForm,
)
from costing.models import Mould, Product
from costing.reckoning.book import CostSheet
from costing.reckoning.errors import MassUnknown, ReckoningError
from costing.reckoning.figures import say
from costing.reckoning.moulds import check_density, slab_mass_g
from costing.reckoning.paste_density import paste_g_per_ml, strength_of
from costing.reckoning.weighing import (
    CookStart,
    as_weighed,
    start_by_base,
    start_by_jars,
    start_by_moulds,
    start_by_net,
    start_by_pan,
    start_by_pieces,
    start_by_scarcest,
)

_KILO = Decimal(1000)
_SMALLEST = Decimal("0.000001")
_BOXES = {
    "net_g": "net_kg", "base_g": "base_kg", "jars": "units", "fill_g": "product",
    "mould_g": "mould", "density_g_per_ml": "density", "is_base": "base_kg",
}  # fmt: skip
"""The sums' word for a figure -> the box it is typed in."""


@dataclass(frozen=True)
class Size:
    """A cook in its size. notes: what was taken for it, such as a density nobody measured."""

    start: CookStart
    notes: tuple[str, ...] = ()

    @property
    def factor(self) -> Decimal:
        """How many times the recipe, never rounded up: half a pan stays half."""
        return max(self.start.factor.quantize(_SMALLEST, rounding=ROUND_DOWN), _SMALLEST)


def as_written(sheet: CostSheet) -> Size:
    """The recipe as it stands."""
    return Size(CookStart(Decimal(1), sheet.recipe, "as it is written"))


def size_or_mistake(form: StartForm, lines: LinesForm, sheet: CostSheet) -> Size:
    """The size that was asked for; what stands in its way is put at the box it concerns."""
    try:
        return _WAYS[form.cleaned_data["size_by"]](form, lines, sheet)
    except MassUnknown as unknown:
        sentence = unknown.questions[0].sentence if unknown.questions else str(unknown)
        form.add_error("size_by", f"How much comes out is not known yet. {sentence}")
    except ReckoningError as error:
        box = _BOXES.get(error.field, error.field)
        hand = f"hand-{error.line}-0"
        if error.field == "in_hand_g" and hand in lines.fields:
            lines.add_error(hand, str(error))
        else:
            form.add_error(box if box in form.fields else "size_by", str(error))
    return as_written(sheet)


def _by_base(form: StartForm, _lines: LinesForm, sheet: CostSheet) -> Size:
    return Size(start_by_base(sheet, base_g=form.cleaned_data["base_kg"] * _KILO))


def _by_net(form: StartForm, _lines: LinesForm, sheet: CostSheet) -> Size:
    return Size(start_by_net(sheet, net_g=form.cleaned_data["net_kg"] * _KILO))


def _by_units(form: StartForm, _lines: LinesForm, sheet: CostSheet) -> Size:
    product = form.products[form.cleaned_data["product"]]
    units = int(form.cleaned_data["units"])
    start = start_by_jars(sheet, jars=units, fill_g=product.fill_g)
    if product.form != Product.Form.JAR:
        start = replace(start, because=f"{units} of {product.name}, {say(product.fill_g)} g each")
    return Size(start)


def _by_moulds(form: StartForm, _lines: LinesForm, sheet: CostSheet) -> Size:
    mould = form.kept_moulds[form.cleaned_data["mould"]]
    mould_g, notes = _mould_g(form, mould, sheet)
    count = int(form.cleaned_data["moulds"])
    start = start_by_moulds(sheet, moulds=count, mould_g=mould_g)
    return Size(start, (*notes, *_too_few(mould, count)))


def _by_pieces(form: StartForm, _lines: LinesForm, sheet: CostSheet) -> Size:
    mould = form.kept_moulds[form.cleaned_data["mould"]]
    mould_g, notes = _mould_g(form, mould, sheet)
    wanted, each = int(form.cleaned_data["pieces"]), int(form.cleaned_data["pieces_a_mould"])
    start = start_by_pieces(sheet, pieces=wanted, pieces_a_mould=each, mould_g=mould_g)
    return Size(start, (*notes, *_too_few(mould, -(-wanted // each))))


def _by_scarcest(_form: StartForm, lines: LinesForm, sheet: CostSheet) -> Size:
    return Size(start_by_scarcest(as_weighed(sheet), in_hand_g=lines.in_hand_g()))


def _by_pan(form: StartForm, _lines: LinesForm, sheet: CostSheet) -> Size:
    capacity_l = form.pans[form.cleaned_data["pan"]].capacity_l or Decimal(0)
    return Size(start_by_pan(sheet, pan_ml=capacity_l * _KILO))


_WAYS: dict[str, Callable[[StartForm, LinesForm, CostSheet], Size]] = {
    AS_WRITTEN: lambda _form, _lines, sheet: as_written(sheet),
    BY_BASE: _by_base,
    BY_NET: _by_net,
    BY_UNITS: _by_units,
    BY_MOULDS: _by_moulds,
    BY_PIECES: _by_pieces,
    BY_SCARCEST: _by_scarcest,
    BY_PAN: _by_pan,
}


def _mould_g(form: StartForm, mould: Mould, sheet: CostSheet) -> tuple[Decimal, tuple[str, ...]]:
    """What a mould takes to the depth asked for, by the density typed or the recipe's own."""
    density: Decimal | None = form.cleaned_data["density"]
    notes: tuple[str, ...] = ()
    if density is None:
        density, notes = _reckoned_density(sheet)
    check_density(density)
    mould_g = slab_mass_g(
        length_mm=mould.length_mm,
        width_mm=mould.width_mm,
        depth_mm=form.cleaned_data["depth_mm"],
        density_g_per_ml=density,
    )
    return mould_g, notes


def _reckoned_density(sheet: CostSheet) -> tuple[Decimal, tuple[str, ...]]:
    strength = strength_of(sheet)
    if strength is None:
        raise ReckoningError(
            "The density of this recipe cannot be reckoned: not all its solids are known. Weigh a"
            " small tub of it and type the density.",
            field="density_g_per_ml",
        )
    density = paste_g_per_ml(strength)
    sentence = (
        f"Density taken as {say(density, places=3)} g/ml, from {say(strength.brix, places=1)}"
        " Brix without air. A small tub on the scale knows better."
    )
    return density, (sentence,)


def _too_few(mould: Mould, count: int) -> tuple[str, ...]:
    if mould.owned is None or count <= mould.owned:
        return ()
    return (f"You have {mould.owned} of {mould.name}; {count} are needed.",)
