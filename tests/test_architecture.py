"""Conventions that are checked. Each check is also shown a fault, to know that it sees one."""

import ast
import re
import subprocess
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from django.apps import apps
from django.db import models
from django.urls import URLPattern, URLResolver, get_resolver

from costing.models import Kitchen, KitchenOwned

ROOT = Path(__file__).resolve().parent.parent
PACKAGES = ("producer", "costing", "labels")
LONGEST_MODULE, LONGEST_FUNCTION = 400, 40

SOURCES = sorted(
    path
    for package in PACKAGES
    for path in (ROOT / package).rglob("*.py")
    if "migrations" not in path.parts
)
TEMPLATES = sorted((ROOT / "templates").rglob("*.html"))


def _name(path: Path) -> str:
    return str(path.relative_to(ROOT))


def _ids(paths: list[Path]) -> list[str]:
    return [_name(path) for path in paths]


# --- Shape ---------------------------------------------------------------------------------------


def test_the_top_level_is_what_the_project_agreed_on():
    allowed = {"README.md", "DEVELOPERS.md", "LICENSE", "constraints.txt", "manage.py"}
    allowed |= {"pyproject.toml", "producer", "costing", "labels", "templates", "tests"}
    listed = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT, capture_output=True, text=True, check=True,
    ).stdout.split("\n")  # fmt: skip
    top = {line.split("/")[0] for line in listed if line}
    assert {name for name in top if not name.startswith(".")} <= allowed


def without_a_subject(path: Path) -> bool:
    return path.stem in {"utils", "util", "common", "misc", "helpers", "tools", "lib"}


def test_no_module_is_without_a_subject():
    assert without_a_subject(Path("labels/helpers.py"))
    assert [_name(path) for path in SOURCES if without_a_subject(path)] == []


@pytest.mark.parametrize("path", SOURCES, ids=_ids(SOURCES))
def test_a_module_can_be_read_in_one_sitting(path):
    lines = path.read_text().count("\n")
    assert lines <= LONGEST_MODULE, f"{_name(path)} has {lines} lines: split it by subject."


def long_functions(source: str) -> list[str]:
    return [
        f"{node.name}: {length} lines"
        for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
        and (length := _code_lines(node)) > LONGEST_FUNCTION
    ]


def _code_lines(node: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    """Lines of a function without its docstring, which may be as long as its evidence."""
    length = (node.end_lineno or node.lineno) - node.lineno + 1
    if ast.get_docstring(node):
        first = node.body[0]
        length -= (first.end_lineno or first.lineno) - first.lineno + 1
    return length


@pytest.mark.parametrize("path", SOURCES, ids=_ids(SOURCES))
def test_a_function_fits_on_a_screen(path):
    assert long_functions(path.read_text()) == []


def test_a_long_function_is_seen():
    assert long_functions("def f():\n" + "    pass\n" * LONGEST_FUNCTION)


def undocumented(source: str) -> list[str]:
    """Public functions and classes at the top of a module that do not say what they are for."""
    tree = ast.parse(source)
    missing = [] if ast.get_docstring(tree) or not tree.body else ["the module"]
    return missing + [
        node.name
        for node in tree.body
        if isinstance(node, ast.FunctionDef | ast.ClassDef)
        and not node.name.startswith("_")
        and not ast.get_docstring(node)
    ]


@pytest.mark.parametrize("path", SOURCES, ids=_ids(SOURCES))
def test_what_is_public_says_what_it_is_for(path):
    assert undocumented(path.read_text()) == []


def test_a_silent_function_is_seen():
    assert undocumented('"""m."""\ndef cost(): ...') == ["cost"]


# --- Tests mirror the source ---------------------------------------------------------------------

MIRRORED = (
    "costing/physics", "costing/reckoning", "costing/services", "costing/selectors",
    "labels/law/eu", "labels/law/gb", "labels/mechanics", "labels/rendering",
)  # fmt: skip


def untested(root: Path, folder: str) -> list[str]:
    return [
        f"{folder}/{path.name}"
        for path in sorted((root / folder).glob("*.py"))
        if path.stem not in {"__init__", "errors", "acts", "words"}
        and _has_code(path)
        and not (root / "tests" / folder / f"test_{path.stem}.py").exists()
    ]


def _has_code(path: Path) -> bool:
    tree = ast.parse(path.read_text())
    return any(isinstance(node, ast.FunctionDef) for node in ast.walk(tree))


@pytest.mark.parametrize("folder", MIRRORED)
def test_every_module_has_its_test_at_the_same_path(folder):
    assert untested(ROOT, folder) == []


def test_a_module_without_its_test_is_seen(tmp_path):
    (tmp_path / "labels/law/eu").mkdir(parents=True)
    (tmp_path / "labels/law/eu/quid.py").write_text("def f(): ...")
    assert untested(tmp_path, "labels/law/eu") == ["labels/law/eu/quid.py"]


# --- The clock, floats, flow ---------------------------------------------------------------------


def _calls(source: str) -> Iterator[str]:
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Call):
            yield ast.unparse(node.func)


