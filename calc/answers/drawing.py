"""The drawing grammar: strokes, dashes, text sizes and circuit symbols, in one place.

Units are SVG pixels at natural size.  A drawing is at most `WIDEST` wide with text of
`TEXT`, so that 85 mm of paper still show it at 9 point.  All ink is `currentColor`:
dark pages and grey print need nothing else.  Symbols follow IEC 60617.
"""

from xml.etree.ElementTree import Element

from calc.answers.markup import Children, element

WIDEST = 428
TEXT = 16
THIN, LINE, HEAVY = 1, 1.75, 3
DOT = 4
# Wires are told apart by these, in this order; the first is solid.
DASHES = ("", "9 4", "2 4", "12 4 2 4", "5 3", "14 3 3 3 3 3", "1 3", "18 5")


def number(value: float) -> str:
    """Write a coordinate with at most two decimals.

    >>> number(12.0), number(3.14159)
    ('12', '3.14')
    """
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def canvas(
    width: float,
    height: float,
    *parts: Children,
    text: float = TEXT,
    line: float = LINE,
    cap: str | None = "round",
) -> Element:
    """Return the SVG of a drawing at its natural size.

    text, line : size of its text and width of its lines, where a drawing has its own scale
    cap : how its lines end; None is square with the end, which keeps heavy dashes apart
    """
    return element(
        "svg",
        *parts,
        viewBox=f"0 0 {number(width)} {number(height)}",
        width=number(width),
        height=number(height),
        fill="none",
        stroke="currentColor",
        stroke_width=line,
        stroke_linecap=cap,
        stroke_linejoin="round",
        font_size=text,
    )


def wire(
    *points: tuple[float, float], dash: str = "", width: float = LINE, **marks: str | None
) -> Element:
    """Return a wire through the points; `marks` are more attributes, such as its class."""
    return element(
        "polyline",
        **marks,
        points=" ".join(f"{number(x)},{number(y)}" for x, y in points),
        stroke_dasharray=dash or None,
        stroke_width=None if width == LINE else width,
    )


def joint(x: float, y: float, radius: float = DOT, class_: str | None = None) -> Element:
    """Return the dot of a joint; crossings have none."""
    return element(
        "circle",
        cx=number(x),
        cy=number(y),
        r=radius,
        class_=class_,
        fill="currentColor",
        stroke="none",
    )


def terminal(
    x: float, y: float, radius: float = DOT, class_: str = "paper", **marks: str | None
) -> Element:
    """Return the open circle of a terminal; `marks` are more attributes, such as its name."""
    return element("circle", cx=number(x), cy=number(y), r=radius, class_=class_, **marks)


def label(
    x: float,
    y: float,
    text: str,
    anchor: str = "middle",
    bold: bool = False,
    over_lines: bool = False,
    size: float = TEXT,
) -> Element:
    """Return a text whose middle line runs through `y`.

    over_lines : gives it an edge in the colour of the ground, to be read across lines
    size : of the drawing's text, where it has its own scale
    """
    return element(
        "text",
        text,
        class_="over-lines" if over_lines else None,
        x=number(x),
        y=number(y + size * 0.35),
        text_anchor=None if anchor == "start" else anchor,
        font_weight="600" if bold else None,
        fill="currentColor",
        stroke="none",
    )


def box(x: float, y: float, width: float, height: float, heavy: bool = False) -> Element:
    """Return the outline of a box."""
    return element(
        "rect",
        x=number(x),
        y=number(y),
        width=number(width),
        height=number(height),
        stroke_width=HEAVY if heavy else None,
    )


def coil(x: float, top: float, bottom: float) -> Element:
    """Return an upright coil (four half circles) with its leads from top to bottom."""
    radius = 5.0
    start = (top + bottom) / 2 - 4 * radius
    arcs = "".join(
        f"a{number(radius)} {number(radius)} 0 0 1 0 {number(2 * radius)}" for _ in range(4)
    )
    path = f"M{number(x)} {number(top)}V{number(start)}{arcs}V{number(bottom)}"
    return element("path", d=path)


