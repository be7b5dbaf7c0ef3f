"""Declared quantities gathered from a recipe: one by one, by category, and as a name speaks."""

import re
from collections.abc import Callable, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from decimal import Decimal

from labels.facts import UsedIngredient
from labels.mechanics.text import forms, one_line, words_of

_SHORTEST_TELLING_WORD = 3
_WORD_AND_PER_CENT = re.compile(r"([^\W\d_]+)[\s(]*(\d+(?:[.,]\d+)?)\s*%")


@dataclass(frozen=True)
class Due:
    """What is to be declared with one figure, and why; a part counts within its compound."""

    ingredients: tuple[UsedIngredient, ...]
    why: str
    category: str = ""
    is_part: bool = False


@dataclass(frozen=True)
class Declared:
    """One declared quantity: of an ingredient, or of a whole category (`category` is its word).

    exact_pct: the quantity as share of the food, not rounded [%].
    shown: the figure as printed, "77 %" or "77 g per 100 g".
    why: what makes it due.
    of: the word between a weight and what is weighed; empty where the language has none.
    """

    ingredients: tuple[UsedIngredient, ...]
    exact_pct: Decimal
    shown: str
    why: str
    of: str
    category: str = ""
    is_by_weight: bool = False
    is_in_name: bool = False

    @property
    def name(self) -> str:
        """What the quantity is of."""
        return self.category or self.ingredients[0].name

    @property
    def sentence(self) -> str:
        """The quantity as a statement of its own: "120 g of tomatoes per 100 g"."""
        if self.is_by_weight:
            named = f"{self.of} {one_line(self.name)}".strip()
            return self.shown.replace(" g ", f" g {named} ", 1)
        return f"{one_line(self.name)} {self.shown}"


def telling_words(text: str, *, of_form: AbstractSet[str]) -> frozenset[str]:
    """The words of a name that say what it is, each as singular and plural.

    of_form: words that only say in what form or of what kind it is.

    >>> sorted(telling_words("Dried figs in oil", of_form={"dried", "oil"}))
    ['fig', 'figs']
    """
    said = (w for w in words_of(text) if len(w) >= _SHORTEST_TELLING_WORD and w not in of_form)
    return frozenset(form for w in said for form in forms(w))


def figure_beside(text: str, *, names: AbstractSet[str]) -> Decimal | None:
    """The per cent that a text states behind one of some words in lower case; None if none.

    >>> figure_beside("Quince (62,5 %) paste", names={"quince"})
    Decimal('62.5')
    """
    for match in _WORD_AND_PER_CENT.finditer(text):
        if match[1].casefold() in names:
            return Decimal(match[2].replace(",", "."))
    return None


def what_is_due(
    real: Sequence[UsedIngredient],
    *,
    named: frozenset[str],
    why: Callable[[UsedIngredient, frozenset[str]], str],
    telling: Callable[[str], frozenset[str]],
    why_grouped: str,
) -> list[Due]:
    """What calls for a quantity, in the order of the recipe; typed categories come last.

    named: the words that the name of the food says. why: what makes an ingredient due beside such
    words, or "". A word that a compound answers for is not asked of its parts again.
    """
    single: list[Due] = []
    grouped: dict[str, list[UsedIngredient]] = {}
    for ingredient in real:
        reason = why(ingredient, named)
        if reason and ingredient.quid_category:
            grouped.setdefault(one_line(ingredient.quid_category), []).append(ingredient)
        elif reason:
            single.append(Due((ingredient,), reason))
        left = named - telling(f"{ingredient.name} {ingredient.called}") if reason else named
        single += [
            Due((part,), of_part, is_part=bool(reason))
            for whole in ingredient.parts
            for part in whole.with_parts()
            if (of_part := why(part, left))
        ]
    return single + [Due(tuple(kinds), why_grouped, name) for name, kinds in grouped.items()]


def categories_named(
    real: Sequence[UsedIngredient],
    *,
    due: Sequence[Due],
    said: str,
    words: Mapping[str, AbstractSet[str]],
    label: Callable[[str], str],
    why: str,
) -> list[Due]:
    """One figure for a category that a name speaks of, where no kind of it stands by itself.

    said: the name of the food. words: what each category is called in it. label: its printed word.
    """
    found = []
    claimed = [i for d in due for i in d.ingredients]
    spoken = set(words_of(said))
    for category, names in words.items():
        kinds = tuple(i for i in real if i.category == category)
        free = all(not i.varying_mix and not i.quid_exemption and i not in claimed for i in kinds)
        if kinds and free and names & spoken:
            found.append(Due(kinds, why, label(category)))
    return found
