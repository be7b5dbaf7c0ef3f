"""The allergens of Annex II by their names in each language, and how one is told in another.

The texts of the Annex were read in English; the others are those of national lists and
reproductions, each with its mark. A single form beside a plural one ("nuez", "nueces") is ours
(from memory): it only serves to find the name in the text of an ingredient.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace

from labels.facts import Allergen
from labels.law.eu.word_tables import NATIONAL, READ, SECOND, Word
from labels.law.eu.words import forms, one_line
from labels.mechanics.text import names_one_of

KINDS_ARE_NAMED = frozenset(("gluten", "nuts"))
"""Groups in which the cereal or nut itself is named (Annex II, points 1 and 8)."""


@dataclass(frozen=True)
class AnnexRow:
    """One name of the Annex: its group, what English labels call it, and its other languages.

    in_languages: the word to print. also: further forms that name it in running text.
    """

    group: str
    english: tuple[str, ...]
    in_languages: dict[str, Word]
    also: dict[str, tuple[str, ...]]

    def word_in(self, language: str) -> Word | None:
        """The word to print in a language; None where there is none in the table."""
        return self.in_languages.get(language)

    def names_in(self, language: str) -> tuple[str, ...]:
        """Every form that names it in a language."""
        if language == "en":
            return self.english
        printed = self.in_languages.get(language)
        return (*((printed.text,) if printed else ()), *self.also.get(language, ()))


_TONGUES = ("es", "fr", "it", "pt", "de")


def _row(
    group: str,
    english: str,
    texts: str,
    *,
    fr_mark: str = NATIONAL,
    de_mark: str = NATIONAL,
    **also: str,
) -> AnnexRow:
    """A row from "Spanish | French | Italian | Portuguese | German", each with its mark."""
    marks = {"es": NATIONAL, "fr": fr_mark, "it": SECOND, "pt": SECOND, "de": de_mark}
    words = dict(zip(_TONGUES, (text.strip() for text in texts.split("|")), strict=True))
    names = tuple(name.strip() for name in english.split("|"))
    return AnnexRow(
        group=group,
        english=names,
        in_languages={"en": Word(names[0], READ)}
        | {tongue: Word(text, marks[tongue]) for tongue, text in words.items()},
        also={tongue: tuple(text.split("|")) for tongue, text in also.items()},
    )


ROWS = (
    _row("gluten", "wheat|spelt|khorasan|kamut|durum", "trigo | blé | grano | trigo | Weizen",
         de_mark=READ, es="espelta", it="frumento|farro", pt="espelta", de="Dinkel"),
    _row("gluten", "rye", "centeno | seigle | segale | centeio | Roggen", de_mark=READ),
    _row("gluten", "barley", "cebada | orge | orzo | cevada | Gerste", de_mark=READ),
    _row("gluten", "oats|oat", "avena | avoine | avena | aveia | Hafer", de_mark=READ),
    _row("crustaceans", "crustaceans", "crustáceos | crustacés | crostacei | crustáceos | "
         "Krebstiere", de_mark=READ),
    _row("eggs", "eggs|egg", "huevos | œufs | uova | ovos | Eier", de_mark=READ, es="huevo",
         fr="œuf|oeuf|oeufs", it="uovo", pt="ovo", de="Ei"),
    _row("fish", "fish", "pescado | poissons | pesce | peixes | Fische", de_mark=READ, fr="poisson",
         pt="peixe", de="Fisch"),
    _row("peanuts", "peanuts|peanut", "cacahuetes | arachides | arachidi | amendoins | Erdnüsse",
         de_mark=READ, es="cacahuete", fr="arachide", it="arachide", pt="amendoim", de="Erdnuss"),
    _row("soybeans", "soybeans|soya|soy", "soja | soja | soia | soja | Sojabohnen", de_mark=READ,
         de="Soja"),
    _row("milk", "milk", "leche | lait | latte | leite | Milch"),
    _row("nuts", "almonds", "almendras | amandes | mandorle | amêndoas | Mandeln", es="almendra",
         fr="amande", it="mandorla", pt="amêndoa", de="Mandel"),
    _row("nuts", "hazelnuts", "avellanas | noisettes | nocciole | avelãs | Haselnüsse",
         es="avellana", fr="noisette", it="nocciola", pt="avelã", de="Haselnuss"),
    _row("nuts", "walnuts", "nueces | noix | noci | nozes | Walnüsse", es="nuez", it="noce",
         pt="noz", de="Walnuss"),
    _row("nuts", "cashews", "anacardos | noix de cajou | noci di acagiù | castanhas de caju | "
         "Kaschunüsse", es="anacardo", it="anacardi", de="Kaschunuss"),
    _row("nuts", "pecan nuts|pecan", "pacanas | noix de pécan | noci di pecan | nozes pécan | "
         "Pecannüsse", es="pacana", de="Pecannuss"),
    _row("nuts", "Brazil nuts", "nueces de Brasil | noix du Brésil | noci del Brasile | "
         "castanhas do Brasil | Paranüsse", fr_mark=SECOND, de="Paranuss"),
    _row("nuts", "pistachio nuts|pistachio", "pistachos | pistaches | pistacchi | pistácios | "
         "Pistazien", fr_mark=SECOND, es="pistacho|alfóncigos", fr="pistache", it="pistacchio",
         pt="pistácio", de="Pistazie"),
    _row("nuts", "macadamia nuts|macadamia|Queensland nuts", "nueces macadamia | "
         "noix de Macadamia | noci macadamia | nozes de macadâmia | Macadamianüsse",
         fr_mark=SECOND),
    _row("celery", "celery|celeriac", "apio | céleri | sedano | aipo | Sellerie", fr_mark=SECOND),
    _row("mustard", "mustard", "mostaza | moutarde | senape | mostarda | Senf", fr_mark=SECOND),
    _row("sesame", "sesame seeds|sesame", "granos de sésamo | graines de sésame | "
         "semi di sesamo | sementes de sésamo | Sesamsamen", fr_mark=SECOND, es="sésamo",
         fr="sésame", it="sesamo", pt="sésamo", de="Sesam"),
    _row("sulphites", "sulphites|sulphur dioxide", "sulfitos | sulfites | solfiti | sulfitos | "
         "Sulfite", fr_mark=SECOND, es="dióxido de azufre", fr="anhydride sulfureux",
         it="anidride solforosa", pt="dióxido de enxofre", de="Schwefeldioxid"),
    _row("lupin", "lupin", "altramuces | lupin | lupini | tremoço | Lupinen", fr_mark=SECOND,
         es="altramuz", it="lupino", pt="tremoços", de="Lupine"),
    _row("molluscs", "molluscs", "moluscos | mollusques | molluschi | moluscos | Weichtiere",
         fr_mark=SECOND),
)  # fmt: skip
"""The Annex in its order, without the words that only group what is named by kind."""


def row_of(allergen: Allergen) -> AnnexRow | None:
    """The row an allergen belongs to: by its group, or by the kind of cereal or nut it names."""
    rows = [row for row in ROWS if row.group == allergen.group]
    if allergen.group not in KINDS_ARE_NAMED:
        return rows[0]
    for row in rows:
        if any(_is_named(allergen, row, tongue) for tongue in ("en", *_TONGUES)):
            return row
    english = (row for row in rows if names_one_of(allergen.named_as, row.english))
    return next(english, None)


def said_in(allergen: Allergen, *, language: str) -> Allergen | None:
    """The same allergen by the name that Annex II has for it in a language; None if it has none.

    In English the maker's own word stands: the rules on English names judge it.
    """
    row = row_of(allergen)
    if language == "en":
        is_foreign = row is not None and _is_foreign(allergen, row)
        return replace(allergen, named_as=row.english[0]) if row and is_foreign else allergen
    word = row.word_in(language) if row else None
    if row is None or word is None:
        return None
    if _is_named(allergen, row, language):
        return allergen
    return replace(allergen, named_as=word.text)


def _is_named(allergen: Allergen, row: AnnexRow, language: str) -> bool:
    """Whether the maker's word is one of the row's in a language; plurals are known in English."""
    said, names = one_line(allergen.named_as), row.names_in(language)
    if language == "en":
        return any(forms(said) & forms(name) for name in names)
    return said.casefold() in {name.casefold() for name in names}


def _is_foreign(allergen: Allergen, row: AnnexRow) -> bool:
    """Whether the name is one of the Annex in another language, and none in English."""
    return not _is_named(allergen, row, "en") and any(
        _is_named(allergen, row, tongue) for tongue in _TONGUES
    )


def also_named(allergen: Allergen) -> tuple[str, ...]:
    """Other forms of the name in its language, by which it is found in running text."""
    row = row_of(allergen)
    spoken = (t for t in _TONGUES if row is not None and _is_named(allergen, row, t))
    tongue = next(spoken, "")
    return row.names_in(tongue) if row is not None and tongue else ()


def unconfirmed_allergens(allergens: Iterable[Allergen], *, language: str) -> tuple[Word, ...]:
    """The words of some allergens whose official text was not read in the language."""
    rows = (row_of(allergen) for allergen in allergens)
    words = (row.word_in(language) for row in rows if row is not None)
    return tuple(w for w in words if w is not None and w.mark != READ)


_INNOCENT = re.compile(
    r"\b(?:leche de coco|nue(?:z|ces) moscadas?|trigo sarraceno|noix de coco|noix de muscade"
    r"|lait de coco|blé noir|blé sarrasin|latte di cocco|noc[ei] di cocco|noc[ei] moscat[ae]"
    r"|grano saraceno|leite de coco|noz(?:es)?-moscadas?|noz moscada)\b",
    re.IGNORECASE,
)
"""Coconut, nutmeg and buckwheat, whose names hold the word of an allergen (from memory)."""


def groups_named_in(name: str, *, language: str) -> set[str]:
    """The groups of the Annex that a name speaks of, by its words in one language."""
    plain = _INNOCENT.sub("", name)
    found = {row.group for row in ROWS if names_one_of(plain, row.names_in(language))}
    return found - {"sulphites"}  # those are told by the figure
