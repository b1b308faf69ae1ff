"""What plans of this chapter share, the clearances of each side, and an empty plan to sketch on."""

from xml.etree.ElementTree import Element

from calc.answers.drawing import HEAVY, THIN, WIDEST, canvas, label, number, wire
from calc.answers.figures import quantity
from calc.answers.markup import element
from calc.answers.sheet import Drawing
from calc.physics.floor_plan import Rooms

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
    return [outline, element("path", d="".join(strokes), stroke_width=THIN, class_="hatch")]


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


def upright(x: float, y: float, text: str) -> Element:
    """Return a label that reads from below upwards."""
    words = label(x, y, text, over_lines=True)
    words.set("transform", f"rotate(-90 {number(x)} {number(y)})")
    return words


def side_clearances() -> Drawing:
    """Draw an amplifier from above with the clearance that each of its sides needs."""
    rooms = Rooms()
    plugs, rca, hand, air = rooms.power_mm, rooms.signal_mm, rooms.controls_mm, rooms.fins_mm
    width, depth = 260.0, 120.0
    left, top = (WIDEST - rca - width - air) / 2 + rca, plugs + 4
    right, bottom = left + width, top + depth
    middle_x, middle_y = left + width / 2, top + depth / 2
    sizes = {
        "back": f"power and speaker plugs {quantity(plugs, 'mm')}",
        "left": f"RCA {quantity(rca, 'mm')}",
        "right": f"air {quantity(air, 'mm')}",
        "front": f"hand and screwdriver {quantity(hand, 'mm')}",
    }
    return Drawing(
        "The clearance that each side needs",
        "An amplifier from above. Behind it, clearance for power and speaker plugs with their "
        f"cable bends, {quantity(plugs, 'mm')}; on its left for RCA plugs, {quantity(rca, 'mm')}; "
        f"on its right air at the heatsink fins, {quantity(air, 'mm')}; in front, at the controls, "
        f"a hand with a screwdriver, {quantity(hand, 'mm')}.",
        canvas(
            WIDEST,
            bottom + hand + 8,
            hatched((left, top - plugs, width, plugs), "plugs"),
            hatched((left - rca, top, rca, depth), "plugs"),
            hatched((right, top, air, depth), "air"),
            hatched((left, bottom, width, hand), "hand"),
            element(
                "rect",
                x=number(left),
                y=number(top),
                width=number(width),
                height=number(depth),
                class_="paper",
            ),
            wire((left + 4, bottom - 4), (right - 4, bottom - 4), width=HEAVY),
            label(middle_x, middle_y - 8, "amplifier", bold=True),
            label(middle_x, bottom - 18, "front: controls"),
            label(middle_x, top - plugs / 2, sizes["back"], over_lines=True),
            upright(left - rca / 2, middle_y, sizes["left"]),
            upright(right + air / 2, middle_y, sizes["right"]),
            label(middle_x, bottom + hand / 2, sizes["front"], over_lines=True),
        ),
    )
