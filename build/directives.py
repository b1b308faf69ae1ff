"""The Markdown extension: fences that hold calculators, tables, examples and drawings.

A fence's first line names a thing; the following lines give `key=value` parameters:

    ``` calculator        ``` table              ``` drawing              ``` example
    bridged-output        standard-combinations  four-channel-grouping    bridged-output
    ```                   coils=2                name=1|2|3+4             load_ohm=8
                          ```                    ```                      expect bridged_power_w=100
                                                                          ```

Problems of a class code stand in a fence `exercises` with their parameters alone, such as
`chapter=bridging level=recall problems=3 code=4711`; with `key=yes` it is their key.

An `expect` line states a result that the text around the example relies on; when a
formula changes, the build stops there.  `show drawings` adds the example's drawings, `show
table` its first table.  Every mistake stops the build with file and line.

The functions below are custom fences of pymdownx.superfences and know nothing of MkDocs;
`place` says which file is being read.
"""

import dataclasses
import inspect
import math
import re
from collections.abc import Callable, Mapping, Sequence
from contextvars import ContextVar
from dataclasses import dataclass
from typing import Any, TypeVar
from xml.etree.ElementTree import Element

from pymdownx.superfences import SuperFencesException

from calc.answers.calculator import Answer
from calc.answers.markup import element, group, markup
from calc.answers.sheet import Drawing, Table
from calc.app.contents import CALCULATORS, DRAWINGS, TABLES, chapter_link_of, link_of
from calc.choosing.exchange import asked
from calc.inputs.errors import InputError
from calc.inputs.rows import Rows
from calc.renderers import html_exercises, html_pieces
from calc.renderers.html import ROOT
from calc.renderers.html_card import card, folded_card
from calc.renderers.text import row_words

T = TypeVar("T")
_FIRST = re.compile(r"^[ \t]*``` *calculator *\n\s*([\w-]+)", re.MULTILINE)


@dataclass
class Place:
    """The Markdown file that is being read, how many drawings it has and what was made so far.

    root : the way from its page to the site's root
    own : the calculator whose own page it is
    """

    path: str
    text: str
    drawings: int = 0
    made: list[str] = dataclasses.field(default_factory=list)
    seen: dict[str, int] = dataclasses.field(default_factory=dict)
    root: str = ROOT
    own: str = ""

    @property
    def live(self) -> str:
        """The calculator that is live on the page, the first; those after it are folded."""
        fence = _FIRST.search(self.text)
        return fence[1] if fence else ""

    def line_of(self, source: str) -> int:
        """Return the line on which a fence with this content begins."""
        wanted = [line.strip() for line in source.strip("\n").split("\n")]
        lines = [line.strip() for line in self.text.split("\n")]
        hits = [
            at
            for at in range(1, len(lines))
            if lines[at : at + len(wanted)] == wanted and lines[at - 1].startswith("```")
        ]
        if not hits:
            return 1
        return hits[min(self.seen.get(source, 1), len(hits)) - 1]


# A generator without hooks tells no page from another.
_ANY = Place("a page", "")
place: ContextVar[Place] = ContextVar("place", default=_ANY)


class DirectiveError(Exception):
    """A fence that cannot be filled."""


@dataclass(frozen=True)
class Parts:
    """What a fence says: the name, its parameters, what is expected and what is shown."""

    name: str
    texts: dict[str, str]
    expected: dict[str, str]
    shown: frozenset[str] = frozenset()


_SHOWN = ("drawings", "table")


def _parts(source: str) -> Parts:
    name, *lines = [line.strip() for line in source.split("\n") if line.strip()] or [""]
    texts: dict[str, str] = {}
    expected: dict[str, str] = {}
    shown = {line.removeprefix("show ") for line in lines if line.startswith("show ")}
    if not shown <= set(_SHOWN):
        raise DirectiveError(f"an example may show {' or '.join(_SHOWN)}")
    for line in lines:
        if line.startswith("show "):
            continue
        into = expected if line.startswith("expect ") else texts
        key, equals, value = line.removeprefix("expect ").partition("=")
        if not equals or key in into:
            raise DirectiveError(f"‘{line}’ is not key=value, or stands there twice")
        into[key.strip()] = value.strip()
    return Parts(name, texts, expected, frozenset(shown))


def _named(name: str, known: Mapping[str, T], kind: str) -> T:
    if name not in known:
        raise DirectiveError(f"there is no {kind} ‘{name}’; there are {', '.join(known)}")
    return known[name]


def _called(function: Callable[..., Any], texts: Mapping[str, str]) -> Any:
    try:
        inspect.signature(function).bind(**texts)
    except TypeError as error:
        raise DirectiveError(f"bad parameters: {error}") from error
    try:
        return function(**texts)
    except ValueError as error:
        raise DirectiveError(str(error)) from error


def _calculator(source: str) -> Element:
    parts = _parts(source)
    if parts.texts or parts.expected or parts.shown:
        raise DirectiveError("a calculator takes no parameters: it shows its worked example")
    calculator = _named(parts.name, CALCULATORS, "calculator")
    here, answer = place.get(), calculator.answer(calculator.opens)
    exchanges = parts.name in asked()
    if here.own:
        return card(answer, exchanges=exchanges, root=here.root, is_titled=False)
    make = card if parts.name == here.live else folded_card
    return make(answer, exchanges=exchanges, root=here.root)


