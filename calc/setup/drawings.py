"""Drawings of the set-up chapter: meter, boost, clipping, voltages and turn-on wiring."""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from functools import partial

from calc.answers.drawing import (
    DASHES,
    HEAVY,
    THIN,
    WIDEST,
    battery,
    box,
    canvas,
    frame,
    joint,
    label,
    level_resistor,
    number,
    resistor,
    terminal,
    wire,
)
from calc.answers.figures import quantity, rounded
from calc.answers.markup import Children, element
from calc.answers.plots import Curve, Panel, plot
from calc.answers.sheet import Drawing
from calc.physics.boost import Boost
from calc.physics.levels import clipped_power, ratio

_PER_OCTAVE = 12
_NARROW = 346  # fits a phone without scrolling


def meter(x: float, y: float, radius: float = 26) -> list[Children]:
    """Return a voltmeter: a circle with a V, its leads at the top and at the bottom."""
    circle = element("circle", cx=number(x), cy=number(y), r=number(radius))
    return [circle, label(x, y, "V", bold=True)]


def meter_drawing(*, is_bridged: bool, target_v: float) -> Drawing:
    """Draw where the meter's leads go while the gain is set."""
    names = ("1 +", "1 −", "2 +", "2 −") if is_bridged else ("+", "−")
    used = (0, len(names) - 1)  # of two bridged channels the outer two
    left, right, top = 8.0, 140.0, 20.0
    step = 40.0 if is_bridged else 72.0
    height = step * len(names) + 10
    middle = top + height / 2
    parts: list[Children] = [box(left, top, right - left, height, heavy=True)]
    parts.append(label(left + 12, middle, "amplifier", anchor="start"))
    places = [middle + step * (at - (len(names) - 1) / 2) for at in range(len(names))]
    for at, (name, y) in enumerate(zip(names, places, strict=True)):
        parts.append(label(right - 14, y, name, anchor="end"))
        if at in used:
            edge = middle - 26 if at == 0 else middle + 26
            parts.append(wire((right, y), (200, y), (200, edge)))
        parts.append(terminal(right, y))
    parts += meter(200, middle)
    parts.append(label(238, middle - 12, quantity(target_v, "V"), anchor="start", bold=True))
    parts.append(label(238, middle + 10, "AC range", anchor="start"))
    bottom = top + height
    parts.append(label(_NARROW / 2, bottom + 22, "speakers off, neither lead to earth"))
    between = (
        "the plus of the first channel and the minus of the second, the two terminals that the "
        "manual marks for bridging"
        if is_bridged
        else "the plus and the minus of one channel"
    )
    return Drawing(
        "Where the meter goes",
        f"An AC voltmeter between {between}. It shows {quantity(target_v, 'V')} when the gain is "
        "set. The speakers are off, and neither lead of the meter touches earth.",
        canvas(_NARROW, bottom + 38, parts),
        name="meter",
    )


def boost_drawing(boost: Boost) -> Drawing:
    """Draw the curve of a boost."""
    step = next((size for size in (1, 2, 3) if boost.gain_db <= 6 * size), 4)
    lines = tuple(float(step * at) for at in range(7))
    count = round(10 * _PER_OCTAVE)
    grid = sorted({20.0 * 1000 ** (at / count) for at in range(count + 1)} | {boost.frequency_hz})
    low, high = boost.half_gain_hz()
    curve = Curve(
        name=quantity(boost.frequency_hz, "Hz"),
        points=tuple((hertz, min(max(boost.level_db(hertz), 0.0), lines[-1])) for hertz in grid),
        is_heavy=True,
        name_at=(high, boost.gain_db / 2)
        if boost.frequency_hz < 2000
        else (low, boost.gain_db / 2),
        name_side="right" if boost.frequency_hz < 2000 else "left",
    )
    panel = Panel(title="boost, dB", lines=lines, labelled=lines[::2], curves=(curve,))
    return plot(
        f"A boost of {rounded(boost.gain_db)} dB",
        f"Level over frequency: {rounded(boost.gain_db)} dB at {quantity(boost.frequency_hz, 'Hz')}"
        f", half of the decibels at {quantity(low, 'Hz')} and {quantity(high, 'Hz')}, nothing far "
        "away.",
        (panel,),
        name="boost",
    )


