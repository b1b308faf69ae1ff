"""The measures of a drawing of the whole system, and the pen that draws in them.

Natural size is 1/96 inch, so that text of 12.5 is 9.4 point on paper.  Line style and labels carry
meaning, never colour.
"""

from dataclasses import dataclass, field
from typing import Literal
from xml.etree.ElementTree import Element

from calc.answers.drawing import box, canvas, joint, label, number, terminal, wire
from calc.answers.markup import element
from calc.choosing.wired.system import WireKind
from calc.choosing.wired.trunks import Path
from calc.choosing.wired.widths import cut, short, width_of

Mode = Literal["whole", "supply", "speakers"]
WIDEST, NARROWEST = 703.0, 358.0
LINE, HEAVY, THIN = 1.4, 2.8, 1.0
PIN, DOT = 3.0, 3.2
EDGE = 1.5  # half a heavy line, and a little
_DASH: dict[str, str] = {
    "speaker -": "6 3",
    "high -": "6 3",
    "earth": "6 3",
    "remote": "1.5 3.5",
    "later": "2 5",
}
_WEIGHT: dict[str, float] = {"power": HEAVY, "earth": HEAVY, "later": HEAVY}


@dataclass(frozen=True)
class Sizes:
    """All measures of one drawing [px]: of the whole system, or of half of it for a narrow page.

    pitch : between the terminals of one output, and of a speaker
    row : between terminals on the supply side: a wire, and a label above it
    gap : between outputs
    source, amplifier : widths of the boxes
    band, out_band : where labels stand, on the supply side and on the speakers' side
    """

    mode: Mode
    text: float

    pitch = 22.0
    gap = 12.0

    @property
    def row(self) -> float:
        """Between terminals on the supply side: a wire, and a label above it."""
        return 19 + self.text

    @property
    def is_whole(self) -> bool:
        """Whether it is all in one drawing."""
        return self.mode == "whole"

    @property
    def has_supply(self) -> bool:
        """Whether it shows what stands left of the amplifiers."""
        return self.mode != "speakers"

    @property
    def has_speakers(self) -> bool:
        """Whether it shows what stands right of them."""
        return self.mode != "supply"

    @property
    def width(self) -> float:
        """The width of the whole drawing."""
        return WIDEST if self.is_whole else NARROWEST

    @property
    def head(self) -> float:
        """The line above a load that names it."""
        return self.text + 13

    @property
    def source(self) -> float:
        """The right edge of the sources."""
        return 100.0 if self.is_whole else 96.0

    @property
    def lane(self) -> float:
        """Between lanes, where there is room for it."""
        return 11.0 if self.is_whole else 8.0

    @property
    def band(self) -> float:
        """The labels' room left of the amplifiers."""
        return 108.0 if self.is_whole else 105.0

    @property
    def scale(self) -> float:
        """How much larger its text is than that of the whole drawing."""
        return self.text / 12.5

    @property
    def out_band(self) -> float:
        """The labels' room right of the amplifiers."""
        return 84 * self.scale

    @property
    def amplifier(self) -> float:
        """The width of an amplifier."""
        return {"whole": 98.0, "supply": 76.0, "speakers": 46.0}[self.mode]


WHOLE = Sizes("whole", 12.5)
SUPPLY, SPEAKERS = Sizes("supply", 14.0), Sizes("speakers", 14.0)


