"""“May contain”: voluntary words that rest on a recorded assessment, and on nothing else."""

import re
from collections.abc import Iterator
from decimal import Decimal

from labels.facts import (
    CrossContactAnswer,
    LabelFacts,
    Particular,
    PrintedText,
    TextRun,
)
from labels.law.gb.acts import FIC, FIC_APPLIES
from labels.law.gb.allergens import TELLING, key_of
from labels.law.gb.words import Word, forms, one_line
from labels.mechanics.allergens import risks_left
from labels.mechanics.masses import with_all_parts
from labels.mechanics.text import names_one_of
from labels.rulebook import INFORMATION, LOOK, MUST_MEND, Citation, Finding, rule

KIND = "cross_contact"

MAY_CONTAIN = Word("May contain {}.", "second-hand")
"""No act prescribes the words; these are the ones of official guidance, as restated by others."""

_SPEAKS_OF_IT = re.compile(
    # A damson stone that slipped through is no allergen, and may be warned of.
    r"(?:may|might|could|can) (?:also )?contain(?! (?:[\w-]+ ){0,2}(?:stones?|pips?)\b)|\btraces?\b"
    r"|same (?:kitchen|room|line|factory|equipment)|\bthat (?:also )?handles\b"
    r"|not suitable for [\w’' ]*allerg|cross[- ]?conta",
    re.IGNORECASE,
)
_FREE_FROM = re.compile(
    r"\b([^\W\d_]+)[- ]free\b|\bfree (?:from|of) ([^\W\d_]+)|\bno ([^\W\d_]+)\b", re.IGNORECASE
)
_ALSO_CALLED = {"gluten": ("gluten",), "milk": ("dairy",), "nuts": ("nut",), "soybeans": ("soya",)}


def open_risks(facts: LabelFacts) -> tuple[CrossContactAnswer, ...]:
    """Risks that remain of allergens that are no ingredient anyway, in the order of the list."""
    # Walnuts in the paste do not tell of hazelnuts that may be there too.
    return risks_left(facts, key=key_of)


def statement(facts: LabelFacts, *, minimum_x_height_mm: Decimal) -> Particular | None:
    """“May contain ...” as the assessment left it; nothing where there is none.

    Source: assimilated Regulation (EU) No 1169/2011, Art. 36(2): not misleading, not ambiguous,
    based on science where it can be.
    """
    risks = open_risks(facts)
    if not risks:
        return None
    named = ", ".join(dict.fromkeys(one_line(risk.named_as) for risk in risks))
    return Particular(
        kind=KIND,
        runs=(TextRun(MAY_CONTAIN.text.format(named)),),
        citation=Citation(FIC, "Art. 36(2): voluntary, on a recorded assessment"),
        minimum_x_height_mm=minimum_x_height_mm,
    )


@rule(FIC, "Art. 7(1) and Art. 36(2)", since=FIC_APPLIES)
def may_contain_is_never_typed(facts: LabelFacts, printed: PrintedText | None) -> Iterator[Finding]:
    """Words on cross-contact come from a recorded assessment, not from a box on a form."""
    typed = {
        "name": (facts.name_of_food,),
        "brand_name": (facts.brand_name,),
        "tagline": (facts.tagline,),
        "storage": (facts.storage, facts.storage_after_opening),
        "instructions": (facts.instructions,),
        "origin": (facts.origin,),
        "claims": facts.claims,
        "ingredients": tuple(each.name for each in with_all_parts(facts.ingredients)),
    }
    for where, texts in typed.items():
        for text in texts:
            if found := _SPEAKS_OF_IT.search(one_line(text)):
                yield Finding(
                    message=f"“{found[0]}” stands in “{one_line(text)[:120]}”: words on "
                    "cross-contact may not be typed.",
                    hint="Take them out and record what was looked at, under Allergens. If a risk "
                    "remains, the statement then prints itself, with the name of the allergen.",
                    where=where,
                )


@rule(FIC, "Art. 36(2)", since=FIC_APPLIES)
def an_old_assessment_is_looked_at_again(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """A statement rests on how the kitchen works now, not on how it once worked."""
    for answer in facts.cross_contact:
        if answer.outdated_because:
            yield Finding(
                message=f"Cross-contact with {answer.named_as or answer.group}: "
                f"{answer.outdated_because}",
                hint="Look again at what is shared, how it is cleaned and what is new, and record "
                "what you found.",
                level=MUST_MEND if answer in open_risks(facts) else LOOK,
                where=KIND,
            )


@rule(FIC, "Art. 36(2)", since=FIC_APPLIES)
def cross_contact_that_nobody_looked_at_is_named(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """No statement means that nothing is said, not that nothing can get in."""
    looked_at = {answer.group for answer in facts.cross_contact}
    inside = {a.group for each in with_all_parts(facts.ingredients) for a in each.allergens}
    never = [group for group in TELLING if group not in looked_at | inside]
    if not never:
        return None
    return Finding(
        message="Nobody has recorded how other allergens could get into it: "
        f"{', '.join(never)}. The label says nothing about them.",
        hint="Nothing has to be printed. A look at shared pans, sieves, spoons and dust, written "
        "down, is what a statement would have to rest on.",
        level=INFORMATION,
        where=KIND,
    )


@rule(FIC, "Art. 36(2)(b)", since=FIC_APPLIES, mark="second-hand")
def the_statement_names_which_allergen(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """“May contain” names the allergen itself, as official guidance asks."""
    for answer in open_risks(facts):
        vague = answer.group == "nuts" and answer.named_as.casefold().strip() in forms("nut")
        if vague or not names_one_of(answer.named_as, (answer.group, *TELLING[answer.group])):
            yield Finding(
                message=f"“May contain {answer.named_as}” does not say which of the fourteen is "
                f"meant: {answer.group}.",
                hint=f"Name it, such as “{TELLING[answer.group][0]}”.",
                level=LOOK,
                where=KIND,
            )


@rule(FIC, "Art. 36(2)(a) and (b)", since=FIC_APPLIES, mark="second-hand")
def free_from_never_stands_beside_may_contain(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """The same allergen is not both promised away and warned of."""
    said = " . ".join((facts.name_of_food, facts.brand_name, facts.tagline, *facts.claims))
    away = {word for found in _FREE_FROM.finditer(said) for word in found.groups() if word}
    for answer in open_risks(facts):
        names = (answer.named_as, *TELLING[answer.group], *_ALSO_CALLED.get(answer.group, ()))
        clash = next((word for word in sorted(away) if names_one_of(word, names)), "")
        if clash:
            yield Finding(
                message=f"The label promises it free of {clash} and says that it may contain "
                f"{answer.named_as}.",
                hint="Take the promise out: it cannot be kept while the risk remains.",
                where=KIND,
            )