def reads_the_clock(source: str) -> list[str]:
    clock = re.compile(r"(^|\.)(today|localdate|localtime|utcnow)$|\.now$")
    return [call for call in _calls(source) if clock.search(call)]


MAY_READ_THE_CLOCK = re.compile(
    r"/(views|management|forms)(/|\.py)|^producer/|/services/(demo|purchases|recipes|printing)\.py"
)
"""Views and commands turn the clock into `on=`. Services may stamp the moment a row was changed."""


@pytest.mark.parametrize("path", SOURCES, ids=_ids(SOURCES))
def test_today_is_a_parameter_below_the_views(path):
    if MAY_READ_THE_CLOCK.search(_name(path)):
        return
    assert reads_the_clock(path.read_text()) == []


def test_a_look_at_the_clock_is_seen():
    assert reads_the_clock("x = date.today()") == ["date.today"]
    assert reads_the_clock("x = timezone.now()") == ["timezone.now"]


def makes_floats(source: str) -> list[str]:
    return [call for call in _calls(source) if call == "float"] + [
        ast.unparse(node)
        for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.Constant) and isinstance(node.value, float)
    ]


NO_FLOATS = [
    path
    for path in SOURCES
    if re.match(
        r"costing/(models|reckoning|services|selectors|forms|money)|labels/(law|facts|models|stock)",
        _name(path),
    )
    # An estimate and its band are draws of physics, never money and never stored: they become
    # decimals where they are told (costing.units.exact).
    and not re.match(r"costing/reckoning/(stove_\w+|keeping_words)", _name(path))
]


@pytest.mark.parametrize("path", NO_FLOATS, ids=_ids(NO_FLOATS))
def test_money_and_stored_masses_never_pass_through_binary_floats(path):
    assert makes_floats(path.read_text()) == []


def test_a_float_is_seen():
    assert makes_floats("x = float(y) + 0.1") == ["float", "0.1"]


def hidden_flow(source: str) -> list[str]:
    found = []
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.ImportFrom) and "signals" in (node.module or ""):
            found.append(f"signals: {node.module}")
        if isinstance(node, ast.ClassDef):
            found += [
                f"{node.name}.{item.name}"
                for item in node.body
                if isinstance(item, ast.FunctionDef) and item.name in {"save", "delete"}
            ]
    return found


@pytest.mark.parametrize("path", SOURCES, ids=_ids(SOURCES))
def test_no_signal_and_no_logic_hidden_in_save(path):
    assert hidden_flow(path.read_text()) == []


def test_hidden_flow_is_seen():
    assert hidden_flow("from django.db.models.signals import post_save")
    assert hidden_flow("class A:\n    def save(self): ...") == ["A.save"]


# --- One kitchen ---------------------------------------------------------------------------------

OURS = [m for m in apps.get_models() if m._meta.app_label in {"costing", "labels"}]


@pytest.mark.parametrize("model", OURS, ids=lambda m: m.__name__)
def test_every_stored_row_belongs_to_one_kitchen(model):
    if model is Kitchen:
        return
    assert issubclass(model, KitchenOwned)
    assert model._meta.get_field("kitchen").null is False


@pytest.mark.parametrize("model", OURS, ids=lambda m: m.__name__)
def test_no_float_column(model):
    assert [f.name for f in model._meta.fields if isinstance(f, models.FloatField)] == []


