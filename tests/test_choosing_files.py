"""System files and stock lists: what is written is read back, and what is wrong is told at once."""

import csv
import io
import json
import random
import tomllib
from dataclasses import replace

import pytest
from choosing_systems import FIELDS, HAZEL, VAN, listed, planned_of, random_amplifier, random_job
from conftest import ROOT, each, sampled
from payloads import PAYLOADS

from calc.__main__ import main
from calc.app.contents import CALCULATORS, TABLES
from calc.choosing.examples import STARTS
from calc.inputs.declared import values_of
from calc.inputs.errors import InputError
from calc.inputs.rows import Rows
from calc.system import example_van
from calc.system.amplifier import filter_cell, filter_rows
from calc.system.files.shelf_file import read_shelf, write_shelf, write_shelf_toml
from calc.system.files.system_file import (
    VERSION,
    absent,
    read_system,
    write_briefly,
    write_system,
)
from calc.system.system import STEPS, SYSTEM_FIELDS, Planned

SYSTEMS = sorted((ROOT / "shared" / "systems").glob("*.toml"))
SHELF = ROOT / "shared" / "systems" / "shelf.csv"


# The handbook's systems in the order of the starting points.
STEMS = ("lantern-van", "hatchback", "active-front", "joined-pairs", "two-amplifiers")


def text_of(path):
    return path.read_text(encoding="utf-8")


def test_there_are_five_systems():
    assert [path.stem for path in SYSTEMS] == sorted(STEMS)


def read_planned(text):
    """Return the system and the amplifier that a file without a wrong name or kind holds."""
    texts, wrong = read_system(text)
    assert wrong == []
    return planned_of(texts)


@pytest.mark.parametrize("path", SYSTEMS, ids=lambda path: path.stem)
def test_a_system_of_the_handbook_is_read_and_written_alike(path):
    planned = read_planned(text_of(path))
    assert read_planned(write_system(values_of(planned), "x")) == planned
    assert tomllib.loads(text_of(path))["version"] == VERSION


@pytest.mark.parametrize("seed", sampled(range(60), range(8)))
def test_any_system_is_read_back_as_it_was_written(seed):
    job = random_job(random.Random(f"file {seed}"))
    planned = Planned(system=job.system, amplifier=(HAZEL,))
    text = write_system(values_of(planned), 'quotes " and \\ and \x07')
    assert read_planned(text) == planned


@pytest.mark.parametrize("seed", sampled(range(60), range(8)))
def test_a_system_written_briefly_is_the_same(seed):
    job = random_job(random.Random(f"brief {seed}"))
    planned = Planned(system=job.system, amplifier=(HAZEL,))
    values = values_of(planned)
    assert read_planned(write_briefly(values)) == planned
    assert len(write_briefly(values)) < len(write_system(values))


def stock(rng, count, missing=0.08):
    """Return random amplifiers as a stock list holds them: none is planned yet."""
    every = (random_amplifier(rng, f"number {at}", missing) for at in range(count))
    return tuple(replace(amplifier, role="candidate") for amplifier in every)


@pytest.mark.parametrize("seed", sampled(range(60), range(8)))
def test_any_shelf_is_read_back_as_it_was_written(seed):
    rng = random.Random(f"shelf {seed}")
    shelf = stock(rng, rng.randint(1, 40), missing=0.3)
    assert read_shelf(write_shelf(shelf)) == listed(*shelf)
    assert read_shelf(write_shelf_toml(shelf)) == listed(*shelf)
    for separator in ";\t":
        out = io.StringIO()
        rows = list(csv.reader(io.StringIO(write_shelf(shelf))))
        csv.writer(out, delimiter=separator).writerows(rows)
        assert read_shelf("\ufeff" + out.getvalue()) == listed(*shelf)


def test_the_lantern_van_of_the_form_is_the_file():
    assert read_planned(text_of(ROOT / "shared" / "systems" / "lantern-van.toml")) == VAN
    assert read_shelf(text_of(SHELF)) == read_shelf(example_van.SHELF)


