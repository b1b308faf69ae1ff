"""Hostile files: refused in words, whatever a figure, a key or the file itself is like.

What is long is refused in about a second; no time is asserted, since a machine may be slow.
"""

import json
import os
from pathlib import Path

import pytest
from conftest import sampled
from inputs import beside

from calc.__main__ import main
from calc.app.command_line import LONGEST_FILE_BYTES
from calc.app.contents import CALCULATORS
from calc.app.page import respond
from calc.inputs.errors import InputError
from calc.inputs.fields import Number, Numbers
from calc.inputs.rows import Rows
from calc.renderers.html import answer_html
from calc.renderers.text import answer_text

SYSTEM = "shared/systems/lantern-van.toml"
SHELF = "shared/systems/shelf.csv"
DIGITS = "9" * 5000  # more than Python turns into a number, or a number into text
DEEP = "a." * 100_000 + "a"
HEAD = "version = 1\n"
AMPLIFIER = '[[amplifiers]]\nname = "a"\npower_4ohm_w = 50\n'


def lines_of(pattern, number=100_000, end="\n"):
    return "".join(f"{pattern.format(at)}{end}" for at in range(number))


MANY = "more than 10000 lines or figures"
SYSTEMS = {
    "decimal version": (f"version = {DIGITS}\n", "too many digits"),
    "decimal figure": (f"{HEAD}[supply]\nalternator_a = {DIGITS}\n", "too many digits"),
    "hexadecimal version": (f"version = 0x{DIGITS}\n", "version"),
    "hexadecimal figure": (f"{HEAD}[supply]\nalternator_a = 0x{DIGITS}\n", "alternator_a"),
    "hexadecimal unknown": (f"{HEAD}nix = 0x{DIGITS}\n", "nix"),
    "hexadecimal in a list": (f"{HEAD}[supply]\nalternator_a = [0x{DIGITS}]\n", "alternator_a"),
    "hexadecimal in a row": (f"{HEAD}[[speakers]]\ncount = 0x{DIGITS}\n", "speakers, row 1"),
    "hexadecimal text": (f"title = 0x{DIGITS}\n{HEAD}", "title"),
    "key of dots": (f"{HEAD}{DEEP} = 1\n", "parts"),
    "head of dots": (f"{HEAD}[{DEEP}]\n", "parts"),
    "quoted key of dots": (HEAD + '"a" . ' * 100_000 + "a = 1\n", "parts"),
    "unknown parts": (HEAD + lines_of("k{} = 1", 9_000), "k0"),
    "unknown figures": (f"{HEAD}[supply]\n" + lines_of("k{} = 1", 9_000), "supply.k0"),
    "unknown tables": (HEAD + lines_of("[k{}]", 9_000), "k0"),
    "rows": (HEAD + lines_of("[[speakers]]", 9_000), "9000 rows"),
    # Looked up one by one these took seconds: they are not even read.
    "80,000 unknown parts": (HEAD + lines_of("k{} = 1", 80_000), MANY),
    "80,000 unknown figures": (f"{HEAD}[supply]\n" + lines_of("k{} = 1", 80_000), MANY),
    "100,000 unknown tables": (HEAD + lines_of("[k{}]"), MANY),
    "70,000 rows": (HEAD + lines_of("[[speakers]]", 70_000), MANY),
    "in one line": (f"{HEAD}a = {{{lines_of('k{} = 1', 70_000, end=',')}}}", MANY),
    "lists in lists": (f"{HEAD}x = {'[' * 100_000}\n", "too deep"),
    "tables in tables": (f"{HEAD}x = {'{a = ' * 9_000}\n", "too deep"),
    "one line": ("a" * 900_000, "not TOML"),
    "quotation marks": ("\"'" * 400_000, "not TOML"),
}
SHELVES = {
    "decimal": (f'[[amplifiers]]\nname = "a"\npower_4ohm_w = {DIGITS}\n', "too many digits"),
    "hexadecimal": (f'[[amplifiers]]\nname = "a"\npower_4ohm_w = 0x{DIGITS}\n', "power_4ohm_w"),
    "hexadecimal name": (f"[[amplifiers]]\nname = 0x{DIGITS}\n", "name"),
    "hexadecimal unknown": (f"{AMPLIFIER}nix = 0x{DIGITS}\n", "nix"),
    "own column in decimal": (f"{AMPLIFIER}x_own = {DIGITS}\n", "too many digits"),
    "keys of dots": (f"{AMPLIFIER}{DEEP} = 1\n", "parts"),
    "unknown keys": (AMPLIFIER + lines_of("k{} = 1", 290), "k0"),
    "80,000 unknown keys": (AMPLIFIER + lines_of("k{} = 1", 80_000), "more than 300 lines"),
    "unknown columns": ("name," + lines_of("c{}", 990).replace("\n", ",") + "\nx\n", "c0"),
    "columns like ours": ("name," + lines_of("channel{}", 990).replace("\n", ","), "channel0"),
    "one column again and again": ("name" + ",a" * 990 + "\nx\n", "twice"),
    "name again and again": ("name" + ",name" * 990 + "\nx\n", "twice"),
    "100,000 columns": ("name," + lines_of("c{}").replace("\n", ",") + "\nx\n", "1000 columns"),
}


def refused(capsys, *arguments):
    """Return what is told of bad input, as lines of text."""
    assert main(arguments) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert "Traceback" not in err and "Errno" not in err
    lines = err.splitlines()
    assert 1 <= len(lines) <= 101
    assert all(line.replace("\u202f", "").isprintable() for line in lines)
    assert max(map(len, lines)) < 2000
    return err