def fetches_on_its_own(source: str) -> list[str]:
    """Ways for a view to reach a row other than through its kitchen."""
    return [
        call
        for call in _calls(source)
        if re.search(r"objects\.(get|filter|all)$|get_object_or_404$|_default_manager", call)
    ]


VIEWS = [path for path in SOURCES if re.search(r"/views(/|\.py)", _name(path))]


@pytest.mark.parametrize("path", VIEWS, ids=_ids(VIEWS))
def test_views_fetch_only_through_their_kitchen(path):
    if path.stem in {"access", "accounts"}:  # the door itself: nobody is in a kitchen yet
        return
    assert fetches_on_its_own(path.read_text()) == []


def test_a_fetch_past_the_kitchen_is_seen():
    assert fetches_on_its_own("Recipe.objects.get(pk=pk)") == ["Recipe.objects.get"]


def _patterns(resolver: URLResolver, prefix: str = "") -> Iterator[tuple[str, Callable]]:
    for entry in resolver.url_patterns:
        route = prefix + str(entry.pattern)
        if isinstance(entry, URLResolver):
            yield from _patterns(entry, route)
        elif isinstance(entry, URLPattern):
            yield route, entry.callback


def test_every_page_of_a_kitchen_says_who_may_see_it():
    pages = dict(_patterns(get_resolver()))
    of_a_kitchen = {route: view for route, view in pages.items() if "kitchen_id" in route}
    assert len(of_a_kitchen) > 20
    unguarded = [route for route, view in of_a_kitchen.items() if not getattr(view, "roles", None)]
    assert unguarded == []


def test_the_guard_stands_before_everything_else():
    # A stranger must not learn that an address exists: require_POST goes inside kitchen_view.
    pages = dict(_patterns(get_resolver()))
    late = [
        route
        for route, view in pages.items()
        if "kitchen_id" in route and view.__code__.co_name != "guarded"
    ]
    assert late == []


# --- Pages ---------------------------------------------------------------------------------------


def page_faults(html: str) -> list[str]:
    faults = {
        "inline style": r"<[^>]+\sstyle\s*=",
        "inline script": r"<script(?![^>]*\bsrc=)[^>]*>",
        "event attribute": r"<[^>]+\son(click|change|submit|load|input)\s*=",
        "unescaped value": r"\|\s*safe\b|autoescape off",
        "another host": r"""(src|href|action)\s*=\s*["']https?://""",
    }
    return [name for name, pattern in faults.items() if re.search(pattern, html, re.IGNORECASE)]


# The printed label is a document of its own, set by geometry; it never reaches a browser.
PRINTED = {
    "label.html", "label_block.html", "label_kitchen_sheet.html", "label_ribbon.html",
    "label_test_page.html", "label_allergen_sheet.html", "label_check.html",
}  # fmt: skip
PAGES = [p for p in TEMPLATES if p.name not in PRINTED]


@pytest.mark.parametrize("path", PAGES, ids=_ids(PAGES))
def test_pages_carry_no_inline_code_and_name_no_other_host(path):
    faults = page_faults(path.read_text())
    # A link to the text of a law is somewhere to go, not something the page loads.
    assert [f for f in faults if not (f == "another host" and "citation" in path.read_text())] == []


def test_page_faults_are_seen():
    assert page_faults('<p style="x">') == ["inline style"]
    assert page_faults("<script>1</script>") == ["inline script"]
    assert page_faults("{{ x|safe }}") == ["unescaped value"]
    assert page_faults('<img src="https://example.org/x">') == ["another host"]


# --- Nothing about this or that machine ----------------------------------------------------------


def names_a_machine(text: str) -> list[str]:
    return re.findall(r"(?:/home|/root|/Users)/\w+|https?://\S+/simple\b|https?://\S+\.whl\b", text)


def test_no_tracked_file_names_a_machine_or_a_registry():
    assert names_a_machine("see /home/maud/x") == ["/home/maud"]
    tracked = subprocess.run(
        ["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True
    ).stdout.split()
    found = {}
    for name in tracked:
        path = ROOT / name
        if path == Path(__file__).resolve() or not path.is_file():
            continue
        try:
            if hits := names_a_machine(path.read_text()):
                found[name] = hits
        except UnicodeDecodeError:
            continue
    assert found == {}