@pytest.mark.parametrize(("start", "stem"), list(zip(STARTS, STEMS, strict=True)))
def test_the_starting_points_of_the_form_are_the_files(start, stem):
    filed = read_planned(text_of(ROOT / "shared" / "systems" / f"{stem}.toml"))
    assert planned_of(start.texts).system == filed.system
    assert CALCULATORS["fit-plan"].answer(start.texts).sheet.verdict.state == "suitable"


def test_five_hundred_amplifiers_are_read():
    rng = random.Random("many")
    shelf = stock(rng, 500)
    assert read_shelf(write_shelf(shelf)) == listed(*shelf)


def test_a_figure_that_is_left_out_is_not_one_of_the_example():
    """Nothing invented comes into a system: only usual figures with another source, or none."""
    text = 'version = 1\n[[speakers]]\nname = "a"\nsection = "woofer"\ncount = 1\ncoil_ohm = 4\n'
    planned = read_planned(text + "rated_w = 50\nsensitivity_db = 88\n")
    values = values_of(planned)
    for field in SYSTEM_FIELDS:
        if "Lantern Van" in field.source and field.key != "speakers":
            assert values[field.key] in (None, (), "not-known", "any"), field.key
        elif not isinstance(field, Rows):
            assert field.write(values[field.key]) == absent(field)


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
    with pytest.raises(InputError) as caught:
        planned_of(*read_system(text))
    errors = caught.value.errors
    assert {error.field for error in errors} >= {
        "version", "colour", "bay.bay_width_mm", "bay.shelf", "supply.alternator_a",
        "bay_depth_mm",
    }  # fmt: skip
    speakers = [error for error in errors if error.field == "speakers"]
    assert {(error.row, error.column, error.given) for error in speakers} == {
        (1, "volume", "11"), (1, "section", "trumpet"), (1, "count", "99"),
    }  # fmt: skip


@each(
    "text", ["", "x", "[", "speakers = 3\nversion = 1", "a" * 2_000_000, "[[bay]]\n",
             "version = 1\nbay = 3", "version = 1.0", "version = true", *PAYLOADS],
)  # fmt: skip
def test_a_file_that_is_no_system_is_refused_in_words(text):
    with pytest.raises(InputError) as caught:
        planned_of(*read_system(text))
    assert all(error.message and error.message.isprintable() for error in caught.value.errors)


def test_each_wrong_cell_of_a_shelf_is_told_with_its_row_and_column():
    text = "name,channels,power_4ohm_w,trigger\na,4,50,yes\nb,x,-3,perhaps\na,4,,no\n,4,50,yes\n"
    with pytest.raises(InputError) as caught:
        read_shelf(text)
    assert {error.field for error in caught.value.errors} == {"shelf"}
    assert [(error.row, error.column, error.given) for error in caught.value.errors] == [
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
        ('version = 2\n[[speakers]]\nsection = "woofer"\n', "system file"),
        ("name\n" + "\n".join(f"a{at}" for at in range(2001)), "no more than"),
    ],
)
def test_a_shelf_that_cannot_be_used_is_refused_in_words(text, word):
    with pytest.raises(InputError) as caught:
        read_shelf(text)
    assert word in str(caught.value)


@each("payload", PAYLOADS)
def test_a_payload_in_a_shelf_is_refused_or_stays_a_name(payload):
    for key in ("name", "channels", "filters", "fuses_a", "front_face"):
        out = io.StringIO()
        csv.writer(out).writerows([["name", key], ["a", payload]] if key != "name" else
                                  [["name"], [payload]])  # fmt: skip
        try:
            (amplifier,) = read_shelf(out.getvalue())
        except InputError as refused:
            assert all(error.message.isprintable() for error in refused.errors)
        else:
            value = getattr(amplifier, key)
            is_none = payload.strip().lower() == "none"  # a tolerated way to say so
            assert key == "name" or value is None or is_none or payload.strip() == value