def clipped_sine(overdrive_db: str = "6") -> Drawing:
    """Draw a sine that is driven beyond the clipping level; takes a text, as fences give it."""
    drive_db = float(overdrive_db)
    if not 0 <= drive_db <= 20:
        raise ValueError("an overdrive from 0 to 20 dB")
    drive = ratio(drive_db)
    left, right, middle, unit = 60.0, 410.0, 105.0, 38.0
    xs = [left + (right - left) * at / 240 for at in range(241)]
    angles = [4 * math.pi * at / 240 for at in range(241)]
    shown = min(drive, 2.2)  # of what is cut off, so much is drawn
    wanted = [min(max(drive * math.sin(angle), -shown), shown) for angle in angles]
    cut = [min(max(height, -1.0), 1.0) for height in wanted]
    parts: list[Children] = [
        wire((left, middle), (right, middle), width=THIN),
        *(
            wire((left, middle + way * unit), (right, middle + way * unit), width=THIN, dash="2 4")
            for way in (-1, 1)
        ),
        wire(*((x, middle - unit * y) for x, y in zip(xs, wanted, strict=True)), dash=DASHES[1]),
        wire(*((x, middle - unit * y) for x, y in zip(xs, cut, strict=True)), width=HEAVY),
        label(left - 8, middle - unit, "+", anchor="end"),
        label(left - 8, middle, "0", anchor="end"),
        label(left - 8, middle + unit, "−", anchor="end"),
        label((left + right) / 2, 208, "dashed: asked for; heavy: what comes out"),
    ]
    times = rounded(clipped_power(drive_db), 3)
    return Drawing(
        f"A sine driven {rounded(drive_db)} dB too far",
        f"Two periods of a sine whose tops are cut off flat at the amplifier's limits. It is asked "
        f"for {rounded(drive_db)} dB more than the amplifier has; what comes out has {times} times "
        "the power of the largest clean sine.",
        canvas(WIDEST, 224, parts),
    )


def sine_levels(peak_v: str = "20") -> Drawing:
    """Draw a sine with its peak and its RMS voltage; takes a text, as fences give it."""
    peak = float(peak_v)
    left, right, middle, unit = 60.0, 320.0, 85.0, 60.0
    xs = [left + (right - left) * at / 160 for at in range(161)]
    rms = 1 / math.sqrt(2)
    levels = ((1.0, f"peak {quantity(peak, 'V')}"), (rms, f"RMS {quantity(peak * rms, 'V')}"))
    parts: list[Children] = [
        wire((left, middle), (right, middle), width=THIN),
        wire(*((x, middle - unit * math.sin(4 * math.pi * at / 160)) for at, x in enumerate(xs))),
        label(left - 8, middle, "0 V", anchor="end"),
        label((left + right) / 2, 165, "time"),
    ]
    for height, words in levels:
        y = middle - unit * height
        parts += [
            wire((left, y), (right + 4, y), width=THIN, dash=DASHES[1]),
            label(right + 8, y, words, anchor="start"),
        ]
    return Drawing(
        "A test tone: its peak and its RMS voltage",
        f"Two periods of a sine. It peaks at {quantity(peak, 'V')}; its RMS voltage, which a meter "
        f"shows, is {quantity(peak * rms, 'V')}.",
        canvas(WIDEST, 180, parts),
    )


