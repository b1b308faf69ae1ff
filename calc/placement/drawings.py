"""What plans of this chapter share, and the empty one to sketch on."""

from xml.etree.ElementTree import Element

from calc.answers.drawing import THIN, WIDEST, canvas, label, number
from calc.answers.markup import element
from calc.answers.sheet import Drawing

_HATCH_PX = 8.0
# Each kind of clearance has a hatch of its own: the slope of its lines.
HATCHES = {"plugs": -1, "hand": 1, "air": 0}


def hatched(rectangle: tuple[float, float, float, float], kind: str) -> list[Element]:
    """Return a strip with its outline and hatch: (left, top, width, height)."""
    left, top, width, height = rectangle
    right, bottom = left + width, top + height
    strokes = []
    if kind == "air":
        rows = max(1, round(height / _HATCH_PX))
        for row in range(rows):
            y = top + (row + 0.5) * height / rows
            strokes.append(f"M{number(left)} {number(y)}H{number(right)}")
    else:
        way = HATCHES[kind]
        # Lines y = way·x + c that cross the rectangle, clipped to it.
        offsets = [way * x for x in (left, right)]
        start, end = top - max(offsets), bottom - min(offsets)
        offset = _HATCH_PX * (int(start / _HATCH_PX) + 1)
        while offset < end:
            crossings = ((top - offset) * way, (bottom - offset) * way)
            xs = sorted(min(max(x, left), right) for x in crossings)
            if xs[1] - xs[0] > 0.5:
                strokes.append(
                    f"M{number(xs[0])} {number(way * xs[0] + offset)}"
                    f"L{number(xs[1])} {number(way * xs[1] + offset)}"
                )
            offset += _HATCH_PX
    outline = element(
        "rect",
        x=number(left),
        y=number(top),
        width=number(width),
        height=number(height),
        stroke_width=THIN,
        stroke_dasharray="3 3",
    )
    return [outline, element("path", d="".join(strokes), stroke_width=THIN)]


def survey_grid() -> Drawing:
    """Draw an empty plan to sketch the space on: squares, and where the fitter stands."""
    square, across, along = 20.0, 20, 8
    left, top = (WIDEST - across * square) / 2, 28.0
    right, bottom = left + across * square, top + along * square
    lines = "".join(
        [
            f"M{number(left + at * square)} {number(top)}V{number(bottom)}"
            for at in range(across + 1)
        ]
        + [
            f"M{number(left)} {number(top + at * square)}H{number(right)}"
            for at in range(along + 1)
        ]
    )
    return Drawing(
        "The plan",
        f"An empty grid of {across} by {along} squares to sketch the space on, front edge "
        "at the bottom.",
        canvas(
            WIDEST,
            bottom + 26,
            element("path", d=lines, stroke_width=0.5),
            label(WIDEST / 2, 12, "back"),
            label(left, bottom + 14, "front: you stand here", anchor="start"),
            label(right, bottom + 14, "one square = ____ mm", anchor="end"),
        ),
    )