def inductor(x: float, y: float, length: float) -> Element:
    """Return a level inductor (four half circles) with its leads, from x to x + length."""
    radius = 5.0
    start = x + length / 2 - 4 * radius
    arcs = "".join(
        f"a{number(radius)} {number(radius)} 0 0 1 {number(2 * radius)} 0" for _ in range(4)
    )
    return element("path", d=f"M{number(x)} {number(y)}H{number(start)}{arcs}H{number(x + length)}")


def capacitor(x: float, y: float, length: float) -> Element:
    """Return a level capacitor (two plates) with its leads, from x to x + length."""
    middle = x + length / 2
    plates = "".join(f"M{number(middle + way)} {number(y - 12)}v24" for way in (-4, 4))
    leads = f"M{number(x)} {number(y)}H{number(middle - 4)}M{number(middle + 4)} {number(y)}"
    return element("path", d=f"{leads}H{number(x + length)}{plates}")


def upright_capacitor(x: float, top: float, bottom: float) -> Element:
    """Return an upright capacitor (two plates) with its leads from top to bottom."""
    middle = (top + bottom) / 2
    plates = "".join(f"M{number(x - 12)} {number(middle + way)}h24" for way in (-4, 4))
    leads = f"M{number(x)} {number(top)}V{number(middle - 4)}M{number(x)} {number(middle + 4)}"
    return element("path", d=f"{leads}V{number(bottom)}{plates}")


def level_resistor(x: float, y: float, length: float, width: float = 36) -> list[Element]:
    """Return a level resistor (a box) with its leads, from x to x + length."""
    start = x + (length - width) / 2
    return [
        wire((x, y), (start, y)),
        box(start, y - 8, width, 16),
        wire((start + width, y), (x + length, y)),
    ]


def fuse(x: float, y: float, length: float, width: float = 30) -> list[Element]:
    """Return a level fuse (a box with the wire running through), from x to x + length."""
    return [box(x + (length - width) / 2, y - 6, width, 12), wire((x, y), (x + length, y))]


def upright_fuse(x: float, top: float, bottom: float, height: float = 26) -> list[Element]:
    """Return an upright fuse with its leads from top to bottom."""
    middle = (top + bottom) / 2
    return [box(x - 6, middle - height / 2, 12, height), wire((x, top), (x, bottom))]


def battery(x: float, top: float, bottom: float) -> list[Element]:
    """Return an upright battery, the long line (+) above, with its leads."""
    middle = (top + bottom) / 2
    return [
        wire((x, top), (x, middle - 4)),
        wire((x - 16, middle - 4), (x + 16, middle - 4)),
        wire((x - 8, middle + 4), (x + 8, middle + 4), width=HEAVY),
        wire((x, middle + 4), (x, bottom)),
    ]


def frame(x: float, y: float) -> Element:
    """Return the sign of a connection to the frame, which is the vehicle's body."""
    strokes = "".join(f"M{number(x + way)} {number(y)}l-6 9" for way in (-12, 0, 12))
    return element("path", d=f"M{number(x - 14)} {number(y)}H{number(x + 14)}{strokes}")


def loudspeaker(x: float, y: float, mirrored: bool = False) -> Element:
    """Return a loudspeaker, 36 high, with its terminals at (x, y − 10) and (x, y + 10)."""
    way = -1 if mirrored else 1
    points = [(0, -13), (10, -13), (10, 13), (0, 13)]
    horn = [(10, -13), (24, -22), (24, 22), (10, 13)]
    return element(
        "path",
        d="".join(
            "M" + "L".join(f"{number(x + way * dx)} {number(y + dy)}" for dx, dy in shape) + "Z"
            for shape in (points, horn)
        ),
    )


def resistor(x: float, top: float, bottom: float, height: float = 44) -> list[Element]:
    """Return an upright resistor (a box) with its leads from top to bottom."""
    middle = (top + bottom) / 2
    return [
        wire((x, top), (x, middle - height / 2)),
        box(x - 8, middle - height / 2, 16, height),
        wire((x, middle + height / 2), (x, bottom)),
    ]
