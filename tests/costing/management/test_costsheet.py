"""The cost sheet on the command line: what scripts read, and what they are told when they err."""

import json
import subprocess
import sys
from decimal import Decimal
from io import StringIO
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command

from tests.builders import (
    TODAY,
    a_damson_paste,
    a_kitchen,
    a_price,
    a_recipe,
    an_ingredient,
    sugar,
)

pytestmark = pytest.mark.django_db
ROOT = Path(__file__).resolve().parents[3]


def costsheet(*arguments):
    out = StringIO()
    call_command("costsheet", *arguments, "--on", TODAY.isoformat(), stdout=out)
    return out.getvalue()


def as_json(*arguments):
    return json.loads(costsheet(*arguments, "--format", "json"))


def test_json_has_the_worked_example():
    # 24 kg of damsons ... 108.5247 over 11.8903 kg: see test_recipe_costs.
    recipe = a_damson_paste(a_kitchen(trading_name="Rookfold"))
    told = as_json("Damson cheese")

    assert told["recipe"] == "Damson cheese"
    assert (told["kitchen"], told["version"], told["currency"]) == ("Rookfold", 1, "EUR")
    assert (told["on"], told["policy"]) == (TODAY.isoformat(), "latest")
    expected = {
        "ingoing_g": "17280",
        "evaporated_g": "4958.4",
        "pan_residue_g": "431.256",
        "finished_g": "11890.344",
        "sieved_out_g": "0",
        "handling_loss_g": "0",
        "finishing_brix": "75",
        "cost_total": "108.5247",
        "cost_per_kg_finished": "9.1271",
        "cost_per_kg_ingoing": "6.2804",
    }
    for name, figure in expected.items():
        assert isinstance(told[name], str)
        assert round(Decimal(told[name]), 4) == Decimal(figure), name
    assert sum(Decimal(cost) for cost in told["breakdown"].values()) == Decimal(told["cost_total"])
    assert list(told["breakdown"]) == ["materials", "labour", "energy", "packaging", "overhead"]
    assert [line["name"] for line in told["lines"]] == [
        "Damson puree",
        "White sugar",
        "Lemon juice",
    ]
    white = told["lines"][1]
    assert (white["amount"], white["unit"], white["used_g"]) == ("90", "%", "8100")
    assert (white["cost"], white["price_per_kg"]) == ("7.695", "0.95")
    assert white["valid_from"] == f"{TODAY.year}-01-01"
    assert (told["unpriced"], told["questions"], told["is_lower_bound"]) == ([], [], False)
    assert recipe.name in told["recipe"]


def test_the_mass_adds_up_in_the_strings_too():
    a_damson_paste()
    told = as_json("damson CHEESE")
    parts = ("evaporated_g", "sieved_out_g", "pan_residue_g", "handling_loss_g", "finished_g")
    assert sum(Decimal(told[name]) for name in parts) == Decimal(told["ingoing_g"])


def test_what_is_not_known_is_null_and_costs_are_lower_bounds():
    kitchen = a_kitchen()
    priced, dear = sugar(kitchen), an_ingredient(kitchen, name="Saffron")
    a_price(priced, per_kg="0.95")
    a_recipe(kitchen, name="Syrup", lines=[(priced, 2), (dear, 1, "l")])
    told = as_json("Syrup")
    assert told["unpriced"] == ["Saffron"]
    assert told["is_lower_bound"] is True
    assert told["cost_total"] == "1.9"
    unknown = ("finished_g", "cost_per_kg_finished", "finishing_brix", "ingoing_g", "rise_k")
    assert {told[name] for name in unknown} == {None}
    assert told["lines"][1]["cost"] is None
    assert any("what does one litre weigh?" in question for question in told["questions"])


