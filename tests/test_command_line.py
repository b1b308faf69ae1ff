"""The command line: what it prints, its exit codes, and that nothing makes it stumble."""

import json
import os
import random
import re
import subprocess
import sys
from pathlib import Path

import pytest
from conftest import each, sampled
from contract import RESULTS, misfits
from inputs import beside, blamed_together, spoiled_inputs, valid_inputs
from payloads import PAYLOADS, tried

from calc.__main__ import main
from calc.answers.markup import markup
from calc.answers.sources import cite
from calc.app.away import code_on_paper
from calc.app.contents import CALCULATORS, PAGES, link_of
from calc.app.page import respond
from calc.inputs.fields import Document, Text
from calc.inputs.rows import Rows

ROOT = Path(__file__).resolve().parent.parent
NAMES = list(CALCULATORS)
every_name = pytest.mark.parametrize("name", NAMES)
every_payload = each("payload", PAYLOADS)
# Fields take turns as well, by threes: so that each field has its share of payloads.
fewer_payloads = each("payload", PAYLOADS, one_in=6)  # all of them in the long run


def run(*arguments, seed="random", start=("-m", "calc")):
    """Run the command line as a person does: a process of its own, no packages installed."""
    environment = {key: value for key, value in os.environ.items() if key != "PYTHONPATH"}
    return subprocess.run(
        [sys.executable, "-S", *start, *arguments],
        cwd=ROOT,
        check=False,
        capture_output=True,
        env=environment | {"PYTHONHASHSEED": seed},
        timeout=60,
    )


@pytest.fixture
def call(capsys):
    """Call the command line in this process; gives exit code, output and error output."""

    def calling(*arguments):
        code = main(arguments)
        out, err = capsys.readouterr()
        assert "Traceback" not in out + err
        assert (code, bool(out), bool(err)) in ((0, True, False), (2, False, True))
        return code, out, err

    return calling


def pairs(given):
    return [f"{key}={raw}" for key, raw in given.items()]


def told(err):
    """Return the errors of a JSON error output, whose shape is the contract's."""
    data = json.loads(err)
    assert list(data) == ["errors", "more"]
    assert 1 <= len(data["errors"]) <= 100
    assert data["more"] == 0 or len(data["errors"]) == 100
    for error in data["errors"]:
        assert list(error) == ["field", "row", "column", "given", "message"]
        row, column = error["row"], error["column"]
        assert row is None or (type(row) is int and row >= 1)
        texts = [error["field"], error["given"], error["message"], column or ""]
        assert all(isinstance(text, str) for text in texts)
        assert all(text.replace("\u202f", "").isprintable() for text in texts)
    return data["errors"]


def test_without_a_name_it_lists_the_calculators_a_line_each():
    result = run()
    assert (result.returncode, result.stderr) == (0, b"")
    lines = result.stdout.decode().splitlines()
    assert [line.split()[0] for line in lines] == NAMES
    assert all(len(line.split()) > 3 for line in lines)


@pytest.mark.parametrize("name", sampled(CALCULATORS, [names[0] for names in PAGES.values()][::2]))
def test_it_works_from_the_checkout_with_the_standard_library_only(name):
    plain = run(name)
    assert (plain.returncode, plain.stderr) == (0, b"")
    assert CALCULATORS[name].title in plain.stdout.decode()


ASK_ALL = """
import sys
from calc.__main__ import main
from calc.answers.markup import markup
from calc.answers.sources import cite
from calc.app.away import code_on_paper

for name in sys.argv[1:]:
    assert main([name, "--json"]) == 0
    print("---")
"""


def test_the_order_of_sets_and_hashes_shows_in_no_answer():
    data = run(*NAMES, seed="1", start=("-c", ASK_ALL))
    assert (data.returncode, data.stderr) == (0, b"")
    *answers, rest = data.stdout.decode().split("---\n")
    assert [json.loads(answer)["calculator"] for answer in answers] == NAMES
    assert rest == ""
    assert run(*NAMES, seed="2", start=("-c", ASK_ALL)).stdout == data.stdout


# What a shell and a terminal may do to a text shows in a process of its own alone.
@pytest.mark.parametrize(
    "arguments",
    [
        ["bridged-output", "load_ohm=x"],
        ["bridged-output", "load_ohm=\udcff"],
        ["bridged-output", "\U0001f50a=\u202e"],
    ],
)
def test_bad_input_is_2_with_words_and_without_a_traceback_in_a_process_of_its_own(arguments):
    result = run(*arguments)
    assert result.returncode == 2
    assert result.stdout == b""
    assert len(result.stderr.decode()) > 20
    assert b"Traceback" not in result.stderr


@pytest.mark.parametrize(
    "arguments",
    [
        ["bridged-output", "nix=1"],
        ["nix"],
        ["--nix"],
        ["bridged-output", "load_ohm"],
        ["meter-check", "intended=((((((((((1a"],
    ],
)
def test_bad_input_is_2_with_words_and_without_a_traceback(call, arguments):
    code, _, err = call(*arguments)
    assert code == 2
    assert len(err) > 20


