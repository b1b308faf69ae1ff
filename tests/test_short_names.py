"""Names of speakers where there is little room: short, and none like another's."""

import re

from hypothesis import given
from hypothesis import strategies as st

from calc.app.contents import CALCULATORS
from calc.choosing.layouts.short_names import LONGEST_SHORT, short_names
from calc.renderers.text import answer_text

_WORDS = st.sampled_from(["front", "rear", "door", "A", "B", "+", "left", "x" * 17, "of"])
NAMES = st.lists(
    st.one_of(
        st.lists(_WORDS, min_size=1, max_size=8).map(" ".join),
        st.text(st.characters(categories=["L", "N", "Zs"]), min_size=1, max_size=51),
    ),
    max_size=8,
    unique=True,
)

SYSTEM = {
    "speakers": (
        "front speakers in door A,components,2,1,4,75,,,,2,,,front;"
        "front speakers in door B,full-range,2,1,4,40,,,,2,,,rear;"
        "boot sub,woofer,1,2,2,300,,,,2,,,sub,,,ported,35"
    ),
    "networks": "",
    "head_filters": "",
    "kind": "factory",
    "source_v": "",
    "example": "",
    "amplifier": "Box A,{channels},75,110,,220,2,,,,ab",
}


@given(NAMES)
def test_each_is_short_and_its_own(names):
    short = short_names(names)
    assert set(short) == set(names)
    assert len(set(short.values())) == len(short)
    for name, cut in short.items():
        assert 0 < len(cut) <= LONGEST_SHORT
        # No row is parted by it that was not parted by the name.
        assert set(cut) <= set(name) | set("… 0123456789")


@given(st.lists(st.text("abc ", min_size=1, max_size=LONGEST_SHORT), unique=True))
def test_what_is_short_stays_as_it_is(names):
    assert short_names(names) == {name: name for name in names}


def _plan(**changed):
    asked = SYSTEM | {"amplifier": SYSTEM["amplifier"].format(**changed)}
    return answer_text(CALCULATORS["fit-plan"].answer(asked))


def test_a_plan_s_readings_tell_apart_speakers_whose_long_names_begin_alike():
    text = _plan(channels=6)
    leads = re.findall(r"Resistance of the speaker leads of (.*?)  ", text)
    assert leads == [
        "front … in door A left",
        "front … in door A right",
        "front … in door B left",
        "front … in door B right",
        "boot sub",
    ]
    for name in leads:
        assert f"Box A to {name};" in text  # its cable in the kit list


def test_a_meter_s_band_is_that_of_one_s_own_lead():
    # Five metres to the front and four to what feeds from the rear, of 1 mm²: each its own.
    text = _plan(channels=6)
    bands = re.findall(r"leads of front … in door (.) \w+ +(\S+ to \S+)", text)
    assert len(bands) == 4
    assert len({band for door, band in bands if door == "A"}) == 1
    assert len(set(bands)) == 2