@dataclass
class Pen:
    """Draws, and keeps where each pin stands."""

    size: Sizes
    pins: dict[str, tuple[float, float]] = field(default_factory=dict)
    under: list[Element] = field(default_factory=list)
    over: list[Element] = field(default_factory=list)
    top: list[Element] = field(default_factory=list)

    def wire(self, kind: WireKind, *points: tuple[float, float]) -> None:
        """Draw a wire; an RCA lead is two lines, below all others."""
        if kind == "rca":
            self.under.append(wire(*points, width=4.6, class_="wire", data_kind=kind))
            self.under.append(wire(*points, width=2.2, class_="core"))
            return
        made = wire(
            *points,
            dash=_DASH.get(kind, ""),
            width=_WEIGHT.get(kind, LINE),
            class_="wire",
            data_kind=kind,
        )
        self.over.append(made)

    def net(self, kind: WireKind, routed: tuple[list[Path], list[tuple[float, float]]]) -> None:
        """Draw the wires and dots of a net."""
        wires, dots = routed
        for way in wires:
            self.wire(kind, *way)
        for x, y in dots:
            self.dot(x, y)

    def dot(self, x: float, y: float) -> None:
        """Draw a joint."""
        self.over.append(joint(x, y, DOT, "joint"))

    def pin(self, name: str, x: float, y: float, *, is_shown: bool = True) -> None:
        """Draw a terminal; one that the part itself shows has no circle."""
        self.pins[name] = (x, y)
        if is_shown:
            made = terminal(x, y, PIN, "paper pin", data_pin=name, stroke_width=number(LINE))
        else:
            made = terminal(x, y, 0, "pin", data_pin=name)
        self.top.append(made)

    def text(
        self,
        x: float,
        y: float,
        words: str,
        anchor: str = "start",
        *,
        bold: bool = False,
        room: float | None = None,
    ) -> None:
        """Write a text whose middle line runs through y, cut to the room [px] it has."""
        shown = words if room is None else cut(words, self.size.text, room, bold=bold)
        self.over.append(label(x, y, shown, anchor, bold=bold, size=self.size.text))

    def label(self, x: float, y: float, words: str, room: float, *, bold: bool = False) -> None:
        """Write parts such as size and length: without the last ones where they have no room."""
        self.text(x, y, short(words, self.size.text, room, bold=bold), bold=bold, room=room)

    def box(
        self,
        x: float,
        y: float,
        width: float,
        height: float,
        line: float = LINE,
        dash: str | None = None,
    ) -> None:
        """Draw the outline of a box."""
        made = box(x, y, width, height)
        made.set("stroke-width", number(line))
        if dash:
            made.set("stroke-dasharray", dash)
        self.over.append(made)

    def path(self, d: str, line: float = LINE) -> None:
        """Draw a path."""
        self.over.append(element("path", d=d, stroke_width=number(line)))

    def ground(self, x: float, y: float) -> None:
        """Draw the sign of a connection to the vehicle's body."""
        strokes = "".join(f"M{number(x + way)} {number(y)}l-5 7" for way in (-9, 0, 9))
        self.path(f"M{number(x - 11)} {number(y)}h22{strokes}")

    def fuse(self, x: float, y: float, *, upright: bool = False) -> None:
        """Draw a fuse around its middle, 28 long."""
        if upright:
            self.box(x - 6, y - 14, 12, 28)
            self.path(f"M{number(x)} {number(y - 14)}v28")
        else:
            self.box(x - 12, y - 5, 24, 10)
            self.path(f"M{number(x - 12)} {number(y)}h24")

    def speaker(self, x: float, y: float) -> None:
        """Draw a loudspeaker whose terminals stand at y and a pitch below."""
        middle = number(y + self.size.pitch / 2 - 13)
        self.path(f"M{number(x)} {middle}h8v26h-8ZM{number(x + 8)} {middle}l11 -6v38l-11 -6Z")

    def boxed(self, x: float, y: float, words: str) -> None:
        """Write a word in a thin box, both centred."""
        size = self.size.text
        wide = width_of(words, size) + 4
        self.box(x - wide / 2, y - size * 0.68, wide, size * 1.36, THIN)
        self.text(x, y, words, "middle", bold=True)

    def picture(self, width: float, height: float) -> Element:
        """Return what was drawn."""
        return canvas(
            width,
            height,
            self.under,
            self.over,
            self.top,
            text=self.size.text,
            line=LINE,
            cap=None,
        )
