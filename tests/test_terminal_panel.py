"""The drawing of an amplifier's terminals: nothing overlaps, brackets join the bridged ones."""

from itertools import combinations, pairwise

import pytest

from calc.app.contents import DRAWINGS

WIDEST, TEXT = 428, 16  # 85 mm of paper then show 9 point
PER_CHARACTER = 0.62 * TEXT


@pytest.fixture(scope="module")
def drawing():
    return DRAWINGS["terminal-panel"]()


@pytest.fixture(scope="module")
def words(drawing):
    """Each word with the box that it takes: (text, left, top, right, bottom)."""
    found = []
    for one in drawing.svg.iter("text"):
        wide = PER_CHARACTER * len(one.text)
        x, y = float(one.get("x")), float(one.get("y"))
        assert one.get("text-anchor") == "middle"
        found.append((one.text, x - wide / 2, y - 0.75 * TEXT, x + wide / 2, y + 0.25 * TEXT))
    return found


def apart(one, other):
    return one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]


def shapes(drawing):
    """The boxes that circles and screws take; frames and slides hold others and are left out."""
    for one in drawing.svg.iter("circle"):
        x, y, r = (float(one.get(key)) for key in ("cx", "cy", "r"))
        yield x - r, y - r, x + r, y + r
    for one in drawing.svg.iter("rect"):
        x, y, wide, high = (float(one.get(key)) for key in ("x", "y", "width", "height"))
        if high < 30:
            yield x, y, x + wide, y + high


def test_every_word_can_be_read_at_85_mm(drawing, words):
    wide, high = (float(one) for one in drawing.svg.get("viewBox").split()[2:])
    assert wide <= WIDEST and float(drawing.svg.get("font-size")) == TEXT
    for text, left, top, right, bottom in words:
        assert left >= 0 and top >= 0 and right <= wide and bottom <= high, text
    for (one, *box), (other, *box_of_other) in combinations(words, 2):
        assert apart(box, box_of_other), (one, other)
    for text, *box in words:
        assert all(apart(box, shape) for shape in shapes(drawing)), text


def test_every_terminal_and_control_has_its_name_below_it(drawing, words):
    names = [text for text, *_ in words]
    speakers = [f"{channel}{sign}" for channel in range(1, 5) for sign in "+−"]
    for name in ("+12 V", "GND", "REM", *speakers, *(f"RCA {channel}" for channel in range(1, 5))):
        assert names.count(name) == 1, name
    for name in ("gain", "HPF", "off", "LPF", "frequency", "bridged"):
        assert names.count(name) == 2, name
    screws = [
        float(one.get("x")) + 12 for one in drawing.svg.iter("rect") if one.get("width") == "24"
    ]
    terminals = [
        (left + right) / 2
        for text, left, _, right, _ in words
        if text in (*speakers, "+12 V", "GND", "REM")
    ]
    assert sorted(screws) == pytest.approx(sorted(terminals))


def test_the_brackets_join_plus_of_the_first_channel_and_minus_of_the_second(drawing, words):
    at = {(left + right) / 2: text for text, left, _, right, _ in words if text[0] in "1234"}
    joined = []
    for line in drawing.svg.iter("polyline"):
        points = [tuple(map(float, point.split(","))) for point in line.get("points").split()]
        if len(points) == 4:
            assert all(a[0] == b[0] or a[1] == b[1] for a, b in pairwise(points))
            joined.append((at[points[0][0]], at[points[-1][0]]))
    assert joined == [("1+", "2−"), ("3+", "4−")]


def test_the_words_for_it_name_what_is_to_be_connected(drawing):
    for words in ("main fuse", "earth", "remote turn-on lead", "1+ and 2−", "3+ and 4−", "RCA"):
        assert words in drawing.description
