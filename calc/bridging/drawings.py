"""Drawings of the bridging chapter: layouts with their terminals, and half the load each."""

from collections.abc import Collection, Iterable, Mapping
from xml.etree.ElementTree import Element

from calc.answers.drawing import (
    DASHES,
    HEAVY,
    box,
    canvas,
    joint,
    label,
    loudspeaker,
    resistor,
    terminal,
    wire,
)
from calc.answers.figures import quantity
from calc.answers.markup import Children
from calc.answers.sheet import Drawing
from calc.bridging.names import layout_words
from calc.physics.channel_power import grouping_name, groupings, output_name

Output = tuple[int, ...]

_AMP_RIGHT, _SPEAKER_LEFT = 112, 186
_ROW, _GAP, _TOP = 34, 16, 66.0
_WIDTH = 340
_NAME_LEFT, _WIDEST = 220, 428


def grouping_drawing(
    grouping: tuple[Output, ...],
    feeds: Mapping[Output, str] | None = None,
    turned: Collection[Output] = (),
) -> Drawing:
    """Draw an amplifier's terminals with a loudspeaker on every output.

    feeds : what stands beside an output's loudspeaker; an output that is missing from
        it is left without one
    turned : outputs whose loudspeakers are joined reversed: their signs change places, no wire does
    """
    named = feeds if feeds is not None else dict.fromkeys(grouping, "")
    parts: list[Element] = []
    sentences = []
    y = _TOP
    for output in grouping:
        rows = [(channel, sign) for channel in output for sign in "+−"]
        for at, (channel, sign) in enumerate(rows):
            parts += [
                label(_AMP_RIGHT - 14, y + at * _ROW, f"{channel} {sign}", anchor="end"),
                terminal(_AMP_RIGHT, y + at * _ROW),
            ]
        # The outer two of a bridged pair: + of the first channel, − of the second.
        plus, minus = y, y + (len(rows) - 1) * _ROW
        name = output_name(output)
        if output in named:
            is_turned = output in turned
            parts += _loudspeaker(output, named[output], plus, minus, is_turned=is_turned)
            sentences.append(_joined(output, named[output], is_turned=is_turned))
        else:
            middle = (plus + minus) / 2
            parts.append(label(_AMP_RIGHT + 16, middle, f"{name} unused", anchor="start"))
            sentences.append(f"{_output_words(output)}: unused.")
        y += len(rows) * _ROW + _GAP
    height = y - _ROW - _GAP + 34
    parts += [
        box(4, 6, _AMP_RIGHT - 4, height - 12, heavy=True),
        label(16, 30, "amplifier", anchor="start"),
    ]
    return Drawing(
        title=f"Speaker terminals: {layout_words(grouping)}",
        description=" ".join(sentences) + " The + leads are solid, the − leads dashed. Bridge only "
        "the two terminals that the amplifier marks for it.",
        svg=canvas(_width(named.values()), height, parts),
    )


def _loudspeaker(
    output: Output, feeds: str, plus: float, minus: float, *, is_turned: bool
) -> list[Element]:
    """Draw an output's loudspeaker with its leads from the terminals at two heights."""
    middle = (plus + minus) / 2
    name = output_name(output)
    kind = " and ".join(map(str, output)) + " bridged" if len(output) == 2 else f"channel {name}"
    upper, lower = _signs(is_turned=is_turned)
    parts = [
        wire(
            (_AMP_RIGHT + 4, plus),
            (160, plus),
            (160, middle - 10),
            (_SPEAKER_LEFT, middle - 10),
        ),
        wire(
            (_AMP_RIGHT + 4, minus),
            (160, minus),
            (160, middle + 10),
            (_SPEAKER_LEFT, middle + 10),
            dash=DASHES[1],
        ),
        label(174, middle - 22, upper),
        label(174, middle + 23, lower),
        loudspeaker(_SPEAKER_LEFT, middle),
        label(
            220,
            middle - (10 if feeds else 0),
            f"{kind}, reversed" if is_turned else kind,
            anchor="start",
        ),
    ]
    if feeds:
        parts.append(label(220, middle + 12, feeds, anchor="start", bold=True))
    return parts


def _joined(output: Output, feeds: str, *, is_turned: bool) -> str:
    """Say which terminal of the speaker is wired to which of the output."""
    upper, lower = _signs(is_turned=is_turned)
    return (
        f"{_output_words(output)}: speaker {upper} to terminal {output[0]} +, speaker {lower} to "
        f"terminal {output[-1]} −" + (f", {feeds}." if feeds else ".")
    )


def _output_words(output: Output) -> str:
    """Name an output at the start of a sentence."""
    if len(output) == 2:
        return f"Channels {output[0]} and {output[1]} bridged"
    return f"Channel {output[0]}"


def _signs(*, is_turned: bool) -> tuple[str, str]:
    """Return the loudspeaker's signs at the + terminal and at the − terminal."""
    return ("−", "+") if is_turned else ("+", "−")


def _width(names: Iterable[str]) -> int:
    """Return the drawing’s width: a long name asks for more, up to what paper takes."""
    longest = max((len(name) for name in names), default=0)
    return min(_WIDEST, max(_WIDTH, _NAME_LEFT + 9 * longest + 4))


