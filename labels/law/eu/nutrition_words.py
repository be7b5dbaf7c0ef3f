"""The words of the nutrition declaration, by language, each with the mark of how it was read."""

from labels.law.eu.words import Word

SECOND, MEMORY = "second-hand", "from memory"

NUTRITION_WORDS: dict[str, dict[str, Word]] = {
    "en": {
        "nutrition": Word("Nutrition"),
        "heading": Word("{} {}:"),
        "per": Word("per {}"),
        "portion": Word("Portion of {}:"),
        "portions": Word("This pack holds {} portions of {}."),
        "portions about": Word("This pack holds about {} portions of {}."),
        "energy": Word("energy"),
        "fat": Word("fat"),
        "saturates": Word("of which saturates"),
        "carbohydrate": Word("carbohydrate"),
        "sugars": Word("of which sugars"),
        "polyols": Word("of which polyols"),
        "fibre": Word("fibre"),
        "protein": Word("protein"),
        "salt": Word("salt"),
        "intake": Word("Reference intake of an average adult (8 400 kJ/2 000 kcal)"),
    },
    "es": {
        "nutrition": Word("Información nutricional", MEMORY),
        "heading": Word("{} {}:"),
        "per": Word("por {}", MEMORY),
        "portion": Word("Porción de {}:", MEMORY),
        "portions": Word("El envase contiene {} porciones de {}.", MEMORY),
        "portions about": Word("El envase contiene unas {} porciones de {}.", MEMORY),
        "energy": Word("valor energético", SECOND),
        "fat": Word("grasas", SECOND),
        "saturates": Word("de las cuales saturadas", SECOND),
        "carbohydrate": Word("hidratos de carbono", SECOND),
        "sugars": Word("de los cuales azúcares", SECOND),
        "polyols": Word("de los cuales polialcoholes", MEMORY),
        "fibre": Word("fibra alimentaria", MEMORY),
        "protein": Word("proteínas", SECOND),
        "salt": Word("sal", SECOND),
        "intake": Word("Ingesta de referencia de un adulto medio (8 400 kJ/2 000 kcal)", MEMORY),
    },
    "fr": {
        "nutrition": Word("Déclaration nutritionnelle", MEMORY),
        "heading": Word("{} {} :"),
        "per": Word("pour {}", MEMORY),
        "portion": Word("Portion de {} :", MEMORY),
        "portions": Word("Contient {} portions de {}.", MEMORY),
        "portions about": Word("Contient environ {} portions de {}.", MEMORY),
        "energy": Word("énergie", MEMORY),
        "fat": Word("matières grasses", MEMORY),
        "saturates": Word("dont acides gras saturés", MEMORY),
        "carbohydrate": Word("glucides", MEMORY),
        "sugars": Word("dont sucres", MEMORY),
        "polyols": Word("dont polyols", MEMORY),
        "fibre": Word("fibres alimentaires", MEMORY),
        "protein": Word("protéines", MEMORY),
        "salt": Word("sel", MEMORY),
        "intake": Word("Apport de référence pour un adulte-type (8 400 kJ/2 000 kcal)", MEMORY),
    },
    "it": {
        "nutrition": Word("Dichiarazione nutrizionale", MEMORY),
        "heading": Word("{} {}:"),
        "per": Word("per {}", MEMORY),
        "portion": Word("Porzione di {}:", MEMORY),
        "portions": Word("La confezione contiene {} porzioni di {}.", MEMORY),
        "portions about": Word("La confezione contiene circa {} porzioni di {}.", MEMORY),
        "energy": Word("energia", SECOND),
        "fat": Word("grassi", SECOND),
        "saturates": Word("di cui acidi grassi saturi", SECOND),
        "carbohydrate": Word("carboidrati", SECOND),
        "sugars": Word("di cui zuccheri", SECOND),
        "polyols": Word("di cui polioli", MEMORY),
        "fibre": Word("fibre", SECOND),
        "protein": Word("proteine", SECOND),
        "salt": Word("sale", SECOND),
        "intake": Word(
            "Assunzioni di riferimento di un adulto medio (8 400 kJ/2 000 kcal)", MEMORY
        ),
    },
    "pt": {
        "nutrition": Word("Declaração nutricional", MEMORY),
        "heading": Word("{} {}:"),
        "per": Word("por {}", MEMORY),
        "portion": Word("Porção de {}:", MEMORY),
        "portions": Word("A embalagem contém {} porções de {}.", MEMORY),
        "portions about": Word("A embalagem contém cerca de {} porções de {}.", MEMORY),
        "energy": Word("energia"),
        "fat": Word("lípidos"),
        "saturates": Word("dos quais ácidos gordos saturados", SECOND),
        "carbohydrate": Word("hidratos de carbono"),
        "sugars": Word("dos quais açúcares", MEMORY),
        "polyols": Word("dos quais polióis", MEMORY),
        "fibre": Word("fibra", MEMORY),
        "protein": Word("proteínas"),
        "salt": Word("sal"),
        "intake": Word("Dose de referência para um adulto médio (8 400 kJ/2 000 kcal)", SECOND),
    },
    "de": {
        "nutrition": Word("Nährwertdeklaration", MEMORY),
        "heading": Word("{} {}:"),
        "per": Word("je {}", MEMORY),
        "portion": Word("Portion von {}:", MEMORY),
        "portions": Word("Die Packung enthält {} Portionen zu {}.", MEMORY),
        "portions about": Word("Die Packung enthält etwa {} Portionen zu {}.", MEMORY),
        "energy": Word("Energie", SECOND),
        "fat": Word("Fett", SECOND),
        "saturates": Word("davon gesättigte Fettsäuren", SECOND),
        "carbohydrate": Word("Kohlenhydrate", SECOND),
        "sugars": Word("davon Zucker", SECOND),
        "polyols": Word("davon mehrwertige Alkohole", MEMORY),
        "fibre": Word("Ballaststoffe", SECOND),
        "protein": Word("Eiweiß", SECOND),
        "salt": Word("Salz", SECOND),
        "intake": Word(
            "Referenzmenge für einen durchschnittlichen Erwachsenen (8 400 kJ/2 000 kcal)", SECOND
        ),
    },
}


def nutrition_word(key: str, *, language: str) -> str:
    """A word of the declaration; English where the language is not known, which a rule reports."""
    return NUTRITION_WORDS.get(language, NUTRITION_WORDS["en"])[key].text


def unconfirmed_nutrition(language: str) -> tuple[str, ...]:
    """Words of the declaration whose official text was not read."""
    return tuple(w.text for w in NUTRITION_WORDS.get(language, {}).values() if w.mark != "read")
