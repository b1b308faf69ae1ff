"""Drawings of responses: level over frequency, with phase or delay beneath.

The frequency axis is logarithmic, from 20 Hz to 20 kHz; its lines are the third-octave
frequencies of ISO 266, the decades stronger.  Curves are told apart by dashes and by
their names, which stand at the curves.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal
from xml.etree.ElementTree import Element

from calc.answers.drawing import HEAVY, LINE, THIN, WIDEST, canvas, label, number, wire
from calc.answers.figures import MINUS, rounded
from calc.answers.markup import element
from calc.answers.sheet import Drawing

LOWEST_HZ, HIGHEST_HZ = 20.0, 20_000.0
# ISO 266: the nominal third-octave frequencies within hearing.
THIRD_OCTAVES_HZ = (
    20, 25, 31.5, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800,
    1000, 1250, 1600, 2000, 2500, 3150, 4000, 5000, 6300, 8000, 10000, 12500, 16000, 20000,
)  # fmt: skip
_LEFT, _RIGHT = 46.0, 410.0
_TOP = 22.0
_GAP = 34.0
_STEP_PX = 23.0  # height of one line's distance
_LABELLED_HZ = (20, 50, 100, 200, 500, 1000, 2000, 5000, 10000, 20000)
LETTER_PX = 8.6  # the usual width of a letter
_FAINT, _STRONGER = "0.22", "0.6"


@dataclass(frozen=True, kw_only=True)
class Curve:
    """A line of a plot.

    points : (frequency [Hz], value); None breaks the line
    name_at : frequency [Hz] and value where the name stands
    name_side : on which side of that place: `left`, `right`, or `over` it
    """

    name: str
    points: tuple[tuple[float, float | None], ...]
    dash: str = ""
    is_heavy: bool = False
    name_at: tuple[float, float] | None = None
    name_side: Literal["left", "right", "over"] = "over"


@dataclass(frozen=True, kw_only=True)
class Panel:
    """One set of axes: what it shows, its unit, its lines from bottom to top.

    lines : values of the horizontal lines, evenly spaced; `labelled` of them get a number
    turns : the values go round (a phase): a step over half of the height is not drawn
    """

    title: str
    lines: tuple[float, ...]
    labelled: tuple[float, ...]
    curves: tuple[Curve, ...]
    turns: bool = False

    @property
    def height(self) -> float:
        """The height of the panel's axes."""
        return _STEP_PX * (len(self.lines) - 1)

    def showing(self, *curves: Curve) -> "Panel":
        """Return the panel with these curves."""
        return replace(self, curves=curves)


def x_of(frequency_hz: float) -> float:
    """Return the place of a frequency [Hz] on the axis."""
    part = math.log(frequency_hz / LOWEST_HZ) / math.log(HIGHEST_HZ / LOWEST_HZ)
    return _LEFT + part * (_RIGHT - _LEFT)


def frequency_at(x: float) -> float:
    """Return the frequency [Hz] at a place on the axis; beyond its ends, that of the end."""
    part = min(max((x - _LEFT) / (_RIGHT - _LEFT), 0.0), 1.0)
    return float(LOWEST_HZ * (HIGHEST_HZ / LOWEST_HZ) ** part)


def plot(title: str, description: str, panels: Sequence[Panel], *, name: str = "") -> Drawing:
    """Draw panels above one another over one frequency axis."""
    parts: list[Element] = []
    top = _TOP
    for panel in panels:
        parts += _panel(panel, top)
        top += panel.height + _GAP
    bottom = top - _GAP
    for frequency in _LABELLED_HZ:
        text = f"{frequency // 1000}k" if frequency >= 1000 else str(frequency)
        parts.append(label(x_of(frequency), bottom + 15, text))
    parts.append(label((_LEFT + _RIGHT) / 2, bottom + 35, "frequency, Hz"))
    return Drawing(title, description, canvas(WIDEST, bottom + 46, parts), name=name)