def four_channel_grouping(name: str) -> Drawing:
    """Draw one of the four groupings of four channels, by its name."""
    for grouping in groupings(4):
        if grouping_name(grouping) == name:
            return grouping_drawing(grouping)
    known = ", ".join(grouping_name(grouping) for grouping in groupings(4))
    raise ValueError(f"there is no layout ‘{name}’; there are {known}")


def half_load(load_ohm: str = "4") -> Drawing:
    """Draw why each channel of a bridged pair sees half the load."""
    load = float(load_ohm)
    half, whole = quantity(load / 2, "Ω"), quantity(load, "Ω")
    top, bottom, middle = 50.0, 230.0, 140.0
    parts: list[Children] = [
        box(4, top - 22, 96, 44, heavy=True),
        label(52, top, "channel 1"),
        box(4, bottom - 22, 96, 44, heavy=True),
        label(52, bottom, "channel 2"),
        label(124, top - 16, "+V"),
        label(124, bottom + 18, "−V"),
        wire((100, top), (182, top)),
        wire((100, bottom), (182, bottom)),
        resistor(182, top, middle),
        resistor(182, middle, bottom),
        joint(182, middle),
        label(200, (top + middle) / 2, half, anchor="start", bold=True),
        label(200, (bottom + middle) / 2, half, anchor="start", bold=True),
        wire((104, middle), (170, middle), dash=DASHES[2]),
        label(4, middle, "stays at 0 V", anchor="start"),
        wire((262, top), (274, top), (274, bottom), (262, bottom), width=HEAVY),
        label(284, middle, whole, anchor="start", bold=True),
    ]
    return Drawing(
        title="Each channel sees half the load",
        description=f"Channel 1 pushes the upper end of a load of {whole} to +V while channel 2 "
        "pulls the lower end to −V. The middle of the load stays at 0 V, so each channel drives "
        f"{half}.",
        svg=canvas(_WIDTH, 270, parts),
    )


_SCREW, _RCA, _KNOB = 24, 12, 15  # a screw terminal is square, sockets and knobs are round
_POWER, _SPEAKERS, _PITCH = (32, 82, 132), 182, 32
_HALF = _WIDEST / 2


def terminal_panel() -> Drawing:
    """Draw the terminals and controls of a four-channel amplifier that nobody makes."""
    speakers = [f"{channel}{sign}" for channel in range(1, 5) for sign in "+−"]
    xs = {name: _SPEAKERS + at * _PITCH for at, name in enumerate(speakers)}
    xs.update(zip(("+12 V", "GND", "REM"), _POWER, strict=True))
    parts: list[Children] = [
        label(82, 14, "power", bold=True),
        label(294, 14, "speakers", bold=True),
        box(2, 28, _WIDEST - 4, 124, heavy=True),
        wire((160, 28), (160, 152)),
    ]
    for name, x in xs.items():
        parts += [
            box(x - _SCREW / 2, 44, _SCREW, _SCREW),
            terminal(x, 56, 7),
            wire((x - 4, 56), (x + 4, 56)),
            label(x, 84, name),
        ]
    for plus, minus in (("1+", "2−"), ("3+", "4−")):
        ends = xs[plus], xs[minus]
        parts += [
            wire((ends[0], 98), (ends[0], 110), (ends[1], 110), (ends[1], 98), width=HEAVY),
            label(sum(ends) / 2, 130, "bridged"),
        ]
    parts += [
        box(2, 192, _WIDEST - 4, 150, heavy=True),
        wire((_HALF, 192), (_HALF, 342)),
        *_controls(0, (1, 2), "HPF"),
        *_controls(_HALF, (3, 4), "LPF"),
    ]
    return Drawing(
        title="Terminals and controls of a four-channel amplifier",
        description="Power: +12 V from the battery through the main fuse, GND to earth, REM for "
        "the remote turn-on lead. Speakers: + and − of channels 1 to 4. A bracket joins 1+ and 2−, "
        "another 3+ and 4−: the two terminals to use when that pair is bridged. For each pair: two "
        "RCA inputs, a gain knob, a filter switch (HPF, off, LPF) and the filter’s frequency; here "
        "HPF for doors on 1 and 2, LPF for a sub on 3 and 4.",
        svg=canvas(_WIDEST, 346, parts),
    )


def _controls(left: float, pair: tuple[int, int], chosen: str) -> list[Element]:
    """Draw inputs, gain and filter of a pair of channels in its half of the panel."""
    parts = [label(left + _HALF / 2, 178, f"channels {pair[0]} and {pair[1]}", bold=True)]
    for x, channel in zip((left + 32, left + 86), pair, strict=True):
        parts += [terminal(x, 218, _RCA), joint(x, 218), label(x, 246, f"RCA {channel}")]
    for x, y, name in ((164, 216, "gain"), (164, 290, "frequency")):
        parts += [
            terminal(left + x, y, _KNOB),
            wire((left + x, y - _KNOB + 3), (left + x, y - 3), width=HEAVY),
            label(left + x, y + 30, name),
        ]
    parts.append(box(left + 10, 282, 108, 16))
    for x, name in ((26, "HPF"), (64, "off"), (102, "LPF")):
        parts.append(label(left + x, 320, name, bold=name == chosen))
        if name == chosen:
            parts.append(box(left + x - 13, 285, 26, 10, heavy=True))
    return parts
