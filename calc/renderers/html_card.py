"""The card of a calculator: its form, its answer, and what it can be taken away as."""

from collections.abc import Sequence
from xml.etree.ElementTree import Element

from calc.answers.calculator import Answer, AnyCalculator
from calc.answers.markup import element
from calc.inputs.fields import Document
from calc.renderers.html import answer_tree
from calc.renderers.html_document import print_reasons
from calc.renderers.html_files import exchange_bar
from calc.renderers.html_form import form

_HAND_OVER = (
    ("text", "Copy as text"),
    ("link", "Copy link"),
    ("qr", "QR code"),
    ("print", "Print"),
    ("json", "Data (JSON)"),
    ("csv", "Table (CSV)"),
)


def card(answer: Answer, *, exchanges: bool = False) -> Element:
    """Return the whole calculator as the page first shows it: form and worked example.

    exchanges : it can take its inputs from the system that the device keeps, and give back
    """
    calculator = answer.calculator
    if calculator.parts:
        return _arranged_card(answer)
    heading = f"{calculator.name}--title"
    answer_id = f"{calculator.name}--answer"
    return element(
        "section",
        _top(
            calculator,
            heading,
            "This is the example’s answer. To change its figures, this page needs JavaScript.",
        ),
        # The search finds the calculator by its title and question.  What it leaves out must hold
        # no element of the same tag: at the end of the first it would go on reading.
        element(
            "article",
            element(
                "div",
                exchange_bar() if exchanges else None,
                element(
                    "p",
                    element("a", "To the answer", href=f"#{answer_id}", class_="jump"),
                    class_="to-answer",
                ),
                form(calculator, calculator.opens, answer.sheet.marks),
                class_="calculator__form",
            ),
            _answer_side(answer, answer_id),
            class_="calculator__body",
            data_search_exclude=True,
        ),
        # Last in the card, so that it can stay at the window's lower edge all along it.
        element(
            "div",
            element("p", class_="aside", hidden=True),
            element("p", class_="status", role="status", aria_live="polite"),
            class_="foot",
            data_search_exclude=True,
        ),
        class_="calculator",
        id=calculator.name,
        data_calculator=calculator.name,
        data_streams=calculator.stream is not None,
        aria_labelledby=heading,
    )


def _top(calculator: AnyCalculator, heading: str, without_scripts: str) -> list[Element]:
    """Return what a card begins with.

    heading : the identity of its title
    """
    return [
        element("h2", calculator.title, id=heading, class_="calculator__title"),
        element("p", calculator.question, class_="calculator__question"),
        element("noscript", element("p", without_scripts), data_search_exclude=True),
        # Whose the figures are that a link brought, above the form that they stand in.
        element("p", class_="aside aside--above", hidden=True, data_search_exclude=True),
    ]


_AT_TOP = ("text", "link", "qr", "print")
_SHORT = {"text": "Copy", "link": "Link", "qr": "QR code", "print": "Print"}


def _arranged_card(answer: Answer) -> Element:
    """Return the card of a form in parts: the form, then the answer, in this order on paper too."""
    calculator = answer.calculator
    heading, answer_id = f"{calculator.name}--title", f"{calculator.name}--answer"
    return element(
        "section",
        _top(calculator, heading, "To enter figures, this page needs JavaScript."),
        element(
            "article",
            element(
                "div",
                form(calculator, calculator.opens, answer.sheet.marks),
                class_="calculator__form",
            ),
            _origins(),
            _arranged_answer(answer, answer_id),
            class_="calculator__body",
            data_search_exclude=True,
        ),
        _bar(answer_id),
        class_="calculator plan",
        id=calculator.name,
        data_calculator=calculator.name,
        data_streams=calculator.stream is not None,
        aria_labelledby=heading,
    )


def _origins() -> Element:
    """Return the key to the three origins of a figure, told apart by line and word."""
    lines = (
        ("yours", "60", "yours"),
        ("usual", "2", "usual, not asked"),
        ("example", "90", "example, invented"),
    )
    return element(
        "p",
        element("span", "How figures are marked:"),
        [
            element(
                "span",
                element("span", element("span", text, class_="figure"), class_=f"of of--{of}"),
                f" {words}",
            )
            for of, text, words in lines
        ],
        class_="origins",
    )


def _bar(answer_id: str) -> Element:
    """Return the bar at the window's foot: the verdicts, and the next step."""
    return element(
        "div",
        element("button", type="button", class_="bar__half bar__verdicts"),
        element(
            "button",
            element("span", "Next"),
            element("span", class_="bar__step"),
            type="button",
            class_="bar__half bar__next",
        ),
        class_="bar",
        role="region",
        aria_label="Answer so far",
        hidden=True,
        data_search_exclude=True,
    )


def _arranged_answer(answer: Answer, identity: str) -> Element:
    """Return the side with the answer; what it can be taken away as stands above and below it."""
    return element(
        "div",
        element("div", class_="notices", hidden=True),
        element("div", class_="error-summary", tabindex="-1", role="alert", hidden=True),
        element(
            "div",
            element("h3", "The answer", class_="answer__title"),
            _hand_over([(kind, _SHORT[kind]) for kind in _AT_TOP], "hand-over hand-over--top"),
            class_="answer__head",
        ),
        element("div", class_="qr", hidden=True),
        print_reasons(),
        element(
            "div",
            element("p", class_="aside", hidden=True),
            element("p", class_="status", role="status", aria_live="polite"),
            class_="foot foot--still",
        ),
        element("p", "This answer belongs to the earlier inputs.", class_="earlier", hidden=True),
        element("div", answer_tree(answer), class_="answer", id=identity, tabindex="-1"),
        _hand_over(_HAND_OVER, "hand-over", _stock_button(answer)),
        _stays(answer),
        class_="calculator__answer",
    )


def _stock_button(answer: Answer) -> Element | None:
    """Return the button that puts the planned amplifier into the list on the device."""
    if not {"amplifier", "shelf"} <= {field.key for field in answer.calculator.fields}:
        return None
    word = "Add the amplifier to my stock list"
    return element(
        "button", word, type="button", class_="button button--quiet", data_action="stock"
    )


def _stays(answer: Answer) -> list[Element]:
    """Return what a link leaves out, in words."""
    return [
        element("p", field.stays, class_="hint hand-over__stays")
        for field in answer.calculator.fields
        if isinstance(field, Document) and field.stays
    ]


def _hand_over(
    kinds: Sequence[tuple[str, str]], class_: str, more: Element | None = None
) -> Element:
    return element(
        "div",
        [
            element(
                "button", word, type="button", class_="button button--quiet", data_hand_over=kind
            )
            for kind, word in kinds
        ],
        more,
        class_=class_,
        role="group",
        aria_label="Keep or share this answer",
    )


def _answer_side(answer: Answer, identity: str) -> Element:
    """Return the side of the card that holds the answer, and what it can be taken away as."""
    return element(
        "div",
        element("div", class_="notices", hidden=True),
        element("div", class_="error-summary", tabindex="-1", role="alert", hidden=True),
        element("p", "This answer belongs to the earlier inputs.", class_="earlier", hidden=True),
        element("div", answer_tree(answer), class_="answer", id=identity, tabindex="-1"),
        _hand_over(_HAND_OVER, "hand-over", _stock_button(answer)),
        _stays(answer),
        element("div", class_="qr", hidden=True),
        class_="calculator__answer",
    )
