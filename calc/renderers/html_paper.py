"""The HTML renderer of an answer's paper: on the screen the top of the answer, on paper all of it.

What a box or a blank holds is typed in the page, or written by hand where it was printed empty.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace
from xml.etree.ElementTree import Element

from calc.answers.figures import quantity
from calc.answers.kit import KitLine
from calc.answers.markup import Children, element
from calc.answers.paper import (
    Article,
    Blank,
    Block,
    Grid,
    Line,
    Paper,
    Read,
    Stage,
    Stroke,
    Strong,
    Two,
)
from calc.answers.sheet import Box, Drawing, Sheet, Table
from calc.renderers.html_pieces import drawing, reading_box, verdict
from calc.renderers.html_prices import price_box, prices_foot

# A figure never parts from its unit at the end of a line (narrow no-break space).
_UNIT = re.compile(r"(?<=\d) (?=(?:mm²|mm|m|AWG|A|V|W|Hz|Ω|µF|dB/oct|dB)(?!\w))")
_SIGNS = 58  # of a line of the kit list, about
LONGEST_BLANK = 60  # signs that are typed into a blank
# Of each line style: weights and dashes, a heavy line first where a thin one lies in it.
_STROKES: dict[Stroke, tuple[tuple[float, str], ...]] = {
    "power": ((2.8, ""),),
    "earth": ((2.8, "6 3"),),
    "signal": ((4.6, ""),),
    "remote": ((1.4, "1.5 3.5"),),
    "plus": ((1.4, ""),),
    "minus": ((1.4, "6 3"),),
    "high": ((1.4, ""),),
    "later": ((2.8, "2 5"),),
    "joint": (),
}


def paper_tree(paper: Paper, identity: str) -> Element:
    """Return the paper.

    identity : from which the ids of its parts are made
    """
    kinds = ["workshop"]
    kinds += ["workshop--example"] if paper.example else []
    kinds += ["workshop--stop"] if paper.stop else []
    kinds += ["workshop--beside"] if paper.beside and not paper.stop else []
    heading = f"{identity}-paper"
    return element(
        "section",
        element(
            "div",
            _head(paper, heading),
            element("p", paper.stop, class_="workshop__stop") if paper.stop else None,
            _drawings(paper, identity),
            _key(paper),
            _grid(paper.channels) if paper.channels else None,
            element("p", _tied(paper.note), class_="workshop__note") if paper.note else None,
            class_="workshop__page workshop__page--first",
        ),
        element(
            "div",
            _cautions(paper.cautions),
            element(
                "div",
                element(
                    "div",
                    element("div", _settings(paper.settings)) if paper.settings else None,
                    element("div", _asks(paper.asks)) if paper.asks else None,
                    class_="workshop__left",
                ),
                element("div", _readings(paper.stages)) if paper.stages else None,
                class_="workshop__two workshop__work",
            ),
            _kit(paper.kit),
            class_="workshop__page",
        ),
        class_=" ".join(kinds),
        aria_labelledby=heading,
    )


# ---- the first page


def _head(paper: Paper, heading: str) -> Element:
    rests = " ".join(words for words in (paper.rests, paper.gives_up) if words)
    return element(
        "div",
        element(
            "div",
            element("h3", paper.title, id=heading, class_="workshop__title", tabindex="-1"),
            element("div", [_labelled(blank) for blank in paper.blanks], class_="workshop__blanks"),
            element(
                "div",
                element("p", element("b", paper.say), class_="workshop__said"),
                element("p", verdict(paper.verdict), f" {rests}" if rests else None),
                class_="workshop__say",
            ),
        ),
        element("div", class_="workshop__qr", data_qr=True),
        class_="workshop__head",
    )


def _labelled(blank: Blank) -> Element:
    return element(
        "label",
        element("span", blank.label),
        " ",
        _blank(blank, label=blank.label),
        class_="workshop__blank",
    )


def _blank(blank: Blank, *, label: str | None = None) -> Element:
    return element(
        "input",
        type="text",
        maxlength=LONGEST_BLANK,
        autocomplete="off",
        class_="blank-line",
        data_blank=blank.key,
        aria_label=label,
    )


def _drawings(paper: Paper, identity: str) -> list[Element]:
    """Return the drawing twice: as it is on paper and wide screens, and in parts for a phone."""
    if paper.whole is None:
        return []

    def part(pictures: Sequence[Drawing], kind: str) -> Element:
        figures = [drawing(each, f"{identity}-{kind}{at}") for at, each in enumerate(pictures)]
        return element("div", figures, class_=f"workshop__drawing workshop__drawing--{kind}")

    return [
        part((paper.whole,), "whole-screen" if paper.halves else "whole"),
        *([part(paper.halves, "halves")] if paper.halves else []),
        part(paper.narrow, "narrow"),
    ]


def _key(paper: Paper) -> Element | None:
    if not paper.key:
        return None
    items = [
        (element("span", _stroke(stroke), f"\u202f{words}"), " ") for stroke, words in paper.key
    ]
    return element("p", items, class_="workshop__key")


def _stroke(stroke: Stroke) -> Element:
    lines = [
        element("path", d="M0 5h34", stroke_width=width, stroke_dasharray=dash or None)
        for width, dash in _STROKES[stroke]
    ]
    if stroke == "signal":
        lines.append(element("path", d="M0 5h34", stroke_width="2.2", class_="workshop__inside"))
    if stroke == "joint":
        lines.append(
            element("circle", cx="17", cy="5", r="3.2", fill="currentColor", stroke="none")
        )
    return element(
        "svg", lines, width="34", height="10", viewBox="0 0 34 10", fill="none",
        stroke="currentColor", aria_hidden="true", focusable="false",
    )  # fmt: skip


def _tied(text: str) -> str:
    return _UNIT.sub("\u202f", text)


def _line(line: Line) -> list[Children]:
    return [
        element("b", _tied(part.text)) if isinstance(part, Strong) else _tied(part) for part in line
    ]


def _grid(grid: Grid) -> Element:
    def cell(two: Two, head: str) -> Element:
        second = (
            element("span", _tied(two.second), class_="workshop__second") if two.second else None
        )
        return element("td", element("span", _line(two.first)), " ", second, data_head=head)

    rows = [
        element("tr", [(cell(two, head), " ") for two, head in zip(row, grid.heads, strict=True)])
        for row in grid.rows
    ]
    return _table(grid.heads, rows, grid.caption, "workshop__channels")


def _table(heads: Iterable[str], rows: Children, caption: str, class_: str) -> Element:
    """Return a table; its caption is for those who do not see where it stands."""
    return element(
        "table",
        element("caption", caption, class_="workshop__unseen"),
        element(
            "thead", element("tr", [(element("th", head, scope="col"), " ") for head in heads])
        ),
        rows if isinstance(rows, Element) else element("tbody", rows),
        class_=f"workshop__table {class_}",
    )


# ---- the second page


def _cautions(cautions: tuple[Line, ...]) -> Element | None:
    if not cautions:
        return None
    return element(
        "div",
        element("p", "Caution", class_="caution__word workshop__caution-word"),
        element("ol", [(element("li", _line(line)), "\n") for line in cautions]),
        class_="workshop__cautions",
    )


def _settings(blocks: tuple[Block, ...]) -> list[Element]:
    if not blocks:
        return []
    rows: list[Element] = []
    for block in blocks:
        rows.append(_stage_row(block.heading, 2))
        rows += [
            element("tr", element("td", knob), " ", element("td", to, class_="workshop__to"))
            for knob, to in block.rows
        ]
    title = "Settings, in the order of the knobs"
    return [
        element("h4", title),
        _table(("Knob or menu", "Set to"), rows, title, "workshop__settings"),
    ]


def _stage_row(heading: str, width: int) -> Element:
    return element(
        "tr",
        element("th", heading, colspan=width, scope="colgroup", class_="workshop__stage"),
    )


def _asks(asks: tuple[str, ...]) -> list[Element]:
    if not asks:
        return []
    return [
        element("h4", "Ask before you start"),
        element("ul", [(element("li", _tied(ask)), "\n") for ask in asks], class_="workshop__asks"),
    ]


def _readings(stages: tuple[Stage, ...]) -> list[Element]:
    rows: list[Element] = []
    for stage in stages:
        rows.append(_stage_row(stage.heading, 5))
        rows += [_reading(read) for read in stage.reads]
    title = "Readings, in this order"
    heads = ("No.", "Step", "Expected", "Read", "Result")
    return [element("h4", title), _table(heads, rows, title, "workshop__readings")]


def _reading(read: Read) -> Element:
    """Return a row: number, step, what to expect, box, and how the reading is judged, if it is."""
    box = (
        reading_box(read.box)
        if isinstance(read.box, Box)
        else _blank(read.box, label=read.box.label)
    )
    is_out = read.judged is not None and read.judged.state == "unsuitable"
    return element(
        "tr",
        element("td", read.number, class_="workshop__number"),
        " ",
        element(
            "td",
            element("span", _tied(read.words)),
            element("span", f" {read.how}", class_="workshop__how") if read.how else None,
        ),
        " ",
        element("td", read.expect, class_="workshop__expect"),
        " ",
        element("td", box, class_="workshop__write"),
        " ",
        element("td", verdict(read.judged) if read.judged else None, class_="workshop__judged"),
        class_="workshop__out" if is_out else None,
    )


def _kit(articles: tuple[Article, ...]) -> Element | None:
    """Return the kit list in two columns, as even as they come, with places for prices."""
    if not articles:
        return None
    at, title = _middle(articles), "Kit list"

    def column(part: tuple[Article, ...]) -> Element:
        rows = [_bought(article) for article in part]
        heads = ("No.", "Item and where it goes", "Your price")
        return element("div", _table(heads, rows, title, "workshop__bought"))

    return element(
        "div",
        element("h4", title),
        element(
            "div",
            [column(part) for part in (articles[:at], articles[at:]) if part],
            class_="workshop__two",
        ),
        prices_foot(),
        class_="workshop__kit",
    )


def _bought(article: Article) -> Element:
    line = article.line
    return element(
        "tr",
        element("td", article.numbers, class_="workshop__number"),
        " ",
        element(
            "td",
            _tied(article_words(line)),
            element("span", f": {_tied(line.note)}", class_="workshop__soft"),
        ),
        " ",
        element("td", price_box(line), class_="workshop__price"),
        class_="workshop__open" if line.is_open else None,
    )


def _middle(articles: Sequence[Article]) -> int:
    """Return how many articles stand in the first column so that both are about as high."""
    heights = [
        1 + (len(article_words(each.line)) + len(each.line.note)) // _SIGNS for each in articles
    ]
    ways = range(1, len(articles) + 1)
    return min(ways, key=lambda at: max(sum(heights[:at]), sum(heights[at:])))


def article_words(line: KitLine) -> str:
    """Say what to buy: how many, what, which size, how long.

    >>> line = dict(number=1, unit="m", size="10 mm²", length_m=3.3, note="", is_open=False)
    >>> article_words(KitLine(item="power cable", quantity=2, **line))
    '2 × power cable, 10 mm², 3.3\u202fm'
    """
    parts = [line.item, line.size or "size not known"]
    if line.length_m is not None:
        parts.append(quantity(line.length_m, "m", 3))
    words = ", ".join(parts)
    if line.quantity is None:
        return f"{words}: quantity not known"
    return words if line.quantity == 1 else f"{line.quantity} × {words}"


def without_boxes(sheet: Sheet) -> Sheet:
    """Return a sheet whose tables tell what was read and ask for nothing: its paper has the boxes.

    So every reading is typed in one place.
    """

    def told(made: Table) -> Table:
        rows = tuple(
            tuple(cell.text if isinstance(cell, Box) else cell for cell in row) for row in made.rows
        )
        return replace(made, rows=rows)

    parts = tuple(
        replace(part, tables=tuple(told(made) for made in part.tables)) for part in sheet.parts
    )
    return replace(sheet, tables=tuple(told(made) for made in sheet.tables), parts=parts)
