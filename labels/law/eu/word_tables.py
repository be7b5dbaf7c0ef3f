"""The words of the label in each language, each with the mark of how its text was read.

A language is one more key in each table. Whatever is not marked "read" is shown to the maker as
due a native reader's check before it is printed.
"""

from dataclasses import dataclass

READ = "read"
NATIONAL = "read in national law"
SECOND = "second-hand"
MEMORY = "from memory"


@dataclass(frozen=True)
class Word:
    """One label word in one language.

    mark: "read" (the Regulation in that language), "read in national law" (the same words in a
    national act, often older than the Regulation), "second-hand" or "from memory".
    """

    text: str
    mark: str = READ


LANGUAGES = {
    "en": "English",
    "es": "Spanish",
    "fr": "French",
    "it": "Italian",
    "pt": "Portuguese",
    "de": "German",
}


def _memory(**words: str) -> dict[str, Word]:
    """Words of the official version that nobody read for this table."""
    return {key.replace("_", " "): Word(text, MEMORY) for key, text in words.items()}


WORDS: dict[str, dict[str, Word]] = {
    "en": {
        "ingredients": Word("Ingredients:"),
        "contains": Word("Contains:"),
        "best before": Word("Best before"),
        "best before end": Word("Best before end"),
        "use by": Word("Use by"),
        "fruit": Word("fruit"),
        "vegetable": Word("vegetables"),
        "spice": Word("spices"),
        "herb": Word("herbs"),
        "sugar": Word("sugar"),
        "in varying proportions": Word("in varying proportions"),
        "in variable proportion": Word("in variable proportion"),
        "per 100 g": Word("per 100 g"),
        "of": Word("of"),
        "sulphites": Word("sulphites"),
        "modified starch": Word("modified starch"),
        "water": Word("water"),
        "decimal": Word("."),
    },
    "es": _memory(
        fruit="frutas", vegetable="hortalizas", per_100_g="por 100 g", of="de",
        modified_starch="almidón modificado", water="agua",
    ) | {
        "ingredients": Word("Ingredientes:", NATIONAL),
        "contains": Word("Contiene:", NATIONAL),
        "best before": Word("Consumir preferentemente antes del", NATIONAL),
        "best before end": Word("Consumir preferentemente antes del fin de", NATIONAL),
        "use by": Word("Fecha de caducidad", NATIONAL),
        "spice": Word("especias", NATIONAL),
        "herb": Word("plantas aromáticas", NATIONAL),
        "sugar": Word("azúcar", NATIONAL),
        "in varying proportions": Word("en proporción variable", NATIONAL),
        "in variable proportion": Word("en proporción variable", NATIONAL),
        "sulphites": Word("sulfitos", NATIONAL),
        "decimal": Word(","),
    },
    "fr": _memory(
        ingredients="Ingrédients :", contains="Contient :", fruit="fruits", vegetable="légumes",
        spice="épices", herb="plantes aromatiques", sugar="sucre", per_100_g="pour 100 g", of="de",
        modified_starch="amidon modifié", water="eau",
    ) | {
        "best before": Word("À consommer de préférence avant le"),
        "best before end": Word("À consommer de préférence avant fin"),
        "use by": Word("À consommer jusqu’au", NATIONAL),
        "in varying proportions": Word("en proportion variable", SECOND),
        "in variable proportion": Word("en proportion variable", SECOND),
        "sulphites": Word("sulfites", SECOND),
        "decimal": Word(","),
    },
    "it": _memory(
        ingredients="Ingredienti:", contains="Contiene:", fruit="frutta", vegetable="ortaggi",
        spice="spezie", herb="piante aromatiche", sugar="zucchero", per_100_g="per 100 g", of="di",
        in_varying_proportions="in proporzione variabile",
        in_variable_proportion="in proporzione variabile", modified_starch="amido modificato",
        water="acqua",
    ) | {
        "best before": Word("Da consumarsi preferibilmente entro il", NATIONAL),
        "best before end": Word("Da consumarsi preferibilmente entro fine", NATIONAL),
        "use by": Word("Da consumare entro", NATIONAL),
        "sulphites": Word("solfiti", SECOND),
        "decimal": Word(","),
    },
    "pt": _memory(
        ingredients="Ingredientes:", contains="Contém:", fruit="frutos",
        vegetable="produtos hortícolas", spice="especiarias", herb="plantas aromáticas",
        sugar="açúcar", per_100_g="por 100 g", of="de",
        in_varying_proportions="em proporção variável",
        in_variable_proportion="em proporção variável", modified_starch="amido modificado",
        water="água",
    ) | {
        "best before": Word("Consumir de preferência antes de", NATIONAL),
        "best before end": Word("Consumir de preferência antes do fim de", NATIONAL),
        "use by": Word("Consumir até", NATIONAL),
        "sulphites": Word("sulfitos", SECOND),
        "decimal": Word(","),
    },
    "de": _memory(
        use_by="Zu verbrauchen bis", fruit="Früchte", vegetable="Gemüse", per_100_g="je 100 g",
        in_variable_proportion="in veränderlichen Gewichtsanteilen",
        modified_starch="modifizierte Stärke", water="Wasser",
    ) | {
        "ingredients": Word("Zutaten:", NATIONAL),
        "contains": Word("Enthält:", NATIONAL),
        "best before": Word("Mindestens haltbar bis", NATIONAL),
        "best before end": Word("Mindestens haltbar bis Ende", NATIONAL),
        "spice": Word("Gewürze", NATIONAL),
        "herb": Word("Kräuter", NATIONAL),
        "sugar": Word("Zucker", NATIONAL),
        "in varying proportions": Word("in veränderlichen Gewichtsanteilen"),
        "of": Word(""),  # German sets what is counted right behind the figure
        "sulphites": Word("Sulfite", NATIONAL),
        "decimal": Word(","),
    },
}  # fmt: skip

