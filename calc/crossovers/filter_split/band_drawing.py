"""The drawing of `filter-split` that shows every section's level and their sum.

A name stands at its own curve, where it is farthest from all others.
"""

from collections.abc import Callable, Sequence
from itertools import pairwise

from calc.answers.drawing import DASHES, TEXT
from calc.answers.plots import LETTER_PX, LEVELS, Curve, frequency_at, plot, x_of
from calc.answers.sheet import Drawing
from calc.crossovers.filter_split.solve import Result
from calc.physics.filter_sums import HIGHEST_HZ, LOWEST_HZ, grid_hz
from calc.physics.filters import level_db

_PER_OCTAVE = 8
_DEEP = -200.0  # drawn in place of what is wholly cancelled
_BESIDE_DB = 3.4  # from a curve to the middle of its name
_SUM_AT, _OTHER_AT = (32.0, 9.2), (135.0, 9.2)
_SLOPE_DB = (-14.0, -22.0, -30.0)
_DB_PX = LEVELS.height / (LEVELS.lines[-1] - LEVELS.lines[0])

Level = Callable[[float], float]
Points = Sequence[tuple[float, float]]  # place on the axis [px], level [dB]
Place = tuple[float, float]  # frequency [Hz], level [dB]
Box = tuple[float, float, float, float]  # middle, half of the width and of the height [px]


def band_drawing(result: Result) -> Drawing:
    """Draw the level of every section, and the sum heavy.

    Where the subwoofer is tried both ways, the sum with it the other way round is drawn too.
    """
    corners = [made.frequency_hz for voice in result.voices for made in voice.filters]
    grid = grid_hz(*corners, per_octave=_PER_OCTAVE)
    levels: list[Level] = [_of_voice(result, at) for at in range(len(result.voices))]
    names = list(result.shown)
    if result.subwoofers:
        levels.append(lambda hz: _deep(result.other_level_db(hz)))
        names.append("sub reversed")
    levels.append(lambda hz: _deep(result.level_db(hz)))
    drawn = [tuple((hz, level(hz)) for hz in grid) for level in levels]
    placed: list[Points] = [[(x_of(hz), value) for hz, value in points] for points in drawn]
    curves: list[Curve] = []
    taken: list[Box] = [_box(_SUM_AT, 3 * LETTER_PX)]
    for at, name in enumerate(names):
        is_other = at == len(result.voices)
        place = _OTHER_AT if is_other else _place(name, placed, at, taken)
        taken.append(_box(place, len(name) * LETTER_PX))
        curves.append(
            Curve(
                name=name,
                points=drawn[at],
                dash=DASHES[1 + at % (len(DASHES) - 1)],
                name_at=place,
            )
        )
    curves.append(Curve(name="sum", points=drawn[-1], is_heavy=True, name_at=_SUM_AT))
    other = " The sum with the sub reversed is drawn too." if result.subwoofers else ""
    return plot(
        "Every speaker and their sum with these settings",
        "Level in decibels over frequency from 20 Hz to 20 kHz: each speaker in a dash pattern of "
        f"its own, named at its curve, the sum heavy.{other} The table gives the values.",
        (LEVELS.showing(*curves),),
        name="bands",
    )


def _of_voice(result: Result, at: int) -> Level:
    voice = result.voices[at]
    return lambda hz: level_db(voice.response(hz))


def _deep(level: float | None) -> float:
    return _DEEP if level is None else level


def _place(name: str, curves: Sequence[Points], at: int, taken: Sequence[Box]) -> Place:
    """Return where a name stands: beside a slope of its curve or under it, the freest place."""
    width = len(name) * LETTER_PX
    places = [*_beside_slopes(curves[at], width), *_along(curves[at])]
    if not places:
        return 1000.0, -6.0
    others = [points for other, points in enumerate(curves) if other != at]

    def free(place: Place) -> float:
        box = _box(place, width)
        gap = min((_gap(box, point) for points in others for point in points), default=99.0)
        return min(gap, *(_apart(box, name_box) for name_box in taken), 24.0)

    return max(places, key=lambda place: round(free(place), 1))


def _beside_slopes(points: Points, width: float) -> list[Place]:
    """Return places beside the curve where it rises or falls through a level."""
    places = []
    for level in _SLOPE_DB:
        for (left, before), (right, after) in pairwise(points):
            if (before - level) * (after - level) < 0:
                outward = 1 if after < before else -1
                for side in (outward, -outward):
                    x = (left + right) / 2 + side * (width / 2 + 7)
                    if x_of(LOWEST_HZ) + width / 2 < x < x_of(HIGHEST_HZ) - width / 2:
                        places.append((frequency_at(x), level))
    return places


def _along(points: Points) -> list[Place]:
    """Return places under the curve, where it is within the panel."""
    inside = [(x, value) for x, value in points if -12 < value < 5]
    return [(frequency_at(x), value - _BESIDE_DB) for x, value in inside[4:-4:8]]


def _box(place: Place, width: float) -> Box:
    return x_of(place[0]), place[1] * _DB_PX, width / 2, TEXT / 2


def _gap(box: Box, point: tuple[float, float]) -> float:
    """Return how far a point of a curve [px, dB] is from a box [px]."""
    across = abs(point[0] - box[0]) - box[2]
    down = abs(point[1] * _DB_PX - box[1]) - box[3]
    return max(across, down)


def _apart(box: Box, other: Box) -> float:
    across = abs(box[0] - other[0]) - box[2] - other[2]
    down = abs(box[1] - other[1]) - box[3] - other[3]
    return max(across, down)
