"""Why a sum cannot be done, in words that say what to change and where."""

from costing.reckoning.book import Question


class ReckoningError(ValueError):
    """Something entered contradicts arithmetic or boiling.

    field: name of the field it belongs to, as stored ("stop_value", "base_g", "amount" ...).
    line: position of the recipe line it belongs to, from 0; None when it is not about a line.
    recipe: name of the recipe it was found in, when it was found below the one asked for.
    """

    def __init__(
        self, message: str, *, field: str = "", line: int | None = None, recipe: str = ""
    ) -> None:
        super().__init__(message)
        self.field = field
        self.line = line
        self.recipe = recipe


class RecipeLoop(ReckoningError):
    """A preparation that is needed to make itself; `names` go round once."""

    def __init__(self, names: tuple[str, ...]) -> None:
        self.names = names
        super().__init__(
            f"This recipe needs itself: {' -> '.join(names)}. "
            "Take one of them out of the other's lines.",
            field="preparation",
        )


class MassUnknown(ReckoningError):
    """The finished mass cannot be told until the questions are answered."""

    def __init__(self, questions: tuple[Question, ...]) -> None:
        self.questions = questions
        super().__init__(" ".join(question.sentence for question in questions))
