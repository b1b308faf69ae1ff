"""Hostile texts in place of a spec sheet: refused or read in one go, and shown without harm."""

import json
from xml.etree import ElementTree

from conftest import each
from test_page_failures import reply

from calc.answers.markup import markup
from calc.reading import proposal, read_amplifier, read_speaker
from calc.reading.text import LONGEST_TEXT

PIECES = (
    "4", "4 x ", "60 W ", "60 W @ 4 Ω ", "1/2 ", "((4 Ω)", "4x60W/", "a ", "\t", "| ", "½", "rms ",
    "max ", "4-", "4,", "1.000.", "'", "250 x 52 x 170 mm ", "W x H x D ", "fuse 2 x 25 A ", "\n",
    "4 x 60 W RMS at 4 Ω\n", "hpf ", "50-250 hz ", "bridged ", "4 channel ", "𝟜", "\u0301",
    "\u202e",
    "dual 4 ohm voice coil ", "2 x 2 Ω, ", "rms\t4 Ω\n60 W\t", "9999999 ", "\x00", "</script>",
    "&lt;", "min 4 Ω ", "\ud800", "<b onclick=alert(1)>", "9-7/8\" ", "4+", "ch. ",
)  # fmt: skip
MOST_MARKUP = 2_000_000


@each("piece", PIECES)
def test_a_repetition_is_refused_where_it_is_long_and_read_where_it_is_not(piece, is_long):
    told = reply(
        kind="read", calculator="fit-plan", about="amplifier", text=piece * 100_000, current={}
    )
    assert told["kind"] == "failed"
    assert "characters" in told["text"]
    text = (piece * LONGEST_TEXT)[:LONGEST_TEXT]
    readers = (read_amplifier, read_speaker)
    turn = PIECES.index(piece) % 2  # in the short run they take turns
    for read in readers if is_long else readers[turn : turn + 1]:
        reading = read(text)
        shown = markup(proposal(reading, {}))
        assert len(shown) < MOST_MARKUP
        root = ElementTree.fromstring(f"<all>{shown}</all>")
        assert {each.tag for each in root.iter()} <= {
            "all", "p", "span", "s", "sup", "ol", "li", "q", "strong", "button", "div", "ul",
        }  # fmt: skip


@each("request_", [{"text": 7}, {"text": "4 x 60 W", "current": []}, {"current": {"name": {}}}])
def test_what_no_page_sends_is_answered_in_words(request_):
    asked = {"about": "speaker", "text": "", "current": {}} | request_
    told = reply(kind="read", calculator="fit-plan", **asked)
    assert told["kind"] in ("proposal", "failed")
    json.dumps(told)
