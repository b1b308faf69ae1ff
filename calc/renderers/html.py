"""The HTML renderer of a sheet.  It knows words, figures and shapes, not the trade."""

from dataclasses import replace
from xml.etree.ElementTree import Element

from calc.answers.calculator import Answer
from calc.answers.markup import Children, element, group, markup
from calc.answers.sheet import (
    Drawing,
    Figure,
    Onward,
    Part,
    Progress,
    Sheet,
    Sound,
    Table,
)
from calc.answers.sources import cite
from calc.renderers.html_candidates import candidates, next_step
from calc.renderers.html_exercises import exercises
from calc.renderers.html_paper import paper_tree, without_boxes
from calc.renderers.html_pieces import drawing, figure, press, table, verdict
from calc.renderers.html_signs import sign, state_sign, verdict_class
from calc.renderers.text import input_lines

ROOT = "../"  # from a chapter to the site's root
_CAUTION_SHAPE = ("M12 2L1 21h22z", "M12 9v6M12 17.5v1")


def field_id(calculator: str, key: str) -> str:
    """Return the id from which hint and error take theirs."""
    return f"{calculator}--{key}"


def sound_box(sound: Sound) -> Element:
    """Return the buttons that play and save a sound; nothing plays before one is pressed."""
    return element(
        "div",
        element("p", sound.title, class_="sound__title"),
        element(
            "div",
            element("button", "Play", type="button", class_="button", data_sound="play"),
            element(
                "button",
                "Save as a WAV file",
                type="button",
                class_="button button--quiet",
                data_sound="save",
            ),
            class_="sound__buttons",
        ),
        class_="sound",
        role="group",
        aria_label=sound.title,
    )


def onward_list(ways: tuple[Onward, ...], root: str = ROOT) -> Element | None:
    """Return the ways on as links.  The page's scripts write them anew: a reply does not know on
    which page it is shown.

    root : the way from the page to the site's root
    """
    if not ways:
        return None
    return element(
        "div",
        element("p", "Next", class_="onward__title"),
        element(
            "ul",
            [
                (
                    element(
                        "li",
                        element("a", way.label, href=root + way.link, data_way=way.calculator),
                    ),
                    "\n",
                )
                for way in ways
            ],
        ),
        class_="onward",
    )


def caution_box(cautions: tuple[str, ...]) -> Element | None:
    """Return the cautions with a warning sign and the word."""
    if not cautions:
        return None
    return element(
        "div",
        element(
            "p", sign(*_CAUTION_SHAPE), " Caution", class_="caution__word caution__word--drawn"
        ),
        element("ul", [(element("li", line), "\n") for line in cautions]),
        class_="caution",
    )


def fold(title: str, lines: tuple[str, ...], ordered: bool = False) -> Element | None:
    """Return lines folded away under a title; on paper as on the screen."""
    if not lines:
        return None
    items = [(element("li", line), "\n") for line in lines]
    return _folded(title, element("ol" if ordered else "ul", items))


def _folded(title: str, inside: Children, class_: str = "fold") -> Element:
    return element("details", element("summary", title), inside, class_=class_)


def _tabled(made: Table) -> Element:
    """Return a table of an answer, folded to its caption where it is one to be looked up."""
    shown = table(made)
    return _folded(made.caption, shown, "fold fold--table") if made.aside else shown


def _drawn(picture: Drawing, identity: str) -> Element:
    """Return a drawing of an answer, folded to its title where it is one to be looked up."""
    shown = drawing(picture, identity)
    return _folded(picture.title, shown) if picture.aside else shown


def key_figures(figures: tuple[Figure, ...]) -> Element | None:
    """Return the key figures as a list of terms, large."""
    if not figures:
        return None
    pairs = [
        (
            element(
                "div",
                element("dt", entry.label),
                " ",
                element("dd", figure(entry.value, entry.decimals, figures=None)),
            ),
            "\n",
        )
        for entry in figures
    ]
    return element("dl", pairs, class_="key-figures")


def progress_bar(progress: Progress) -> Element:
    """Return how far an answer has come, with the button that stops it or goes on."""
    word, action = ("Go on", "go-on") if progress.is_stopped else ("Stop", "stop")
    return element(
        "div",
        element("progress", value=progress.done, max=progress.total, aria_label="Checked so far"),
        element("span", f"{progress.done} of {progress.total} checked", class_="progress__words"),
        element("button", word, type="button", class_="button button--quiet", data_action=action),
        class_="progress",
    )


