"""Drawings of the voice coil chapter: wiring from amp + down to amp −, and terminals."""

import re
from collections.abc import Mapping, Sequence
from fractions import Fraction
from itertools import pairwise

from calc.answers.drawing import (
    DASHES,
    TEXT,
    WIDEST,
    box,
    canvas,
    coil,
    joint,
    label,
    terminal,
    wire,
)
from calc.answers.figures import listed, quantity
from calc.answers.markup import Children
from calc.answers.sheet import Drawing
from calc.coils.notation import read_notation
from calc.coils.words import wiring_words
from calc.physics.coils import Circuit, Driver, coil_names

_SIGN = {True: "+", False: "−"}
_COLUMN, _COIL_HEIGHT, _STUB, _MARGIN = 72.0, 92.0, 14.0, 46.0


class _Layout:
    """Places a circuit in columns: series downwards, parallel side by side."""

    def __init__(
        self, circuit: Circuit, nets: Mapping[str, Sequence[str]], *, is_reversed: bool = False
    ) -> None:
        self._signs = ("−", "+") if is_reversed else ("+", "−")
        self._net_of = {end: name for name, ends in nets.items() for end in ends}
        self._column = min(_COLUMN, (WIDEST - 4) / self._columns(circuit))
        self.parts: list[Children] = []
        self.width = max(self._columns(circuit) * self._column + 4, 150.0)
        self.height = self._height(circuit) + 2 * _MARGIN
        middle = self.width / 2
        self._ends(middle)
        self._draw(circuit, middle, _MARGIN, self.height - _MARGIN)

    def _ends(self, x: float) -> None:
        bottom = self.height - _MARGIN + 14
        top_sign, bottom_sign = self._signs
        for y, sign, inner in (
            (_MARGIN - 14, top_sign, _MARGIN),
            (bottom, bottom_sign, bottom - 14),
        ):
            self.parts += [
                terminal(x, y),
                wire(
                    (x, min(y, inner) + (4 if y < inner else 0)),
                    (x, max(y, inner) - (4 if y > inner else 0)),
                ),
                label(x, y + (-18 if y < inner else 18), f"amp {sign}", bold=True),
            ]

    def _columns(self, circuit: Circuit) -> int:
        if circuit.kind == "coil":
            return 1
        widths = [self._columns(part) for part in circuit.parts]
        return max(widths) if circuit.kind == "series" else sum(widths)

    def _height(self, circuit: Circuit) -> float:
        if circuit.kind == "coil":
            return _COIL_HEIGHT
        heights = [self._height(part) for part in circuit.parts]
        if circuit.kind == "series":
            return sum(heights)
        return max(heights) + 2 * _STUB

    def _draw(self, circuit: Circuit, x: float, top: float, bottom: float) -> None:
        if circuit.kind == "coil":
            self._coil(circuit, x, top, bottom)
        elif circuit.kind == "series":
            self._series(circuit, x, top, bottom)
        else:
            self._parallel(circuit, x, top, bottom)

    def _coil(self, circuit: Circuit, x: float, top: float, bottom: float) -> None:
        middle = (top + bottom) / 2
        self.parts += [
            coil(x, top, bottom),
            label(x - 8, middle, circuit.name, anchor="end", bold=True),
            label(x + 10, middle - 29, "+"),
            label(x + 10, middle + 29, "−"),
        ]

    def _series(self, circuit: Circuit, x: float, top: float, bottom: float) -> None:
        heights = [self._height(part) for part in circuit.parts]
        spare = (bottom - top - sum(heights)) / len(heights)
        y = top
        for part, height in zip(circuit.parts, heights, strict=True):
            self._draw(part, x, y, y + height + spare)
            y += height + spare
            if y < bottom - 1e-6:
                name = self._net_of[f"{_last_coil(part)}-"]
                self.parts += [joint(x, y), label(x + 9, y, name, anchor="start")]

    def _parallel(self, circuit: Circuit, x: float, top: float, bottom: float) -> None:
        columns = [self._columns(part) for part in circuit.parts]
        left = x - sum(columns) * self._column / 2
        centres = []
        for part, count in zip(circuit.parts, columns, strict=True):
            centres.append(left + count * self._column / 2)
            left += count * self._column
            self._draw(part, centres[-1], top + _STUB, bottom - _STUB)
        for outer, inner in ((top, top + _STUB), (bottom, bottom - _STUB)):
            self.parts += [
                wire((x, outer), (x, inner)),
                wire((centres[0], inner), (centres[-1], inner)),
                *[joint(at, inner) for at in sorted({*centres[1:-1], x})],
            ]


