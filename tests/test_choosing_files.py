"""System files and shelf lists: what is written is read back, and what is wrong is told at once."""

import csv
import io
import json
import random
import re
import subprocess
import sys
import tomllib
import zlib
from base64 import urlsafe_b64encode

import pytest
import zxingcpp
from calc.choosing.columns import COLUMNS, filter_cell, filter_rows
from calc.choosing.fields import STEPS, SYSTEM_FIELDS
from calc.choosing.shelf_file import read_shelf, write_shelf, write_shelf_toml
from calc.choosing.system_file import (
    VERSION,
    absent,
    read_system,
    write_briefly,
    write_system,
)
from choosing_systems import FORM, random_amplifier, random_job
from conftest import ROOT, sampled
from payloads import PAYLOADS
from PIL import Image, ImageDraw

from calc.answers import link
from calc.app.contents import CALCULATORS, link_of
from calc.app.page import respond
from calc.choosing.examples import STARTS
from calc.inputs.errors import InputError
from calc.inputs.rows import Rows
from calc.system import example_van

SYSTEMS = sorted((ROOT / "shared" / "systems").glob("*.toml"))
SHELF = ROOT / "shared" / "systems" / "shelf.csv"


def text_of(path):
    return path.read_text(encoding="utf-8")


def test_there_are_three_systems():
    assert [one.stem for one in SYSTEMS] == ["active-front", "hatchback", "lantern-van"]


@pytest.mark.parametrize("path", SYSTEMS, ids=lambda path: path.stem)
def test_a_system_of_the_handbook_is_read_and_written_alike(path):
    given, wrong = read_system(text_of(path))
    assert wrong == []
    values = FORM.read(given)
    again, wrong = read_system(write_system(values, "x"))
    assert wrong == [] and FORM.read(again) == values
    assert tomllib.loads(text_of(path))["version"] == VERSION


@pytest.mark.parametrize("seed", sampled(range(60), range(8)))
def test_any_system_is_read_back_as_it_was_written(seed):
    job = random_job(random.Random(f"file {seed}"))
    text = write_system(job.given, 'quotes " and \\ and \x07')
    given, wrong = read_system(text)
    assert wrong == []
    assert FORM.read(given) == job.given


@pytest.mark.parametrize("seed", sampled(range(60), range(8)))
def test_any_shelf_is_read_back_as_it_was_written(seed):
    rng = random.Random(f"shelf {seed}")
    shelf = tuple(random_amplifier(rng, f"number {at}", 0.3) for at in range(rng.randint(1, 40)))
    assert read_shelf(write_shelf(shelf)) == shelf
    assert read_shelf(write_shelf_toml(shelf)) == shelf
    for separator in ";\t":
        out = io.StringIO()
        rows = list(csv.reader(io.StringIO(write_shelf(shelf))))
        csv.writer(out, delimiter=separator).writerows(rows)
        assert read_shelf("\ufeff" + out.getvalue()) == shelf


def test_the_lantern_van_of_the_form_is_the_file():
    given, _ = read_system(text_of(ROOT / "shared" / "systems" / "lantern-van.toml"))
    assert FORM.read(given) == FORM.read({})
    assert read_shelf(text_of(SHELF)) == read_shelf(example_van.SHELF)


@pytest.mark.parametrize(
    ("start", "stem"), list(zip(STARTS, ("lantern-van", "hatchback", "active-front"), strict=True))
)
def test_the_starting_points_of_the_form_are_the_files(start, stem):
    given, _ = read_system(text_of(ROOT / "shared" / "systems" / f"{stem}.toml"))
    told, filed = FORM.read(start.given), FORM.read(given)
    assert {**told, "amplifier": ()} == {**filed, "amplifier": ()}
    assert CALCULATORS["fit-plan"].answer(start.given).sheet.verdict.state == "suitable"


def test_five_hundred_amplifiers_are_read():
    rng = random.Random("many")
    shelf = tuple(random_amplifier(rng, f"number {at}") for at in range(500))
    assert read_shelf(write_shelf(shelf)) == shelf


