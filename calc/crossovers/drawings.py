"""Drawings of the crossover chapter's text; each takes texts, as fences give them."""

from typing import Literal

from calc.answers.drawing import DASHES
from calc.answers.plots import LEVELS, Curve, delay_panel, plot
from calc.answers.sheet import Drawing
from calc.crossovers.filter_words import slope_words
from calc.parts.filters import FAMILY_WORDS
from calc.physics.filter_sums import Voice, grid_hz, sum_db
from calc.physics.filters import FAMILIES, KINDS, Family, Filter, has_order, level_db

_PER_OCTAVE = 8
NameSide = Literal["left", "right", "over"]
# Where each family's name stands: (corner's multiple, level) and side among the levels; among
# the delays the corner's multiple, and how far above the curve.
_FAMILY_NAMES: dict[Family, tuple[tuple[float, float], NameSide, float, float]] = {
    "butterworth": ((1.15, 2.6), "over", 1.05, 1.1),
    "linkwitz-riley": ((0.85, -9.0), "left", 0.06, 1.28),
    "bessel": ((2.5, -18.0), "right", 0.06, 0.68),
}


def slopes(kind: str = "low-pass", frequency_hz: str = "1000", orders: str = "1/2/3/4") -> Drawing:
    """Draw Butterworth filters of several slopes at one cut-off."""
    if kind not in KINDS:
        raise ValueError("a kind is low-pass or high-pass")
    corner = float(frequency_hz)
    grid = grid_hz(corner, per_octave=_PER_OCTAVE)
    curves = []
    for at, order in enumerate(map(int, orders.split("/"))):
        made = Filter(kind=kind, family="butterworth", order=order, frequency_hz=corner)
        level = -14.0 - 6 * at
        away = 10 ** (-level / (20 * order))
        curves.append(
            Curve(
                name=str(6 * order),
                points=tuple((f, level_db(made.response(f))) for f in grid),
                dash=DASHES[at % len(DASHES)],
                name_at=(corner * away if kind == "low-pass" else corner / away, level),
                name_side="right" if kind == "low-pass" else "left",
            )
        )
    return plot(
        f"Slopes of a Butterworth {kind} at {corner:g} Hz, in dB/oct",
        f"Level over frequency of Butterworth {kind} filters at {corner:g} Hz. All are 3 dB down "
        "at the cut-off; the numbers at the curves are their slopes in dB/oct.",
        (LEVELS.showing(*curves),),
    )


def families(order: str = "4", frequency_hz: str = "1000") -> Drawing:
    """Draw the families at one order and corner: level, and group delay beneath."""
    number, corner = int(order), float(frequency_hz)
    if not all(has_order(family, number) for family in FAMILIES):
        raise ValueError("an order that all families have: 2, 4, 6 or 8")
    grid = grid_hz(corner, per_octave=_PER_OCTAVE)
    levels, delays = [], []
    for at, family in enumerate(FAMILIES):
        made = Filter(kind="low-pass", family=family, order=number, frequency_hz=corner)
        level_place, side, delay_hz, raised = _FAMILY_NAMES[family]
        levels.append(
            Curve(
                name=FAMILY_WORDS[family],
                points=tuple((f, level_db(made.response(f))) for f in grid),
                dash=DASHES[at],
                name_at=(corner * level_place[0], level_place[1]),
                name_side=side,
            )
        )
        delays.append(
            Curve(
                name=FAMILY_WORDS[family],
                points=tuple((f, 1000 * made.delay_s(f)) for f in grid),
                dash=DASHES[at],
                name_at=(corner * delay_hz, 1000 * made.delay_s(corner * delay_hz) * raised),
                name_side="right" if delay_hz > 1 else "over",
            )
        )
    return plot(
        f"The three filter types at {slope_words(number)}",
        f"Level and group delay over frequency of three low-pass filters at {corner:g} Hz: "
        "Butterworth solid, Linkwitz–Riley dashed, Bessel dotted. Butterworth and Bessel are 3 dB "
        "down at the cut-off, Linkwitz–Riley 6 dB; the Bessel filter delays everything it passes "
        "alike, the Butterworth filter has a hump of delay near the cut-off.",
        (LEVELS.showing(*levels), delay_panel(tuple(delays))),
    )


def like_sum(
    family: str = "linkwitz-riley",
    order: str = "4",
    polarity: str = "normal",
    frequency_hz: str = "1000",
) -> Drawing:
    """Draw two like filters at one corner and their sum."""
    if family not in FAMILY_WORDS or polarity not in ("normal", "reversed"):
        raise ValueError("a filter type, and a polarity that is normal or reversed")
    corner, number = float(frequency_hz), int(order)
    high, low = (
        Voice(filters=(Filter(kind=kind, family=family, order=number, frequency_hz=corner),))
        for kind in KINDS
    )
    high = high.turned() if polarity == "reversed" else high
    grid = grid_hz(corner, per_octave=_PER_OCTAVE)

    def summed(frequency: float) -> float:
        level = sum_db([low.response(frequency), high.response(frequency)])
        return -200.0 if level is None else level

    curves = (
        Curve(
            name="low-pass",
            points=tuple((f, level_db(low.response(f))) for f in grid),
            dash=DASHES[1],
            name_at=(2.4 * corner, level_db(low.response(2.4 * corner))),
            name_side="right",
        ),
        Curve(
            name="high-pass",
            points=tuple((f, level_db(high.response(f))) for f in grid),
            dash=DASHES[2],
            name_at=(corner / 2.4, level_db(high.response(corner / 2.4))),
            name_side="left",
        ),
        Curve(
            name="sum",
            points=tuple((f, summed(f)) for f in grid),
            is_heavy=True,
            name_at=(corner, 9.2),
        ),
    )
    joined = "same polarity" if polarity == "normal" else "one side reversed"
    words = f"{FAMILY_WORDS[family]}, {slope_words(number)}, {joined}"
    return plot(
        words,
        f"Level over frequency of a low-pass and a high-pass at {corner:g} Hz, {words}: the "
        "low-pass dashed, the high-pass dotted, the sum heavy.",
        (LEVELS.showing(*curves),),
    )
