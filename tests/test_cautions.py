"""One danger, one sentence: what several chapters warn of is told alike."""

import re
from pathlib import Path

import pytest

from calc.answers.cautions import BOTH_LIVE, HEARING, SWITCH_OFF
from calc.app.contents import CALCULATORS

DOCS = Path(__file__).parent.parent / "docs"
CHAPTERS = {
    path.stem: re.sub(r"\s+", " ", path.read_text().replace("*", ""))
    for path in sorted(DOCS.glob("*.md"))
    if path.stem != "changes"
}
TOLD = {name: calculator.answer({}).sheet.cautions for name, calculator in CALCULATORS.items()}


def test_the_hearing_limit_is_one_sentence_everywhere():
    """Other levels stand beside it only where they are worked out from it."""
    speaking = [name for name, text in CHAPTERS.items() if "85 dB(A)" in text]
    assert {"bridging", "cautions", "coil-wiring", "crossovers", "set-up"} <= set(speaking)
    for name in speaking:
        assert HEARING in CHAPTERS[name], name
        rest = CHAPTERS[name].replace(HEARING, "").partition("## Sources")[0]
        assert "85 dB" not in rest, name
    for name, cautions in TOLD.items():
        assert all(one == HEARING for one in cautions if "85 dB" in one), name


@pytest.mark.parametrize("name", ["bridging", "coil-wiring", "crossovers", "set-up"])
def test_before_speaker_leads_the_amplifier_is_off_and_before_power_wiring_the_battery(name):
    assert SWITCH_OFF in CHAPTERS[name]
    assert not re.search(r"battery’s negative[^.]*before you touch speaker", CHAPTERS[name])


def test_calculators_of_speaker_wiring_say_so_too():
    for name in ("bridged-output", "channel-map", "coil-wiring", "speaker-lead"):
        assert SWITCH_OFF in TOLD[name], name


def test_speaker_terminals_are_live_whichever_is_earthed():
    assert BOTH_LIVE in CHAPTERS["bridging"] and BOTH_LIVE in CHAPTERS["set-up"]
    assert any(BOTH_LIVE in one for one in TOLD["gain-voltage"])
    assert "as a rule, at earth" not in CHAPTERS["bridging"]
