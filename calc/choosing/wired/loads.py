"""Loads in the drawing: how high they are, where their pins stand, what they look like."""

from dataclasses import dataclass
from typing import Protocol

from calc.answers.drawing import number
from calc.choosing.wired.pen import Pen, Sizes
from calc.choosing.wired.system import Load
from calc.choosing.wired.widths import width_of

_MINUS = "−"


def spoken(sign: str) -> str:
    """Return + or − as it is printed."""
    return sign.replace("-", _MINUS)


@dataclass(frozen=True)
class Placed:
    """A load whose upper pin stands at y, with its leads from the left at x.

    top : where it begins
    is_alone : on its output; else buses pass between its wires
    name_x : where its name begins at the most left, where that stands above it
    """

    load: Load
    x: float
    y: float
    top: float
    is_alone: bool
    name_x: float


class _Kind(Protocol):
    def above(self, load: Load, size: Sizes) -> float: ...
    def below(self, load: Load, size: Sizes) -> float: ...
    def draw(self, pen: Pen, placed: Placed) -> None: ...


def above(load: Load, size: Sizes, *, has_capacitor: bool = False) -> float:
    """Return the room from the top of a load to its upper pin.

    A capacitor's value stands above the wire: on a line of its own where the name stands there too.
    """
    room = _KINDS[load.kind].above(load, size)
    if not has_capacitor:
        return room
    if load.kind == "speaker" and size.is_whole:
        return max(room, 28.0)
    return room + size.text + 4


def below(load: Load, size: Sizes) -> float:
    """Return the room from its upper pin to its end."""
    return _KINDS[load.kind].below(load, size)


def draw_load(pen: Pen, placed: Placed) -> None:
    """Draw a load, its pins named by their terminals."""
    _KINDS[placed.load.kind].draw(pen, placed)


def reach(load: Load, size: Sizes) -> float:
    """Return how far right of the leads' end its last text may begin."""
    if load.kind == "set":
        return 50 + 38 + 24
    return 34 + 26 if load.kind == "speaker" else 34 + 40 * size.scale + 21


def _name_above(pen: Pen, placed: Placed, x: float) -> None:
    """Write the name above a load: at x, or left of it as far as it may and must."""
    load, size = placed.load, pen.size
    words = load.name if not load.note else f"{load.name}: {load.note}"
    if load.kind == "set" and load.is_reversed:
        words = f"reversed, {words}"
    fits = size.width - 3 - width_of(words, size.text)
    left = max(placed.name_x, min(x, fits))
    pen.label(left, placed.top + size.text / 2, words, size.width - left - 2, bold=True)


class _Speaker:
    """A speaker by itself; where there is room its name stands beside it."""

    def above(self, load: Load, size: Sizes) -> float:
        return 17.0 if size.is_whole else size.head + 8

    def below(self, load: Load, size: Sizes) -> float:
        if not size.is_whole:
            return size.pitch + 8
        return size.pitch + 10

    def draw(self, pen: Pen, placed: Placed) -> None:
        load, size, y = placed.load, pen.size, placed.y
        x = placed.x + 34
        for at, name in enumerate(load.terminals):
            height = y + at * size.pitch
            pen.pin(f"{load.key}.{name}", x, height, is_shown=False)
            pen.text(x - 7.5, height - size.text * 0.55, spoken(name), "middle")
        pen.speaker(x, y)
        middle = y + size.pitch / 2
        if not size.is_whole:
            _name_above(pen, placed, placed.name_x)
            if load.is_reversed:
                pen.boxed(x + 26 + 33 * size.scale, middle, "reversed")
            return
        room = size.width - x - 28
        pen.text(x + 26, middle - size.text * 0.6, load.name, bold=True, room=room)
        if load.is_reversed and placed.is_alone:
            pen.boxed(x - 57, middle, "reversed")
        if load.is_reversed and not placed.is_alone:
            pen.boxed(x + 26 + 33, middle + size.text * 0.75, "reversed")
        else:
            pen.label(x + 26, middle + size.text * 0.6, load.note, room)


