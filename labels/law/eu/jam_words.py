"""The words of the jam family in the languages of a label, and the fruits its law tells apart.

Names of products as read in national transpositions; the statements are from memory in all
languages but English.
"""

import re
import unicodedata
from functools import lru_cache

from labels.law.eu.words import Word, forms, one_line, words_of

JAM, EXTRA_JAM, JELLY, EXTRA_JELLY = "jam", "extra jam", "jelly", "extra jelly"
MARMALADE, JELLY_MARMALADE = "citrus marmalade", "jelly marmalade"
CHESTNUT_PUREE = "sweetened chestnut puree"
NAMES = (JAM, EXTRA_JAM, JELLY, EXTRA_JELLY, MARMALADE, JELLY_MARMALADE, CHESTNUT_PUREE)

_SECOND, _MEMORY = "second-hand", "from memory"
NAMES_IN: dict[str, dict[str, Word]] = {
    "es": {
        JAM: Word("confitura", _SECOND), EXTRA_JAM: Word("confitura extra", _SECOND),
        JELLY: Word("jalea", _SECOND), EXTRA_JELLY: Word("jalea extra", _SECOND),
        MARMALADE: Word("«marmalade» de cítricos", _SECOND),
        JELLY_MARMALADE: Word("«marmalade» de jalea", _SECOND),
        CHESTNUT_PUREE: Word("crema de castañas", _SECOND),
    },
    "fr": {
        JAM: Word("confiture", _SECOND), EXTRA_JAM: Word("confiture extra", _SECOND),
        JELLY: Word("gelée", _SECOND), EXTRA_JELLY: Word("gelée extra", _SECOND),
        MARMALADE: Word("marmelade", _SECOND), JELLY_MARMALADE: Word("marmelade-gelée", _MEMORY),
        CHESTNUT_PUREE: Word("crème de marrons", _SECOND),
    },
    "it": {
        JAM: Word("confettura", _SECOND), EXTRA_JAM: Word("confettura extra", _SECOND),
        JELLY: Word("gelatina", _SECOND), EXTRA_JELLY: Word("gelatina extra", _SECOND),
        MARMALADE: Word("marmellata di agrumi", _SECOND),
        JELLY_MARMALADE: Word("marmellata-gelatina", _MEMORY),
        CHESTNUT_PUREE: Word("crema di marroni", _SECOND),
    },
    "pt": {
        JAM: Word("doce", _SECOND), EXTRA_JAM: Word("doce extra", _MEMORY),
        JELLY: Word("geleia", _SECOND), EXTRA_JELLY: Word("geleia extra", _MEMORY),
        MARMALADE: Word("citrinada", _SECOND),
        JELLY_MARMALADE: Word("geleia de citrinos", _MEMORY),
        CHESTNUT_PUREE: Word("creme de castanha", _SECOND),
    },
    "de": {
        JAM: Word("Konfitüre", _SECOND), EXTRA_JAM: Word("Konfitüre extra", _SECOND),
        JELLY: Word("Gelee", _SECOND), EXTRA_JELLY: Word("Gelee extra", _SECOND),
        MARMALADE: Word("Zitrusmarmelade", _SECOND),
        JELLY_MARMALADE: Word("Gelee-Marmelade", _SECOND),
        CHESTNUT_PUREE: Word("Maronenkrem", _SECOND),
    },
}  # fmt: skip
"""Product names by language; English ones are the keys."""

STATEMENTS: dict[str, dict[str, Word]] = {
    "prepared with": {
        "en": Word("prepared with {} g of fruit per 100 g"),
        "es": Word("elaborado con {} g de fruta por 100 g", _MEMORY),
        "fr": Word("préparé avec {} g de fruits pour 100 g", _MEMORY),
        "it": Word("frutta utilizzata: {} g per 100 g", _MEMORY),
        "pt": Word("preparado com {} g de fruta por 100 g", _MEMORY),
        "de": Word("hergestellt aus {} g Früchten je 100 g", _MEMORY),
    },
    "total sugar": {
        "en": Word("total sugar content {} g per 100 g"),
        "es": Word("contenido total de azúcares: {} g por 100 g", _MEMORY),
        "fr": Word("teneur totale en sucres: {} g pour 100 g", _MEMORY),
        "it": Word("zuccheri totali: {} g per 100 g", _MEMORY),
        "pt": Word("teor total de açúcares: {} g por 100 g", _MEMORY),
        "de": Word("Gesamtzuckergehalt: {} g je 100 g", _MEMORY),
    },
}