MONTHS: dict[str, tuple[str, ...]] = {
    "en": (
        "January", "February", "March", "April", "May", "June", "July", "August", "September",
        "October", "November", "December",
    ),
    "es": (
        "enero", "febrero", "marzo", "abril", "mayo", "junio", "julio", "agosto", "septiembre",
        "octubre", "noviembre", "diciembre",
    ),
    "fr": (
        "janvier", "février", "mars", "avril", "mai", "juin", "juillet", "août", "septembre",
        "octobre", "novembre", "décembre",
    ),
    "it": (
        "gennaio", "febbraio", "marzo", "aprile", "maggio", "giugno", "luglio", "agosto",
        "settembre", "ottobre", "novembre", "dicembre",
    ),
    "pt": (
        "janeiro", "fevereiro", "março", "abril", "maio", "junho", "julho", "agosto", "setembro",
        "outubro", "novembro", "dezembro",
    ),
    "de": (
        "Januar", "Februar", "März", "April", "Mai", "Juni", "Juli", "August", "September",
        "Oktober", "November", "Dezember",
    ),
}  # fmt: skip

_PLAIN = {"day": "{d} {m}", "month": "{m} {y}", "full": "{d} {m} {y}"}
_WITH_DE = {"day": "{d} de {m}", "month": "{m} de {y}", "full": "{d} de {m} de {y}"}
DATE_FORMS: dict[str, dict[str, str]] = {
    "en": _PLAIN,
    "es": _WITH_DE,
    "fr": _PLAIN,
    "it": _PLAIN,
    "pt": _WITH_DE,
    "de": {"day": "{d}. {m}", "month": "{m} {y}", "full": "{d}. {m} {y}"},
}
"""How a language sets day, month and year in a row (Unicode CLDR, long forms)."""

POINT_COUNTRIES = frozenset(("GB", "IE", "MT"))
COMMA_COUNTRIES = frozenset(
    ("AT", "BE", "BG", "CY", "CZ", "DE", "DK", "EE", "ES", "FI", "FR", "GR", "HR", "HU", "IT",
     "LT", "LU", "LV", "NL", "PL", "PT", "RO", "SE", "SI", "SK")
)  # fmt: skip
"""Where a number has a decimal point, and where it has a comma (Unicode CLDR)."""

_CLASS_NAMES = (
    "acid", "acidity regulator", "gelling agent", "thickener", "preservative", "antioxidant",
    "colour", "emulsifier", "stabiliser", "glazing agent", "humectant", "sweetener",
)  # fmt: skip


def _classes(mark: str, *texts: str) -> dict[str, Word]:
    return {name: Word(text, mark) for name, text in zip(_CLASS_NAMES, texts, strict=True)}


ADDITIVE_CLASSES: dict[str, dict[str, Word]] = {
    "en": {
        name: Word(name)
        for name in (
            *_CLASS_NAMES, "anti-caking agent", "anti-foaming agent", "bulking agent",
            "emulsifying salts", "firming agent", "flavour enhancer", "flour treatment agent",
            "foaming agent", "modified starch", "propellent gas", "raising agent", "sequestrant",
        )
    },
    "es": _classes(
        NATIONAL, "acidulante", "corrector de acidez", "gelificante", "espesante", "conservador",
        "antioxidante", "colorante", "emulgente", "estabilizador", "agente de recubrimiento",
        "humectante", "edulcorante",
    ),
    "fr": _classes(
        NATIONAL, "acidifiant", "correcteur d’acidité", "gélifiant", "épaississant",
        "conservateur", "antioxygène", "colorant", "émulsifiant", "stabilisant",
        "agent d’enrobage", "humectant", "édulcorant",
    ),
    "it": _classes(
        MEMORY, "acidificante", "correttore di acidità", "gelificante", "addensante",
        "conservante", "antiossidante", "colorante", "emulsionante", "stabilizzante",
        "agente di rivestimento", "agente umidificante", "edulcorante",
    ),
    "pt": _classes(
        MEMORY, "acidificante", "regulador de acidez", "gelificante", "espessante", "conservante",
        "antioxidante", "corante", "emulsionante", "estabilizador", "agente de revestimento",
        "humidificante", "edulcorante",
    ) | {
        name: Word(text, NATIONAL)
        for name, text in (
            ("acid", "acidificante"), ("acidity regulator", "regulador de acidez"),
            ("preservative", "conservante"), ("antioxidant", "antioxidante"),
        )
    },
    "de": _classes(
        NATIONAL, "Säuerungsmittel", "Säureregulator", "Geliermittel", "Verdickungsmittel",
        "Konservierungsstoff", "Antioxidationsmittel", "Farbstoff", "Emulgator", "Stabilisator",
        "Überzugsmittel", "Feuchthaltemittel", "Süßungsmittel",
    ),
}  # fmt: skip
"""The classes of Annex VII, Part C, by their English name; what is not there is not known here."""

for _language, _words in WORDS.items():
    ADDITIVE_CLASSES[_language].setdefault("modified starch", _words["modified starch"])