def test_a_column_of_one_s_own_is_passed_over_and_a_misspelt_one_told():
    plain = "name,channels,price\nA,4,90\n"
    with_own = "x_shelf,name,channels,price\n3b,A,4,90\n"
    toml = '[[amplifiers]]\nname = "A"\nchannels = 4\nprice = 90\nx_shelf = "3b"\n'
    assert read_shelf(with_own) == read_shelf(plain) == read_shelf(toml)
    with pytest.raises(InputError) as caught:
        read_shelf("name,chanels\nA,4\n")
    (error,) = caught.value.errors
    assert "‘chanels’. Did you mean ‘channels’?" in error.message and "x_" in error.message
    assert read_shelf("Name,CHANNELS , Price\nA,4,90\n") == read_shelf(plain)
    with pytest.raises(InputError) as caught:
        read_shelf("name,Power 4ohmm W," + "y" * 5000 + "\nA,4,1\n")
    first, second = caught.value.errors
    assert "Did you mean ‘power_4ohm_w’?" in first.message and "mean" not in second.message
    with pytest.raises(InputError, match="both mean"):
        read_shelf("Name,name\nA,B\n")


def test_a_filter_cell_is_the_rows_of_the_calculator():
    field = CALCULATORS["filter-split"].form.by_key["amplifier"]
    assert filter_rows(filter_cell(field.default)) == field.default
    assert filter_rows("none") == "" and filter_cell("") == "none"


@pytest.fixture
def run(capsys):
    """Call the command line in this process; gives exit code, output and error output."""

    def running(*arguments):
        code = main([*map(str, arguments)])
        return code, *capsys.readouterr()

    return running


@pytest.mark.parametrize("path", SYSTEMS, ids=lambda path: path.stem)
def test_the_command_line_plans_and_chooses_from_files(run, path):
    code, out, err = run("amplifier-choice", path, SHELF, "--json")
    assert code == 0, err
    results = json.loads(out)["results"]
    names = [row["amplifier"] for row in results["rows"]]
    listed = [amplifier.name for amplifier in read_shelf(text_of(SHELF))]
    assert names[: len(listed)] == listed  # sets of them follow
    assert sorted(results["ranking"]) == sorted(names)
    words = {"suitable", "likely", "unsuitable", "not-known"}
    assert {row["verdict"] for row in results["rows"]} <= words
    code, out, err = run("fit-plan", path, SHELF, "--json")
    assert code == 0, err
    planned = json.loads(out)["results"]
    if "amplifiers" not in tomllib.loads(text_of(path)):
        assert planned["amplifier"] == results["ranking"][0]
    assert planned["verdict"] == "suitable"


def test_figures_behind_the_files_win(run):
    _, out, _ = run("fit-plan", SYSTEMS[2], "alternator_a=61", "--json")
    assert json.loads(out)["inputs"]["alternator_a"] == 61


def test_files_that_are_not_there_or_wrong_are_bad_input(run):
    for arguments in (
        ("fit-plan", "nowhere.toml"),
        ("fit-plan", ROOT / "calc"),
        ("fit-plan", SHELF),
        ("amplifier-choice", SYSTEMS[0], SYSTEMS[0]),
        ("fit-plan", SYSTEMS[0], SHELF, "third"),
        ("bridged-output", SHELF),
    ):
        code, out, err = run(*arguments, "--json")
        assert (code, out) == (2, ""), arguments
        assert json.loads(err)["errors"]


def test_without_an_amplifier_the_plan_says_what_is_needed():
    sheet = CALCULATORS["fit-plan"].answer({"amplifier": ""}).sheet
    assert sheet.verdict.state == "not known" and sheet.results["amplifier"] is None
    # The doors ask for 50 W; for the woofers no power is asked for, and 120 W is their rating.
    assert "50" in sheet.sentence and "rated 120" in sheet.sentence


def test_the_tables_of_the_handbook_name_every_column_and_figure():
    shown = [key for key, column in FIELDS.items() if not column.hidden]
    assert [row[0] for row in TABLES["shelf-columns"]().rows] == shown
    named = " ".join(str(row[0]) for row in TABLES["system-fields"]().rows)
    for step in STEPS:
        for field in step.fields:
            assert f"{field.key}]" in named or f"[{step.name}] {field.key}" in named
