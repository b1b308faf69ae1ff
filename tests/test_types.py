"""Types hold, checked by compilers; and what is written can be read in one sitting."""

import ast
import json
import subprocess
import sys
from base64 import b64encode
from pathlib import Path

from choosing_systems import HAZEL
from conftest import ROOT
from spreadsheets import book
from steps import WEB, node_command
from test_page_failures import reply

from calc.app.contents import CALCULATORS
from calc.renderers.qr import LONGEST

COMPILER = WEB / "node_modules" / "typescript" / "bin" / "tsc"
SCRIPTS = sorted([*WEB.glob("*.mjs"), *WEB.glob("*.js")])
PROJECTS = sorted(WEB.glob("tsconfig.*.json"))
MOST_LINES = 400
MOST_LINES_OF_A_FUNCTION = 60


def node(*arguments):
    """Run Node.js beside the page's scripts; return what it printed and whether it went well."""
    done = subprocess.run(
        [*map(str, node_command()), *map(str, arguments)],
        cwd=WEB,
        capture_output=True,
        text=True,
        check=False,
    )
    return done.stdout + done.stderr, done.returncode == 0


def test_the_scripts_keep_to_their_types():
    checked = set()
    for project in PROJECTS:
        output, is_well = node(COMPILER, "--project", project, "--listFiles")
        complaints = [line for line in output.splitlines() if not Path(line).is_absolute()]
        assert is_well, "\n".join(complaints)
        checked |= {Path(line).name for line in output.splitlines()}
    assert {script.name for script in SCRIPTS} - checked == set()
    for script in SCRIPTS:
        assert "@ts-" not in script.read_text(encoding="utf-8"), script