# --- Fruits the law tells apart -------------------------------------------------------------------

MINIMA_KINDS: dict[str, tuple[str, ...]] = {
    "redcurrant": ("redcurrant", "red currant", "grosella roja", "grosellas rojas", "groseille",
                   "ribes rosso", "groselha", "rote johannisbeere", "rote johannisbeeren"),
    "rowanberry": ("rowanberry", "rowan", "serba", "sorbe", "sorba", "vogelbeere", "vogelbeeren"),
    "sea buckthorn": ("sea buckthorn", "seabuckthorn", "espino amarillo", "argousier",
                      "olivello spinoso", "espinheiro maritimo", "sanddorn"),
    "blackcurrant": ("blackcurrant", "black currant", "grosella negra", "grosellas negras",
                     "cassis", "ribes nero", "groselha negra", "groselhas negras",
                     "schwarze johannisbeere", "schwarze johannisbeeren"),
    "rosehip": ("rosehip", "rose hip", "escaramujo", "cynorrhodon", "eglantier", "rosa canina",
                "hagebutte", "hagebutten"),
    "quince": ("quince", "membrillo", "coing", "cotogna", "cotogne", "mela cotogna", "marmelo",
               "quitte", "quitten"),
    "ginger": ("ginger", "jengibre", "gingembre", "zenzero", "gengibre", "ingwer"),
    "cashew apple": ("cashew apple", "marañon", "pomme de cajou", "pomo d anacardio", "caju",
                     "cashewapfel"),
    "passion fruit": ("passion fruit", "passionfruit", "maracuya", "fruta de la pasion",
                      "fruit de la passion", "frutto della passione", "maracuja",
                      "passionsfrucht"),
}  # fmt: skip
"""Fruits with a minimum of their own; a name in another language is from memory."""

ALONE_IN_EXTRA: dict[str, tuple[str, ...]] = {
    "apple": ("apple", "manzana", "pomme", "mela", "mele", "maça", "apfel", "äpfel"),
    "pear": ("pear", "pera", "poire", "pere", "birne", "birnen"),
    "clingstone plum": ("clingstone plum",),
    "melon": ("melon", "melone", "melao", "meloes"),
    "watermelon": ("watermelon", "water melon", "sandia", "pasteque", "anguria", "cocomero",
                   "melancia", "wassermelone"),
    "grape": ("grape", "uva", "raisin frais", "weintraube", "weintrauben", "traube", "trauben"),
    "pumpkin": ("pumpkin", "calabaza", "potiron", "citrouille", "zucca", "abobora", "kürbis"),
    "cucumber": ("cucumber", "pepino", "concombre", "cetriolo", "gurke", "gurken"),
    "tomato": ("tomato", "tomate", "pomodoro", "pomodori"),
}  # fmt: skip
"""Never mixed with other fruit in extra jam and extra jelly."""

CITRUS = (
    "citrus", "orange", "lemon", "lime", "grapefruit", "mandarin", "clementine", "tangerine",
    "satsuma", "bergamot", "citron", "kumquat", "yuzu", "pomelo", "naranja", "limon", "pomelo",
    "arancia", "arance", "limone", "limoni", "agrumi", "mandarino", "laranja", "limao", "toranja",
    "tangerina", "citrico", "citrinos", "agrume", "zitrone", "zitronen", "orangen", "mandarine",
    "mandarinen", "limette", "pamplemousse", "zitrus",
)  # fmt: skip