def test_a_figure_that_is_left_out_is_not_one_of_the_example():
    """Nothing invented comes into a system: only usual figures with another source, or none."""
    text = 'version = 1\n[[speakers]]\nname = "a"\nsection = "woofer"\ncount = 1\ncoil_ohm = 4\n'
    given, wrong = read_system(text + "rated_w = 50\nsensitivity_db = 88\n")
    assert wrong == []
    values = FORM.read(given)
    for one in SYSTEM_FIELDS:
        if "Lantern Van" in one.source and one.key != "speakers":
            assert values[one.key] in (None, (), "not-known"), one.key
        elif not isinstance(one, Rows):
            assert one.write(values[one.key]) == absent(one)


def test_everything_that_is_wrong_in_a_system_is_told_at_once():
    text = """
version = 7
colour = "red"
[bay]
bay_width_mm = "wide"
bay_depth_mm = 9999999
shelf = 4
[supply]
alternator_a = true
[[speakers]]
name = "a"
section = "trumpet"
count = 99
coil_ohm = 4
rated_w = 50
sensitivity_db = 88
volume = 11
"""
    with pytest.raises(InputError) as told:
        given, wrong = read_system(text)
        FORM.read(given, wrong)
    fields = {one.field for one in told.value.errors}
    assert fields >= {
        "version", "colour", "bay.bay_width_mm", "bay.shelf", "supply.alternator_a",
        "bay_depth_mm",
    }  # fmt: skip
    speakers = [one for one in told.value.errors if one.field == "speakers"]
    assert {(one.row, one.column, one.given) for one in speakers} == {
        (1, "volume", "11"), (1, "section", "trumpet"), (1, "count", "99"),
    }  # fmt: skip


@pytest.mark.parametrize(
    "text", ["", "x", "[", "version = 1", "speakers = 3\nversion = 1", "a" * 2_000_000, "[[bay]]\n",
             "version = 1\nbay = 3", "version = 1.0", "version = true", *PAYLOADS],
)  # fmt: skip
def test_a_file_that_is_no_system_is_refused_in_words(text):
    with pytest.raises(InputError) as told:
        given, wrong = read_system(text)
        FORM.read(given, wrong)
    assert all(one.message and one.message.isprintable() for one in told.value.errors)


def test_each_wrong_cell_of_a_shelf_is_told_with_its_row_and_column():
    text = "name,channels,power_4ohm_w,trigger\na,4,50,yes\nb,x,-3,perhaps\na,4,,no\n,4,50,yes\n"
    with pytest.raises(InputError) as told:
        read_shelf(text)
    assert {one.field for one in told.value.errors} == {"shelf"}
    assert [(one.row, one.column, one.given) for one in told.value.errors] == [
        (3, "channels", "x"),
        (3, "power_4ohm_w", "-3"),
        (3, "trigger", "perhaps"),
        (4, "name", "a"),
        (5, "name", ""),
    ]


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("", "empty"),
        ("name\n", "empty"),
        ("channels\n4\n", "name"),
        ("name,colour\na,red\n", "colour"),
        ("name,name\na,b\n", "twice"),
        ("name\na,b,c\n", "cells"),
        ('name\n"a\n', "CSV"),
        ("[[amplifiers]]\nname = 3 4\n", "TOML"),
        ("[[amplifiers]]\ncolour = 3\n", "colour"),
        ("name\n" + "\n".join(f"a{at}" for at in range(2001)), "at most"),
    ],
)
def test_a_shelf_that_cannot_be_used_is_refused_in_words(text, word):
    with pytest.raises(InputError) as told:
        read_shelf(text)
    assert word in str(told.value)


@pytest.mark.parametrize("payload", PAYLOADS)
def test_a_payload_in_a_shelf_is_refused_or_stays_a_name(payload):
    for key in ("name", "channels", "filters", "fuses_a", "front_face"):
        out = io.StringIO()
        csv.writer(out).writerows([["name", key], ["a", payload]] if key != "name" else
                                  [["name"], [payload]])  # fmt: skip
        try:
            (row,) = read_shelf(out.getvalue())
        except InputError as error:
            assert all(one.message.isprintable() for one in error.errors)
        else:
            assert key == "name" or row[key] is None or payload.strip() == row[key]