def _panel(panel: Panel, top: float) -> list[Element]:
    bottom = top + panel.height
    low, high = panel.lines[0], panel.lines[-1]

    def y_of(value: float) -> float:
        return bottom - (value - low) / (high - low) * panel.height

    decades = [hz for hz in THIRD_OCTAVES_HZ if hz in (100, 1000, 10000)]
    faint = [hz for hz in THIRD_OCTAVES_HZ if hz not in decades]
    strong = [value for value in panel.lines if value in (low, high, 0)]
    parts = [
        _grid(
            [f"M{number(x_of(hz))} {number(top)}V{number(bottom)}" for hz in faint]
            + [f"M{number(_LEFT)} {number(y_of(db))}H{number(_RIGHT)}" for db in panel.lines],
            _FAINT,
        ),
        _grid(
            [f"M{number(x_of(hz))} {number(top)}V{number(bottom)}" for hz in decades]
            + [f"M{number(_LEFT)} {number(y_of(db))}H{number(_RIGHT)}" for db in strong],
            _STRONGER,
        ),
        label(_RIGHT, top - 12, panel.title, anchor="end"),
    ]
    for value in panel.labelled:
        text = rounded(value).replace("-", MINUS)
        parts.append(label(_LEFT - 6, y_of(value), text, anchor="end"))
    for curve in panel.curves:
        width = HEAVY if curve.is_heavy else LINE
        for run in _runs(curve.points, low, high, panel.turns):
            placed = [(x_of(frequency), y_of(value)) for frequency, value in run]
            parts.append(wire(*placed, dash=curve.dash, width=width))
    for curve in panel.curves:
        if curve.name_at is not None:
            frequency, value = curve.name_at
            y = min(max(y_of(value), top - 12), bottom - 9)
            parts.append(label(_name_x(curve, x_of(frequency)), y, curve.name, over_lines=True))
    return parts


def _name_x(curve: Curve, x: float) -> float:
    """Return the middle of a curve's name: beside the place, within the panel."""
    half = len(curve.name) * LETTER_PX / 2
    x += {"left": -half - 5, "right": half + 5, "over": 0}[curve.name_side]
    return min(max(x, _LEFT + half), _RIGHT - half)


def _grid(paths: list[str], opacity: str) -> Element:
    return element("path", d="".join(paths), stroke_width=THIN, stroke_opacity=opacity)


def _runs(
    points: Sequence[tuple[float, float | None]], low: float, high: float, turns: bool
) -> list[list[tuple[float, float]]]:
    """Return the stretches of a line that lie within the panel, cut at its edges."""
    runs: list[list[tuple[float, float]]] = []
    run: list[tuple[float, float]] = []
    before: tuple[float, float] | None = None

    def end() -> None:
        if len(run) > 1:
            runs.append(list(run))
        run.clear()

    for frequency, value in points:
        if value is None:
            end()
            before = None
            continue
        now = (frequency, value)
        if before is not None and turns and abs(value - before[1]) > (high - low) / 2:
            end()
        elif before is not None:
            for limit in (low, high):
                if (before[1] - limit) * (value - limit) < 0:
                    run.append(_crossing(before, now, limit))
                    if not low <= value <= high:
                        end()
        if low <= value <= high:
            run.append(now)
        before = now
    end()
    return runs


def _crossing(
    curve: tuple[float, float], other: tuple[float, float], limit: float
) -> tuple[float, float]:
    part = (limit - curve[1]) / (other[1] - curve[1])
    return math.exp(math.log(curve[0]) + part * math.log(other[0] / curve[0])), limit


LEVELS = Panel(
    title="level, dB",
    lines=tuple(float(db) for db in range(-42, 7, 6)),
    labelled=(-36.0, -24.0, -12.0, 0.0),
    curves=(),
)
PHASES = Panel(
    title="phase, °",
    lines=(-180.0, -90.0, 0.0, 90.0, 180.0),
    labelled=(-180.0, 0.0, 180.0),
    curves=(),
    turns=True,
)


def delay_panel(curves: tuple[Curve, ...]) -> Panel:
    """Return a panel for group delays [ms], as high as the curves need."""
    most = max((value for curve in curves for _, value in curve.points if value), default=1.0)
    step = 10.0 ** math.floor(math.log10(max(most, 1e-3)))
    while 4 * step < most:
        step = step * 2 if f"{step:.0e}"[0] in "15" else step * 2.5
    lines = tuple(float(f"{step * at:.6g}") for at in range(5))
    return Panel(
        title="group delay, ms",
        lines=lines,
        labelled=(lines[0], lines[2], lines[4]),
        curves=curves,
    )
