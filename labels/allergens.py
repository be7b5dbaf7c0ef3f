"""The fourteen allergen groups: what an ingredient brings of them, and what may get in beside."""

from dataclasses import dataclass

ALLERGEN_GROUPS = (
    "gluten",
    "crustaceans",
    "eggs",
    "fish",
    "peanuts",
    "soybeans",
    "milk",
    "nuts",
    "celery",
    "mustard",
    "sesame",
    "sulphites",
    "lupin",
    "molluscs",
)
"""Short codes for the fourteen groups of Annex II to Regulation (EU) No 1169/2011, in order."""


@dataclass(frozen=True)
class Allergen:
    """One allergen an ingredient brings: its group, and the word to set apart in the list."""

    group: str
    named_as: str

    def __post_init__(self) -> None:
        if self.group not in ALLERGEN_GROUPS:
            raise ValueError(f"{self.group!r} is not one of the fourteen groups.")
        if not self.named_as:
            raise ValueError(f"The allergen of the group {self.group!r} has no name to print.")


@dataclass(frozen=True)
class CrossContactAnswer:
    """What a recorded assessment says of one allergen group that is no ingredient of the food.

    remains: the risk of cross-contact could not be removed. named_as: the word to print then.
    assessed: by whom and when, in words. outdated_because: why somebody has to look again, in a
        sentence; empty while the assessment stands.
    """

    group: str
    remains: bool
    named_as: str = ""
    assessed: str = ""
    outdated_because: str = ""

    def __post_init__(self) -> None:
        if self.group not in ALLERGEN_GROUPS:
            raise ValueError(f"{self.group!r} is not one of the fourteen groups.")
        if self.remains and not self.named_as:
            raise ValueError(f"The risk that remains of {self.group!r} has no name to print.")
