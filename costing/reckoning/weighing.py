"""The start of a cook: how large, by what there is; and weights a kitchen scale can show."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal

from costing.reckoning.book import CostSheet, RecipeRecord
from costing.reckoning.errors import MassUnknown, ReckoningError
from costing.reckoning.figures import more_than_nothing, nothing_or_more, say
from costing.reckoning.lines import is_bought_whole
from costing.reckoning.scaling import factor_for_net, scale, scaling_caution

HUNDRED, MM3_PER_ML = Decimal(100), Decimal(1000)
HALF_FULL_PCT = Decimal(50)
"""A boiling pan foams up: half full at most (common practice)."""
WATER_G_PER_ML = Decimal(1)
"""Density taken when none is known: it gives the smaller cook, for fruit with sugar is denser."""

_PI = Decimal("3.14159265358979")
_STEPS_G = (
    (Decimal(10), Decimal("0.1")),
    (Decimal(50), Decimal(1)),
    (Decimal(1000), Decimal(5)),
    (Decimal(10_000), Decimal(10)),
)
_LARGEST_STEP_G, _SPICE_STEP_G = Decimal(50), Decimal(1)
_LARGE_ERROR_PCT = Decimal(1)

_FOAM = (
    "Boiling sugar foams up and burns badly: fill the pan half full at most, stir with a long "
    "spoon, and keep children away (common practice)."
)


# --- Weights to weigh out -------------------------------------------------------------------------


@dataclass(frozen=True)
class Weighing:
    """One line of the kitchen sheet. error_g: weighed less exact; is_large: above 1 % of it."""

    name: str
    exact_g: Decimal
    weigh_g: Decimal
    step_g: Decimal

    @property
    def error_g(self) -> Decimal:
        """What rounding adds; negative when it takes away."""
        return self.weigh_g - self.exact_g

    @property
    def error_pct(self) -> Decimal:
        """The same as a share of the exact weight."""
        return self.error_g * HUNDRED / self.exact_g if self.exact_g else Decimal(0)

    @property
    def is_large(self) -> bool:
        """Whether rounding moves it by more than one part in a hundred."""
        return abs(self.error_pct) > _LARGE_ERROR_PCT


@dataclass(frozen=True)
class WeighingList:
    """All lines of a cook. unknown: names of lines whose weight cannot be told; they are missing
    from the sums.
    """

    lines: tuple[Weighing, ...]
    unknown: tuple[str, ...]

    @property
    def weigh_g(self) -> Decimal:
        """Sum of what is weighed out."""
        return sum((line.weigh_g for line in self.lines), Decimal(0))

    @property
    def error_g(self) -> Decimal:
        """What rounding adds to the whole pan."""
        return sum((line.error_g for line in self.lines), Decimal(0))


def weighing_step_g(exact_g: Decimal, *, is_spice: bool = False) -> Decimal:
    """The step to weigh a mass in: 5 g below 1 kg, 10 g to 10 kg, 50 g above; spices 1 g.

    Below 50 g the step is 1 g and below 10 g a tenth, for 5 g would be a large share of it (all
    common practice).
    """
    for below_g, step_g in _STEPS_G:
        if exact_g < below_g:
            return min(step_g, _SPICE_STEP_G) if is_spice else step_g
    return _SPICE_STEP_G if is_spice else _LARGEST_STEP_G


def round_to_weigh(name: str, *, exact_g: Decimal, is_spice: bool = False) -> Weighing:
    """A weight as the scale shows it, half a step up; never rounded to nothing."""
    nothing_or_more(exact_g, what=f"The weight of {name}", field="amount", unit="g")
    step_g = weighing_step_g(exact_g, is_spice=is_spice)
    steps = (exact_g / step_g).to_integral_value(ROUND_HALF_UP)
    weigh_g = steps * step_g
    if exact_g > 0 and weigh_g == 0:  # a trace: below the finest step it is left as it is
        weigh_g = step_g = exact_g
    return Weighing(name, exact_g, weigh_g, step_g)


def as_weighed(sheet: CostSheet, *, factor: Decimal = Decimal(1)) -> CostSheet:
    """The sheet with its lines in another size, each in the state it is written in.

    What is written as bought (crates, pieces) is weighed as bought; `used_g` then holds that mass.
    """
    lines = []
    for line in sheet.lines:
        mass_g = line.purchased_g if is_bought_whole(line.line) else line.used_g
        lines.append(replace(line, used_g=None if mass_g is None else mass_g * factor))
    return replace(sheet, lines=tuple(lines))


def weighing_list(sheet: CostSheet, *, spices: Collection[int] = ()) -> WeighingList:
    """The lines of a costed recipe as they are weighed out, prepared.

    spices: positions of the lines, from 0, that are weighed to a gram: spices, pectin, acid.
    """
    weighed: list[Weighing] = []
    unknown: list[str] = []
    for position, line in enumerate(sheet.lines):
        if line.used_g is None:
            unknown.append(line.name)
            continue
        is_spice = position in spices
        weighed.append(round_to_weigh(line.name, exact_g=line.used_g, is_spice=is_spice))
    return WeighingList(tuple(weighed), tuple(unknown))


# --- How large ------------------------------------------------------------------------------------


@dataclass(frozen=True)
class CookStart:
    """A recipe in the size of this cook. because: in words, what set the size.

    units: whole pieces, jars or moulds it is meant for, where it was asked by them.
    left_over: by position of the line, what stays on the shelf [g]; only by scarcest ingredient.
    """

    factor: Decimal
    recipe: RecipeRecord
    because: str
    units: int | None = None
    left_over: Mapping[int, Decimal] | None = None
    cautions: tuple[str, ...] = ()


def start_by_base(sheet: CostSheet, *, base_g: Decimal) -> CookStart:
    """Use up the base in hand: "I have this much puree"."""
    more_than_nothing(base_g, what="The base", field="base_g", unit="g")
    if sheet.base_g is None:
        raise ReckoningError(
            f"{sheet.recipe.name} has no base. Mark the line that is the base.", field="is_base"
        )
    return _start(sheet, base_g / sheet.base_g, f"all {say(base_g)} g of the base")


def start_by_net(sheet: CostSheet, *, net_g: Decimal) -> CookStart:
    """As much as leaves a finished mass, the film on the pan staying the same."""
    more_than_nothing(net_g, what="The finished mass", field="net_g", unit="g")
    factor = factor_for_net(sheet, net_g=net_g)
    return _start(sheet, factor, f"{say(net_g)} g finished")


def start_by_jars(sheet: CostSheet, *, jars: int, fill_g: Decimal) -> CookStart:
    """As much as fills a number of jars to their target."""
    count = _count(jars, what="jars", field="jars")
    more_than_nothing(fill_g, what="The filling of a jar", field="fill_g", unit="g")
    factor = factor_for_net(sheet, net_g=count * fill_g)
    return _start(sheet, factor, f"{count} jars of {say(fill_g)} g", units=count)


def start_by_moulds(sheet: CostSheet, *, moulds: int, mould_g: Decimal) -> CookStart:
    """As much as fills a number of moulds to the required depth."""
    count = _count(moulds, what="moulds", field="moulds")
    more_than_nothing(mould_g, what="A mould", field="mould_g", unit="g")
    factor = factor_for_net(sheet, net_g=count * mould_g)
    return _start(sheet, factor, f"{count} moulds of {say(mould_g)} g", units=count)


def start_by_pieces(
    sheet: CostSheet, *, pieces: int, pieces_a_mould: int, mould_g: Decimal
) -> CookStart:
    """As many whole moulds as give a number of pieces; a part of a mould cannot be cut to weight.

    units: pieces that come of it, at least those asked for.
    """
    wanted = _count(pieces, what="pieces", field="pieces")
    each = _count(pieces_a_mould, what="pieces from a mould", field="pieces_a_mould")
    more_than_nothing(mould_g, what="A mould", field="mould_g", unit="g")
    moulds = int((Decimal(wanted) / each).to_integral_value(ROUND_CEILING))
    factor = factor_for_net(sheet, net_g=moulds * mould_g)
    because = f"{moulds} full moulds, {moulds * each} pieces for the {wanted} asked for"
    return _start(sheet, factor, because, units=moulds * each)


def start_by_scarcest(sheet: CostSheet, *, in_hand_g: Mapping[int, Decimal]) -> CookStart:
    """As much as the scarcest ingredient allows.

    in_hand_g: prepared mass there is, by position of the line from 0. Lines left out are taken as
        plenty, and said.
    Raises ReckoningError when something needed is not there at all, or nothing was counted.
    """
    allows: dict[int, Decimal] = {}
    for position, have_g in in_hand_g.items():
        line = sheet.lines[_position(sheet, position)]
        nothing_or_more(have_g, what=f"What there is of {line.name}", field="in_hand_g", unit="g")
        if line.used_g is None:
            raise MassUnknown(sheet.questions)
        if line.used_g > 0:
            allows[position] = have_g / line.used_g
    if not allows:
        raise ReckoningError("Say how much there is of at least one line.", field="in_hand_g")
    scarcest = min(allows, key=lambda position: (allows[position], position))
    factor, line = allows[scarcest], sheet.lines[scarcest]
    if factor <= 0:
        raise ReckoningError(
            f"There is no {line.name}, and {sheet.recipe.name} needs it.",
            field="in_hand_g",
            line=scarcest,
        )
    left = {
        position: in_hand_g[position] - factor * (sheet.lines[position].used_g or Decimal(0))
        for position in allows
    }
    left[scarcest] = Decimal(0)
    because = f"{say(in_hand_g[scarcest])} g of {line.name}, the scarcest"
    plenty = [other.name for n, other in enumerate(sheet.lines) if n not in in_hand_g]
    said = (f"Not counted, taken as plenty: {', '.join(plenty)}.",) if plenty else ()
    return _start(sheet, factor, because, left_over=left, cautions=said)


def start_by_pan(
    sheet: CostSheet,
    *,
    pan_ml: Decimal,
    density_g_per_ml: Decimal = WATER_G_PER_ML,
    full_pct: Decimal = HALF_FULL_PCT,
) -> CookStart:
    """As much as a pan takes before boiling, half full at most because of the foam.

    pan_ml: what it holds to the brim. density_g_per_ml: of what goes in; unknown, that of water.
    Raises ReckoningError for more than half full.
    """
    more_than_nothing(pan_ml, what="The pan", field="pan_ml", unit="ml")
    if not Decimal("0.5") <= density_g_per_ml <= Decimal("1.6"):
        raise ReckoningError(
            "What goes into a pan weighs between 0.5 and 1.6 g a millilitre.",
            field="density_g_per_ml",
        )
    if not 0 < full_pct <= HALF_FULL_PCT:
        raise ReckoningError(
            f"A pan is filled to {HALF_FULL_PCT} % at most: boiling sugar foams over and burns.",
            field="full_pct",
        )
    if sheet.ingoing_g is None or sheet.ingoing_g <= 0:
        raise MassUnknown(tuple(q for q in sheet.questions if q.blocks == "mass"))
    factor = pan_ml * full_pct / HUNDRED * density_g_per_ml / sheet.ingoing_g
    return _start(sheet, factor, f"a pan of {say(pan_ml)} ml, {say(full_pct)} % full")


def pan_capacity_ml(*, diameter_mm: Decimal, height_mm: Decimal) -> Decimal:
    """What a straight round pan holds to the brim, to a millilitre."""
    more_than_nothing(diameter_mm, what="The diameter", field="diameter_mm", unit="mm")
    more_than_nothing(height_mm, what="The height", field="height_mm", unit="mm")
    return (_PI * diameter_mm * diameter_mm / 4 * height_mm / MM3_PER_ML).quantize(Decimal(1))


def pan_caution(
    ingoing_g: Decimal, *, pan_ml: Decimal, density_g_per_ml: Decimal = WATER_G_PER_ML
) -> str:
    """What to say when a cook fills a pan more than half, or an empty text."""
    more_than_nothing(pan_ml, what="The pan", field="pan_ml", unit="ml")
    more_than_nothing(density_g_per_ml, what="The density", field="density_g_per_ml", unit="g/ml")
    full_pct = ingoing_g / density_g_per_ml * HUNDRED / pan_ml
    if full_pct <= HALF_FULL_PCT:
        return ""
    return (
        f"This fills the pan to {say(full_pct, places=0)} %. {_FOAM} Take a larger pan or cook "
        "twice."
    )


def _position(sheet: CostSheet, position: int) -> int:
    if not 0 <= position < len(sheet.lines):
        raise ReckoningError("That line is not in the recipe.", field="in_hand_g", line=position)
    return position


def _count(number: int, *, what: str, field: str) -> int:
    if not 1 <= number <= 1_000_000:
        raise ReckoningError(f"Say how many {what}: at least one.", field=field)
    return number


def _start(
    sheet: CostSheet,
    factor: Decimal,
    because: str,
    *,
    units: int | None = None,
    left_over: Mapping[int, Decimal] | None = None,
    cautions: tuple[str, ...] = (),
) -> CookStart:
    review = scaling_caution(factor)
    return CookStart(
        factor=factor,
        recipe=scale(sheet.recipe, factor=factor),
        because=because,
        units=units,
        left_over=left_over,
        cautions=(*cautions, *((review,) if review else ()), _FOAM),
    )