def one_circuit(source_v: str = "12", load_ohm: str = "4") -> Drawing:
    """Draw a battery that feeds one load; takes texts, as fences give them."""
    volts, ohms = float(source_v), float(load_ohm)
    left, right, top, bottom = 110.0, 300.0, 40.0, 150.0
    amperes = volts / ohms
    return Drawing(
        "Volts push, ohms hold back, amperes flow",
        f"A battery of {quantity(volts, 'V')} feeds a load of {quantity(ohms, 'Ω')}. A current of "
        f"{quantity(amperes, 'A')} flows out of +, through the load, and back into −.",
        canvas(
            WIDEST,
            190,
            battery(left, top, bottom),
            resistor(right, top, bottom),
            wire((left, top), (right, top)),
            wire((left, bottom), (right, bottom)),
            wire(((left + right) / 2 - 8, top - 7), ((left + right) / 2 + 6, top)),
            wire(((left + right) / 2 - 8, top + 7), ((left + right) / 2 + 6, top)),
            label((left + right) / 2, top - 22, quantity(amperes, "A")),
            label(left - 28, (top + bottom) / 2, quantity(volts, "V"), anchor="end"),
            label(left - 20, top + 22, "+", anchor="end"),
            label(left - 20, bottom - 22, "−", anchor="end"),
            label(right + 20, (top + bottom) / 2, quantity(ohms, "Ω"), anchor="start"),
            label((left + right) / 2, bottom + 24, f"power: {quantity(volts * amperes, 'W')}"),
        ),
    )


def ladder_drawing(
    *,
    source_v: float | None,
    ranges: Sequence[tuple[str, float | None, float | None]],
) -> Drawing:
    """Draw input ranges as bars over a logarithmic scale of volts, the source as a line.

    ranges : name, least and most volts; what is not known is None
    """
    known = [end for _, *ends in ranges for end in ends if end is not None]
    known += [source_v] if source_v is not None else []
    first = math.floor(math.log10(min(known) * 0.999)) if known else -1
    last = max(math.ceil(math.log10(max(known) * 1.001)), first + 1) if known else 1
    left, right, top, step = 22.0, 324.0, 52.0, 64.0
    bottom = top + step * len(ranges)

    def x_of(volts: float) -> float:
        return left + (math.log10(volts) - first) / (last - first) * (right - left)

    parts: list[Children] = []
    for decade in range(first, last + 1):
        x = x_of(10.0**decade)
        parts.append(wire((x, top - 8), (x, bottom), width=THIN, dash="2 4"))
        parts.append(label(x, bottom + 14, rounded(10.0**decade)))
    parts.append(label((left + right) / 2, bottom + 34, "volts"))
    sentences = []
    # The source first: names stand over its line.
    if source_v is not None:
        x = x_of(source_v)
        parts.append(wire((x, 28), (x, bottom), width=HEAVY))
        text = f"source {quantity(source_v, 'V')}"
        half = len(text) * 4.2
        parts.append(label(min(max(x, half + 4), _NARROW - half - 4), 14, text, bold=True))
        sentences.append(f"The source brings {quantity(source_v, 'V')}")
    for at, (name, low, high) in enumerate(ranges):
        y = top + step * at + 30
        if high is None:
            sentences.append(f"{name}: not known")
            parts.append(label((left + right) / 2, y, f"{name}: not known", over_lines=True))
            continue
        start = left if low is None else x_of(low)
        parts.append(box(start, y, max(x_of(high) - start, 2), 22, heavy=True))
        span = f"{'?' if low is None else rounded(low)} to {quantity(high, 'V')}"
        sentences.append(f"{name}: {span}")
        text = f"{name}: {span}"
        # The usual width of a letter; within the drawing.
        half = len(text) * 4.2
        middle = min(max((start + x_of(high)) / 2, half + 4), _NARROW - half - 4)
        parts.append(label(middle, y - 13, text, over_lines=True))
    return Drawing(
        "What comes, and what the inputs take",
        f"A logarithmic scale of volts. {'; '.join(sentences)}.",
        canvas(_NARROW, bottom + 50, parts),
        name="ranges",
    )


def _amplifier(y: float, height: float, name: str) -> list[Children]:
    """Return an amplifier on the right, with the name of the terminal that is used."""
    return [
        box(236, y, 104, height, heavy=True),
        label(288, y + height - 18, "amplifier"),
        label(248, y + 24, name, anchor="start"),
        terminal(236, y + 24),
    ]


def turn_on_drawing(mode: str, *, has_terminal: bool = True) -> Drawing:
    """Draw the wiring of a way of turning on.

    has_terminal : whether the amplifier has a trigger terminal; else a relay switches its supply
    """
    draw: Mapping[str, Callable[[], Drawing]] = {
        "trigger": _trigger,
        "signal-sensing": _signal_sensing,
        "supply-sensing": _supply_sensing,
        "relay-added": partial(_relay_added, has_terminal=has_terminal),
    }
    return replace(draw[mode](), name="turn-on")


