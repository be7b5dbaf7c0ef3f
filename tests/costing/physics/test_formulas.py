"""Every public formula carries its units, range, source and example, and cannot lose them."""

import doctest
import importlib
import inspect
import pkgutil
import re

import pytest

import costing.physics
from costing.physics import FORMULAS, UNITS

UNIT_AT_END = re.compile(r"\[([^\]]+)\]\.$")


def _lines(formula):
    return [line.strip() for line in inspect.getdoc(formula).splitlines()]


def _units_in(formula):
    for line in _lines(formula):
        if UNIT_AT_END.search(line):
            yield UNIT_AT_END.search(line).group(1)


@pytest.mark.parametrize("formula", FORMULAS, ids=lambda f: f.__name__)
def test_every_argument_is_keyword_only_and_states_its_unit(formula):
    for name, parameter in inspect.signature(formula).parameters.items():
        assert parameter.kind is parameter.KEYWORD_ONLY, f"{name} can be passed in the wrong place"
        assert parameter.default is parameter.empty, f"{name} is silently assumed"
        line = next((line for line in _lines(formula) if line.startswith(f"{name}:")), "")
        assert UNIT_AT_END.search(line), f"{name} has no [unit]"


@pytest.mark.parametrize("formula", FORMULAS, ids=lambda f: f.__name__)
def test_what_it_returns_raises_and_rests_on_is_said_in_that_order(formula):
    lines = _lines(formula)
    places = []
    for heading in ("Returns:", "Raises:", "Source:", ">>> "):
        found = [i for i, line in enumerate(lines) if line.startswith(heading)]
        assert found, f"{formula.__name__} has no {heading}"
        places.append(found[0])
    assert places == sorted(places)
    returns = lines[places[0]]
    assert UNIT_AT_END.search(returns), f"{formula.__name__} returns without [unit]"
    assert "OutsideValidRange" in lines[places[1]]


@pytest.mark.parametrize("formula", FORMULAS, ids=lambda f: f.__name__)
def test_only_units_stated_in_the_list_are_used(formula):
    assert set(_units_in(formula)) <= set(UNITS)


def test_no_unit_is_listed_that_nothing_uses():
    used = {unit for formula in FORMULAS for unit in _units_in(formula)}
    assert set(UNITS) == used


@pytest.mark.parametrize("formula", FORMULAS, ids=lambda f: f.__name__)
def test_its_example_is_found_and_comes_out_as_printed(formula):
    module = importlib.import_module(formula.__module__)
    finder = doctest.DocTestFinder(recurse=False)
    (example,) = finder.find(formula, formula.__name__, module=module, globs=vars(module).copy())
    assert example.examples
    result = doctest.DocTestRunner(verbose=False).run(example)
    assert result.failed == 0


@pytest.mark.parametrize("formula", FORMULAS, ids=lambda f: f.__name__)
def test_a_name_ends_in_the_unit_of_what_it_returns(formula):
    endings = {
        "g": "_g", "Pa": "_pa", "C": "_c", "K": "_k", "mm": "_mm", "kJ": "_kj", "kWh": "_kwh",
        "kg/m3": "_kg_per_m3", "kJ/kg": "_kj_per_kg", "kJ/(kg K)": "_kj_per_kg_k",
        "g/min": "_g_per_min", "1/min": "_per_min",
    }  # fmt: skip
    returns = next(line for line in _lines(formula) if line.startswith("Returns:"))
    unit = UNIT_AT_END.search(returns).group(1)
    if unit in endings:
        assert formula.__name__.endswith(endings[unit])


def test_every_public_formula_of_every_module_is_in_the_list():
    # A formula is a public function that says where it comes from.
    found = set()
    for module_info in pkgutil.iter_modules(costing.physics.__path__, "costing.physics."):
        module = importlib.import_module(module_info.name)
        for name, thing in inspect.getmembers(module, inspect.isfunction):
            is_own = thing.__module__ == module_info.name
            if is_own and not name.startswith("_") and "Source:" in (inspect.getdoc(thing) or ""):
                found.add(thing)
    assert found == set(FORMULAS)
    assert len(FORMULAS) == len(found)


def test_everything_listed_can_be_imported_from_the_package():
    for name in costing.physics.__all__:
        assert hasattr(costing.physics, name)
    assert {f.__name__ for f in FORMULAS} <= set(costing.physics.__all__)