AS_FRUIT = (
    "ginger", "rhubarb", "carrot", "sweet potato", "cucumber", "pumpkin", "melon", "watermelon",
    "tomato", "ruibarbo", "rhubarbe", "rabarbaro", "rhabarber", "zanahoria", "carotte", "carota",
    "cenoura", "karotte", "karotten", "batata",
)  # fmt: skip
"""Roots, stalks and vegetables that count as fruit (Annex III, Part A)."""

OTHER_KNOWN = (
    "strawberry", "raspberry", "blackberry", "blueberry", "bilberry", "gooseberry", "cranberry",
    "elderberry", "mulberry", "lingonberry", "cloudberry", "loganberry", "tayberry", "aronia",
    "cherry", "plum", "greengage", "mirabelle", "damson", "sloe", "bullace", "apricot", "peach",
    "nectarine", "fig", "date", "prune", "pineapple", "mango", "papaya", "guava", "kiwi", "banana",
    "persimmon", "pomegranate", "prickly pear", "feijoa", "medlar", "loquat", "lychee", "rhubarb",
    "chestnut", "carrot", "sweet potato", "raisin", "sultana", "currant", "crab apple", "japonica",
    "fresa", "frambuesa", "mora", "arandano", "cereza", "ciruela", "albaricoque", "melocoton",
    "higo", "granada", "fraise", "framboise", "mure", "myrtille", "cerise", "prune", "abricot",
    "peche", "figue", "fragola", "fragole", "lampone", "lamponi", "mirtillo", "mirtilli",
    "ciliegia", "ciliegie", "prugna", "prugne", "albicocca", "albicocche", "pesca", "pesche",
    "fico", "fichi", "morango", "framboesa", "amora", "mirtilo", "cereja", "ameixa", "alperce",
    "pessego", "figo", "erdbeere", "erdbeeren", "himbeere", "himbeeren", "brombeere", "brombeeren",
    "heidelbeere", "heidelbeeren", "kirsche", "kirschen", "pflaume", "pflaumen", "zwetschge",
    "zwetschgen", "aprikose", "aprikosen", "pfirsich", "feige", "feigen",
)  # fmt: skip
"""Fruits that fall under the general minimum; with the tables above, those known by name here."""

FORMS: dict[str, tuple[str, ...]] = {
    "juice": ("juice", "zumo", "jus", "succo", "sumo", "saft"),
    "extract": ("extract", "extracto", "extrait", "estratto", "extrakt"),
    "puree": ("puree", "pure", "purea", "püree", "mark"),
    "pulp": ("pulp", "pulpa", "pulpe", "polpa"),
    "peel": ("peel", "zest", "rind", "piel", "cascara", "zeste", "ecorce", "scorza", "casca",
             "schale"),
}  # fmt: skip


@lru_cache(maxsize=4096)
def plain(text: str) -> str:
    """One line in lower case without accents, so that a name is found however it was typed.

    >>> plain("Gelée de  Coings")
    'gelee de coings'
    """
    parts = unicodedata.normalize("NFKD", one_line(text).casefold())
    return "".join(sign for sign in parts if not unicodedata.combining(sign))


