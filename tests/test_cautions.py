"""One danger, one sentence: what several chapters warn of is told alike."""

import re
from functools import cache
from pathlib import Path

import pytest

from calc.answers.cautions import (
    AIRBAGS,
    BOLT_DOWN,
    BOTH_LIVE,
    COVER_POSITIVE,
    DRILLING,
    HEARING,
    JUMP_LEADS,
    NEGATIVE_LAST,
    NO_APPROVAL,
    OVERRULE,
    RECONNECT,
    SEAT_TRAVEL,
    SWITCH_OFF,
)
from calc.app.contents import CALCULATORS

DOCS = Path(__file__).parent.parent / "docs"
CHAPTERS = {
    path.stem: re.sub(r"\s+", " ", path.read_text().replace("*", ""))
    for path in sorted(DOCS.glob("*.md"))
    if path.stem != "changes"
}


@cache
def told_by_name():
    """The cautions of each calculator's example, by its name."""
    return {name: calculator.answer({}).sheet.cautions for name, calculator in CALCULATORS.items()}


def test_the_hearing_limit_is_one_sentence_everywhere():
    """Other levels stand beside it only where they are worked out from it."""
    speaking = [name for name, text in CHAPTERS.items() if "85 dB(A)" in text]
    assert {"bridging", "cautions", "coil-wiring", "crossovers", "set-up"} <= set(speaking)
    for name in speaking:
        assert HEARING in CHAPTERS[name], name
        rest = CHAPTERS[name].replace(HEARING, "").partition("## Sources")[0]
        assert "85 dB" not in rest, name
    for name, cautions in told_by_name().items():
        assert all(one == HEARING for one in cautions if "85 dB" in one), name


@pytest.mark.parametrize("name", ["bridging", "coil-wiring", "crossovers", "set-up"])
def test_before_speaker_leads_the_amplifier_is_off_and_before_power_wiring_the_battery(name):
    assert SWITCH_OFF in CHAPTERS[name]
    assert not re.search(r"battery’s negative[^.]*before you touch speaker", CHAPTERS[name])


def test_calculators_of_speaker_wiring_say_so_too():
    for name in ("bridged-output", "channel-map", "coil-wiring", "speaker-lead"):
        assert SWITCH_OFF in told_by_name()[name], name


def test_speaker_terminals_are_live_whichever_is_earthed():
    assert BOTH_LIVE in CHAPTERS["bridging"] and BOTH_LIVE in CHAPTERS["set-up"]
    assert any(BOTH_LIVE in one for one in told_by_name()["gain-voltage"])
    assert "as a rule, at earth" not in CHAPTERS["bridging"]


@pytest.mark.parametrize("words", [AIRBAGS, BOLT_DOWN, COVER_POSITIVE, DRILLING, SEAT_TRAVEL])
def test_the_hazards_of_mounting_are_told_alike_in_the_chapter_and_among_the_cautions(words):
    assert words in CHAPTERS["mounting"] and words in CHAPTERS["cautions"]


def test_calculators_of_mounting_say_so_too():
    under_a_seat = CALCULATORS["mounting-reach"].starts[1].texts
    told = CALCULATORS["mounting-reach"].answer(under_a_seat).sheet.cautions
    assert {AIRBAGS, BOLT_DOWN, COVER_POSITIVE, DRILLING} <= {*told}
    assert all(one == BOLT_DOWN for one in told if "twenty times" in one)
    assert {AIRBAGS, BOLT_DOWN, DRILLING} <= {*told_by_name()["mounting-reach"]}
    # What no seat is above has no spring.
    assert COVER_POSITIVE not in told_by_name()["mounting-reach"]


@pytest.mark.parametrize("name", ["mounting-reach", "bay-heat", "footprint"])
def test_an_answer_on_mounting_has_five_cautions_at_most(name):
    starts = [start.texts for start in CALCULATORS[name].starts]
    for texts in ({}, *starts):
        assert len(CALCULATORS[name].answer(texts).sheet.cautions) <= 5


def test_reconnecting_the_battery_is_told_alike_and_apart_from_jump_leads():
    """Loads off, main fuse out, negative last; the last clamp away from it is for jump leads."""
    for words in (RECONNECT.removesuffix("."), NEGATIVE_LAST, JUMP_LEADS):
        assert words in CHAPTERS["cautions"]
    first = CHAPTERS["checklist"].partition("## Now connect")[2].partition(" 2. ")[0]
    in_order = ["switched off", "main fuse out", "negative on, last"]
    assert sorted(in_order, key=first.index) == in_order
    assert "away from" not in first


def test_what_overrules_a_result_is_one_sentence():
    assert OVERRULE in CHAPTERS["mounting"]
    assert f"{OVERRULE} {NO_APPROVAL}" in CHAPTERS["cautions"]
