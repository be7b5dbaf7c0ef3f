"""A list set by terms that stand for a law; order and brackets written out by hand."""

from decimal import Decimal

from labels.facts import Allergen, TextRun, UsedIngredient
from labels.mechanics.listing import Group, ListSetter, ListTerms, by_mix
from labels.mechanics.runs import emphasised, whole_words


def set_apart(text, allergens):
    asked = tuple(allergens)
    runs, missing = emphasised(text, [whole_words([a.named_as]) for a in asked])
    return runs, tuple(asked[n] for n in missing)


def terms(**changed):
    return ListTerms(
        **{
            "name": lambda i: i.name,
            "weight_g": lambda i: i.used_g,
            "figure": lambda i: "",
            "inside": lambda i: i.parts,
            "allergens": lambda i: i.allergens,
            "set_apart": set_apart,
            "key_of": lambda a: (a.group, ""),
            **changed,
        }
    )


def used(name, grams, **more):
    return UsedIngredient(name, Decimal(grams), **more)


def listed(present, groups=(), **changed):
    return [e.text for e in ListSetter(terms(**changed)).in_order(present, groups)]


def test_the_heaviest_comes_first_and_equals_keep_their_order():
    present = [used("b", 10), used("a", 10), used("c", 20)]
    assert listed(present) == ["c", "b", "a"]


def test_a_group_stands_at_the_mass_of_all_its_members():
    apple, pear, sugar = used("apple", 30), used("pear", 40), used("sugar", 60)
    named = Group((apple, pear), "fruit", names_members=True)
    assert listed([sugar, apple, pear], [named]) == ["fruit (pear, apple)", "sugar"]
    plain = Group((apple, pear), "fruit", names_members=False)
    assert listed([sugar, apple, pear], [plain]) == ["fruit", "sugar"]


def test_an_allergen_told_inside_is_not_told_again_outside():
    milk = Allergen("milk", "milk")
    butter = used("butter", 5, parts=(used("cream (milk)", 5, allergens=(milk,)),))
    told = terms(allergens=lambda i: (milk,))
    entry = ListSetter(told).in_order([butter], [])[0]
    assert entry.text == "butter (cream (milk))"
    assert [r.text for r in entry.runs if r.is_emphasised] == ["milk"]
    assert TextRun("milk", is_emphasised=True) in entry.runs


def test_figure_then_parts_then_allergens_that_nothing_names():
    soya = Allergen("soybeans", "soya")
    lecithin = used("emulsifier: lecithin", 1, allergens=(soya,))
    assert listed([lecithin], figure=lambda i: "1 %") == ["emulsifier: lecithin (1 %; soya)"]


def test_a_mix_gathers_its_own_under_the_name_as_a_label_can_set_it():
    plum, fig = used("plum", 10, varying_mix="Fruit"), used("fig", 20, varying_mix=" Fruit\n")
    alone = used("dill", 1, varying_mix="Herbs")
    assert by_mix([plum, used("sugar", 5), alone, fig]) == {"Fruit": [plum, fig], "Herbs": [alone]}