def _table(source: str) -> Element:
    parts = _parts(source)
    made: Table = _called(_named(parts.name, TABLES, "table"), parts.texts)
    return group(html_pieces.table(made), _sources_line(made.sources))


def _sources_line(keys: Sequence[str]) -> Element | None:
    """Return what a table rests on: keys of the register, each a way to its entry."""
    if not keys:
        return None
    ways = [
        (", " if at else "", element("a", key, href=f"{place.get().root}sources/#{key}"))
        for at, key in enumerate(keys)
    ]
    return element("p", "Sources: ", ways, class_="table-note")


def _drawing(source: str) -> Element:
    parts = _parts(source)
    return _numbered(_called(_named(parts.name, DRAWINGS, "drawing"), parts.texts))


def _numbered(picture: Drawing) -> Element:
    here = place.get()
    here.drawings += 1
    return html_pieces.drawing(picture, f"drawing-{here.drawings}")


def _exercises(source: str) -> Element:
    """Return problems of a class code for a handout, to be answered by hand, or with their key."""
    texts = dict(pair.partition("=")[::2] for pair in source.split())
    try:
        answer = CALCULATORS["exercises"].answer(texts)
    except InputError as error:
        raise DirectiveError(str(error)) from error
    return group(html_exercises.by_hand(answer.sheet.exercises))


def _example(source: str) -> Element:
    parts = _parts(source)
    calculator = _named(parts.name, CALCULATORS, "calculator")
    try:
        answer = calculator.answer(parts.texts)
    except InputError as error:
        raise DirectiveError(str(error)) from error
    _check(answer.sheet.results, parts.expected)
    return _example_box(answer, parts)


def _check(results: Mapping[str, Any], expected: Mapping[str, str]) -> None:
    for path, text in expected.items():
        value: Any = results
        try:
            for step in path.split("."):
                value = value[int(step)] if isinstance(value, Sequence) else value[step]
        except (KeyError, IndexError, ValueError, TypeError) as error:
            raise DirectiveError(f"the example has no result ‘{path}’") from error
        if isinstance(value, bool) or not isinstance(value, int | float):
            good = {True: "yes", False: "no", None: "not known"}.get(value, str(value)) == text
        else:
            good = math.isclose(value, float(text), rel_tol=5e-3)
        if not good:
            raise DirectiveError(f"the example gives {path} = {value}, the text expects {text}")


def _example_box(answer: Answer, parts: Parts) -> Element:
    texts = parts.texts
    listed = [line for key in texts for line in _input_lines(answer, key, texts[key])]
    here = place.get()
    is_live = answer.calculator.name == here.live
    link = here.root + (chapter_link_of(answer) if is_live else link_of(answer))
    sheet = answer.sheet
    return element(
        "div",
        element("p", "Worked example", class_="example__word"),
        element("ul", [(element("li", line), "\n") for line in listed], class_="example__given")
        if len(listed) > 3
        else element("p", "; ".join(listed) + ".", class_="example__given")
        if listed
        else None,
        element("p", sheet.sentence, class_="sentence"),
        [_numbered(picture) for picture in sheet.drawings if "drawings" in parts.shown],
        html_pieces.table(sheet.tables[0]) if "table" in parts.shown else None,
        element("ol", [(element("li", line), "\n") for line in sheet.steps]),
        element(
            "p",
            element("a", "Open these figures in the calculator", href=link),
            class_="example__link",
        ),
        class_="example",
    )


def _input_lines(answer: Answer, key: str, raw: str) -> list[str]:
    """Return an input of an example in words, each row of a table on a line of its own."""
    field = answer.calculator.form.by_key[key]
    value = answer.inputs[key]
    if isinstance(field, Rows) and not isinstance(value, int):
        lines = [f"{field.label} {at}: {row_words(field, row)}" for at, row in enumerate(value, 1)]
        return lines or [f"{field.label}: none"]
    return [
        f"{field.label}: {raw or 'not known'}" + (f" {field.unit}" if field.unit and raw else "")
    ]


@dataclasses.dataclass(frozen=True)
class _Fence:
    """What the fences' extension calls: an object, for another generator stores its settings."""

    make: Callable[[str], Element]

    def __call__(self, source: str, language: str, *_: object, **__: object) -> str:
        here = place.get()
        here.seen[source] = here.seen.get(source, 0) + 1
        try:
            made = markup(group(self.make(source)))
        except Exception as error:
            # Of any other kind of error the fences' extension says nothing, and prints the
            # fence as code: whatever goes wrong must stop the build.
            where = f"{here.path}, line {here.line_of(source)}"
            raise SuperFencesException(f"{where}: {language}: {error}.") from error
        # What an example is expected to give holds the figures of the text around it as well.
        here.made += [source, made]
        return made


calculator = _Fence(_calculator)
table = _Fence(_table)
drawing = _Fence(_drawing)
example = _Fence(_example)
exercises = _Fence(_exercises)