def _last_coil(circuit: Circuit) -> str:
    return circuit.coils()[-1].name


def circuit_drawing(circuit: Circuit, *, is_reversed: bool = False) -> Drawing:
    """Draw the circuit, coils named, + and − marked as on the terminals.

    is_reversed : the amplifier's + goes to the circuit's −, which stays at the bottom
    """
    nets = circuit.nets(is_reversed=is_reversed)
    layout = _Layout(circuit, nets, is_reversed=is_reversed)
    load = quantity(float(circuit.load), "Ω")
    return Drawing(
        title=f"Wiring: {wiring_words(circuit) or circuit.notation}",
        description=f"From the amplifier’s {_SIGN[not is_reversed]} at the top to its "
        f"{_SIGN[is_reversed]} at the bottom, {load} in all. " + " ".join(join_words(nets)),
        svg=canvas(layout.width, layout.height, layout.parts),
        name="circuit",
    )


def join_words(nets: Mapping[str, Sequence[str]]) -> list[str]:
    """Say each connection in words, in the order in which a fitter makes them.

    >>> join_words(  # doctest: +NORMALIZE_WHITESPACE
    ...     {"amp+": ["1a+"], "amp-": ["1b-"], "n1": ["1a-", "1b+"]})
    ['n1: link 1a− to 1b+.', 'Mark 1a+: the lead to the amplifier’s + (measure first).',
     'Mark 1b−: the lead to the amplifier’s − (measure first).']
    """

    def shown(terminals: Sequence[str]) -> str:
        names = [name.replace("-", "−") for name in terminals]
        return listed(names)

    def together(terminals: Sequence[str]) -> str:
        return f"Bring {shown(terminals)} together" if terminals[1:] else f"Mark {shown(terminals)}"

    inner = [
        f"{name}: link {shown(ends[:1])} to {shown(ends[1:])}."
        for name, ends in nets.items()
        if not name.startswith("amp")
    ]
    return [
        *inner,
        f"{together(nets['amp+'])}: the lead to the amplifier’s + (measure first).",
        f"{together(nets['amp-'])}: the lead to the amplifier’s − (measure first).",
    ]


_LEFT, _BOX_TOP, _TERMINALS, _BUS_TOP, _BUS_STEP = 64.0, 30.0, 92.0, 128.0, 30.0
_BARE = 240.0  # height of a drawing to draw links in


def terminal_drawing(
    drivers: Sequence[Driver], circuit: Circuit, *, is_reversed: bool = False
) -> Drawing:
    """Draw every terminal as it lies before the fitter, and every net as a line of its own."""
    nets = circuit.nets(is_reversed=is_reversed)
    names = list(coil_names(drivers))
    step = min((WIDEST - _LEFT - 6) / (2 * len(names)), 34.0)
    place: dict[str, float] = {}
    for at, name in enumerate(names):
        place[f"{name}+"] = _LEFT + (2 * at + 0.5) * step
        place[f"{name}-"] = _LEFT + (2 * at + 1.5) * step
    parts: list[Children] = [
        label(0, 14, "sub", anchor="start"),
        label(0, _BOX_TOP + 24, "coil", anchor="start"),
    ]
    parts += _driver_boxes(drivers, names, place, step)
    for at, (net, ends) in enumerate(nets.items()):
        y = _BUS_TOP + at * _BUS_STEP
        dash = DASHES[at % len(DASHES)]
        xs = sorted(place[end] for end in ends)
        start = 54.0 if net.startswith("amp") else xs[0]
        for left, right in pairwise(sorted({start, *xs})):
            parts.append(wire((left, y), (right, y), dash=dash))
        parts.append(
            label(
                0,
                y,
                net.replace("-", " −").replace("+", " +"),
                anchor="start",
                bold=net.startswith("amp"),
            )
        )
        for end in ends:
            parts += [
                wire((place[end], _TERMINALS + 4), (place[end], y), dash=dash),
                joint(place[end], y),
            ]
    height = _BUS_TOP + len(nets) * _BUS_STEP
    width = _LEFT + 2 * len(names) * step + 6
    return Drawing(
        title="Terminals and links",
        description="Each sub’s terminals in a row, and each connection as a line below them. A "
        "dot is a connection; lines that cross without a dot do not touch. "
        + " ".join(join_words(nets)),
        svg=canvas(max(width, 150.0), height, parts),
        name="terminals",
    )