def test_a_column_of_one_s_own_is_passed_over_and_a_misspelt_one_told():
    plain = "name,channels,price\nA,4,90\n"
    own = "x_shelf,name,channels,price\n3b,A,4,90\n"
    toml = '[[amplifiers]]\nname = "A"\nchannels = 4\nprice = 90\nx_shelf = "3b"\n'
    assert read_shelf(own) == read_shelf(plain) == read_shelf(toml)
    with pytest.raises(InputError) as caught:
        read_shelf("name,chanels\nA,4\n")
    (error,) = caught.value.errors
    assert "‘chanels’. Is ‘channels’ meant?" in error.message and "x_" in error.message
    assert read_shelf("Name,CHANNELS , Price\nA,4,90\n") == read_shelf(plain)
    with pytest.raises(InputError) as caught:
        read_shelf("name,Power 4ohm W," + "y" * 5000 + "\nA,4,1\n")
    first, second = caught.value.errors
    assert "‘power_4ohm_w’ meant" in first.message and "meant" not in second.message
    with pytest.raises(InputError, match="twice"):
        read_shelf("Name,name\nA,B\n")


def test_a_filter_cell_is_the_rows_of_the_calculator():
    field = CALCULATORS["filter-split"].form.by_key["amplifier"]
    assert filter_rows(filter_cell(field.default)) == field.default
    assert filter_rows("none") == "" and filter_cell("") == "none"


def run(*arguments):
    return subprocess.run(
        [sys.executable, "-m", "calc", *map(str, arguments)],
        cwd=ROOT, capture_output=True, text=True, encoding="utf-8", check=False,
    )  # fmt: skip


@pytest.mark.parametrize("path", SYSTEMS, ids=lambda path: path.stem)
def test_the_command_line_plans_and_chooses_from_files(path):
    chosen = run("amplifier-choice", path, SHELF, "--json")
    assert chosen.returncode == 0, chosen.stderr
    results = json.loads(chosen.stdout)["results"]
    names = [row["amplifier"] for row in results["rows"]]
    assert names == [one["name"] for one in read_shelf(text_of(SHELF))]
    assert sorted(results["ranking"]) == sorted(names)
    assert {row["verdict"] for row in results["rows"]} <= {"suitable", "unsuitable", "not-known"}
    plan = run("fit-plan", path, SHELF, "--json")
    assert plan.returncode == 0, plan.stderr
    planned = json.loads(plan.stdout)["results"]
    if "amplifier" not in tomllib.loads(text_of(path)):
        assert planned["amplifier"] == results["ranking"][0]
    assert planned["verdict"] == "suitable"


def test_figures_behind_the_files_win():
    one = run("fit-plan", SYSTEMS[2], "alternator_a=61", "--json")
    assert json.loads(one.stdout)["inputs"]["alternator_a"] == 61


def test_files_that_are_not_there_or_wrong_are_bad_input():
    for arguments in (
        ("fit-plan", "nowhere.toml"),
        ("fit-plan", ROOT / "calc"),
        ("fit-plan", SHELF),
        ("amplifier-choice", SYSTEMS[0], SYSTEMS[0]),
        ("fit-plan", SYSTEMS[0], SHELF, "third"),
        ("bridged-output", SHELF),
    ):
        done = run(*arguments, "--json")
        assert done.returncode == 2, arguments
        assert json.loads(done.stderr)["errors"]
        assert "Traceback" not in done.stderr


def test_without_an_amplifier_the_plan_says_what_is_needed():
    sheet = CALCULATORS["fit-plan"].answer({"amplifier": ""}).sheet
    assert sheet.verdict.state == "not known" and sheet.results["amplifier"] is None
    # The doors ask for 50 W; for the woofers no power is asked for, and 120 W is their rating.
    assert "50" in sheet.sentence and "rated 120" in sheet.sentence


def test_the_tables_of_the_handbook_name_every_column_and_figure():
    from calc.app.contents import TABLES

    assert [row[0] for row in TABLES["shelf-columns"]().rows] == [one.key for one in COLUMNS]
    named = " ".join(str(row[0]) for row in TABLES["system-fields"]().rows)
    for step in STEPS:
        for one in step.fields:
            assert f"{one.key}]" in named or f"[{step.name}] {one.key}" in named


# ---- links


