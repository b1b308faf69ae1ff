"""Fields: what they accept, what they refuse, and how a refusal reads."""

import random
import re

import pytest
from hypothesis import given as for_all
from hypothesis import strategies as st
from inputs import blamed_together, spoiled_inputs, valid_inputs
from payloads import PAYLOADS

from calc.app.contents import CALCULATORS
from calc.inputs.errors import InputError
from calc.inputs.field_base import Refused
from calc.inputs.fields import Choice, Number, Text, Whole, YesNo
from calc.inputs.form import Form
from calc.inputs.rows import Rows

LOAD = Number(key="load_ohm", label="Load", default="4", low=0.5, high=64)
GAIN = Number(key="gain_db", label="Gain", default="-3", low=-20, high=20)
COILS = Whole(key="coils", label="Coils", default="2", low=1, high=8)
POWER = Number(key="power_w", label="Power", default="", low=1, high=1e30, optional=True)
SIDE = Choice(
    key="side",
    label="Side",
    default="low-pass",
    options=(("low-pass", "low"), ("high-pass", "high"), ("band-pass", "band")),
)
STIFF = YesNo(key="regulated", label="Regulated", default="no")
NAME = Text(key="name", label="Name", default="Lantern", longest=10)
RUNS = Rows(
    key="runs",
    label="Runs",
    default="Door,2.5",
    most=3,
    columns=(
        Text(key="to", label="end", default="x"),
        Number(key="length_m", label="length", default="1", low=0, high=20),
    ),
)
DRIVERS = Rows(
    key="drivers",
    label="Drivers",
    default="2",
    most=2,
    columns=(COILS, LOAD),
    count_of=Whole(key="drivers", label="How many", default="2", low=1, high=4),
)
ALL = Form((LOAD, GAIN, COILS, POWER, SIDE, STIFF, NAME, RUNS, DRIVERS))
OHM = "\u202fΩ"

every_calculator = pytest.mark.parametrize(
    "calculator", CALCULATORS.values(), ids=list(CALCULATORS)
)


def errors_of(form, given):
    with pytest.raises(InputError) as caught:
        form.read(given)
    return caught.value.errors


@pytest.mark.parametrize("text", ["4", "4.0", "4,0", " 4", "4 ", "  4,0  ", "4.000", "4,00"])
def test_a_number_has_a_point_or_a_comma_and_spaces_around_it(text):
    value = LOAD.read(text)
    assert value == 4.0
    assert isinstance(value, float)


@pytest.mark.parametrize(
    "text",
    [
        "4.",
        ".4",
        ",4",
        "4,",
        "+4",
        "--4",
        "- 4",
        "4 4",
        "4,0,0",
        "4.0,0",
        "4e0",
        "4E0",
        "0x4",
        "4_0",
        "4Ω",
        "4 Ω",
        "\u0664",
        "\uff14",
        "\u00b2",
        "\u22124",
        "four",
        "nan",
        "inf",
        "-inf",
        "Infinity",
        "1e999",
        "4\x00",
        "'4'",
        "4;",
        "4/1",
        "1.000,5",
        "9" * 5000,
        "",
        " ",
    ],
)
def test_a_number_has_no_other_spelling(text):
    with pytest.raises(Refused):
        LOAD.read(text)


@pytest.mark.parametrize("control", ["\x1c", "\x1d", "\x1e", "\x1f", "\x85"])
def test_a_control_character_is_not_a_space(control):
    with pytest.raises(Refused):
        LOAD.read(f"4{control}")


@for_all(st.text(alphabet="0123456789.,-+ eE_x", max_size=9))
def test_a_number_is_accepted_exactly_when_it_is_spelled_so(text):
    spelled = re.fullmatch(r" *(-?[0-9]+)(?:[.,]([0-9]+))? *", text)
    value = float(f"{spelled[1]}.{spelled[2] or 0}") if spelled else None
    if value is not None and -20 <= value <= 20:
        assert GAIN.read(text) == value
    else:
        with pytest.raises(Refused):
            GAIN.read(text)


@pytest.mark.parametrize(
    ("text", "inside"),
    [
        ("0.5", True),
        ("0,5", True),
        ("64", True),
        ("64.0", True),
        ("0.4999", False),
        ("64.0001", False),
        ("0", False),
        ("-4", False),
        ("999999999", False),
    ],
)
def test_a_range_holds_its_ends_and_nothing_beyond(text, inside):
    if inside:
        assert 0.5 <= LOAD.read(text) <= 64
    else:
        with pytest.raises(Refused):
            LOAD.read(text)


def test_zero_has_no_sign():
    assert str(GAIN.read("-0")) == "0.0"


@pytest.mark.parametrize(("text", "value"), [("3", 3), ("3.0", 3), ("3,0", 3), (" 8 ", 8)])
def test_a_whole_number_may_be_spelled_with_decimals_that_are_nought(text, value):
    assert COILS.read(text) == value
    assert isinstance(COILS.read(text), int)


