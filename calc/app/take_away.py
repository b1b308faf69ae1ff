"""What the page asks for to be taken away: a text, data, a file, a sound, a code.

Where it cannot be made the reply says why, and there is never an empty thing in its place.
"""

from base64 import b64encode
from collections.abc import Callable

from calc.answers.calculator import AnyCalculator
from calc.answers.markup import markup
from calc.app import stock
from calc.inputs.errors import InputError, refuse, shown
from calc.inputs.field_base import Raw
from calc.renderers.data import answer_csv, answer_json
from calc.renderers.html_errors import errors_html
from calc.renderers.text import answer_text

HAND_OVERS = {
    "text": (answer_text, "txt"),
    "json": (answer_json, "json"),
    "csv": (answer_csv, "csv"),
}


def checked(inputs: object) -> dict[str, Raw]:
    """Return the inputs if they have the shape that a form sends."""

    def is_rows(raw: object) -> bool:
        return isinstance(raw, list) and all(
            isinstance(row, list) and all(isinstance(cell, str) for cell in row) for row in raw
        )

    if not isinstance(inputs, dict):
        raise refuse("inputs", type(inputs).__name__, "Inputs: give fields with texts.")
    for key, raw in inputs.items():
        if not isinstance(raw, str) and not is_rows(raw):
            message = f"{shown(key)}: ‘{shown(raw)}’ is not text. Give a text, or rows of texts."
            raise refuse(shown(key), raw, message)
    return inputs


def refusal(error: InputError, calculator: AnyCalculator) -> dict[str, object]:
    """Return what is wrong with the inputs, all at once."""
    return {
        "kind": "refused",
        "errors": [wrong.as_data() for wrong in error.errors],
        "more_errors": error.more,
        "html": errors_html(error, calculator),
    }


def _made(what: str, make: Callable[[], dict[str, object]]) -> dict[str, object]:
    """Return what is taken away; where it cannot be made, say so and why."""
    try:
        return make()
    except MemoryError:
        reason = "there is not enough memory"
    except ValueError as error:
        reason = str(error)
    return {"kind": "failed", "text": f"The {what} was not made: {reason}."}


def handed_over(calculator: AnyCalculator, inputs: object, shape: str) -> dict[str, object]:
    """Return the answer, the inputs or the template as a text or a file."""
    if shape == "template":
        return stock.template_of(calculator.fields)
    try:
        answer = calculator.answer(checked(inputs))
    except InputError as error:
        return refusal(error, calculator)
    if shape == "file" and calculator.write_file is not None:
        write_file = calculator.write_file
        return _made(
            "file",
            lambda: {
                "kind": "handed-over",
                "text": write_file(answer.inputs),
                "name": "system.toml",
            },
        )
    write, ending = HAND_OVERS[shape]
    name = f"{calculator.name}.{ending}"
    return _made(
        "text" if shape == "text" else "file",
        lambda: {"kind": "handed-over", "text": write(answer), "name": name},
    )


def sounded(calculator: AnyCalculator, inputs: object) -> dict[str, object]:
    """Return the answer's sound as a file in base 64."""
    try:
        sound = calculator.answer(checked(inputs)).sheet.sound
    except InputError as error:
        return refusal(error, calculator)
    if sound is None:
        raise ValueError(f"{calculator.name} makes no sound")

    def make() -> dict[str, object]:
        return {"kind": "sound", "wav": b64encode(sound.wav()).decode("ascii"), "name": sound.name}

    return _made("sound", make)


def qr_of_file(calculator: AnyCalculator, inputs: object) -> dict[str, object]:
    """Return the code that holds the file of the inputs itself."""
    try:
        values = calculator.form.read(checked(inputs))
    except InputError as error:
        return refusal(error, calculator)
    if calculator.write_brief is None:
        raise ValueError(f"{calculator.name} writes no file")
    return qr(calculator.write_brief(values), "file")


def qr(text: str, what: str) -> dict[str, object]:
    """Return a text as a code; `what` is what it is in words."""
    # Imported here so that the command line works without the QR library.
    from calc.renderers.qr import qr_svg

    return _made(
        "QR code",
        lambda: {"kind": "handed-over", "text": markup(qr_svg(text, what)), "name": "link.svg"},
    )