def test_help_is_printed_and_a_closed_pipe_is_no_error():
    assert b"key=value" in run("--help").stdout
    reader = subprocess.Popen(["head", "-n1"], stdin=subprocess.PIPE, stdout=subprocess.DEVNULL)
    writer = subprocess.run(
        [sys.executable, "-S", "-m", "calc", "coil-wiring", "limit=1000", "drivers=3", "--json"],
        cwd=ROOT,
        stdout=reader.stdin,
        stderr=subprocess.PIPE,
        check=False,
        timeout=60,
    )
    reader.stdin.close()
    assert reader.wait(timeout=60) == 0
    assert (writer.returncode, writer.stderr) == (0, b"")


@every_name
def test_json_has_the_contract_s_five_parts(call, name):
    _, out, _ = call(name, "--json")
    data = json.loads(out)
    assert list(data) == ["calculator", "inputs", "results", "cautions", "sources"]
    assert data["calculator"] == name
    assert list(data["inputs"]) == [one.key for one in CALCULATORS[name].fields]
    assert all(isinstance(line, str) and line for line in data["cautions"] + data["sources"])
    assert data["sources"]


@every_name
def test_fields_are_printed_with_units_ranges_and_defaults(call, name):
    _, out, _ = call(name, "--fields")
    lines = out.splitlines()
    for one in CALCULATORS[name].fields:
        head = f"{one.key} [{one.unit}]" if one.unit else one.key
        at = next(at for at, line in enumerate(lines) if line.startswith(head + "  "))
        assert one.kind in lines[at]
        assert one.permitted() in lines[at + 1]
        assert (f"; empty: {one.empty}" in lines[at + 1]) is one.optional
        default = one.say(one.read(one.default)) if isinstance(one, Document) else one.default
        assert (default or "not known") in lines[at + 2]
        assert not one.source or cite([one.source])[0] in lines[at + 2]


@every_name
def test_the_link_and_the_page_s_fragment_are_printed(call, name):
    given = valid_inputs(CALCULATORS[name], random.Random(f"typed {name}"), as_text=True)
    answer = CALCULATORS[name].answer(given)
    assert call(name, *pairs(given), "--link")[1] == link_of(answer) + "\n"
    request = {"kind": "answer", "calculator": name, "inputs": given}
    html = json.loads(respond(json.dumps(request)))["html"]
    printed = call(name, *pairs(given), "--html")[1]
    if answer.sheet.paper is None:
        assert printed == html + "\n"
        return
    # A document of its own: the same fragment in it, but for the code in the corner of its paper.
    corner = markup(code_on_paper(answer.calculator.write_brief(answer.inputs), "file"))
    assert printed.startswith("<!doctype html>\n<html lang=")
    assert printed.endswith("</body></html>\n")
    assert printed.count(corner) == 1 and html in printed.replace(corner, "")
    assert re.findall(r"<style>.*</style>", printed, re.DOTALL)
    assert not re.search(r"<script|<link|\bsrc=|url\(", printed)


# One of the others, of a choice among many, takes two minutes.
@every_name
@pytest.mark.parametrize("seed", sampled(range(8), (0, 3)))
def test_random_inputs_give_the_figures_that_the_calculator_gives(call, name, seed):
    given = valid_inputs(CALCULATORS[name], random.Random(f"typed {name} {seed}"), as_text=True)
    _, out, _ = call(name, *pairs(given), "--json")
    results = json.loads(out)["results"]
    assert results == CALCULATORS[name].answer(given).sheet.results
    assert misfits(RESULTS.get(name), results) == []
    assert call(name, *pairs(given))[1].startswith(CALCULATORS[name].title)


@every_name
@pytest.mark.parametrize("seed", range(8))
def test_every_wrong_input_is_told_at_once(call, name, seed):
    given, keys = spoiled_inputs(CALCULATORS[name], random.Random(f"{name} {seed}"), as_text=True)
    _, _, err = call(name, *pairs(given), "--json")
    found = {one["field"] for one in told(err)}
    assert keys <= found <= keys | blamed_together(CALCULATORS[name])
    plain = call(name, *pairs(given))[2].splitlines()
    assert plain == [one["message"] for one in told(err)]


@pytest.mark.parametrize(
    "arguments",
    [
        ["bridged-output", "load_ohm=1"],
        ["coil-wiring", "min_load_ohm=64"],
        ["channel-map", "channels=1"],
        ["meter-check", "reading_ohm=0,2"],
    ],
)
def test_an_unsuitable_verdict_is_a_result_with_exit_0(call, arguments):
    code, out, _ = call(*arguments)
    assert code == 0
    assert "\nunsuitable: " in out
    assert call(*arguments, "--json")[0] == 0


def test_figures_are_unrounded_in_json_and_short_in_text(call):
    results = json.loads(call("bridged-output", "load_ohm=7,3", "--json")[1])["results"]
    assert results["channel_load_ohm"] == 3.65
    assert results["bridged_v"] == pytest.approx(
        (results["bridged_power_w"] * 7.3) ** 0.5, rel=1e-12
    )
    assert len(repr(results["bridged_v"])) > 8
    assert re.search(
        r"Voltage at full power: \d\d\.\d{1,2}\u202fV", call("bridged-output", "load_ohm=7,3")[1]
    )


