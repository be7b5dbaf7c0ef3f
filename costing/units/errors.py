"""Why something typed cannot be taken as an amount, in words that say what to type."""


class UnitsError(ValueError):
    """Something typed that cannot be taken as an amount; the message says what to type."""


class NumberNotUnderstood(UnitsError):
    """Not a number in any of the ways people write one."""


class AmbiguousNumber(NumberNotUnderstood):
    """Either a decimal or a thousand: only the person who typed it knows."""


class NumberTooLarge(UnitsError):
    """A number that no kitchen has."""


class UnitNotUnderstood(UnitsError):
    """A unit that is not known, has two meanings, or measures something else."""


class NeedsDensity(UnitsError):
    """A volume of something whose weight per litre is not known."""


class NeedsWeightEach(UnitsError):
    """A count of something whose weight per piece is not known."""


_SHOWN = 30


def shown(text: str) -> str:
    """What was typed, short enough to stand inside a sentence."""
    text = " ".join(text.split())
    return text if len(text) <= _SHOWN else text[:_SHOWN] + "…"