def long_system():
    """Return inputs of many rows, whose plain link would be cut on its way."""
    speakers = ";".join(
        f"speaker number {at},woofer,2,2,4,{90 + at}.5,{40 + at},88.25,30,4,{120 + at},,output "
        f"{at},2.35,4.75"
        for at in range(6)
    )
    filters = ";".join(
        f"output {at % 6},{kind},31.5/40/50/63/80/100/125/160/200/250/315/400,1/10,butterworth,"
        "1/2/3/4,,yes"
        for at, kind in enumerate(["high-pass", "low-pass"] * 6)
    )
    amplifier = example_van.AMPLIFIER.replace("Hazel", "Alder")
    return {
        "speakers": speakers,
        "head_filters": filters,
        "networks": "",
        "amplifier": amplifier,
    }


def test_a_long_link_is_packed_and_opens_alike():
    calculator = CALCULATORS["fit-plan"]
    values = calculator.form.read(long_system())
    query = link.query(calculator, calculator.form.write(values), (calculator,))
    assert query.startswith("packed=") and len(query) < 2000
    opened = link.opened(calculator, query, (calculator,))
    assert not opened.errors and not opened.notices
    assert calculator.form.read(opened.given) == values


def test_a_packed_link_is_not_believed():
    calculator = CALCULATORS["fit-plan"]
    bomb = urlsafe_b64encode(zlib.compress(b"a" * 50_000_000, 9)).decode()
    good = urlsafe_b64encode(zlib.compress(b"alternator_a=<b>&colour=red", 9)).decode()
    for text in ("", "x", "!!!!", "ä", "A" * 3000, bomb, good[:-8]):
        opened = link.opened(calculator, f"packed={text}", (calculator,))
        assert [one.field for one in opened.errors] == ["link"]
    opened = link.opened(calculator, f"packed={good}&alternator_a=90", (calculator,))
    assert [one.field for one in opened.errors] == ["alternator_a"]  # given twice
    assert "colour" in opened.notices[0]
    opened = link.opened(calculator, f"packed={good}", (calculator,))
    with pytest.raises(InputError, match="is not a number"):
        calculator.form.read(opened.given, opened.errors)


# ---- codes


def decoded(svg):
    """Return what a general decoder reads off a code's squares, drawn four pixels wide."""
    size = int(re.search(r'viewBox="0 0 (\d+) ', svg)[1])
    image = Image.new("L", (4 * size, 4 * size), 255)
    draw = ImageDraw.Draw(image)
    for x, y in re.findall(r"M(\d+) (\d+)h1v1h-1z", svg):
        draw.rectangle((4 * int(x), 4 * int(y), 4 * int(x) + 3, 4 * int(y) + 3), fill=0)
    (code,) = zxingcpp.read_barcodes(image)
    return code.text


@pytest.mark.parametrize("path", SYSTEMS, ids=lambda path: path.stem)
def test_the_code_of_a_file_is_read_by_a_general_decoder_into_the_same_system(path):
    given, _ = read_system(text_of(path))
    asked = {"kind": "qr-file", "calculator": "fit-plan", "inputs": given}
    reply = json.loads(respond(json.dumps(asked)))
    again, wrong = read_system(decoded(reply["text"]))
    assert wrong == [] and FORM.read(again) == FORM.read(given)


def test_the_code_of_a_system_s_link_is_read_by_a_general_decoder():
    given, _ = read_system(text_of(SYSTEMS[1]))
    address = "https://example.org/" + link_of(CALCULATORS["fit-plan"].answer(given))
    asked = {"kind": "qr", "calculator": "fit-plan", "link": address}
    assert decoded(json.loads(respond(json.dumps(asked)))["text"]) == address


def test_a_file_that_no_code_holds_is_told_in_words():
    asked = {"kind": "qr-file", "calculator": "fit-plan", "inputs": long_system()}
    reply = json.loads(respond(json.dumps(asked)))
    # A reply of its own kind: nothing was handed over.
    assert reply == {
        "kind": "failed",
        "text": "The QR code was not made: the file is longer than 2099 characters.",
    }


@pytest.mark.parametrize("seed", sampled(range(60), range(8)))
def test_a_system_written_briefly_is_the_same(seed):
    job = random_job(random.Random(f"brief {seed}"))
    given, wrong = read_system(write_briefly(job.given))
    assert wrong == [] and FORM.read(given) == job.given
    assert len(write_briefly(job.given)) < len(write_system(job.given))
