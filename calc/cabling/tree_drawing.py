"""A tree of runs, drawn to the scale of its lengths."""

import math
from xml.etree.ElementTree import Element

from calc.answers.drawing import (
    THIN,
    WIDEST,
    canvas,
    joint,
    label,
    terminal,
    upright_fuse,
    wire,
)
from calc.answers.figures import quantity
from calc.answers.markup import Children
from calc.answers.sheet import Drawing
from calc.cabling.tree import Plan, Tree

_LETTER_PX = 8.2  # the usual width of a letter
_MOST_LETTERS = 46  # of a line that crosses the whole drawing
_TRUNK_X = 22.0
_SCALE_BARS_M = tuple(
    step * 10**decade for decade in (-3, -2, -1, 0, 1, 2) for step in (1.0, 2.0, 5.0)
)
_FUSE_ROOM, _BARE_ROOM, _TEXT_ROOM = 40.0, 16.0, 30.0


def _thickness(area_mm2: float) -> float:
    return round(min(7.0, 1.5 + 0.55 * math.sqrt(area_mm2)), 1)


def _row_label(x: float, y: float, text: str) -> Element:
    """Return a label that begins at x, or ends at the drawing's edge where it is long."""
    if x + _LETTER_PX * len(text) > WIDEST - 4:
        return label(WIDEST - 4, y, text, anchor="end", over_lines=True)
    return label(x, y, text, anchor="start", over_lines=True)


def tree_drawing(title: str, tree: Tree, plan: Plan) -> Drawing:
    """Draw a tree: each run in a line of its own, to one scale of length.

    Runs lie level; upright lines only lead on and have no length.
    """
    reach = _distances(tree)
    farthest = max(reach)
    per_m = (WIDEST - _TRUNK_X - 14) / farthest
    drop_at = {load.at: drop for load, drop in zip(tree.loads, plan.drops_v, strict=True)}
    lines: list[Children] = [
        label(_TRUNK_X + 12, 16, f"{tree.root} +", anchor="start"),
    ]
    over: list[Children] = []
    ends: dict[str, tuple[float, float]] = {tree.root: (_TRUNK_X, 16.0)}
    y = 28.0
    spoken = []
    for at in tree.outward:
        run, offer, rating = tree.runs[at], plan.offers[at], plan.fitted_a[at]
        x_from, y_from = ends[run.start]
        x_to = _TRUNK_X + reach[at] * per_m
        y += (_FUSE_ROOM if rating else _BARE_ROOM) + _TEXT_ROOM
        bar = y - _TEXT_ROOM
        lines.append(wire((x_from, y_from), (x_from, bar)))
        if rating:
            lines.append(upright_fuse(x_from, bar - 34, bar, 24))
            over.append(
                label(x_from + 12, bar - 20, quantity(rating, "A"), anchor="start", over_lines=True)
            )
        lines.append(wire((x_from, bar), (x_to, bar), width=_thickness(offer.size.area_mm2)))
        words = f": {quantity(run.length_m, 'm')}, {offer.size.words}"
        is_load = run.end in drop_at
        if is_load:
            words += f"; drops {quantity(drop_at[run.end], 'V', 3)}"
        room = _MOST_LETTERS - len(words)
        name = run.end if len(run.end) <= room else run.end[: room - 1] + "…"
        over.append(_row_label(x_from + 10, bar + 16, name + words))
        lines.append(terminal(x_to, bar) if is_load else joint(x_to, bar))
        ends[run.end] = (x_to, bar)
        spoken.append(
            f"{run.start} to {run.end}{words}"
            + (f", fuse {quantity(rating, 'A')}" if rating else "")
        )
    lines.append(joint(_TRUNK_X, 16))
    y += 10
    bar_m = max(length_m for length_m in _SCALE_BARS_M if length_m * per_m <= 160)
    over += _scale_bar(_TRUNK_X, y, bar_m, per_m)
    return Drawing(
        title,
        "Runs drawn to the scale of their length. " + "; ".join(spoken) + ".",
        canvas(WIDEST, y + 22, lines, over),
        name="tree",
    )


def _distances(tree: Tree) -> list[float]:
    """Return how far from the root each run ends [m]."""
    reach = [0.0] * len(tree.runs)
    ends = {tree.root: 0.0}
    for at in tree.outward:
        run = tree.runs[at]
        reach[at] = ends[run.end] = ends[run.start] + run.length_m
    return reach


def _scale_bar(x: float, y: float, length_m: float, per_m: float) -> list[Element]:
    end = x + length_m * per_m
    return [
        wire((x, y - 5), (x, y + 5), width=THIN),
        wire((end, y - 5), (end, y + 5), width=THIN),
        wire((x, y), (end, y), width=THIN),
        label(end + 8, y, quantity(length_m, "m"), anchor="start"),
    ]
