"""The sheet: what a calculator answers, as typed values that any renderer can write.

A sheet holds no HTML and no rounded text; renderers know nothing of the trade.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal
from xml.etree.ElementTree import Element

from calc.answers.exercise import Exercise
from calc.answers.kit import KitLine
from calc.inputs.links import own_page, short

if TYPE_CHECKING:  # it is made of what stands here
    from calc.answers.paper import Paper

State = Literal["suitable", "likely", "unsuitable", "not known"]
# From the worst to the best that a whole can be of which they are parts.
STATES: tuple[State, ...] = ("unsuitable", "not known", "likely", "suitable")


@dataclass(frozen=True)
class Quantity:
    """A number with a unit; `value` None is a figure that is not known."""

    value: float | None
    unit: str = ""


@dataclass(frozen=True)
class Span:
    """A range between two bounds in one unit, as when only limits are known."""

    low: float
    high: float
    unit: str = ""


@dataclass(frozen=True)
class Verdict:
    """One of the four words, with the figure or the gap that decides it.

    Suitable holds by the reader's own figures; likely holds throughout the usual range of what
    is missing; unsuitable fails whatever that is; not known is all else.

    `word` is shown in the state's place where a reading is judged and not a plan.
    """

    state: State
    reason: str
    word: str = ""

    def __post_init__(self) -> None:
        if not self.reason:
            raise ValueError("a verdict needs a reason")


@dataclass(frozen=True)
class Box:
    """A blank for a reading: typed on the page, written by hand on paper.

    `key` says which reading, `label` names it aloud, `text` is what was typed; with `choices` it
    is picked and not typed.  What does not match the `pattern` yet is half typed: it is not judged
    before the box is left.  `unit` stands behind it; with `takes_words` more than a number may be
    typed.  What is `judged_late` is judged only when the box is left, however it looks before.
    """

    key: str
    label: str
    text: str = ""
    choices: tuple[str, ...] = ()
    pattern: str = ""
    unit: str = ""
    takes_words: bool = False
    judged_late: bool = False


@dataclass(frozen=True)
class Press:
    """A button that puts a text into a field of the form: `words` say what comes of it.

    Where nothing can be pressed, the field and its text are told, as the command line takes them.
    """

    words: str
    field: str
    text: str


Cell = str | int | float | None | Quantity | Span | Verdict | Box | Press | KitLine
"""A line of a kit list as a cell is the blank for the price of its article."""


@dataclass(frozen=True)
class Figure:
    """A key figure, shown large; `decimals` as in a column."""

    label: str
    value: Quantity | Span
    decimals: int | None = None


@dataclass(frozen=True)
class Column:
    """A table column; the unit stands in its head, `code` sets its cells unspaced.

    `decimals` writes its numbers with that many decimals instead of four figures; `wide`
    keeps room for sentences where the page is narrow.  What is `pressed` is left out on paper.
    """

    label: str
    unit: str = ""
    code: bool = False
    decimals: int | None = None
    wide: bool = False
    pressed: bool = False


@dataclass(frozen=True)
class Table:
    """Rows of cells under columns; `marked` is the index of a row that stands out.

    A `stacked` table has its cells below one another, each with its name; one of `cards` has
    them so on a narrow screen, as has every table with a wide column.  One that is `aside` is
    looked up and not read: it is folded to its caption in its own answer.  `sources` are keys of
    the register, of a table that stands in a chapter.  `name` is what other sheets ask for it by
    (see `Sheet.named`); it is never shown.
    """

    caption: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    marked: int | None = None
    note: str = ""
    stacked: bool = False
    cards: bool = False
    aside: bool = False
    sources: tuple[str, ...] = ()
    name: str = ""

    def __post_init__(self) -> None:
        if any(len(row) != len(self.columns) for row in self.rows):
            raise ValueError(f"a row of the table ‘{self.caption}’ has the wrong length")


@dataclass(frozen=True)
class Drawing:
    """An SVG picture with the words that stand for it where it cannot be seen.

    `true_size` is printed as large as it is, in millimetres, on a page of its own.  One that is
    `aside` is folded to its title in its own answer.  `name` is what other sheets ask for it by
    (see `Sheet.drawn`); it is never shown.
    """

    title: str
    description: str
    svg: Element
    true_size: bool = False
    aside: bool = False
    name: str = ""


@dataclass(frozen=True)
class Onward:
    """A way on: another calculator with figures of this answer in it.

    `texts` are its inputs as a link has them.
    """

    label: str
    calculator: str
    texts: Mapping[str, str]

    @property
    def query(self) -> str:
        """The query text of its link."""
        return short("", self.texts)

    @property
    def link(self) -> str:
        """Its link below the site's root: to the page that the calculator has to itself.

        >>> Onward("The cable", "power-cable", {"length_m": "2.75"}).link
        'calculators/power-cable/?length_m=2.75'
        """
        return f"{own_page(self.calculator)}?{self.query}"


@dataclass(frozen=True)
class Sound:
    """A sound that the page plays on request and saves; `wav` makes the file `name`."""

    title: str
    name: str
    wav: Callable[[], bytes]


@dataclass(frozen=True)
class Progress:
    """How far a long answer has come: the page goes on by itself, and can be stopped.

    is_stopped : the reader stopped it; it can be gone on with
    """

    done: int
    total: int
    is_stopped: bool = False


@dataclass(frozen=True, kw_only=True)
class Judged:
    """What is said of one of several things that are held against one another.

    row : of the form's table, from 1; 0 for one that stands in no row
    sentence : what comes of it, in one sentence
    ask : what to ask the seller, the most telling first
    works : what would make it work, the smallest change first
    usual : usual figures that the verdict rests on
    is_chosen : the rest of the answer is about it
    beside : the others that it is judged together with, in words
    rows : of the form's table, from 1, where it is several of them together; they are installed so
    """

    row: int
    name: str
    verdict: Verdict
    sentence: str
    ask: tuple[str, ...] = ()
    works: tuple[str, ...] = ()
    usual: tuple[Figure, ...] = ()
    is_chosen: bool = False
    beside: str = ""
    rows: tuple[int, ...] = ()


@dataclass(frozen=True)
class Next:
    """The next step: words, and the place in the form to go to, or what to do for a row.

    action : `choose` for the row's choice, `answer` for the way to the answer; else the field
    """

    words: str
    field: str = ""
    row: int | None = None
    column: str = ""
    action: str = ""


@dataclass(frozen=True, kw_only=True)
class Part:
    """A part of a long answer under a heading of its own, read like a sheet."""

    title: str
    sentence: str = ""
    verdict: Verdict | None = None
    figures: tuple[Figure, ...] = ()
    drawings: tuple[Drawing, ...] = ()
    tables: tuple[Table, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Sheet:
    """A whole answer, in the order in which it is read.

    `results` are the figures of the contract, unrounded, None where a figure does not exist.
    `notation` is the sentence’s answer once more, in signs.  `notes` are what the sheet of a whole
    job says besides the sentence.  `unknowns` says what the answer leaves out.  `marks` are
    verdicts on groups of the form’s fields, by their heading.  `candidates` were held against one
    another, `next_step` is what to do next, `ways` are what else can be asked for.  `kit` is what
    is to be bought, as a shop prices it.  `exercises` are problems for a class.  `paper` is what
    goes to the workbench; where there is one, the rest is its appendix.  `sources` are keys of the
    register.
    """

    sentence: str
    results: Mapping[str, object]
    notation: str = ""
    notes: tuple[str, ...] = ()
    verdict: Verdict | None = None
    candidates: tuple[Judged, ...] = ()
    next_step: Next | None = None
    ways: tuple[Press, ...] = ()
    figures: tuple[Figure, ...] = ()
    sound: Sound | None = None
    drawings: tuple[Drawing, ...] = ()
    tables: tuple[Table, ...] = ()
    progress: Progress | None = None
    parts: tuple[Part, ...] = ()
    marks: Mapping[str, Verdict] = field(default_factory=dict)
    onward: tuple[Onward, ...] = ()
    cautions: tuple[str, ...] = ()
    steps: tuple[str, ...] = ()
    unknowns: tuple[str, ...] = ()
    sources: tuple[str, ...] = field(default=())
    paper: "Paper | None" = None
    kit: tuple[KitLine, ...] = ()
    exercises: tuple[Exercise, ...] = ()

    def named(self, *names: str) -> tuple[Table, ...]:
        """Return the tables with these names, in the order of the names; those that are there.

        A table stands or falls with its name, never with its place among the others.
        """
        return tuple(table for name in names for table in self.tables if table.name == name)

    def drawn(self, *names: str) -> tuple[Drawing, ...]:
        """Return the drawings with these names, in the order of the names; those that are there."""
        return tuple(drawing for name in names for drawing in self.drawings if drawing.name == name)

    @property
    def all_tables(self) -> tuple[Table, ...]:
        """The tables of the sheet and of its parts."""
        return (*self.tables, *(table for part in self.parts for table in part.tables))
