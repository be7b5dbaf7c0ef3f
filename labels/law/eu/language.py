"""The language of the label."""

from labels.facts import LabelFacts, PrintedText
from labels.law.eu.acts import FIC, FIC_APPLIES
from labels.law.eu.words import WORDS, is_spoken, unconfirmed
from labels.rulebook import LOOK, Finding, rule

# Official languages of the member states by country code.
OFFICIAL = {
    "AT": {"de"}, "BE": {"nl", "fr", "de"}, "BG": {"bg"}, "CY": {"el", "tr"}, "CZ": {"cs"},
    "DE": {"de"}, "DK": {"da"}, "EE": {"et"}, "ES": {"es"}, "FI": {"fi", "sv"}, "FR": {"fr"},
    "GR": {"el"}, "HR": {"hr"}, "HU": {"hu"}, "IE": {"en", "ga"}, "IT": {"it"}, "LT": {"lt"},
    "LU": {"fr", "de", "lb"}, "LV": {"lv"}, "MT": {"mt", "en"}, "NL": {"nl"}, "PL": {"pl"},
    "PT": {"pt"}, "RO": {"ro"}, "SE": {"sv"}, "SI": {"sl"}, "SK": {"sk"},
}  # fmt: skip


@rule(FIC, "Art. 15(1) and (2)", since=FIC_APPLIES)
def the_label_speaks_the_buyers_language(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """The particulars are in a language that is easily understood where the food is sold."""
    official = OFFICIAL.get(facts.country_of_sale.strip().upper())
    if official is None or facts.language in official:
        return None
    return Finding(
        message=f"The label is in “{facts.language}”; the food is sold in "
        f"{facts.country_of_sale.strip().upper()}, where the language is "
        f"{' or '.join(sorted(official))}.",
        hint="Have the label in the language of the country, or ask the local authority whether "
        "this one is accepted.",
        level=LOOK,
        where="language",
    )


@rule(FIC, "Art. 15(1)", since=FIC_APPLIES)
def the_label_words_are_known_in_its_language(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """The fixed words of the label are in the language of the label, and confirmed."""
    if not is_spoken(facts.language):
        return Finding(
            message=f"This version has no label words in “{facts.language}”.",
            hint=f"Choose one of: {', '.join(WORDS)}.",
            where="language",
        )
    words = unconfirmed(facts.language)
    if not words:
        return None
    return Finding(
        message=f"The official text of these words was not read: {', '.join(words)}.",
        hint="Have a native reader confirm them before printing.",
        level=LOOK,
        where="language",
    )
