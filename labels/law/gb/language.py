"""The language of the label."""

from collections.abc import Iterator

from labels.facts import LabelFacts, PrintedText
from labels.law.gb.acts import FIC, FIC_APPLIES
from labels.law.gb.words import LANGUAGE, unconfirmed
from labels.rulebook import INFORMATION, LOOK, Finding, rule


@rule(FIC, "Art. 15(1)", since=FIC_APPLIES, mark="from memory")
def the_label_speaks_english(facts: LabelFacts, printed: PrintedText | None) -> Finding | None:
    """The particulars stand in a language that people in Great Britain easily understand."""
    if facts.language == LANGUAGE:
        return None
    return Finding(
        message=f"The label is in “{facts.language}”; in Great Britain the statements must be "
        "easily understood, which is to say in English. Welsh or another language may stand "
        "beside it.",
        hint="Make English the first language of the label.",
        where="language",
    )


@rule(FIC, "Art. 15(3)", since=FIC_APPLIES, mark="from memory")
def a_second_language_is_not_printed_here(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """Another language may stand beside English; a label for Great Britain has none by itself."""
    if facts.second is None or facts.language != LANGUAGE:
        return None
    return Finding(
        message=f"The label has a second language, “{facts.second.language}”. It may stand beside "
        "English, but a label for Great Britain is printed in English only.",
        hint="Nothing to mend. For a country of the Union print a label for there.",
        level=INFORMATION,
        where="language",
    )


@rule(FIC, "Art. 15(1)", since=FIC_APPLIES, mark="from memory")
def every_name_is_given_in_english(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """A kitchen that names its things in another language gives each its English name too."""
    for each in facts.untranslated:
        if each.language == LANGUAGE:
            yield Finding(
                message=f"“{each.called}” is not given in English.",
                hint="Give it in English. Nothing is translated by itself.",
                where="translation",
                about=each.what,
            )


@rule(FIC, "Art. 15(1)", since=FIC_APPLIES)
def the_label_words_were_read(facts: LabelFacts, printed: PrintedText | None) -> Finding | None:
    """The fixed words of the label are those of the official text."""
    words = unconfirmed()
    if not words:
        return None
    return Finding(
        message=f"The official text of these words was not read: {', '.join(words)}.",
        hint="Compare them with the regulations before printing.",
        level=LOOK,
        where="language",
    )