def test_a_figure_that_does_not_exist_is_null(call):
    refused = json.loads(call("bridged-output", "load_ohm=2", "--json")[1])["results"]
    assert refused["allowed"] is False
    powers = [
        "bridged_power_w",
        "bridged_power_low_w",
        "bridged_power_high_w",
        "bridged_v",
        "bridged_a",
    ]
    assert [refused[key] for key in powers] == [None] * 5
    bounded = json.loads(call("bridged-output", "power_2ohm_w=", "--json")[1])["results"]
    assert [bounded[key] for key in powers] == [None, 100, 200, None, None]
    nothing = json.loads(call("coil-wiring", "min_load_ohm=64", "--json")[1])["results"]
    assert nothing["best"] is None
    assert json.loads(call("channel-map", "channels=1", "--json")[1])["results"] == {
        "groupings": []
    }


def quick(name, key):
    """Return arguments that make an answer quick where only one field is looked at."""
    return [f"{other}={text}" for other, text in beside(CALCULATORS[name], key).items()]


@pytest.mark.parametrize("name", NAMES)
def test_only_an_optional_field_may_be_given_empty(call, name):
    for one in CALCULATORS[name].fields:
        code, out, err = call(name, f"{one.key}=", *quick(name, one.key), "--json")
        is_needed = not CALCULATORS[name].none_is_allowed
        groups = CALCULATORS[name].alternatives
        if is_needed and any(one.key in group and one.default for group in groups):
            assert [error["field"] for error in told(err)] == [CALCULATORS[name].alternatives[0][0]]
        elif one.optional:
            empty = [] if isinstance(one, Rows) else None
            assert json.loads(out)["inputs"][one.key] == empty
        else:
            assert code == 2
            assert [error["field"] for error in told(err)] == [one.key]


def test_a_key_given_twice_is_an_error_also_with_equal_values(call):
    for second in ("load_ohm=8", "load_ohm=4"):
        (error,) = told(call("bridged-output", "load_ohm=4", second, "--json")[2])
        assert error["field"] == "load_ohm"
        assert "twice" in error["message"]


def test_a_key_given_twice_is_told_together_with_the_other_errors(call):
    err = call("bridged-output", "load_ohm=4", "load_ohm=8", "rated_v=x", "--json")[2]
    assert {one["field"] for one in told(err)} == {"load_ohm", "rated_v"}


def test_what_is_not_key_and_value_is_an_error(call):
    for wrong in ("load_ohm", "", "8", "-8", "=", "=8", "load_ohm:8"):
        assert call("bridged-output", wrong)[0] == 2
        assert told(call("bridged-output", wrong, "--json")[2])


def test_two_shapes_of_output_are_one_too_many(call):
    assert call("bridged-output", "--html", "--link")[0] == 2
    assert told(call("bridged-output", "--json", "--html")[2])


@pytest.mark.parametrize("option", ["--json", "--html", "--link"])
def test_an_option_may_stand_before_the_inputs(call, option):
    assert call("bridged-output", option, "load_ohm=8")[0] == 0


@every_name
@fewer_payloads
def test_no_payload_in_a_field_makes_it_stumble(call, name, payload, is_long):
    for one in tried(CALCULATORS[name].fields, PAYLOADS.index(payload), is_long):
        code, _, err = call(name, f"{one.key}={payload}", *quick(name, one.key), "--json")
        if code == 0:  # a name may be what it likes
            assert isinstance(one, Text) and one.read(payload)
            continue
        found = [error["field"] for error in told(err)]
        # A table and a file are told cell by cell.
        is_table = isinstance(one, Rows | Document)
        assert found.count(one.key) == 1 or (is_table and one.key in found)
        assert set(found) - {one.key} <= blamed_together(CALCULATORS[name])


@every_payload
def test_no_payload_as_a_key_or_a_name_makes_it_stumble(call, payload):
    assert told(call("bridged-output", f"{payload}=4", "--json")[2])
    assert told(call("bridged-output", payload, "--json")[2])
    assert told(call(f"x{payload}", "--json")[2])
    for arguments in (
        ["bridged-output", f"load_ohm={payload}"],
        ["bridged-output", f"{payload}=4"],
        [f"x{payload}"],
    ):
        err = call(*arguments)[2].removesuffix("\n")
        assert err.replace("\u202f", "").isprintable()
        assert len(err) < 1000


@every_payload
@pytest.mark.parametrize("before", ["", "-", "--", "--x", "--json="])
def test_no_payload_as_an_option_makes_it_stumble(call, payload, before):
    assert call("bridged-output", before + payload)[0] == 2
    assert call(before + payload)[0] == 2
    assert json.loads(call("bridged-output", before + payload, "--json")[2])["errors"]


@pytest.mark.parametrize("option", ["--\x1b[2J\x07", "--" + "x" * 500, "--json=" + "x" * 500])
def test_a_wrong_option_is_quoted_short_and_printable(call, option):
    err = call("bridged-output", option)[2].removesuffix("\n")
    assert err.isprintable()
    assert len(err) < 300
