"""Claims a fruit product is likely to make, what each asks of the food, and what it switches on.

A claim is looked for wherever the maker writes freely: the name, the brand, the tagline, the
claims. Figures are those of Regulation (EC) No 1924/2006, Annex, for 100 g of a solid food.
"""

import re
from collections.abc import Iterable, Iterator
from decimal import Decimal

from labels.facts import LabelFacts, PrintedText, UsedIngredient
from labels.law.eu.acts import (
    CLAIMS_APPLIES,
    CLAIMS_REG,
    FIC,
    FIC_APPLIES,
    GLUTEN_APPLIES,
    GLUTEN_REG,
    NUTRITION_APPLIES,
)
from labels.law.eu.jam_words import plain
from labels.law.eu.words import one_line, words_of
from labels.mechanics.text import names_one_of
from labels.rulebook import LOOK, MUST_MEND, Finding, rule

REDUCED_BY_PCT = Decimal(30)
LOW_SUGAR_G, SUGAR_FREE_G = Decimal(5), Decimal("0.5")
FIBRE_SOURCE_G, HIGH_FIBRE_G = Decimal(3), Decimal(6)

NO_ADDED_SUGAR, REDUCED_SUGAR, LIGHT = "no added sugar", "reduced sugar", "light"
SOURCE_OF_FIBRE, HIGH_FIBRE = "source of fibre", "high fibre"
LOW_SUGAR, SUGAR_FREE = "low sugar", "sugar free"
OF_FAT_OR_SALT, OF_VITAMINS, HEALTH = "fat or salt", "vitamins or minerals", "health"

_SUGAR = (
    r"(?:sugars?|az[uú]car(?:es)?|sucres?|zuccher[oi]|a[cç][uú]car(?:es)?|zucker)"
)  # fmt: skip
_CLAIMS: dict[str, str] = {
    NO_ADDED_SUGAR: rf"no added {_SUGAR}|no {_SUGAR}|without (?:added|any) {_SUGAR}|unsweetened|"
    rf"sin {_SUGAR} a[nñ]adid\w*|sans {_SUGAR} ajout\w*|senza {_SUGAR} aggiunt\w*|"
    rf"sem (?:adi[cç][aã]o de )?{_SUGAR}(?: adicionad\w*)?|ohne zuckerzusatz|just fruit",
    REDUCED_SUGAR: rf"(?:reduced|less|lower|fewer) {_SUGAR}|{_SUGAR} reduced|"
    rf"reducid\w+ en {_SUGAR}|{_SUGAR} reduit\w*|zuckerreduziert|weniger zucker",
    LIGHT: r"(?:light|lite|ligero|l[eé]ger|leggero|leicht)"
    r"(?! (?:brown|muscovado|amber|golden|pink|colou?r|syrup))",
    LOW_SUGAR: rf"low (?:in )?{_SUGAR}|bajo en {_SUGAR}|zuckerarm",
    SUGAR_FREE: rf"{_SUGAR}[ -]?free|free (?:of|from) {_SUGAR}|sin {_SUGAR}(?! a)|zuckerfrei|"
    rf"sans {_SUGAR}(?! a)",
    SOURCE_OF_FIBRE: r"(?:source of|contains|with) fib(?:re|er)|fuente de fibra|source de fibres?|"
    r"fonte di fibre|fonte de fibra|ballaststoffquelle",
    HIGH_FIBRE: r"(?:high|rich)(?: in)? fib(?:re|er)|alto contenido (?:en|de) fibra|"
    r"ballaststoffreich|riche en fibres",
    OF_FAT_OR_SALT: r"(?:low|reduced|no added|high|less) (?:in )?(?:fat|salt|sodium|saturated fat|"
    r"saturates|calories|energy)|(?:fat|salt|sodium|energy|calorie)[ -]free|low calorie",
    OF_VITAMINS: r"(?:source of|rich in|high in|high|contains|full of|natural source of) "
    r"(?:natural )?(?:vitamins?|minerals?|vitamin [a-e]\d*|iron|calcium|potassium|antioxidants?|"
    r"protein|omega[ -]?3)",
    HEALTH: r"health(?:y|ier)?|good for (?:you|your)|immun\w*|detox\w*|super ?food|antioxidant\w*|"
    r"probiotic\w*|wellness|saludable|bon pour la sant[eé]|gesund",
}  # fmt: skip
_PATTERNS = {
    claim: re.compile(rf"(?<!\w)(?:{pattern})(?!\w)") for claim, pattern in _CLAIMS.items()
}

