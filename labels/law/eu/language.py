"""The language of the label."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace

from labels.facts import Allergen, LabelFacts, PrintedText
from labels.law.eu import cross_contact, jam_rules, names
from labels.law.eu.acts import FIC, FIC_APPLIES
from labels.law.eu.allergens import all_allergens, sulphites_shown_above
from labels.law.eu.annex_ii import groups_named_in, said_in, unconfirmed_allergens
from labels.law.eu.particulars import in_one_language
from labels.law.eu.voices import voices
from labels.law.eu.words import (
    WORDS,
    Word,
    has_additive_class,
    is_spoken,
    language_name,
    one_line,
    unconfirmed,
)
from labels.mechanics.masses import with_all_parts
from labels.rulebook import LOOK, Finding, Rule, rule

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
    country = facts.country_of_sale.strip().upper()
    official = OFFICIAL.get(country)
    if official is None or official & set(languages_of(facts)):
        return None
    offered = sorted(official & set(WORDS))
    return Finding(
        message=f"The label is in {_named(languages_of(facts))}; the food is sold in {country}, "
        f"where the language is {_named(sorted(official), last='or')}.",
        hint=f"Have {_named(offered, last='or')} on the label, as its first or second language; or "
        "ask the local authority whether this one is accepted."
        if offered
        else f"This version has no label words in {_named(sorted(official), last='or')}: ask the "
        "local authority whether the label is accepted as it is.",
        level=LOOK,
        where="language",
    )


@rule(FIC, "Art. 15(3)", since=FIC_APPLIES)
def every_language_says_all(facts: LabelFacts, printed: PrintedText | None) -> Iterator[Finding]:
    """Several languages may stand on one label; each then says every particular."""
    if facts.second is not None and facts.second.language == facts.language:
        yield Finding(
            message=f"{language_name(facts.language)} is chosen twice.",
            hint="Choose another second language, or none.",
            where="language",
        )
    for each in facts.untranslated:
        tongue = language_name(each.language)
        what = _WHAT.get(each.what)
        yield Finding(
            message=f"“{each.called}” has no name in {tongue}."
            if what is None
            else f"{what} is not given in {tongue}: “{each.called}”.",
            hint=f"Give it in {tongue}. Nothing is translated by itself.",
            where="translation",
            about=each.what,
        )


_WHAT = {
    "name": "The name of the food",
    "storage": "How to keep it",
    "storage_after_opening": "How to keep it once open",
    "origin": "The origin",
}


@rule(FIC, "Art. 15(1)", since=FIC_APPLIES)
def the_label_words_are_known_in_its_language(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """The fixed words of the label are in the language of the label, and confirmed."""
    for language in languages_of(facts):
        if not is_spoken(language):
            yield Finding(
                message=f"This version has no label words in “{language}”.",
                hint=f"Choose one of: {_named(tuple(WORDS))}.",
                where="language",
            )
            continue
        due = words_due(facts, language=language)
        if due:
            yield Finding(
                message=f"{language_name(language)}: a native check is still due for "
                + "; ".join(f"“{w.text}” ({w.mark})" for w in due)
                + ".",
                hint="Have a native reader confirm them before printing: their text in the "
                "Regulation itself was not read for this version.",
                level=LOOK,
                where="language",
            )


@rule(FIC, "Annex VII, Part C, with Art. 15(1)", since=FIC_APPLIES)
def the_class_of_an_additive_has_a_word(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """An additive stands in the list under the name of its class in each language."""
    for language in languages_of(facts):
        for each in with_all_parts(facts.ingredients):
            kind = one_line(each.additive_class)
            if not kind or has_additive_class(kind, language=language):
                continue
            yield Finding(
                message=f"{each.called or each.name}: this version has no word in "
                f"{language_name(language)} for the class “{kind}”.",
                hint="Choose another class if one fits its main work, or another language; ask the "
                "local authority.",
                where="ingredients",
                about=each.key,
            )


@rule(FIC, "Art. 15(1) with Art. 21(1) and Annex II", since=FIC_APPLIES)
def an_allergen_has_its_word_in_each_language(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """Each allergen is called by the name that Annex II has for it in the language."""
    told = [
        (each.called or each.name, allergen, each.key)
        for each in with_all_parts(facts.ingredients)
        for allergen in each.allergens
    ]
    told += [
        ("May contain", Allergen(risk.group, risk.named_as), "")
        for risk in facts.cross_contact
        if risk.remains
    ]
    for language in (spoken for spoken in languages_of(facts) if spoken != "en"):
        for where, allergen, key in told:
            if said_in(allergen, language=language) is None:
                yield Finding(
                    message=f"{where}: “{allergen.named_as}” has no name in "
                    f"{language_name(language)} in the table of this version.",
                    hint="Name the cereal or the nut of the closed list itself, such as wheat or "
                    "hazelnuts; the table then gives its word.",
                    where="allergens",
                    about=key,
                )


@rule(FIC, "Art. 15(1) with Art. 21(1)", since=FIC_APPLIES)
def a_translated_name_hides_no_allergen(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """A name given in another language that speaks of an allergen belongs to one that has it."""
    for voice in voices(facts):
        for each in with_all_parts(voice.ingredients) if voice.language != "en" else ():
            marked = {a.group for part in each.with_parts() for a in part.allergens}
            marked |= set(each.allergens_not_known)
            for group in groups_named_in(each.name, language=voice.language) - marked:
                yield Finding(
                    message=f"{each.name}: the name in {language_name(voice.language)} seems to "
                    f"speak of {group}, but the ingredient is not marked with it.",
                    hint="Mark the allergen on the ingredient, or correct the name; if the word "
                    "means something else here, nothing needs doing.",
                    level=LOOK,
                    where="allergens",
                    about=each.key,
                )


_OF_WORDS = (
    *(
        each
        for module in (names, jam_rules)
        for each in vars(module).values()
        if isinstance(each, Rule)
    ),
    cross_contact.may_contain_is_never_typed,
)
"""Rules on what the maker writes himself."""


@rule(FIC, "Art. 17(1) with Art. 15(3)", since=FIC_APPLIES)
def the_words_of_the_second_language_are_as_lawful(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """The maker's words in each language are lawful: a name reserved in one is so in all."""
    day = facts.law_on or FIC_APPLIES
    in_force = [each for each in _OF_WORDS if each.is_in_force(on=day)]
    first, *others = voices(facts)
    known = {found.message for each in in_force for found in each(first)}
    for voice in others:
        for found in (found for each in in_force for found in each(voice)):
            if found.message not in known:
                tongue = language_name(voice.language)
                yield replace(found, message=f"In {tongue}: {found.message}", where="translation")


def languages_of(facts: LabelFacts) -> tuple[str, ...]:
    """The language of the label, or both."""
    second = facts.second.language if facts.second else ""
    return tuple(dict.fromkeys(filter(None, (facts.language, second))))


def words_due(facts: LabelFacts, *, language: str) -> tuple[Word, ...]:
    """Words that stand on this very label and that a native reader has still to check."""
    voice = next((v for v in voices(facts) if v.language == language), facts)
    said = " ".join(p.text for p in in_one_language(voice, on=voice.law_on or FIC_APPLIES))
    allergens = all_allergens(
        voice.ingredients, sulphites_above=sulphites_shown_above(voice), language=language
    )
    words = (*unconfirmed(language), *unconfirmed_allergens(allergens, language=language))
    return tuple({w.text: w for w in words if _stands_in(w.text, said)}.values())


def _stands_in(text: str, said: str) -> bool:
    """Whether the words stand in a text as whole words."""
    return re.search(rf"(?<!\w){re.escape(text)}(?!\w)", said, re.IGNORECASE) is not None


def _named(languages: Iterable[str], *, last: str = "and") -> str:
    *first, final = [language_name(language) for language in languages] or [""]
    return f"{', '.join(first)} {last} {final}" if first else final
