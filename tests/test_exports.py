"""The runtime's code without the exports that nobody calls, as an engine sees it."""

import json
import re

import exports
import pytest
import runtime
from hypothesis import given
from hypothesis import strategies as st
from test_types import node

LOOK = """
const { readFileSync } = require("node:fs");
const look = (file) => {
  const module = new WebAssembly.Module(readFileSync(file));
  return {
    exports: WebAssembly.Module.exports(module).map(({ name, kind }) => [name, kind]),
    imports: WebAssembly.Module.imports(module).map(({ module, name }) => `${module} ${name}`),
    linking: WebAssembly.Module.customSections(module, "dylink.0").length,
  };
};
console.log(JSON.stringify(process.argv.slice(1).map(look)));
"""


@pytest.fixture(scope="module")
def looked(site):
    """What Node tells of the runtime's code before and after."""
    files = (folder / runtime.LOADED for folder in (runtime.PYODIDE, runtime.CODE))
    output, is_well = node("-e", LOOK, *files)
    assert is_well, output
    return json.loads(output)


FUNCTIONS, ELEMENTS = 3, 9  # sections (WebAssembly Core, 5.5)


def _section(code, kind):
    (section,) = (section for known, section in exports._sections(code) if known == kind)
    return section


def _functions(code):
    """How many functions a module has of its own."""
    return exports._number(_section(code, FUNCTIONS), 0)[0]


def _placed(code):
    """How many of them it puts into its table, from the place on that the loader tells it."""
    section = _section(code, ELEMENTS)
    # One segment, without flags; its place is that of an imported global.
    assert section[:3] == bytes([1, 0, 0x23]) and section[4] == 0x0B
    return exports._number(section, 5)[0]


def test_an_engine_takes_it_with_fewer_imports_and_exports(looked):
    before, after = looked
    assert 10 < len(after["imports"]) < len(before["imports"])
    assert set(after["imports"]) < set(before["imports"])
    assert after["linking"] == before["linking"] == 1
    assert len(before["exports"]) > 9000
    assert 100 < len(after["exports"]) < 1000
    kept = {name for name, _ in after["exports"]}
    assert [one for one in before["exports"] if one[0] in kept] == after["exports"]


def test_every_export_that_the_loader_still_takes_is_there(looked):
    loader = (runtime.CODE / runtime.LOADER).read_text(encoding="utf-8")
    taken = set(re.findall(r'\bwasmExports(?:\.|\[")([\w$]+)', loader))
    before = {name for name, _ in looked[0]["exports"]}
    assert len(taken) > 100
    assert taken & before <= {name for name, _ in looked[1]["exports"]}


def test_functions_that_only_left_out_exports_led_to_are_gone(site):
    before, after = (
        (folder / runtime.LOADED).read_bytes() for folder in (runtime.PYODIDE, runtime.CODE)
    )
    assert 0.6 < _functions(after) / _functions(before) < 0.8
    # Who calls by a place in the table finds the same there: entries stay, each in its place.
    assert _placed(after) == _placed(before) > 1000


@given(st.integers(0, 2**64))
def test_a_number_is_read_as_it_was_written(number):
    written = exports._bytes_of(number)
    assert exports._number(written, 0) == (number, len(written))