def _driver_boxes(
    drivers: Sequence[Driver], names: Sequence[str], place: Mapping[str, float], step: float
) -> list[Children]:
    parts: list[Children] = []
    for number in range(1, len(drivers) + 1):
        coils = [name for name in names if name.startswith(str(number))]
        left, right = place[f"{coils[0]}+"] - step / 2, place[f"{coils[-1]}-"] + step / 2
        parts += [
            label((left + right) / 2, 14, str(number), bold=True),
            box(left + 2, _BOX_TOP, right - left - 4, _TERMINALS - _BOX_TOP),
        ]
        for name in coils:
            plus, minus = place[f"{name}+"], place[f"{name}-"]
            parts += [label((plus + minus) / 2, _BOX_TOP + 16, name)]
            for x, sign in ((plus, "+"), (minus, "−")):
                parts += [label(x, _TERMINALS - TEXT - 2, sign), terminal(x, _TERMINALS)]
    return parts


def circuit(notation: str, coil_ohm: str = "4") -> Drawing:
    """Draw the wiring of a notation, all coils alike; for running text."""
    return circuit_drawing(_read_alike(notation, coil_ohm))


def terminals(notation: str, coil_ohm: str = "4") -> Drawing:
    """Draw the terminals and links of a notation, all coils alike; for running text."""
    circuit = _read_alike(notation, coil_ohm)
    names = sorted(coil.name for coil in circuit.coils())
    counts = [sum(name[0] == number for name in names) for number in sorted({n[0] for n in names})]
    return terminal_drawing([Driver(count, float(coil_ohm)) for count in counts], circuit)


def _read_alike(notation: str, coil_ohm: str) -> Circuit:
    names = sorted(set(re.findall("[1-4][a-h]", notation)))
    return read_notation(notation, dict.fromkeys(names, Fraction(coil_ohm)))


def bare_terminals(subs: str = "2", coils: str = "2") -> Drawing:
    """Draw the terminals of subs that are alike, and the amplifier's, for links drawn by hand."""
    drivers = [Driver(int(coils), 4.0)] * int(subs)
    names = list(coil_names(drivers))
    step = min((WIDEST - _LEFT - 6) / (2 * len(names)), 34.0)
    place = {
        f"{name}{sign}": _LEFT + (2 * at + (0.5 if sign == "+" else 1.5)) * step
        for at, name in enumerate(names)
        for sign in "+-"
    }
    width = _LEFT + 2 * len(names) * step + 6
    parts: list[Children] = [
        label(0, 14, "sub", anchor="start"),
        label(0, _BOX_TOP + 24, "coil", anchor="start"),
        *_driver_boxes(drivers, names, place, step),
    ]
    for x, sign in ((width / 2 - 40, "+"), (width / 2 + 40, "−")):
        parts += [terminal(x, _BARE - 24), label(x, _BARE - 6, f"amp {sign}", bold=True)]
    return Drawing(
        title="Draw the links and the two leads to the amplifier",
        description=f"The + and − terminals of {subs} subs with {coils} voice coils each, and the "
        "two terminals of the amplifier below them. Nothing is connected.",
        svg=canvas(max(width, 150.0), _BARE + 8, parts),
        name="bare-terminals",
    )