def test_the_python_keeps_to_its_types():
    """Strict, as `pyproject.toml` says, and nothing is excused from it."""
    done = subprocess.run(
        [sys.executable, "-m", "mypy", "calc", "build"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    for folder in ("calc", "build"):
        for file in (ROOT / folder).rglob("*.py"):
            if "node_modules" not in file.parts:
                assert "type: ignore" not in file.read_text(encoding="utf-8"), file


def requests():
    """Return requests of every kind, with replies of every kind."""
    plan = CALCULATORS["fit-plan"]
    system = plan.form.write(plan.form.read({}))
    system = {field.key: field.default for field in plan.fields} | system
    rows = [plan.form.by_key["amplifier"].write([HAZEL]).split(",")]
    power = {"calculator": "power-cable"}
    whole = {"calculator": "fit-plan"}
    asked = {"kind": "answer", "calculator": "coil-wiring"}
    return [
        {"kind": "answer", "calculator": "bridged-output", "inputs": {}},
        {**asked, "inputs": {"drivers": [["2", "4"], ["0", "x"]]}},
        {**asked, "inputs": {"no-such-field": "1"}},
        {"kind": "open", "calculator": "coil-wiring", "query": "", "kept": {}},
        {"kind": "open", "calculator": "coil-wiring", "query": "?drivers=x", "kept": {}},
        {"kind": "fill", **whole, "inputs": system},
        {"kind": "file", **whole, "text": "version = 1"},
        {"kind": "file", **whole, "text": "x = "},
        {"kind": "take", **power, "system": {"amplifier": "", "shelf": ""}, "about": 0},
        {"kind": "take", **power, "system": system, "about": 0},
        {"kind": "give", **power, "system": {}, "about": 0, "inputs": {}},
        {"kind": "give", **power, "system": system, "about": 0, "inputs": {}},
        {"kind": "stream", "calculator": "amplifier-choice", "inputs": {}, "first": True},
        {"kind": "start", **whole, "start": 0, "inputs": {}},
        *(
            {"kind": "hand-over", **whole, "inputs": {}, "as": shape}
            for shape in ("text", "json", "csv", "file", "template")
        ),
        {"kind": "hand-over", "calculator": "coil-wiring", "inputs": {"drivers": "x"}, "as": "csv"},
        {
            "kind": "hand-over",
            "calculator": "kit-list",
            "inputs": {},
            "as": "kit-csv",
            "prices": {"fuse|30\u202fA|piece|": "4,50"},
        },
        {"kind": "hand-over", "calculator": "cable-tree", "inputs": {}, "as": "kit-csv"},
        {"kind": "qr", **whole, "link": "https://example.org/"},
        {"kind": "qr", **whole, "link": "x" * (LONGEST + 1)},
        {"kind": "qr-file", **whole, "inputs": {}},
        {"kind": "spreadsheet", **whole, "data": b64encode(book([["name"], ["A"]])).decode()},
        {"kind": "spreadsheet", **whole, "data": "no file"},
        {"kind": "stock", **whole, "shelf": "", "amplifiers": rows, "replace": False},
        {
            "kind": "stock",
            **whole,
            "shelf": "name\nHazel 4-50\n",
            "amplifiers": rows,
            "replace": False,
        },
        {"kind": "stock", **whole, "shelf": "", "amplifiers": [], "replace": True},
        {"kind": "read", **whole, "about": "amplifier", "text": "4 x 60 W RMS", "current": {}},
        {"kind": "read", **whole, "about": "speaker", "text": "x" * 20_001, "current": {}},
        {"kind": "sound", "calculator": "test-tone", "inputs": {}, "from": 0},
        {"kind": "sound", "calculator": "test-tone", "inputs": {"length_s": "x"}, "from": 0},
    ]


KINDS = {"answer", "refused", "failed", "told", "given", "handed-over", "sound", "stocked"} | {
    "proposal"
}


def test_the_types_of_requests_and_replies_are_those_of_python(tmp_path):
    """Every pair is written down as it is: a key too many, one that lacks, or another kind of
    value than the page reads is an error of the compiler.
    """
    pairs = [(request, reply(**request)) for request in requests()]
    assert {answer["kind"] for _, answer in pairs} == KINDS
    lines = [
        f'import type {{ ReplyTo, Request }} from "{(WEB / "messages.ts").as_posix()}";',
        "declare function pair<R extends Request>(request: R, reply: ReplyTo<R>): void;",
        *(f"pair({json.dumps(asked)}, {json.dumps(answer)});" for asked, answer in pairs),
    ]
    (tmp_path / "pairs.ts").write_text("\n".join(lines), encoding="utf-8")
    project = {
        "extends": (WEB / "tsconfig.json").as_posix(),
        "compilerOptions": {"lib": ["es2022"]},
        "files": ["pairs.ts"],
    }
    (tmp_path / "tsconfig.json").write_text(json.dumps(project))
    output, is_well = node(COMPILER, "--project", tmp_path)
    assert is_well, output


_FUNCTIONS = """
const { readFileSync } = require("node:fs");
const ts = require("typescript");
for (const file of process.argv.slice(1)) {
    const source = ts.createSourceFile(
        file, readFileSync(file, "utf8"), ts.ScriptTarget.Latest, true, ts.ScriptKind.JS);
    const lineOf = (place) => source.getLineAndCharacterOfPosition(place).line + 1;
    const look = (node) => {
        if (ts.isFunctionLike(node) && node.body) {
            const first = lineOf(node.getStart());
            console.log(JSON.stringify([file, first, lineOf(node.end) - first + 1]));
        }
        ts.forEachChild(node, look);
    };
    look(source);
}
"""


def test_no_script_and_none_of_its_functions_is_too_long_to_read():
    for script in [*SCRIPTS, *WEB.glob("*.ts")]:
        lines = script.read_text(encoding="utf-8").count("\n")
        assert lines <= MOST_LINES, (script, lines)
    output, is_well = node("-e", _FUNCTIONS, *SCRIPTS)
    assert is_well, output
    functions = [json.loads(line) for line in output.splitlines()]
    assert len(functions) > 200
    longer = [each for each in functions if each[2] > MOST_LINES_OF_A_FUNCTION]
    assert longer == []
    assert {str(script) for script in SCRIPTS} - {file for file, _, _ in functions} <= {
        str(WEB / name) for name in ("bundle.mjs", "pack.mjs", "precache.mjs", "start.mjs")
    }


# They declare fields: what a field is told with is of any type.
READERS_OF_FIELDS = ("calc/inputs/", "calc/parts/", "calc/system/", "calc/app/lean.py")
# What stands at a path of a calculator’s results is of any type as well.
READERS_OF_RESULTS = ("calc/exercises/asking.py",)


def test_any_stands_in_no_signature_but_those_of_the_reader_of_fields():
    for file in sorted((ROOT / "calc").rglob("*.py")):
        place = file.relative_to(ROOT).as_posix()
        if place.startswith(READERS_OF_FIELDS + READERS_OF_RESULTS) or file.name == "inputs.py":
            continue
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.FunctionDef):
                names = {part.id for part in ast.walk(node.args) if isinstance(part, ast.Name)}
                if node.returns is not None:
                    names |= {p.id for p in ast.walk(node.returns) if isinstance(p, ast.Name)}
                assert "Any" not in names, f"{place}: {node.name}"