def sheet_part(part: Part, identity: str) -> Element:
    """Return a part of a long answer under its heading."""
    return element(
        "section",
        element("h3", part.title, id=identity, class_="part__title", tabindex="-1"),
        element("p", verdict(part.verdict)) if part.verdict else None,
        element("p", part.sentence) if part.sentence else None,
        key_figures(part.figures),
        [drawing(each, f"{identity}-d{at}") for at, each in enumerate(part.drawings)],
        [table(each) for each in part.tables],
        class_="part",
        aria_labelledby=identity,
    )


def part_id(identity: str, at: int) -> str:
    """Return the id of a part's heading."""
    return f"{identity}-p{at}"


def contents(parts: tuple[Part, ...], identity: str) -> Element | None:
    """Return the parts of a long answer as links, each with its verdict."""
    if not parts:
        return None
    lines = []
    for at, part in enumerate(parts):
        way = element("a", part.title, href="#" + part_id(identity, at), class_="jump")
        state_words = None
        if part.verdict:
            state_words = group(state_sign(part.verdict.state), " ", part.verdict.state)
        state = (
            element("span", state_words, class_=verdict_class(part.verdict))
            if part.verdict
            else None
        )
        lines.append((element("li", way, " ", state), "\n"))
    return element("ul", lines, class_="contents", aria_label="Steps of this answer")


def sheet_body(sheet: Sheet, identity: str, root: str = ROOT) -> Element:
    """Return a sheet without its inputs, as examples in running text show it."""
    return group(_said(sheet), *_shown(sheet, identity, root))


def _said(sheet: Sheet) -> list[Children]:
    """Return what an answer begins with: the sentence, how far it has come, the verdict."""
    return [
        element("p", sheet.sentence, class_="sentence"),
        element("p", element("code", sheet.notation), class_="notation")
        if sheet.notation
        else None,
        element("p", [press(way) for way in sheet.ways], class_="asks") if sheet.ways else None,
        progress_bar(sheet.progress) if sheet.progress else None,
        element("p", verdict(sheet.verdict)) if sheet.verdict else None,
        candidates(sheet.candidates),
        next_step(sheet.next_step),
    ]


def _shown(sheet: Sheet, identity: str, root: str) -> list[Children]:
    """Return the rest, in the order in which it is read."""
    return [
        key_figures(sheet.figures),
        sound_box(sheet.sound) if sheet.sound else None,
        [_drawn(picture, f"{identity}-d{at}") for at, picture in enumerate(sheet.drawings)],
        contents(sheet.parts, identity),
        [_tabled(rows) for rows in sheet.tables],
        exercises(sheet.exercises),
        [sheet_part(part, part_id(identity, at)) for at, part in enumerate(sheet.parts)],
        onward_list(sheet.onward, root),
        caution_box(sheet.cautions),
        fold("The working", sheet.steps, ordered=True),
        fold("What this does not cover", sheet.unknowns),
        fold("Sources", cite(sheet.sources)),
    ]


APPENDIX = "The working: checks, every step, power supply and sources"


def answer_tree(answer: Answer, root: str = ROOT) -> Element:
    """Return the answer as the page shows it: inputs (for print), then the sheet.

    The many inputs of a whole job come last, as an appendix.  An answer with a paper begins with
    it; all else is folded behind it, and printed on request only.

    root : the way from the page to the site's root
    """
    inputs = element(
        "div",
        element("p", "Inputs", class_="inputs-listed__title"),
        element("ul", [(element("li", line.strip()), "\n") for line in input_lines(answer)]),
        class_="inputs-listed",
    )
    sheet, identity = answer.sheet, f"{answer.calculator.name}-answer"
    if sheet.paper is not None:
        ways = sheet.paper.ways
        tables = tuple(made for made in sheet.tables if made not in ways)
        rest = without_boxes(replace(sheet, onward=(), tables=tables))
        appendix = element(
            "details",
            element("summary", APPENDIX),
            _shown(rest, identity, root),
            inputs,
            class_="fold appendix",
        )
        parts: list[Children] = [
            _said(sheet),
            paper_tree(sheet.paper, identity),
            [table(made) for made in ways],
            onward_list(sheet.onward, root),
            appendix,
        ]
        return element("div", parts, class_="sheet sheet--paper")
    body = sheet_body(sheet, identity, root)
    both = (body, inputs) if answer.calculator.is_whole_job else (inputs, body)
    return element("div", *both, class_="sheet")


def answer_html(answer: Answer, root: str = ROOT) -> str:
    """Write the fragment that the page shows beside the form and `--html` prints."""
    return markup(answer_tree(answer, root))