def test_text_is_aligned_and_says_at_least():
    a_damson_paste(a_kitchen(trading_name="Rookfold"))
    text = costsheet("Damson cheese")
    rows = {line.strip().split("  ")[0]: line for line in text.splitlines() if line.strip()}
    assert rows["per kg finished"].endswith("€9.13")
    assert rows["per kg put in"].endswith("€6.28")
    assert rows["evaporated"].split()[-1] == "4.958"
    assert len(rows["in all"]) == len(rows["materials"])
    assert "at least" not in text

    kitchen = a_recipe(name="Plum jam", lines=[(an_ingredient(name="Plums"), 1)]).kitchen
    text = costsheet("Plum jam", "--kitchen", str(kitchen.pk))
    assert "at least €0.00" in text
    assert "Not known yet" in text
    assert "  - Plums: what does a kilo cost?" in text


def test_an_unknown_recipe_is_answered_with_names_like_it():
    a_damson_paste(a_kitchen(trading_name="Rookfold"))
    with pytest.raises(CommandError) as refused:
        costsheet("Damsen chese")
    assert "Rookfold has no recipe called “Damsen chese”" in str(refused.value)
    assert "Did you mean “Damson cheese”" in str(refused.value)
    with pytest.raises(CommandError, match="Its recipes are: Damson cheese, Damson puree"):
        costsheet("zzz")


def test_a_kitchen_without_recipes_says_so():
    a_kitchen(trading_name="Rookfold")
    with pytest.raises(CommandError, match="Rookfold has no recipes yet"):
        costsheet("Jam")


def test_several_kitchens_are_listed_to_choose_from():
    first = a_kitchen(trading_name="Alder")
    a_recipe(first, name="Jam", lines=[(an_ingredient(first), 1)])
    second = a_kitchen(trading_name="Birch")
    with pytest.raises(CommandError) as refused:
        costsheet("Jam")
    assert "--kitchen" in str(refused.value)
    assert f"{first.pk}  Alder\n  {second.pk}  Birch" in str(refused.value)
    with pytest.raises(CommandError, match="no kitchen called “Cedar”"):
        costsheet("Jam", "--kitchen", "Cedar")
    assert as_json("Jam", "--kitchen", "alder")["recipe"] == "Jam"


def test_without_a_kitchen_there_is_nothing_to_cost():
    with pytest.raises(CommandError, match="There is no kitchen yet"):
        costsheet("Jam")


@pytest.mark.parametrize("day", ["yesterday", "2026-02-30", "20.9.2026", "2026-13-01"])
def test_a_day_that_is_none_is_refused(day):
    a_damson_paste()
    with pytest.raises(CommandError, match="not a day"):
        call_command("costsheet", "Damson cheese", "--on", day)


def test_another_day_has_other_prices():
    a_damson_paste()
    out = StringIO()
    day = f"{TODAY.year - 1}-12-31"
    call_command("costsheet", "Damson cheese", "--on", day, "--format", "json", stdout=out)
    assert json.loads(out.getvalue())["unpriced"] == ["Damsons", "White sugar", "Lemon juice"]


def test_a_recipe_that_contradicts_itself_is_told_and_not_a_traceback():
    kitchen = a_kitchen()
    a_recipe(
        kitchen,
        name="Sweet",
        lines=[(sugar(kitchen), 1)],
        cook_kind="boil down",
        stop_value=65,
    )
    assert as_json("Sweet")["finished_g"] is None
    assert "not known" in costsheet("Sweet")


def test_on_the_command_line_an_error_is_one_sentence_and_code_1(tmp_path):
    environment = {"PRODUCER_VAR": str(tmp_path), "PATH": "/usr/bin:/bin"}
    command = [sys.executable, "manage.py", "costsheet", "Jam", "--on", "nonsense"]
    done = subprocess.run(
        command, cwd=ROOT, env=environment, capture_output=True, text=True, check=False
    )
    assert done.returncode == 1
    assert done.stderr.startswith("CommandError: --on nonsense: not a day.")
    assert "Traceback" not in done.stderr


def test_the_help_names_every_key_of_the_json():
    from costing.management.commands.costsheet import HELP

    a_damson_paste()
    told = as_json("Damson cheese")
    for name in (*told, *told["breakdown"], *told["lines"][0]):
        assert name in HELP
