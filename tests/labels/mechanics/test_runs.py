"""Runs of text; what is expected was written out by hand."""

from labels.facts import Act, Citation, Particular, Table, TextRun
from labels.mechanics.runs import emphasised, in_brackets, join, stands_in, tidy, whole_words


def text(runs):
    return "".join(f"*{r.text}*" if r.is_emphasised else r.text for r in runs)


def test_pieces_are_joined_and_plain_neighbours_made_one():
    joined = join([(TextRun("apple"),), (TextRun("pear"),), (TextRun("milk", True),)])
    assert text(joined) == "apple, pear, *milk*"
    assert len(joined) == 2
    assert tidy([TextRun("a"), TextRun("b")]) == (TextRun("ab"),)


def test_brackets_hold_all_details_or_are_not_there():
    name = (TextRun("praline"),)
    assert text(in_brackets(name, [])) == "praline"
    details = [(TextRun("12 %"),), (TextRun("sugar"),)]
    assert text(in_brackets(name, details)) == "praline (12 %; sugar)"


def test_a_word_is_set_apart_where_it_stands_whole():
    patterns = [whole_words(["milk"]), whole_words(["oat"])]
    runs, missing = emphasised("Milk chocolate, goats' cheese", patterns)
    assert text(runs) == "*Milk* chocolate, goats' cheese"
    assert missing == (1,)


def test_where_two_overlap_the_first_has_it():
    runs, missing = emphasised("oat milk", [whole_words(["oat milk"]), whole_words(["milk"])])
    assert text(runs) == "*oat milk*"
    assert missing == ()


def test_a_pattern_of_no_names_finds_nothing():
    assert whole_words([""]).search("anything") is None


def test_a_statement_stands_in_a_text_in_one_line_or_as_its_table():
    act = Act("An act", "https://example.org")
    table = Table(head=("Nutrition", "per 100 g"), rows=(("fat", "1 g"), ("salt", "2 g")))
    statement = Particular(
        "nutrition", (TextRun("fat 1 g, salt 2 g."),), Citation(act, "Art. 1"),
        heading="Nutrition per 100 g:", table=table,
    )  # fmt: skip
    assert stands_in(statement, "Nutrition per 100 g: fat 1 g, salt\n2 g.")
    assert stands_in(statement, "Nutrition per 100 g fat 1 g salt 2 g")
    assert not stands_in(statement, "Nutrition per 100 g fat 1 g")