@pytest.mark.parametrize("text", ["1.5", "1,5", "0", "9", "2.0000001", "x", "1e0"])
def test_a_whole_number_is_whole_and_in_range(text):
    with pytest.raises(Refused):
        COILS.read(text)


def test_a_choice_is_one_of_its_words():
    assert [SIDE.read(word) for word, _ in SIDE.options] == ["low-pass", "high-pass", "band-pass"]
    for wrong in ("low", "Low-pass", "LOW-PASS", "low pass", "low-pass,high-pass", ""):
        with pytest.raises(Refused):
            SIDE.read(wrong)


def test_yes_and_no_are_the_only_answers_to_a_yes_no_field():
    assert STIFF.read("yes") is True
    assert STIFF.read("no") is False
    assert [STIFF.write(value) for value in (True, False)] == ["yes", "no"]
    assert [STIFF.as_json(value) for value in (True, False)] == [True, False]
    for wrong in ("true", "false", "1", "0", "on", "Yes", "y", "", "None"):
        with pytest.raises(Refused):
            STIFF.read(wrong)


def test_a_text_is_short_printable_and_without_separators():
    assert NAME.read(" Amp <1> ") == "Amp <1>"
    for wrong in ("", "a,b", "a;b", "a\x00", "a\nb", "\ud800", "\u202ea", "x" * 11):
        with pytest.raises(Refused):
            NAME.read(wrong)


@pytest.mark.parametrize(
    "raw",
    [
        "Door,2.5;Boot,4",
        " Door , 2.5 ; Boot , 4 ",
        [["Door", "2,5"], ["Boot", "4"]],
        [["Door", "2.50"], [" Boot ", " 4,0 "]],
    ],
)
def test_rows_are_read_from_a_text_or_from_lists(raw):
    assert RUNS.read(raw) == ({"to": "Door", "length_m": 2.5}, {"to": "Boot", "length_m": 4.0})
    assert RUNS.write(RUNS.read(raw)) == "Door,2.5;Boot,4"


@pytest.mark.parametrize(
    "raw",
    [
        "",
        " ",
        [],
        ";",
        "Door",
        "Door,1,2",
        "Door,1;",
        ";Door,1",
        "Door,2,5",
        "Door,x",
        [[]],
        [["Door"]],
        [["Door", ""]],
        [["Door", "1", "2"]],
        "a,1;b,1;c,1;d,1",
        [["a", "1"]] * 4,
    ],
)
def test_rows_have_the_right_number_of_rows_and_cells(raw):
    with pytest.raises(Refused):
        RUNS.read(raw)


def test_a_single_whole_number_may_stand_for_rows_where_it_is_a_count():
    assert DRIVERS.read("3") == DRIVERS.read(" 3.0 ") == 3
    assert DRIVERS.read("2,4") == ({"coils": 2, "load_ohm": 4.0},)
    assert DRIVERS.read("2,4;1,8")[1] == {"coils": 1, "load_ohm": 8.0}
    for wrong in ("0", "5", "1.5", "x", "", "3;", "2,0", "2,4;"):
        with pytest.raises(Refused):
            DRIVERS.read(wrong)


def test_only_an_optional_field_may_be_empty():
    assert POWER.read("") is None
    assert POWER.read("   ") is None
    assert POWER.write(None) == ""
    fields = (LOAD, COILS, SIDE, STIFF, NAME, RUNS, DRIVERS)
    errors = errors_of(ALL, {one.key: "" for one in fields})
    assert [one.field for one in errors] == [one.key for one in fields]


MESSAGES = [
    (LOAD, "x", f"Load: ‘x’ is not a number. Enter a number from 0.5 to 64{OHM}."),
    (LOAD, "", f"Load: Enter a number from 0.5 to 64{OHM}."),
    (LOAD, " 99,5 ", f"Load: 99,5 is out of range. Enter a number from 0.5 to 64{OHM}."),
    (LOAD, [["4"]], f"Load: Enter a number from 0.5 to 64{OHM}."),
    (GAIN, "-21", "Gain: -21 is out of range. Enter a number from −20 to 20\u202fdB."),
    (COILS, "1.5", "Coils: 1.5 is not whole. Enter a whole number from 1 to 8."),
    (COILS, "9", "Coils: 9 is out of range. Enter a whole number from 1 to 8."),
    (SIDE, "up", "Side: ‘up’ is not one of the choices. Enter low-pass, high-pass or band-pass."),
    (STIFF, "true", "Regulated: ‘true’ is not one of the choices. Enter yes or no."),
    (
        NAME,
        "a;b",
        "Name: ‘a;b’ cannot be used here. Enter up to 10 printable characters, no comma or "
        "semicolon.",
    ),
    (
        RUNS,
        "a,1;a,1;a,1;a,1",
        "Runs: 4 rows cannot be used. Enter 1 to 3 rows of to, length_m; rows separated by ‘;’.",
    ),
    (
        RUNS,
        "a,1;b,2,3",
        "Runs: Row 2: 3 values where 2 are needed. Enter to, length_m.",
    ),
    (
        RUNS,
        "a,1;b,x",
        "Runs: Row 2: length: ‘x’ is not a number. Enter a number from 0 to 20\u202fm.",
    ),
    (
        RUNS,
        [["c", "1"], ["", "1"]],
        "Runs: Row 2: end: Enter up to 60 printable characters, no comma or semicolon.",
    ),
    (DRIVERS, "7", "Drivers: 7 is out of range. Enter a whole number from 1 to 4."),
    (
        DRIVERS,
        "1,4;1,4;1,4",
        "Drivers: 3 rows cannot be used. Enter a whole number from 1 to 4, or 1 to 2 rows "
        "of coils, load_ohm; rows separated by ‘;’.",
    ),
]


