"""Coil wiring in words: how it is wired, and who takes which power; worked out by hand."""

import json
import re
from fractions import Fraction

import pytest

from calc.__main__ import main
from calc.coils.coil_wiring import COIL_WIRING
from calc.coils.meter_check import METER_CHECK
from calc.coils.notation import read_notation
from calc.coils.survey import Arrangement, survey_of
from calc.coils.words import part_words, share_words, wiring_words
from calc.physics.coils import Driver
from calc.renderers.html import answer_html
from calc.renderers.text import answer_text


def circuit_of(notation, **ohms):
    """Return the circuit of a notation; a coil has 4 Ω unless its sub is given another."""
    names = sorted(set(re.findall("[1-4][a-h]", notation)))
    return read_notation(notation, {name: Fraction(ohms.get(f"s{name[0]}", 4)) for name in names})


WIRED = {
    # all at once
    "1a": "the one coil on its own",
    "1a|1b": "the sub’s two coils in parallel",
    "1a+1b+1c+1d": "the sub’s four coils in series",
    "1a+2a": "the two subs in series",
    "1a|2a|3a|4a": "the four subs in parallel",
    "1a|1b|2a|2b": "all four coils in parallel",
    "1a+1b+2a": "all three coils in series",
    # each sub’s coils first, then the subs
    "(1a+1b)|(2a+2b)": "each sub’s two coils in series, then the two subs in parallel",
    "(1a|1b)+(2a|2b)": "each sub’s two coils in parallel, then the two subs in series",
    "(1a+1b)|(2a+2b)|(3a+3b)": "each sub’s two coils in series, then the three subs in parallel",
    "(1a+1b)|2a": "sub 1’s two coils in series, then the two subs in parallel",
    "1a+(2a|2b|2c)": "sub 2’s three coils in parallel, then the two subs in series",
    "((1a|1b)+2a)|(3a+3b)": "sub 1’s two coils in parallel and sub 3’s two coils in series, then "
    "subs 1 and 2 in series, then this pair in parallel with sub 3",
    # subs in pairs
    "(1a+2a)|(3a+4a)": "subs 1 and 2 in series and subs 3 and 4 in series, then the two pairs in "
    "parallel",
    "(1a+2a)|3a": "subs 1 and 2 in series, then this pair in parallel with sub 3",
    "(1a|2a|3a)+4a": "subs 1, 2 and 3 in parallel, then this group in series with sub 4",
    "((1a|2a)+3a)|4a": "subs 1 and 2 in parallel, then this pair in series with sub 3, then all "
    "that in parallel with sub 4",
    # coils of different subs
    "(1a+2a)|(1b+2b)": "coils 1a and 2a in series and coils 1b and 2b in series, then the two "
    "pairs in parallel",
    "(1a+2a)|1b|2b": "coils 1a and 2a in series, then this pair in parallel with coils 1b and 2b",
    "(1a|2a)+(1b|2b)+3a": "coils 1a and 2a in parallel and coils 1b and 2b in parallel, then the "
    "two pairs and coil 3a in series",
    "(1a+1b)|(1c+1d)": "coils 1a and 1b in series and coils 1c and 1d in series, then the two "
    "pairs in parallel",
    # too many words
    "((1a|1b)+(2a|3a))|(2b+3b)": None,
    "(((1a|2a)+1b)|2b)+(3a|3b)": None,
}


@pytest.mark.parametrize("notation", WIRED)
def test_a_circuit_in_words(notation):
    assert wiring_words(circuit_of(notation)) == WIRED[notation]


# Power of a coil: U²/R in parallel, I²R in series; the arithmetic stands beside each.
SHARED = [
    ("1a", {}, "the one coil takes all the power"),
    ("(1a+1b)|(2a+2b)", {}, "every coil gets the same power"),
    ("1a+2a", {}, "every coil gets the same power"),
    # 4 + 4 Ω beside 8 Ω: half each, and the series pair halves its own.
    (
        "(1a+1b)|2a",
        {"s2": 8},
        "each sub takes half the power; coil 2a alone takes half, 1a and 1b a quarter each",
    ),
    # 4 + 4 Ω beside 4 Ω: 1/8 to 1/4, so one to two.
    (
        "(1a+1b)|2a",
        {},
        "sub 2 takes two thirds of the power and sub 1 a third; coil 2a alone takes two thirds, "
        "1a and 1b a sixth each",
    ),
    # The same current through three like coils, two of which are sub 1’s.
    (
        "1a+1b+2a",
        {},
        "sub 1 takes two thirds of the power and sub 2 a third; every coil takes a third",
    ),
    # The same current through 4 and 12 Ω.
    ("1a+2a", {"s2": 12}, "sub 2 takes three quarters of the power and sub 1 a quarter"),
    # 4 + 4 beside 4 and 4 Ω: conductances 1/8, 1/4, 1/4 are 1 : 2 : 2 of five.
    (
        "(1a+2a)|3a|4a",
        {},
        "subs 3 and 4 take 40\u202f% of the power each and subs 1 and 2 10\u202f% each",
    ),
    # 8 Ω beside 4 and 4 Ω: 1 : 2 : 2 of five, of which 1a and 1b take half of the one.
    (
        "(1a+1b)|2a|2b",
        {},
        "sub 2 takes four fifths of the power and sub 1 a fifth; coils 2a and 2b take 40\u202f% "
        "each, 1a and 1b 10\u202f% each",
    ),
    # 4|4 = 2 Ω in series with 4 Ω and 2 Ω: of eight, 2 4 2; the parallel coils take one each.
    (
        "(1a|1b)+2a+3a",
        {"s3": 2},
        "sub 2 takes half the power and subs 1 and 3 a quarter each; coil 2a alone takes half, "
        "3a a quarter, 1a and 1b an eighth each",
    ),
]