@pytest.mark.parametrize("name", SYSTEMS)
def test_a_hostile_system_file_is_refused_in_words(capsys, tmp_path, name):
    text, word = SYSTEMS[name]
    file = tmp_path / "system.toml"
    file.write_text(text)
    assert word in refused(capsys, "fit-plan", str(file))
    request = {"kind": "file", "calculator": "fit-plan", "text": text}
    reply = json.loads(respond(json.dumps(request)))
    assert reply["kind"] == "refused"
    assert any(word in one["message"] for one in reply["errors"])
    assert all(one["given"].isprintable() for one in reply["errors"])


@pytest.mark.parametrize("name", SHELVES)
def test_a_hostile_shelf_list_is_refused_in_words(capsys, tmp_path, name):
    text, word = SHELVES[name]
    file = tmp_path / "shelf"
    file.write_text(text)
    assert word in refused(capsys, "amplifier-choice", SYSTEM, str(file))
    request = {"kind": "answer", "calculator": "amplifier-choice", "inputs": {"shelf": text}}
    reply = json.loads(respond(json.dumps(request)))
    assert reply["kind"] == "refused"
    assert any(word in one["message"] for one in reply["errors"])


def test_an_endless_file_is_read_to_a_limit_and_refused(capsys, tmp_path):
    assert "cannot be read" in refused(capsys, "fit-plan", "/dev/zero")
    file = tmp_path / "long.toml"
    file.write_bytes(b"#" * (LONGEST_FILE_BYTES + 1))
    assert "longer than" in refused(capsys, "fit-plan", str(file))


def test_what_is_no_file_is_refused_and_not_waited_for(capsys, tmp_path):
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    for path in (pipe, tmp_path, tmp_path / "nowhere", "\0", "/dev/null"):
        assert "cannot be read" in refused(capsys, "fit-plan", str(path))
        assert "cannot be read" in refused(capsys, "amplifier-choice", SYSTEM, str(path))


@pytest.mark.parametrize("name", ["latin-1", "utf-16"])
def test_a_text_in_another_script_is_refused(capsys, tmp_path, name):
    file = tmp_path / "system.toml"
    file.write_text('title = "\u00e9"\n', encoding=name)
    assert "UTF-8" in refused(capsys, "fit-plan", str(file))


def answered(capsys, *arguments):
    assert main([*arguments, "--json"]) == 0
    return json.loads(capsys.readouterr().out)["results"]


@pytest.mark.parametrize("ends", sampled(["\n", "\r\n"], ["\r\n"]))
def test_a_byte_order_mark_and_other_line_ends_change_nothing(capsys, tmp_path, ends):
    files = {}
    for one in (SYSTEM, SHELF):
        files[one] = tmp_path / Path(one).name
        text = Path(one).read_text(encoding="utf-8")
        files[one].write_bytes(("\ufeff" + text.replace("\n", ends)).encode())
    plain = answered(capsys, "amplifier-choice", SYSTEM, SHELF)
    marked = answered(capsys, "amplifier-choice", str(files[SYSTEM]), str(files[SHELF]))
    assert marked == plain


@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_a_byte_order_mark_may_stand_before_a_shelf_in_toml(capsys, tmp_path, mark):
    file = tmp_path / "shelf.toml"
    file.write_text(mark + AMPLIFIER, encoding="utf-8")
    rows = answered(capsys, "amplifier-choice", SYSTEM, str(file))["rows"]
    assert rows[0]["amplifier"] == "a"  # two of it may follow as a set
    for kind, text in (("csv", "name,power_4ohm_w\na,50\n"), ("toml", AMPLIFIER)):
        request = {"kind": "answer", "calculator": "amplifier-choice"}
        inputs = {"shelf": mark + text}
        assert json.loads(respond(json.dumps({**request, "inputs": inputs})))["kind"] == "answer", (
            kind
        )


# ---- figures that are small, or at an end of what is permitted

LEAST = "0." + "0" * 29 + "1"  # the least that can be typed: 30 places


def figures_of(one):
    """Return a field's texts with the least figure, in a cell at a time for a table."""
    if isinstance(one, Number | Numbers):
        return [LEAST]
    if not isinstance(one, Rows) or "," not in one.default:
        return []
    rows = [row.split(",") for row in one.default.split(";")]
    texts = []
    for at, column in enumerate(one.columns[: len(rows[0])]):
        if isinstance(column, Number):
            first = [*rows[0][:at], LEAST, *rows[0][at + 1 :]]
            texts.append(";".join(",".join(row) for row in [first, *rows[1:]]))
    return texts


@pytest.mark.parametrize("name", CALCULATORS)
def test_the_least_figure_that_can_be_typed_is_answered_or_refused(name):
    calculator = CALCULATORS[name]
    for one in calculator.fields:
        for text in figures_of(one):
            try:
                answer = calculator.answer({**beside(calculator, one.key), one.key: text})
            except InputError as told:
                assert told.errors
            else:
                assert answer_html(answer) and answer_text(answer)


def test_a_pad_too_small_for_any_resistor_is_none(capsys):
    plain = answered(capsys, "passive-network")
    assert answered(capsys, "passive-network", f"pad_db={LEAST}") == plain
    assert "not a number" in refused(capsys, "passive-network", "pad_db=1e-30")
