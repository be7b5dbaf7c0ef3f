"""An ingredient list put in order and set as runs, by terms that a law decides."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from labels.facts import Allergen, TextRun, UsedIngredient
from labels.mechanics.runs import Runs, in_brackets, join
from labels.mechanics.text import one_line

AllergenKey = tuple[str, str]
Told = frozenset[AllergenKey]


@dataclass(frozen=True)
class Entry:
    """One place in the list: the mass that decides its order, and how it reads."""

    weight_g: Decimal
    runs: Runs
    ingredients: tuple[UsedIngredient, ...]

    @property
    def text(self) -> str:
        """The entry as plain text."""
        return "".join(run.text for run in self.runs)


@dataclass(frozen=True)
class Group:
    """Ingredients that share one place, the words for it, and whether they are named in it."""

    members: tuple[UsedIngredient, ...]
    label: str
    names_members: bool


def by_mix(ingredients: Iterable[UsedIngredient]) -> dict[str, list[UsedIngredient]]:
    """Those that share a mix under its name, in the order given; the rest is left out."""
    mixes: dict[str, list[UsedIngredient]] = {}
    for ingredient in ingredients:
        if name := one_line(ingredient.varying_mix):
            mixes.setdefault(name, []).append(ingredient)
    return mixes


@dataclass(frozen=True)
class ListTerms:
    """What a law decides of a list; the setter carries it out and decides nothing.

    weight_g: the mass that decides the place. figure: the quantity to print, or "".
    inside: the parts that are listed within a compound. allergens: those told with it.
    set_apart: text with the allergens' names emphasised, and those it does not name.
    key_of: what makes two allergens the same.
    """

    name: Callable[[UsedIngredient], str]
    weight_g: Callable[[UsedIngredient], Decimal]
    figure: Callable[[UsedIngredient], str]
    inside: Callable[[UsedIngredient], Sequence[UsedIngredient]]
    allergens: Callable[[UsedIngredient], tuple[Allergen, ...]]
    set_apart: Callable[[str, Iterable[Allergen]], tuple[Runs, tuple[Allergen, ...]]]
    key_of: Callable[[Allergen], AllergenKey]


class ListSetter:
    """Sets ingredients as text, for one label."""

    def __init__(self, terms: ListTerms) -> None:
        self._terms = terms

    def in_order(
        self, present: Sequence[UsedIngredient], groups: Iterable[Group]
    ) -> tuple[Entry, ...]:
        """Every ingredient in its place, the heaviest first; equals keep the order given."""
        found: list[tuple[int, Entry]] = []
        for group in groups:
            place = next(n for n, i in enumerate(present) if i is group.members[0])
            found.append((place, self._group(group)))
        grouped = {id(i) for _, entry in found for i in entry.ingredients}
        found += [(n, self._entry(i)) for n, i in enumerate(present) if id(i) not in grouped]
        ordered = sorted(found, key=lambda pair: (-pair[1].weight_g, pair[0]))
        return tuple(entry for _, entry in ordered)

    def _entry(self, ingredient: UsedIngredient) -> Entry:
        runs, _ = self._set(ingredient)
        return Entry(self._terms.weight_g(ingredient), runs, (ingredient,))

    def _group(self, group: Group) -> Entry:
        weigh = self._terms.weight_g
        weight_g = sum(map(weigh, group.members), start=Decimal(0))
        runs: Runs = (TextRun(group.label),)
        if group.names_members:
            heaviest_first = sorted(group.members, key=weigh, reverse=True)
            runs = in_brackets(runs, [join(self._set(i)[0] for i in heaviest_first)])
        return Entry(weight_g, runs, group.members)

    def _set(self, ingredient: UsedIngredient) -> tuple[Runs, Told]:
        """An ingredient with its figure, its own list and its allergens; and which it told."""
        terms = self._terms
        heaviest_first = sorted(terms.inside(ingredient), key=lambda p: p.used_g, reverse=True)
        pieces = [self._set(part) for part in heaviest_first]
        told: Told = frozenset().union(*(t for _, t in pieces))
        own = terms.allergens(ingredient)
        name, missing = terms.set_apart(terms.name(ingredient), own)
        missing = tuple(a for a in missing if terms.key_of(a) not in told)
        details: list[Runs] = []
        if figure := terms.figure(ingredient):
            details.append((TextRun(figure),))
        if pieces:
            details.append(join(runs for runs, _ in pieces))
        if missing:
            details.append(join((TextRun(a.named_as, is_emphasised=True),) for a in missing))
        return in_brackets(name, details), told | {terms.key_of(a) for a in own}
