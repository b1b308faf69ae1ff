"""A sheet of exercises in HTML: problems with their boxes, what was found of them, or the key."""

from xml.etree.ElementTree import Element

from calc.answers.exercise import Exercise, Solution, lettered
from calc.answers.markup import element
from calc.renderers.html_pieces import reading_box, verdict

_SHORT = 14  # signs of an option that has its like beside it


def exercises(problems: tuple[Exercise, ...]) -> list[Element]:
    """Return problems as a numbered list; a sheet that is answered by hand has a line for names."""
    if not problems:
        return []
    is_key = all(each.box is None for each in problems)
    listed = element(
        "ol",
        [(_problem(each), "\n") for each in problems],
        class_="exercises exercises--key" if is_key else "exercises",
    )
    return [listed] if is_key else [_names(), listed]


def by_hand(problems: tuple[Exercise, ...]) -> list[Element]:
    """Return problems as running text on paper has them: blanks in place of boxes."""
    return [
        element("ol", [(_problem(each, blank=True), "\n") for each in problems], class_="exercises")
    ]


def _names() -> Element:
    """Return the line for name and date, which paper alone shows."""
    return element(
        "p",
        "Name: ",
        element("span", class_="blank blank--long"),
        " Date: ",
        element("span", class_="blank"),
        class_="exercises__names",
    )


def _problem(problem: Exercise, *, blank: bool = False) -> Element:
    return element(
        "li",
        element("p", problem.question, class_="exercise__question", data_asked=True),
        _options(problem),
        _answer_line(problem, blank),
        element("p", verdict(problem.judged), class_="exercise__judged", data_judged=True)
        if problem.judged
        else None,
        _solution(problem.solution) if problem.solution else None,
        class_="exercise",
        value=problem.number,
    )


def _options(problem: Exercise) -> Element | None:
    if not problem.options:
        return None
    are_long = max(map(len, problem.options)) > _SHORT
    items = [
        (element("li", element("strong", letter), " ", words), " ")
        for letter, words in lettered(problem.options)
    ]
    kind = "exercise__options exercise__options--words" if are_long else "exercise__options"
    return element("ul", items, class_=kind)


def _answer_line(problem: Exercise, blank: bool) -> Element | None:
    if problem.box is None:
        return None
    return element(
        "div",
        [
            element("span", class_="exercise__room", aria_hidden="true")
            for _ in range(problem.lines)
        ],
        element("span", "Answer: ", class_="exercise__word"),
        _blank(problem) if blank else reading_box(problem.box),
        class_="exercise__answer",
    )


def _blank(problem: Exercise) -> list[Element]:
    unit = element("span", f" {problem.unit}") if problem.unit else None
    return [each for each in (element("span", class_="blank"), unit) if each is not None]


def _solution(solution: Solution) -> Element:
    steps = [(element("li", step), "\n") for step in solution.steps]
    wrong = [
        (element("li", element("strong", answer), f": {mistake}"), "\n")
        for answer, mistake in solution.wrong
    ]
    return element(
        "div",
        element("p", "Answer: ", element("strong", solution.answer), class_="solution__answer"),
        element("ol", steps, class_="solution__steps") if steps else None,
        element("p", "Usual mistakes", class_="solution__word") if wrong else None,
        element("ul", wrong, class_="solution__wrong") if wrong else None,
        class_="solution",
    )