SWEETENING = (
    "sugar", "honey", "syrup", "glucose", "fructose", "dextrose", "molasses", "treacle", "agave",
    "concentrate", "date paste", "azucar", "azúcar", "miel", "sucre", "zucchero", "miele", "açúcar",
    "mel", "zucker", "honig", "sirup", "concentrado", "concentrato", "concentré",
)  # fmt: skip
"""Words of foods used to sweeten: any of them ends "no added sugar"."""

NATURALLY = re.compile(r"natural\w* (?:occurring )?sugars?|(?:az[uú]cares|sucres|zuccheri) natural")

_LIST = r"(\w+(?:(?:, ?| and | or | & | nor | y | o | et | ou | e | und | oder )\w+)*)"
_FREE_FROM = (
    re.compile(r"(?<!\w)(\w+)[ -]free(?!\w)"),
    re.compile(r"(?<!\w)(\w+)frei(?!\w)"),
    re.compile(rf"(?<!\w)(?:free (?:from|of)|without|no|sin|sans|senza|sem|ohne) {_LIST}"),
)
_WORDS_OF_GROUP: dict[str, tuple[str, ...]] = {
    "nuts": ("nut", "nuts", "almond", "almonds", "walnut", "walnuts", "hazelnuts", "nueces", "noix",
             "noci", "nozes", "nuss", "nusse", "frutos", "frutta"),
    "peanuts": ("peanut", "peanuts", "cacahuetes", "arachides", "arachidi", "amendoins", "erdnuss"),
    "gluten": ("gluten", "wheat", "glutine", "trigo", "ble", "weizen"),
    "milk": ("milk", "dairy", "lactose", "lactosa", "lattosio", "leche", "lait", "latte", "leite",
             "milch", "laktose"),
    "eggs": ("egg", "eggs", "huevo", "huevos", "oeuf", "oeufs", "uova", "ovo", "ovos", "eier"),
    "soybeans": ("soya", "soy", "soja", "soia"),
    "sesame": ("sesame", "sesamo", "sesam"),
    "mustard": ("mustard", "mostaza", "moutarde", "senape", "mostarda", "senf"),
    "celery": ("celery", "apio", "celeri", "sedano", "aipo", "sellerie"),
    "lupin": ("lupin",),
    "fish": ("fish", "pescado", "poisson", "pesce", "peixe", "fisch"),
    "sulphites": ("sulphite", "sulphites", "sulfite", "sulfites", "sulfitos", "solfiti", "sulfit"),
    "crustaceans": ("shellfish", "crustaceans"),
    "molluscs": ("shellfish", "molluscs"),
}  # fmt: skip
"""Words by which a label denies an allergen; those not English are from memory."""
VEGAN = ("milk", "eggs", "fish", "crustaceans", "molluscs")
_NOT_VEGAN = ("honey", "gelatine", "gelatin", "lard", "suet", "butter", "cream", "carmine")
_CALLED_NUTS = ("chestnut", "coconut", "pine nut", "nutmeg", "peanut")
"""Foods that a buyer may take for nuts, though the closed list of Annex II does not hold them."""


def reduction_pct(*, amount: Decimal, in_like_product: Decimal) -> Decimal:
    """By how much an amount is below that of a similar product [%]."""
    return (in_like_product - amount) * 100 / in_like_product


def may_say_reduced(*, amount: Decimal, in_like_product: Decimal) -> bool:
    """Whether "reduced" may be said: at least 30 % less than a similar product.

    Source: Regulation (EC) No 1924/2006, Annex.
    """
    return reduction_pct(amount=amount, in_like_product=in_like_product) >= REDUCED_BY_PCT


def free_texts(facts: LabelFacts) -> tuple[str, ...]:
    """What the maker wrote freely, where a claim may stand."""
    texts = (facts.name_of_food, facts.brand_name, facts.tagline, *facts.claims)
    return tuple(filter(None, map(one_line, texts)))