class _Set:
    """A set behind a passive crossover: a box with two pins in, and two out for each speaker."""

    def above(self, load: Load, size: Sizes) -> float:
        return size.head + size.pitch + 4

    def below(self, load: Load, size: Sizes) -> float:
        return (2 * max(2, len(load.parts)) - 2) * size.pitch + 16

    def draw(self, pen: Pen, placed: Placed) -> None:
        load, size, x, y = placed.load, pen.size, placed.x, placed.y
        pitch, text = size.pitch, size.text
        _name_above(pen, placed, x if size.is_whole else placed.name_x)
        wide = 50.0 if size.is_whole else 46.0
        rows = 2 * max(2, len(load.parts))
        pen.box(x, y - pitch - 6, wide, (rows - 1) * pitch + 12)
        for words, way in (("cross-", -1), ("over", 1)):
            pen.text(x + wide / 2, y + pitch / 2 + way * text * 0.6, words, "middle")
        for at, name in enumerate(load.terminals):
            pen.pin(f"{load.key}.{name}", x, y + at * pitch)
            pen.text(x - 8, y + at * pitch - text * 0.55, spoken(name), "middle")
        for at in range(len(load.parts)):
            first = y + (2 * at - 1) * pitch if len(load.parts) > 1 else y
            self._part(pen, load, (x + wide, first), at)

    def _part(self, pen: Pen, load: Load, corner: tuple[float, float], at: int) -> None:
        part, (x, y), size = load.parts[at], corner, pen.size
        end = x + 38
        signs = ("-", "+") if part.is_reversed else ("+", "-")
        for row, (out, sign) in enumerate(zip("+-", signs, strict=True)):
            height = y + row * size.pitch
            pen.pin(f"{load.key}.out{at + 1}{out}", x, height)
            pen.pin(f"{load.key}.part{at + 1}{sign}", end, height, is_shown=False)
            pen.wire("speaker +" if out == "+" else "speaker -", (x, height), (end, height))
            pen.text(end - 10, height - size.text * 0.55, spoken(sign), "middle")
        pen.speaker(end, y)
        words = f"{part.name}, reversed" if part.is_reversed else part.name
        pen.text(end + 24, y + size.pitch / 2, words, room=size.width - end - 26)


class _Coils:
    """The voice coils of one subwoofer: a box with all their terminals."""

    def above(self, load: Load, size: Sizes) -> float:
        return size.head + 8

    def below(self, load: Load, size: Sizes) -> float:
        return (len(load.terminals) - 1) * size.pitch + 16

    def draw(self, pen: Pen, placed: Placed) -> None:
        load, size, y = placed.load, pen.size, placed.y
        text, x = size.text, placed.x + 34
        _name_above(pen, placed, x if size.is_whole else placed.name_x)
        wide = 40 * size.scale
        for at, name in enumerate(load.terminals):
            pen.pin(f"{load.key}.{name}", x, y + at * size.pitch)
            words = f"{name[:-1]} {spoken(name[-1])}".strip()
            pen.text(x + 8, y + at * size.pitch, words)
        deep = (len(load.terminals) - 1) * size.pitch
        pen.box(x, y - 9, wide, deep + 18)
        middle = y + deep / 2
        horn = min(24.0, deep / 2 + 9)
        pen.path(
            f"M{number(x + wide)} {number(middle - horn / 2)}l15 {number(-horn / 2)}"
            f"v{number(2 * horn)}l-15 {number(-horn / 2)}"
        )
        lines = [*load.words, *(["reversed"] if load.is_reversed else [])]
        if len(lines) * text * 1.24 > deep + 18 + size.gap:
            lines = lines[-1:]
        first = middle - (len(lines) - 1) * text * 0.62
        left = x + wide + 21
        for at, words in enumerate(lines):
            height = first + at * text * 1.24
            if words == "reversed":
                pen.boxed(left + 33 * size.scale, height, words)
            else:
                pen.text(left, height, words, room=size.width - left - 2)


_KINDS: dict[str, _Kind] = {"speaker": _Speaker(), "set": _Set(), "coils": _Coils()}