def _trigger() -> Drawing:
    parts = [
        box(4, 20, 108, 80),
        label(58, 80, "head unit"),
        label(100, 44, "trigger", anchor="end"),
        terminal(112, 44),
        wire((116, 44), (232, 44)),
        label(174, 28, "12 V, playing"),
        *_amplifier(20, 80, "trigger"),
    ]
    return Drawing(
        "Turned on by the trigger wire",
        "A wire from the head unit’s trigger output to the amplifier’s trigger terminal.",
        canvas(_NARROW, 116, parts),
    )


def _signal_sensing() -> Drawing:
    parts = [
        box(4, 20, 108, 100),
        label(58, 98, "head unit"),
        label(100, 44, "speaker +", anchor="end"),
        label(100, 70, "speaker −", anchor="end"),
        terminal(112, 44),
        terminal(112, 70),
        wire((116, 44), (232, 44)),
        wire((116, 70), (232, 70)),
        *_amplifier(20, 100, "high +"),
        label(248, 70, "high −", anchor="start"),
        terminal(236, 70),
        label(174, 28, "signal"),
    ]
    return Drawing(
        "Turned on by the signal",
        "Two wires from a speaker output of the head unit to the amplifier’s high-level input; the "
        "amplifier turns on when a signal or the output’s DC arrives. No trigger wire.",
        canvas(_NARROW, 136, parts),
    )


def _supply_sensing() -> Drawing:
    parts = [
        box(4, 20, 108, 80),
        label(58, 44, "battery and"),
        label(58, 66, "alternator"),
        wire((112, 44), (160, 44)),
        box(160, 38, 30, 12),
        wire((160, 44), (232, 44)),
        label(175, 68, "fuse"),
        *_amplifier(20, 80, "+"),
    ]
    return Drawing(
        "Turned on by the running engine’s voltage",
        "Only the fused power cable: the amplifier turns on when the voltage rises with the "
        "running engine. No trigger wire.",
        canvas(_NARROW, 116, parts),
    )


def _relay_added(*, has_terminal: bool) -> Drawing:
    end, fuse = ("trigger", "1 A") if has_terminal else ("+12 V", "main fuse")
    top, coil_y, contact_y = 30.0, 164.0, 54.0
    parts: list[Children] = [
        # The contact: constant supply, fuse, switch, trigger terminal.
        label(6, contact_y - 20, "always live", anchor="start"),
        terminal(10, contact_y),
        wire((14, contact_y), (100, contact_y)),
        box(50, contact_y - 6, 30, 12),
        label(65, contact_y + 22, fuse),
        joint(130, contact_y),
        wire((100, contact_y), (130, contact_y), (168, contact_y - 18)),
        joint(176, contact_y),
        wire((176, contact_y), (232, contact_y)),
        *_amplifier(top, 84, end),
        # The coil: switched circuit, fuse, coil, body.
        label(6, coil_y - 20, "with ignition", anchor="start"),
        terminal(10, coil_y),
        wire((14, coil_y), (100, coil_y)),
        box(50, coil_y - 6, 30, 12),
        label(65, coil_y + 22, "1 A"),
        *level_resistor(100, coil_y, 106, width=50),
        label(153, coil_y + 24, "relay coil"),
        wire((206, coil_y), (240, coil_y), (240, coil_y + 16)),
        frame(240, coil_y + 16),
        # What moves the contact.
        wire((153, coil_y - 8), (151, contact_y - 8), width=THIN, dash="5 3"),
    ]
    return Drawing(
        "Turned on by an added relay",
        "A circuit that goes off with the ignition feeds, through a fuse of 1 A, a relay’s coil "
        "to earth. "
        + (
            "The relay’s contact joins an always-live circuit, through a fuse of 1 A of its own, "
            "to the amplifier’s trigger terminal."
            if has_terminal
            else "The relay’s contact, rated for the main fuse, stands in the power cable behind "
            "that fuse, before the amplifier’s + 12 V terminal."
        ),
        canvas(_NARROW, coil_y + 44, parts),
    )
