"""An answer with a paper as a document of its own: it prints without network and other files."""

from pathlib import Path
from xml.etree.ElementTree import Element

from calc.answers.calculator import Answer
from calc.answers.markup import Children, element, group, markup
from calc.renderers.html import answer_tree

_STYLE = Path(__file__).with_name("workshop.css")


def print_reasons() -> Element:
    """Return the box that has the appendix printed too."""
    return element(
        "label",
        element("input", type="checkbox", autocomplete="off"),
        " Print the working too",
        class_="tick print-reasons",
    )


def document_html(answer: Answer, code: Children = None) -> str:
    """Write the document: the fragment that the page shows, with its style inside.

    code : what stands in the place of the paper's QR code; in the page a script fills it
    """
    paper = answer.sheet.paper
    title = answer.calculator.title if paper is None else paper.title
    tree = answer_tree(answer)
    for place in tree.iter("div"):
        if place.get("data-qr"):
            place.extend(group(code))
    document = element(
        "html",
        element(
            "head",
            element("meta", charset="utf-8"),
            element("meta", name="viewport", content="width=device-width, initial-scale=1"),
            element("title", title),
            element("style", _STYLE.read_text(encoding="utf-8")),
        ),
        element("body", print_reasons() if paper else None, tree, class_="alone md-typeset"),
        lang="en-GB",
    )
    return f"<!doctype html>\n{markup(document)}"
