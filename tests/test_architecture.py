"""Who may import whom, what every public function says, and that examples in words hold."""

import ast
import doctest
import importlib
import pkgutil
import re
import subprocess
import sys
from pathlib import Path

import grimp
import pytest
from conftest import ROOT

import calc
from calc.app.contents import CALCULATORS

MODULES = [
    module.name
    for module in pkgutil.walk_packages(calc.__path__, "calc.")
    if not module.name.endswith("__main__")
]
CALCULATOR_PACKAGES = {
    calculator.inputs.__module__.removesuffix(".inputs") for calculator in CALCULATORS.values()
}


def test_layers_hold():
    done = subprocess.run(
        [str(ROOT / ".venv/bin/lint-imports")]
        if sys.platform != "win32"
        else [str(ROOT / ".venv/Scripts/lint-imports.exe")],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout


# Tables of the groupings and drawings of terminals, which a plan needs as such.
SHARED = {"calc.bridging.assigning", "calc.bridging.mapping", "calc.bridging.drawings"}


def test_a_plan_asks_chapters_by_their_calculators_alone():
    """Of a chapter, choosing and the system know its calculators and not their inner modules."""
    graph = grimp.build_graph("calc")
    chapters = {name.split(".")[1] for name in CALCULATOR_PACKAGES} - {"choosing"}
    imported = {
        name
        for module in graph.modules
        if module.startswith(("calc.choosing.", "calc.system."))
        for name in graph.find_modules_directly_imported_by(module)
        if name.split(".")[1] in chapters
    }
    assert imported - CALCULATOR_PACKAGES == SHARED


@pytest.mark.parametrize("name", sorted(CALCULATOR_PACKAGES))
def test_a_calculator_is_inputs_solve_and_sheet(name):
    modules = set(MODULES)
    assert {f"{name}.{part}" for part in ("inputs", "solve", "sheet")} <= modules


def test_style_is_kept():
    for command in (["check"], ["format", "--check"]):
        done = subprocess.run(
            [sys.executable, "-m", "ruff", *command, "calc", "build", "tests"],
            cwd=ROOT,
            capture_output=True,
            text=True,
            check=False,
        )
        assert done.returncode == 0, done.stdout


@pytest.mark.parametrize("name", MODULES)
def test_examples_in_docstrings_are_true(name):
    done = doctest.testmod(importlib.import_module(name))
    assert done.failed == 0


def test_there_are_examples_in_docstrings():
    look = doctest.DocTestFinder().find
    found = [one for name in MODULES for one in look(importlib.import_module(name))]
    assert sum(len(one.examples) for one in found) >= 300


@pytest.mark.parametrize("name", [name for name in MODULES if name.startswith("calc.physics.")])
def test_public_functions_of_a_model_are_documented_and_take_keywords(name):
    """Physical arguments, which have a unit in their name, are never positional."""
    source = importlib.import_module(name).__file__
    units = re.compile(r"_(ohm|w|v|a|hz|db|m|mm|mm2|c|percent)$")
    tree = ast.parse(Path(source).read_text(encoding="utf-8"))
    classes = [node for node in tree.body if isinstance(node, ast.ClassDef)]
    for node in [*tree.body, *(part for each in classes for part in each.body)]:
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
            assert ast.get_docstring(node), node.name
            positional = [each.arg for each in node.args.args if units.search(each.arg)]
            # A single argument cannot be swapped with another.
            assert len(positional) <= 1, node.name


MOST_LINES = 400
MOST_LINES_OF_TESTS = 480
MOST_LINES_OF_A_FUNCTION = 60


def written(*folders, endings=(".py",)):
    """Yield the files of these folders with these endings that are written by hand."""
    for folder in folders:
        for file in (ROOT / folder).rglob("*"):
            if file.suffix in endings and "node_modules" not in file.parts:
                yield file


def test_files_can_be_read_in_one_sitting():
    """Scripts of the page are looked at where their types are."""
    for file in written("calc", "build", endings=(".py", ".css")):
        lines = file.read_text(encoding="utf-8").count("\n")
        assert lines <= MOST_LINES, (file, lines)


def test_tests_can_be_read_in_one_sitting():
    for file in written("tests"):
        lines = file.read_text(encoding="utf-8").count("\n")
        assert lines <= MOST_LINES_OF_TESTS, (file, lines)


def test_functions_can_be_read_at_a_glance():
    seen = 0
    for file in written("calc", "build"):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
                first = min(each.lineno for each in [node, *node.decorator_list])
                lines = node.end_lineno - first + 1
                assert lines <= MOST_LINES_OF_A_FUNCTION, (file, node.name, lines)
                seen += 1
    assert seen > 1000


def test_the_calculators_need_only_the_standard_library():
    script = (
        "import sys; import calc.app.page, calc.__main__; calc.__main__.main(['bridged-output'])"
    )
    done = subprocess.run(
        [sys.executable, "-S", "-c", script], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr


def test_readme_names_only_files_that_exist():
    for name in ("README.md", "DEVELOPERS.md"):
        text = (ROOT / name).read_text(encoding="utf-8")
        for path in re.findall(r"`((?:calc|docs|build|tests|shared)/[\w./-]*)`", text):
            assert (ROOT / path).exists(), (name, path)
