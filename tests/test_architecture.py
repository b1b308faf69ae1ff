"""Who may import whom, what every public function says, and that examples in words hold."""

import ast
import doctest
import importlib
import pkgutil
import re
import subprocess
import sys
from pathlib import Path

import pytest
from conftest import ROOT

import calc

MODULES = [
    module.name
    for module in pkgutil.walk_packages(calc.__path__, "calc.")
    if not module.name.endswith("__main__")
]


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
    tried = sum(doctest.testmod(importlib.import_module(name)).attempted for name in MODULES)
    assert tried >= 20


@pytest.mark.parametrize("name", [name for name in MODULES if name.startswith("calc.physics.")])
def test_public_functions_of_a_model_are_documented_and_take_keywords(name):
    """Physical arguments, which have a unit in their name, are never positional."""
    source = importlib.import_module(name).__file__
    units = re.compile(r"_(ohm|w|v|a|hz|db|m|mm|mm2|c|percent)$")
    tree = ast.parse(Path(source).read_text(encoding="utf-8"))
    classes = [node for node in tree.body if isinstance(node, ast.ClassDef)]
    for node in [*tree.body, *(part for one in classes for part in one.body)]:
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
            assert ast.get_docstring(node), node.name
            positional = [one.arg for one in node.args.args if units.search(one.arg)]
            # A single argument cannot be swapped with another.
            assert len(positional) <= 1, node.name


def test_modules_can_be_read_in_one_sitting():
    for folder in ("calc", "build", "tests"):
        for file in (ROOT / folder).rglob("*"):
            if file.suffix in (".py", ".mjs", ".css") and "node_modules" not in file.parts:
                lines = file.read_text(encoding="utf-8").count("\n")
                assert lines <= 480, (file, lines)


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
