"""The paper of a whole answer: the pages that go to the workbench, as data.

It holds no HTML.  A renderer writes it on the screen, at the top of the answer, and on paper, where
nothing else of the page is printed.
"""

from dataclasses import dataclass
from typing import Literal, TypeAlias

from calc.answers.kit import KitLine
from calc.answers.sheet import Box, Drawing, Table, Verdict


@dataclass(frozen=True)
class Strong:
    """Words that stand out in a line."""

    text: str


Line: TypeAlias = tuple[str | Strong, ...]


@dataclass(frozen=True)
class Two:
    """A cell of two lines, the second softer."""

    first: Line
    second: str = ""


@dataclass(frozen=True, kw_only=True)
class Grid:
    """A table whose cells have two lines, a row for each output."""

    caption: str
    heads: tuple[str, ...]
    rows: tuple[tuple[Two, ...], ...]

    def __post_init__(self) -> None:
        if any(len(row) != len(self.heads) for row in self.rows):
            raise ValueError(f"a row of ‘{self.caption}’ has the wrong length")


@dataclass(frozen=True)
class Blank:
    """A line to write on, by hand or in the page; what is typed stays on the device.

    `key` says which, never shown; `text` is what the print shows beside it.
    """

    key: str
    label: str


@dataclass(frozen=True, kw_only=True)
class Block:
    """What one unit is set to: knob or menu, and setting, in the order in which they are set."""

    heading: str
    rows: tuple[tuple[str, str], ...]


@dataclass(frozen=True, kw_only=True)
class Read:
    """A reading: the step, what to expect, and the box it goes into.

    number : of the step; empty for one that is written down and not judged
    how : the same in full, where there is room for it
    box : of the reading, or a blank where nothing is judged
    judged : what was read, judged; None where nothing was
    """

    number: str
    words: str
    expect: str
    box: Box | Blank
    how: str = ""
    judged: Verdict | None = None


@dataclass(frozen=True, kw_only=True)
class Article:
    """A line of the kit list, or several that differ only in where they go.

    numbers : theirs, as the list counts them
    """

    numbers: str
    line: KitLine


@dataclass(frozen=True, kw_only=True)
class Stage:
    """Readings that are taken in one state of the system."""

    heading: str
    reads: tuple[Read, ...]


Stroke = Literal["power", "earth", "signal", "remote", "plus", "minus", "joint", "high", "later"]


@dataclass(frozen=True, kw_only=True)
class Paper:
    """The pages for the workbench.

    title : the system in trade words
    say : one sentence to be read aloud
    rests : what the verdict rests on, in words; empty where nothing is open
    gives_up : what is given up for it, in words; empty for nothing
    stop : why nothing may be connected yet; there is then nothing to connect by: no drawing,
        no rows, no settings, no readings
    whole, narrow : the drawing as paper and wide screens show it, and its parts for a narrow one
    halves : its parts for paper, where the whole one would overrun a page
    key : the line styles of the drawing, with what each is
    beside : height of drawing and table together [px] is small enough for the first page
    note : what stands below the table
    asks : questions to settle, each with a box to tick
    ways : tables of other ways, shown below it on the screen; they are no part of its appendix
    example : whose invented figures still stand; empty where none do
    """

    title: str
    blanks: tuple[Blank, ...]
    say: str
    verdict: Verdict
    rests: str = ""
    gives_up: str = ""
    stop: str = ""
    whole: Drawing | None = None
    narrow: tuple[Drawing, ...] = ()
    halves: tuple[Drawing, ...] = ()
    key: tuple[tuple[Stroke, str], ...] = ()
    channels: Grid | None = None
    beside: bool = True
    note: str = ""
    cautions: tuple[Line, ...] = ()
    settings: tuple[Block, ...] = ()
    asks: tuple[str, ...] = ()
    stages: tuple[Stage, ...] = ()
    kit: tuple[Article, ...] = ()
    ways: tuple[Table, ...] = ()
    example: str = ""
