"""What is said of several things held against one another, and what to do next.

On the screen a script puts each where its row of the form is; on paper they stand in the answer.
"""

from xml.etree.ElementTree import Element

from calc.answers.figures import THIN_SPACE
from calc.answers.markup import element, group
from calc.answers.sheet import Figure, Judged, Next, Quantity, Span
from calc.renderers.html_signs import state_sign
from calc.renderers.text import written

_IN_SIGHT = 2  # changes that would make it work; the others are folded


def candidates(judged: tuple[Judged, ...]) -> Element | None:
    """Return what is said of each, with its name above it."""
    if not judged:
        return None
    seen: set[str] = set()
    sections = []
    for each in judged:
        # Of those installed together the first has all that is said, the others their verdict.
        is_again = bool(each.beside) and each.name in seen
        sections.append(_candidate(each, is_again=is_again))
        seen.add(each.name)
    return element("div", sections, class_="candidates")


def _candidate(judged: Judged, *, is_again: bool) -> Element:
    state = judged.verdict.state
    name = f"Together: {judged.name}" if judged.rows else judged.name
    return element(
        "section",
        element("p", name, class_="candidate__name"),
        element(
            "div",
            element("p", state_sign(state), " ", element("b", state), class_="result__word"),
            element("p", "of the earlier figures", class_="result__earlier", hidden=True),
            element("p", judged.beside, class_="result__beside") if judged.beside else None,
            None if is_again else _said(judged),
            _choose(judged),
            class_=f"result__body result--{state.replace(' ', '-')}",
        ),
        class_="candidate candidate--again" if is_again else "candidate",
        data_verdict_of=judged.row,
        data_rows=" ".join(map(str, judged.rows)) or None,
        data_state=state,
        data_name=judged.name,
        data_chosen=judged.is_chosen,
    )


def _said(judged: Judged) -> Element:
    return group(
        element("p", judged.sentence, class_="result__say"),
        _asked(judged.ask),
        _works(judged.works),
        _usual(judged.usual),
    )


def _choose(judged: Judged) -> Element | None:
    """Return the button that plans it: one row of the form, or several together."""
    if judged.is_chosen or not (judged.row or judged.rows):
        return None
    return element(
        "button",
        "Install these together" if judged.rows else "Plan it with this one",
        type="button",
        class_="link-button",
        data_action="choose-rows" if judged.rows else "choose-row",
    )


def _asked(ask: tuple[str, ...]) -> Element | None:
    if not ask:
        return None
    first, *rest = ask
    return group(
        element("p", element("b", "Ask the seller:"), " ", first, class_="result__ask"),
        _more("More to ask", rest),
    )


def _works(works: tuple[str, ...]) -> Element | None:
    if not works:
        return None
    return group(
        element("p", "What would work, smallest change first:"),
        element("ul", [element("li", words) for words in works[:_IN_SIGHT]]),
        _more("What else would work", works[_IN_SIGHT:]),
    )


def _more(title: str, lines: tuple[str, ...] | list[str]) -> Element | None:
    if not lines:
        return None
    items = [element("li", line) for line in lines]
    return element(
        "details",
        element("summary", title, class_="know__toggle"),
        element("ul", items),
        class_="fold--small",
    )


def _usual(figures: tuple[Figure, ...]) -> Element | None:
    """Return the usual figures that a verdict rests on, each with its dots."""
    if not figures:
        return None
    parts: list[Element | str] = []
    for at, each in enumerate(figures):
        parts += [", " if at else "", f"{each.label} ", usual_figure(each.value, each.decimals)]
    return element("p", "Usual, not asked: ", parts, ".", class_="result__usual")


def usual_figure(value: Quantity | Span, places: int | None = None) -> Element:
    """Return a usual figure with the line that marks it."""
    if isinstance(value, Span):
        text = f"{written(value.low, places, None)}–{written(value.high, places, None)}"
    else:
        text = "?" if value.value is None else written(value.value, places, None)
    unit = element("span", THIN_SPACE + value.unit, class_="unit") if value.unit else None
    return element("span", element("span", text, class_="figure"), unit, class_="of of--usual")


def next_step(step: Next | None) -> Element | None:
    """Return the next step; a script shows it in the bar and leads to its place."""
    if step is None:
        return None
    return element(
        "p",
        "Next: ",
        element("span", step.words),
        class_="next-step",
        data_next=step.action or "field",
        data_next_field=step.field or None,
        data_next_row=step.row,
        data_next_column=step.column or None,
    )