@lru_cache(maxsize=256)
def _sought(names: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(f" {form} " for name in names for form in sorted(forms(plain(name))))


def _said(text: str) -> str:
    return f" {' '.join(words_of(plain(text)))} "


def says_one_of(text: str, names: tuple[str, ...]) -> bool:
    """Whether a text holds one of some names as whole words, singular or plural, accents apart."""
    said = _said(text)
    return any(form in said for form in _sought(names))


def kind_in(text: str, kinds: dict[str, tuple[str, ...]]) -> str:
    """The kind a text names, by the longest of its names; "" if none.

    >>> kind_in("watermelon", ALONE_IN_EXTRA), kind_in("damsons", ALONE_IN_EXTRA)
    ('watermelon', '')
    """
    said = _said(text)
    found = [
        (len(form), kind) for kind, names in kinds.items() for form in _sought(names)
        if form in said
    ]  # fmt: skip
    return max(found)[1] if found else ""


def statement_word(key: str, *, language: str) -> Word:
    """The words of a statement; English where there are none in the language."""
    return STATEMENTS[key].get(language, STATEMENTS[key]["en"])


def name_in(name: str, *, language: str) -> str:
    """A product name in the language of the label; the English one where there is none."""
    found = NAMES_IN.get(language, {}).get(name)
    return name if found is None else found.text


# --- Which reserved name a name of food bears -----------------------------------------------------

_PIECES = re.compile(r"[/|,;:·•–—]|\s-\s|\d|\b(?:with|made|from|by|of)\b")
_ROMANCE = {
    "confitura": JAM, "confiture": JAM, "confettura": JAM, "jalea": JELLY, "gelee": JELLY,
    "geleia": JELLY, "marmelade": MARMALADE, "marmellata": MARMALADE, "citrinada": MARMALADE,
    "marmalade": MARMALADE,
}  # fmt: skip
_OF_ONE_LANGUAGE = {"pt": {"doce": JAM}, "it": {"gelatina": JELLY}}
"""Words that are a product name in one language and something else in another."""
_GERMAN = {"konfiture": JAM, "gelee": JELLY, "zitrusmarmelade": MARMALADE, "marmelade": MARMALADE}
_CHESTNUT = ("crema de castanas", "creme de marrons", "crema di marroni", "creme de castanha",
             "maronenkrem", "maronencreme")  # fmt: skip
_EXTRA = {JAM: EXTRA_JAM, JELLY: EXTRA_JELLY}


def reserved_name(name_of_food: str, *, language: str = "en") -> str:
    """The product name of the directive that a name of food bears, or "".

    In English and German the last word says what a food is, in the Romance languages the first.

    >>> reserved_name("Strawberry extra jam"), reserved_name("Jam tart"), reserved_name("Jam, plum")
    ('extra jam', '', 'jam')
    >>> reserved_name("Confitura extra de fresa"), reserved_name("Erdbeerkonfitüre extra")
    ('extra jam', 'extra jam')
    """
    text = re.sub(r"\(.*?\)", " ", plain(name_of_food))
    if says_one_of(text, _CHESTNUT):
        return CHESTNUT_PUREE
    is_extra = "extra" in words_of(text)
    for piece in _PIECES.split(text):
        found = _of_piece(tuple(w for w in words_of(piece) if w != "extra"), language)
        if found:
            return _EXTRA.get(found, found) if is_extra else found
    return ""


def _of_piece(said: tuple[str, ...], language: str) -> str:
    if not said:
        return ""
    first, last = said[0], said[-1]
    family = _english(last, said) or _ROMANCE.get(first, "")
    family = family or _OF_ONE_LANGUAGE.get(language, {}).get(first, "")
    family = family or next((n for end, n in _GERMAN.items() if last.endswith(end)), "")
    if family in {JELLY, MARMALADE} and _says_both(said):
        return JELLY_MARMALADE
    return family


def _english(last: str, said: tuple[str, ...]) -> str:
    if last in {"jam", "jams"}:
        return JAM
    if last in {"jelly", "jellies"}:
        return JELLY
    if last in {"marmalade", "marmalades"}:
        return MARMALADE
    return CHESTNUT_PUREE if last == "puree" and {"chestnut", "sweetened"} <= set(said) else ""


def _says_both(said: tuple[str, ...]) -> bool:
    jelly = {"jelly", "jalea", "gelee", "gelatina"} & set(said)
    return bool(jelly) and any(word.startswith(("marmal", "marmel")) for word in said)


RESERVED_WORDS = frozenset({
    "jam", "jams", "jelly", "jellies", "marmalade", "marmalades", "mermelada", "confitura",
    "confiture", "confettura", "marmellata", "konfiture", "marmelade", "gelee", "jalea", "geleia",
    "citrinada",
})  # fmt: skip


def holds_a_reserved_word(name_of_food: str) -> str:
    """The first word of the jam family in a name, or ""."""
    return next((w for w in words_of(plain(name_of_food)) if w in RESERVED_WORDS), "")
