"""The card of a calculator: its form, its answer, and what it can be taken away as.

It is live from the start, or folded to its title, the example's sentence and its drawing.
"""

from collections.abc import Sequence
from xml.etree.ElementTree import Element

from calc.answers.calculator import Answer, AnyCalculator
from calc.answers.markup import element
from calc.answers.sheet import Drawing
from calc.inputs.fields import Document
from calc.inputs.links import own_page
from calc.renderers.html import ROOT, answer_tree
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


def title_id(name: str) -> str:
    """Return the id of the heading that names a calculator."""
    return f"{name}--title"


def folded_card(answer: Answer, *, exchanges: bool = False, root: str = ROOT) -> Element:
    """Return the calculator folded away: what it is about stays in sight, and opens it in place.

    exchanges, root : as for `card`
    """
    calculator, sheet = answer.calculator, answer.sheet
    drawing = next((each for each in sheet.drawings if not each.true_size), None)
    return element(
        "div",
        element(
            "details",
            element(
                "summary",
                element(
                    "h2", calculator.title, id=title_id(calculator.name), class_="calculator__title"
                ),
                element("span", sheet.sentence, class_="calculator-card__said"),
                _small(drawing) if drawing else None,
            ),
            card(answer, exchanges=exchanges, root=root, is_titled=False),
            class_="calculator-card",
        ),
        element(
            "p",
            element("a", "On a page of its own", href=root + own_page(calculator.name)),
            class_="calculator-card__own",
            data_search_exclude=True,
        ),
        class_="calculator-fold",
    )


def _small(drawing: Drawing) -> Element:
    """Return a drawing as a small picture, beside words that say what it shows."""
    svg = element(
        "svg", list(drawing.svg), class_="drawing__picture", aria_hidden="true", focusable="false"
    )
    for name, value in drawing.svg.items():
        svg.set(name, value)
    return element("span", svg, class_="calculator-card__drawing")


def card(
    answer: Answer, *, exchanges: bool = False, root: str = ROOT, is_titled: bool = True
) -> Element:
    """Return the whole calculator as the page first shows it: form and worked example.

    exchanges : it can take its inputs from the system that the device keeps, and give back
    root : the way from the page to the site's root
    is_titled : otherwise the page holds its title elsewhere, under `title_id`
    """
    calculator = answer.calculator
    if calculator.parts:
        return _arranged_card(answer, root, is_titled=is_titled)
    answer_id = f"{calculator.name}--answer"
    return element(
        "section",
        _top(
            calculator,
            is_titled,
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
            _answer_side(answer, answer_id, root),
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
        aria_labelledby=title_id(calculator.name),
    )


def _top(calculator: AnyCalculator, is_titled: bool, without_scripts: str) -> list[Element | None]:
    """Return what a card begins with."""
    title = element(
        "h2", calculator.title, id=title_id(calculator.name), class_="calculator__title"
    )
    return [
        title if is_titled else None,
        element("p", calculator.question, class_="calculator__question"),
        element("noscript", element("p", without_scripts), data_search_exclude=True),
        # Whose the figures are that a link brought, above the form that they stand in.
        element("p", class_="aside aside--above", hidden=True, data_search_exclude=True),
    ]


_BELOW_TITLE = ("part__head", "answer__title")
_AT_TOP = ("text", "link", "qr", "print")
_SHORT = {"text": "Copy", "link": "Link", "qr": "QR code", "print": "Print"}


def _arranged_card(answer: Answer, root: str, *, is_titled: bool) -> Element:
    """Return the card of a form in parts: the form, then the answer, in this order on paper too."""
    calculator = answer.calculator
    answer_id = f"{calculator.name}--answer"
    made = element(
        "section",
        _top(calculator, is_titled, "To enter figures, this page needs JavaScript."),
        element(
            "article",
            element(
                "div",
                form(calculator, calculator.opens, answer.sheet.marks),
                class_="calculator__form",
            ),
            _origins(),
            _arranged_answer(answer, answer_id, root),
            class_="calculator__body",
            data_search_exclude=True,
        ),
        _bar(answer_id),
        class_="calculator plan",
        id=calculator.name,
        data_calculator=calculator.name,
        data_streams=calculator.stream is not None,
        aria_labelledby=title_id(calculator.name),
    )
    if not is_titled:  # on a page of its own the title is the page's, a step above
        for heading in made.iter("h3"):
            if heading.get("class") in _BELOW_TITLE:
                heading.tag = "h2"
    return made


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


def _arranged_answer(answer: Answer, identity: str, root: str) -> Element:
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
        element("div", answer_tree(answer, root), class_="answer", id=identity, tabindex="-1"),
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


def _answer_side(answer: Answer, identity: str, root: str) -> Element:
    """Return the side of the card that holds the answer, and what it can be taken away as."""
    return element(
        "div",
        element("div", class_="notices", hidden=True),
        element("div", class_="error-summary", tabindex="-1", role="alert", hidden=True),
        element("p", "This answer belongs to the earlier inputs.", class_="earlier", hidden=True),
        element("div", answer_tree(answer, root), class_="answer", id=identity, tabindex="-1"),
        _hand_over(_HAND_OVER, "hand-over", _stock_button(answer)),
        _stays(answer),
        element("div", class_="qr", hidden=True),
        class_="calculator__answer",
    )
