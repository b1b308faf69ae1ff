"""Drawings of passive crossovers as circuits."""

from collections.abc import Mapping, Sequence

from calc.answers.drawing import (
    WIDEST,
    canvas,
    capacitor,
    coil,
    inductor,
    joint,
    label,
    level_resistor,
    loudspeaker,
    resistor,
    terminal,
    upright_capacitor,
    wire,
)
from calc.answers.markup import Children
from calc.answers.sheet import Drawing
from calc.physics.circuit import Branch, Network

_TOP, _BOTTOM = 70.0, 176.0
_COLUMN = 44.0
_FIRST = 18.0


def circuit_drawing(title: str, network: Network, values: Mapping[str, str]) -> Drawing:
    """Draw a network from the amplifier (left) to the speaker (right).

    values : what to write at each part, by its name
    """
    parts: list[Children] = [
        terminal(_FIRST, _TOP),
        terminal(_FIRST, _BOTTOM),
        label(_FIRST - 4, _TOP - 16, "+"),
        label(_FIRST - 4, _BOTTOM + 18, "−"),
    ]
    x = _FIRST + 4
    words = []
    branches = [branch for branch in network.branches if branch.name != "driver"]
    at = 0
    while at < len(branches):
        branch = branches[at]
        if branch.place == "series":
            parts += _series(branch, x, values)
            words.append(f"{branch.name} ({values[branch.name]}) in series")
            x += _COLUMN + 14
            at += 1
            continue
        upright = [branch]
        if branch.end != "0":  # two parts one above the other
            upright.append(branches[at + 1])
        before = x
        x += _COLUMN - 14 if len(upright) == 1 else _COLUMN + 26
        parts += [wire((before, _TOP), (x, _TOP)), *_shunt(upright, x, values)]
        named = " with ".join(f"{each.name} ({values[each.name]})" for each in upright)
        words.append(f"{named} across")
        at += len(upright)
    before = x
    x += 34
    middle = (_TOP + _BOTTOM) / 2
    start = _FIRST + 4
    parts += [
        wire((start, _BOTTOM), (x, _BOTTOM), (x, middle + 10)),
        wire((before, _TOP), (x, _TOP), (x, middle - 10)),
        loudspeaker(x, middle),
        label(x + 12, _TOP - 16, "+", anchor="start"),
    ]
    width = min(max(x + 50, 200), WIDEST)
    return Drawing(
        title,
        "From the amplifier’s output to the speaker: " + "; ".join(words) + "; then the speaker.",
        canvas(width, _BOTTOM + 52, parts),
        name="circuit",
    )


def _series(branch: Branch, x: float, values: Mapping[str, str]) -> list[Children]:
    length = _COLUMN + 14
    symbols = {"L": inductor, "C": capacitor}
    drawn: list[Children] = (
        [*level_resistor(x, _TOP, length)]
        if branch.name[0] == "R"
        else [symbols[branch.name[0]](x, _TOP, length)]
    )
    middle = x + length / 2
    return [
        *drawn,
        label(middle, _TOP - 48, branch.name, bold=True),
        label(middle, _TOP - 29, values[branch.name]),
    ]


def _shunt(upright: Sequence[Branch], x: float, values: Mapping[str, str]) -> list[Children]:
    drawn: list[Children] = [joint(x, _TOP), joint(x, _BOTTOM)]
    share = (_BOTTOM - _TOP) / len(upright)
    for place, branch in enumerate(upright):
        top, bottom = _TOP + place * share, _TOP + (place + 1) * share
        if branch.name[0] == "L":
            drawn.append(coil(x, top, bottom))
        elif branch.name[0] == "C":
            drawn.append(upright_capacitor(x, top, bottom))
        else:
            drawn += resistor(x, top, bottom, height=min(44, share - 14))
    lines = [text for branch in upright for text in (branch.name, values[branch.name])]
    if len(upright) == 2:
        lines = [f"{branch.name} {values[branch.name]}" for branch in upright]
    for place, text in enumerate(lines):
        is_name = len(upright) == 1 and place == 0
        drawn.append(label(x, _BOTTOM + 20 + 19 * place, text, bold=is_name))
    return drawn