@pytest.mark.parametrize(("notation", "ohms", "words"), SHARED)
def test_who_takes_which_power(notation, ohms, words):
    arrangement = Arrangement(circuit=circuit_of(notation, **ohms), even=True, joints=0)
    assert share_words(arrangement) == words


@pytest.mark.parametrize(
    ("share", "words"),
    [
        (Fraction(1, 2), "half"),
        (Fraction(1, 3), "a third"),
        (Fraction(3, 4), "three quarters"),
        (Fraction(1, 8), "an eighth"),
        (Fraction(5, 7), "five sevenths"),
        (Fraction(4, 15), "26.7\u202f%"),  # 26.666…
        (Fraction(1), "100\u202f%"),
    ],
)
def test_a_part_has_the_word_that_people_say(share, words):
    assert part_words(share) == words


def test_the_words_never_say_that_all_is_alike_where_the_table_differs(capsys):
    """The table of 25, 25 and 50 % stood beside “all coils work alike”."""
    assert main(["coil-wiring", "drivers=2,4;1,8"]) == 0
    text = capsys.readouterr().out
    assert "work alike" not in text and "equal power" not in text and "same power" not in text
    assert "coil 2a alone takes half, 1a and 1b a quarter each" in text
    assert main(["coil-wiring", "drivers=2,4;1,8", "--json"]) == 0
    results = json.loads(capsys.readouterr().out)["results"]
    assert results["arrangements"][results["best"]]["share_percent"] == [25, 25, 50]


@pytest.mark.parametrize(
    "drivers", ["1", "2", "3", "1,4;1,4", "2,4;1,8", "2,4;1,4", "1,4;1,8", "2,2;2,4", "1,3;2,5;1,8"]
)
def test_same_power_is_said_where_every_listed_share_is_the_same_and_nowhere_else(drivers):
    for limit in ("0.5", "2", "4", "6"):
        answer = COIL_WIRING.answer({"drivers": drivers, "min_load_ohm": limit})
        best = answer.sheet.results["best"]
        if best is None:
            continue
        one = answer.sheet.results["arrangements"][best]
        coils, subs = one["share_percent"], one["driver_share_percent"]
        alike = max(coils) - min(coils) < 1e-9 and max(subs) - min(subs) < 1e-9
        says = "every coil gets the same power" in answer.sheet.verdict.reason
        assert says is (alike and len(coils) > 1)


def test_words_come_first_and_the_notation_small_below():
    answer = COIL_WIRING.answer({})
    words = "Wire each sub’s two coils in series, then the two subs in parallel: 4\u202fΩ."
    assert answer.sheet.sentence.startswith(words)
    assert "(1a+1b)" not in answer.sheet.sentence
    lines = answer_text(answer).splitlines()
    assert lines[2].startswith(words) and lines[4] == "  (1a+1b)|(2a+2b)"
    assert '<p class="notation"><code>(1a+1b)|(2a+2b)</code></p>' in answer_html(answer)
    check = METER_CHECK.answer({})
    assert check.sheet.sentence == "3.4\u202fΩ is right for this wiring."
    assert check.sheet.notation == "(1a+1b)|(2a+2b)"


def test_a_circuit_without_words_is_told_by_its_notation():
    given = {"intended": "((1a|1b)+(2a|3a))|(2b+3b)", "drivers": "3", "reading_ohm": "2.2"}
    sheet = METER_CHECK.answer(given).sheet
    # 4|4 + 4|4 = 4 Ω beside 8 Ω: 2.667 Ω, of which 0.75 to 0.95 are 2.0 to 2.53 Ω.
    assert sheet.sentence == "2.2\u202fΩ is right for this wiring."
    assert sheet.notation == "((1a|1b)+(2a|3a))|(2b+3b)"
    assert sheet.drawings[0].title == "Wiring: ((1a|1b)+(2a|3a))|(2b+3b)"


def test_every_circuit_of_up_to_six_coils_has_words_of_its_own_or_none():
    for drivers in ((Driver(2, 4.0),) * 2, (Driver(2, 4.0),) * 3, (Driver(1, 4.0),) * 4):
        told = {}
        for one in survey_of(drivers).ranked(1.0):
            words = wiring_words(one.circuit)
            if words is not None:
                assert told.setdefault(words, one.circuit.notation) == one.circuit.notation
