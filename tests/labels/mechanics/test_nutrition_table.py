"""A declaration as a table and as a line; both written out by hand."""

from labels.mechanics.nutrition_table import Row, as_table, in_line

ROWS = (
    Row("fat", "1.2 g", "0.2 g", "0 %"),
    Row("of which saturates", "0.1 g", "<0.1 g", "0 %", is_part=True),
    Row("fibre", "3 g", "0.6 g"),
)


def test_a_table_has_as_many_columns_as_its_head_and_sets_its_parts_small():
    assert as_table(ROWS, head=("Nutrition", "per 100 g")).rows[0] == ("Fat", "1.2 g")
    wide = as_table(ROWS, head=("Nutrition", "per 100 g", "per 20 g", "%"), notes=["Note."])
    assert wide.rows[1] == ("of which saturates", "0.1 g", "<0.1 g", "0 %")
    assert (wide.indented, wide.notes) == ((1,), ("Note.",))


def test_a_line_tells_the_hundred_grams_then_the_portion_then_the_notes():
    assert in_line(ROWS) == "fat 1.2 g, of which saturates 0.1 g, fibre 3 g."
    assert in_line(ROWS, portion="20 g:", mark="*", notes=["*Note."]) == (
        "fat 1.2 g, of which saturates 0.1 g, fibre 3 g. "
        "20 g: fat 0.2 g (0 %*), of which saturates <0.1 g (0 %*), fibre 0.6 g. *Note."
    )
