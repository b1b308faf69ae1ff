"""Figures that a page takes from the system on the device, and gives back to it."""

from calc.answers.calculator import AnyCalculator
from calc.answers.markup import element, markup
from calc.app.replies import checked, refusal, with_form
from calc.choosing import exchange
from calc.choosing.plan import AnyQuestion
from calc.inputs import links
from calc.inputs.errors import InputError


def _asked(
    calculator: AnyCalculator, kept: object
) -> tuple[exchange.Kept, tuple[AnyQuestion, ...]] | str:
    """Return the kept system with what its plan asks of the calculator, or why there is nothing."""
    try:
        system = exchange.read_kept(checked(kept))
    except InputError as error:
        return f"The system on this device cannot be used: {error.errors[0].message}"
    questions = exchange.questions_for(calculator.name, system)
    if questions:
        return system, questions
    if not system.amplifiers:
        return "The system has no amplifier yet. Choose one, or enter it in the plan."
    return "The plan of this system has no figures for this calculator."


def _place(about: object, count: int) -> int:
    """Return which of several is asked about; the first where that is none of them."""
    return about if isinstance(about, int) and about in range(count) else 0


def taken(calculator: AnyCalculator, kept: object, about: object) -> dict[str, object]:
    """Fill the form with what the system's plan asks of the calculator."""
    asked = _asked(calculator, kept)
    if isinstance(asked, str):
        return {"kind": "told", "text": asked}
    system, questions = asked
    at = _place(about, len(questions))
    question = questions[at]
    if question.missing:
        return {
            "kind": "told",
            "text": (
                f"Missing from the system: {', '.join(question.missing)}. Enter it in the plan."
            ),
        }
    reply = with_form(calculator, links.Opened(question.texts))
    lines = [element("li", line) for line in exchange.sources_of(question, system)]
    whose = f" ({question.about})" if question.about else ""
    head = f"Taken from the system{whose}: where each figure comes from"
    notes = element("details", element("summary", head), element("ul", lines), class_="fold")
    return {
        **reply,
        "notices": markup(notes),
        "abouts": [other.about for other in questions],
        "about": at,
    }


def given_back(
    calculator: AnyCalculator, kept: object, about: object, inputs: object
) -> dict[str, object]:
    """Give the form's figures back to the system that they were taken from."""
    asked = _asked(calculator, kept)
    if isinstance(asked, str):
        return {"kind": "told", "text": asked}
    system, questions = asked
    question = questions[_place(about, len(questions))]
    try:
        values = calculator.form.read(checked(inputs))
        returned = exchange.give_back(question, values, system)
        exchange.read_kept({**checked(kept), **returned.system})
    except InputError as error:
        return refusal(error, calculator)
    parts = []
    if returned.changed:
        parts.append(f"Changed in the system: {'; '.join(returned.changed)}.")
    if returned.kept_out:
        kept_out = ", ".join(returned.kept_out)
        parts.append(f"Not changed, because the system calculates them: {kept_out}.")
    text = " ".join(parts) or "Nothing changed: the system already has these figures."
    return {"kind": "given", "system": dict(returned.system), "text": text}