def claims_made(facts: LabelFacts) -> tuple[tuple[str, str], ...]:
    """Each claim found, with the text that makes it: ("no added sugar", "All fruit, no sugar…")."""
    found = [
        (claim, text)
        for text in map(one_line, (facts.name_of_food, facts.tagline, *facts.claims))
        for claim, pattern in _PATTERNS.items()
        if pattern.search(text.casefold())
    ]
    told = {text for _, text in found} | {text for _, text in groups_denied(facts)}
    found += [
        ("of its own", claim)
        for claim in map(one_line, facts.claims)
        if claim and claim not in told and not NATURALLY.search(claim.casefold())
    ]
    return tuple(dict.fromkeys(found))


def says_reduced_sugar(facts: LabelFacts) -> bool:
    """Whether the label claims "reduced sugars"."""
    return any(claim == REDUCED_SUGAR for claim, _ in claims_made(facts))


def _all(facts: LabelFacts) -> Iterable[UsedIngredient]:
    return (part for each in facts.ingredients for part in each.with_parts())


@rule(CLAIMS_REG, "Annex, “with no added sugars”", since=CLAIMS_APPLIES)
def no_added_sugar_means_nothing_that_sweetens(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """No sugar is added, nor any other food used to sweeten, such as honey or concentrate."""
    said = [text for claim, text in claims_made(facts) if claim == NO_ADDED_SUGAR]
    if not said:
        return
    sweet = [i for i in _all(facts) if i.category == "sugar" or names_one_of(i.name, SWEETENING)]
    for ingredient in sweet:
        yield Finding(
            message=f"“{said[0]}” cannot stand: {ingredient.name} sweetens.",
            hint="Take the claim off the label.",
            where="claims",
        )
    if not sweet and not any(NATURALLY.search(text.casefold()) for text in free_texts(facts)):
        yield Finding(
            message=f"Beside “{said[0]}” the label should say “contains naturally occurring "
            "sugars”, for fruit has its own.",
            hint="Write it in the tagline.",
            level=LOOK,
            where="claims",
        )


@rule(CLAIMS_REG, "Art. 8 and Annex", since=CLAIMS_APPLIES)
def a_claim_is_one_of_the_list(facts: LabelFacts, printed: PrintedText | None) -> Iterator[Finding]:
    """Only the nutrition claims of the list may be made, each under its condition."""
    for claim, text in claims_made(facts):
        if claim in {NO_ADDED_SUGAR, HEALTH}:
            continue
        yield Finding(
            message=f"“{text}” is a nutrition claim: {_CONDITIONS.get(claim, _OTHERWISE)}",
            hint="Keep the analysis or the sum that bears it out, or take the claim off.",
            level=LOOK,
            where="claims",
        )


_OTHERWISE = "only those of the list are lawful, each under its own condition."
_CONDITIONS = {
    REDUCED_SUGAR: "it needs sugars at least 30 % below a similar product, and no more energy.",
    LIGHT: "it needs what “reduced” needs, 30 % less, and says in what the food is light.",
    LOW_SUGAR: "it needs at most 5 g of sugars in 100 g.",
    SUGAR_FREE: "it needs at most 0.5 g of sugars in 100 g; fruit has more.",
    SOURCE_OF_FIBRE: "it needs at least 3 g of fibre in 100 g, or 1.5 g in 100 kcal.",
    HIGH_FIBRE: "it needs at least 6 g of fibre in 100 g, or 3 g in 100 kcal.",
}


@rule(FIC, "Art. 49, changing Regulation (EC) No 1924/2006, Art. 7", since=NUTRITION_APPLIES)
def a_claim_calls_for_the_nutrition_table(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """A nutrition or health claim makes the nutrition declaration mandatory, exempt or not."""
    made = claims_made(facts)
    if not made or facts.shows_nutrition:
        return None
    return Finding(
        message=f"“{made[0][1]}” is a claim, and with a claim the nutrition declaration is "
        "mandatory: the exemption no longer holds.",
        hint="Take the claim off the label, or declare nutrition.",
        where="nutrition",
    )


@rule(CLAIMS_REG, "Art. 10(1) and (3)", since=CLAIMS_APPLIES)
def a_health_claim_is_authorised(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """Health claims are forbidden unless they are authorised; "healthy" needs one beside it."""
    for claim, text in claims_made(facts):
        if claim == HEALTH:
            yield Finding(
                message=f"“{text}” reads as a health claim, and only authorised ones are lawful.",
                hint="Take it off, or ask the authority which authorised claim bears it out.",
                where="claims",
            )
    if _PATTERNS[HEALTH].search(one_line(facts.brand_name).casefold()):
        yield Finding(
            message=f"The brand “{one_line(facts.brand_name)}” reads as a health claim.",
            hint="A brand may stand only beside an authorised claim that it goes with (Art. 1(3)); "
            "ask the local authority.",
            level=LOOK,
            where="claims",
        )


# --- Free from ------------------------------------------------------------------------------------


def groups_denied(facts: LabelFacts) -> tuple[tuple[str, str], ...]:
    """Allergen groups that the label says are not there, with the text: ("nuts", "Nut free")."""
    found = []
    for text in free_texts(facts):
        low = plain(text)
        denied = {
            word
            for pattern in _FREE_FROM
            for match in pattern.finditer(low)
            for word in words_of(match[1])
        }
        found += [(group, text) for group, said in _WORDS_OF_GROUP.items() if denied & set(said)]
        if "vegan" in words_of(low):
            found += [(group, text) for group in VEGAN]
    return tuple(dict.fromkeys(found))


@rule(FIC, "Arts 7(1) and 36(2)", since=FIC_APPLIES)
def free_from_is_true_of_every_ingredient(
    facts: LabelFacts, printed: PrintedText | None
) -> Iterator[Finding]:
    """“Nut free”, “gluten free” and their like are held against the answers of each ingredient."""
    for group, text in groups_denied(facts):
        holding = [i.name for i in _all(facts) if any(a.group == group for a in i.allergens)]
        asked = [i for i in _all(facts) if group in i.allergens_not_known]
        if holding:
            yield Finding(
                message=f"“{text}” is untrue: {holding[0]} contains {group}.",
                hint="Take the words off the label: somebody may rely on them.",
                where="claims",
            )
        elif asked:
            yield Finding(
                message=f"“{text}” cannot be said yet: nobody has answered whether {asked[0].name} "
                f"contains {group}.",
                hint="Read its pack or ask its supplier, and answer on its page.",
                where="allergens",
                about=asked[0].key,
            )
        else:
            yield Finding(
                message=f"“{text}”: no ingredient brings {group} by the answers given. The words "
                "also promise that none gets in from the kitchen, and that is not checked here.",
                hint="Say it only after an assessment on record of what else is cooked there.",
                level=LOOK,
                where="claims",
            )


@rule(FIC, "Art. 7(1)", since=FIC_APPLIES)
def free_from_does_not_mislead(facts: LabelFacts, printed: PrintedText | None) -> Iterator[Finding]:
    """What a buyer takes for a nut, or for a thing of an animal, makes the words misleading."""
    denied = dict(groups_denied(facts))
    if "nuts" in denied:
        for ingredient in _all(facts):
            if names_one_of(ingredient.name, _CALLED_NUTS):
                yield _misleads(denied["nuts"], ingredient, level=LOOK)
    said = next((t for t in free_texts(facts) if "vegan" in words_of(t)), "")
    for ingredient in _all(facts) if said else ():
        if names_one_of(ingredient.name, _NOT_VEGAN):
            yield _misleads(said, ingredient, level=MUST_MEND)


def _misleads(text: str, ingredient: UsedIngredient, *, level: str) -> Finding:
    return Finding(
        message=f"“{text}” beside {ingredient.name} may mislead.",
        hint="Take the words off the label, or ask the local authority.",
        level=level,
        where="claims",
    )


@rule(GLUTEN_REG, "Art. 3 and Annex, Part A", since=GLUTEN_APPLIES)
def gluten_free_means_20_mg_per_kg(
    facts: LabelFacts, printed: PrintedText | None
) -> Finding | None:
    """“Gluten free” is for food with at most 20 mg of gluten in 1 kg as sold."""
    said = dict(groups_denied(facts)).get("gluten")
    if said is None:
        return None
    return Finding(
        message=f"“{said}” promises at most 20 mg of gluten in 1 kg of the food as sold.",
        hint="Have it measured, or take the words off; ask the local authority.",
        level=LOOK,
        where="claims",
    )