@pytest.mark.parametrize(("field", "raw", "message"), MESSAGES)
def test_a_refusal_names_the_field_what_was_given_and_what_is_permitted(field, raw, message):
    (error,) = errors_of(ALL, {field.key: raw})
    assert error.field == field.key
    assert error.message == message


def test_an_unknown_field_is_told_with_the_known_ones():
    (error,) = errors_of(Form((LOAD, COILS)), {"load": "4"})
    assert (error.field, error.given) == ("load", "4")
    assert error.message == "There is no field ‘load’. Use one of load_ohm, coils."


def test_every_error_is_told_at_once_in_field_order_after_the_unknown_ones():
    given = {
        "drivers": "x",
        "nix": "1",
        "runs": "a",
        "name": "",
        "regulated": "?",
        "side": "?",
        "power_w": "?",
        "coils": "0",
        "gain_db": "?",
        "load_ohm": "?",
        "nox": "2",
    }
    told = [one.field for one in errors_of(ALL, given)]
    assert told == ["nix", "nox", *ALL.by_key]


@pytest.mark.parametrize("field", ALL.fields, ids=[one.key for one in ALL.fields])
@pytest.mark.parametrize("payload", PAYLOADS, ids=range(len(PAYLOADS)))
def test_a_refusal_quotes_what_was_given_short_and_printable(field, payload):
    if (
        field is NAME
        and payload.isprintable()
        and len(payload) <= 10
        and ";" not in payload
        and "," not in payload
    ):
        assert NAME.read(payload) == payload.strip()
        return
    errors = errors_of(ALL, {field.key: payload})
    for error in errors:
        assert error.given.isprintable()
        assert error.message.replace("\u202f", "").isprintable()  # the space before a unit
        assert len(error.given) <= 41 * 10  # forty signs, each at most ten when escaped, and “…”
    if len(errors) > 1 or errors[0].column:
        assert all(one.row is not None for one in errors)  # each cell is quoted by itself
        return
    (error,) = errors
    assert len(payload) <= 40 or error.given.endswith("…")
    if payload.isprintable() and len(payload) <= 40:
        assert error.given == payload


@pytest.mark.parametrize(
    "make",
    [
        lambda: Number(key="a", label="A", default="9", low=0, high=8),
        lambda: Number(key="a", label="A", default="", low=0, high=8),
        lambda: Whole(key="a", label="A", default="1.5", low=0, high=8),
        lambda: YesNo(key="a", label="A", default="true"),
        lambda: Choice(key="a", label="A", default="", options=(("x", "x"),)),
        lambda: Rows(key="a", label="A", default="", columns=(LOAD,)),
    ],
)
def test_a_field_whose_default_it_refuses_cannot_be_declared(make):
    with pytest.raises(Refused):
        make()


def test_two_fields_of_a_form_never_share_a_key():
    with pytest.raises(ValueError, match="share a key"):
        Form((LOAD, COILS, LOAD))


@every_calculator
def test_every_default_reads_back_as_it_is_written(calculator):
    values = calculator.form.read({})
    assert list(values) == [one.key for one in calculator.fields]
    assert calculator.form.write(values) == {}
    for one in calculator.fields:
        assert one.read(one.write(values[one.key])) == values[one.key]
        assert one.optional or values[one.key] is not None
        assert re.fullmatch(r"[a-z][a-z0-9]*(_[a-z0-9]+)*", one.key)


@every_calculator
@pytest.mark.parametrize("seed", range(25))
def test_random_valid_inputs_are_read_and_random_wrong_ones_all_told(calculator, seed):
    rng = random.Random(f"{calculator.name} {seed}")
    given = valid_inputs(calculator, rng)
    values = calculator.form.read(given)
    assert (
        calculator.form.read({one.key: one.write(values[one.key]) for one in calculator.fields})
        == values
    )
    wrong, keys = spoiled_inputs(calculator, rng)
    told = {one.field for one in errors_of(calculator.form, wrong)}
    assert keys <= told <= keys | blamed_together(calculator)
