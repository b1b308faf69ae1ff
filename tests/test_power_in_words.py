"""The power that a plan tells in a sentence is what the speakers get with the gain as it is set."""

import pytest
from arrangement_files import NAMES, plan_of_text, sheet_of_text, speakers, text_of
from asking import plain

from calc.answers.figures import rounded
from calc.choosing.workshop.words import say_of

REST = """[head_unit]
kind = "factory"
[leads]
power_m = 5
engine_space = true
[[amplifiers]]
name = "Birch"
channels = 4
power_4ohm_w = 100
min_channel_ohm = 4
"""


@pytest.mark.parametrize(
    ("doors_w", "expected"),
    [
        (60, "doors on 1 and 2 at 60 of 100 W each; rear shelf on 3 and 4 at 30 of 100 W each"),
        (100, "doors on 1 and 2 at 100 W each; rear shelf on 3 and 4 at 30 of 100 W each"),
        (110, "doors on 1 and 2 at 100 W each; rear shelf on 3 and 4 at 30 of 100 W each"),
    ],
)
def test_speakers_get_what_they_are_rated_for_of_a_stronger_channel(doors_w, expected):
    """The gain stops at √(30 · 4) = 10.95 V on the rear shelf: 30 W, whatever there is."""
    doors, rear = speakers("doors", rated_w=doors_w), speakers("rear shelf", rated_w=30)
    text = "version = 2\n" + doors + rear + REST
    sheet, plan = sheet_of_text(text), plan_of_text(text)
    assert plain(sheet.sentence) == f"Birch runs this system: {expected}."
    assert plain(sheet.candidates[0].sentence) == f"{expected[0].upper()}{expected[1:]}."
    spoken = plain(say_of(plan))
    assert "the rear shelf on 3 and 4 (30 of 100 W each)" in spoken
    volts = {channel.speaker: channel.ceiling_v for channel in plan.channels}
    assert volts["rear shelf"] == pytest.approx(10.954, abs=1e-3)


@pytest.mark.parametrize("name", NAMES)
def test_the_sentence_and_the_channel_table_agree(name):
    """V²/R of each output's ceiling is what the sentence tells of it."""
    text = text_of(name.removeprefix("arr-"))
    plan, sheet = plan_of_text(text), sheet_of_text(text)
    for channel in plan.channels:
        if channel.power_w is None or channel.ceiling_v is None or len(channel.loads) > 1:
            continue
        used = channel.ceiling_v**2 / channel.load_ohm
        whole = rounded(channel.power_w, 3)
        told = whole if rounded(used, 3) == whole else f"{rounded(used, 3)} of {whole}"
        assert f"at {told} W" in plain(sheet.sentence), (channel, sheet.sentence)
