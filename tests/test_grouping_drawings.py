"""The drawings of the amplifiers' terminals: each amplifier by its own numbers."""

import re
from dataclasses import replace

import pytest
from arrangement_files import plan_of_text, text_of

from calc.choosing.workshop.grouping import grouping_drawings


@pytest.fixture(scope="module")
def plan():
    """Front and rear doors on the four channels of one amplifier, a subwoofer on a mono."""
    return plan_of_text(text_of("four-and-mono"))


@pytest.mark.parametrize("at", range(5))
def test_a_reversed_channel_is_drawn_reversed_on_its_own_amplifier_alone(plan, at):
    channels = tuple(
        replace(channel, polarity="reversed" if place == at else "normal")
        for place, channel in enumerate(plan.channels)
    )
    drawn = list(grouping_drawings(replace(plan, channels=channels)))
    said = [len(re.findall(r"speaker − to terminal \d \+", each.description)) for each in drawn]
    assert said == ([1, 0] if at < 4 else [0, 1])
    own = channels[at].output
    assert f"Channel {own}: speaker − to terminal {own} +" in drawn[at // 4].description


def test_each_amplifier_has_its_own_drawing_with_its_own_numbers(plan):
    four, mono = grouping_drawings(plan)
    assert four.title.endswith("Alder 4-60") and mono.title.endswith("Cedar 1-400")
    assert "terminal 4 +" in four.description and "terminal 5" not in four.description
    assert "Channel 1: speaker + to terminal 1 +" in mono.description
    assert "5" not in mono.description
