"""A pasted spec sheet, as the page asks for it to be read."""

from collections.abc import Mapping

from calc.answers.markup import markup
from calc.inputs.errors import InputError
from calc.reading import proposal, read_amplifier, read_speaker


def proposed(request: Mapping[str, object]) -> dict[str, object]:
    """Return what was read from a text, to be shown beside it; or why nothing was."""
    read = read_speaker if request.get("about") == "speaker" else read_amplifier
    typed = request.get("current")
    current = (
        {str(key): str(text) for key, text in typed.items()} if isinstance(typed, dict) else {}
    )
    try:
        reading = read(str(request["text"]))
    except InputError as error:
        return {"kind": "failed", "text": error.errors[0].message}
    return {
        "kind": "proposal",
        "html": markup(proposal(reading, current)),
        "figures": len(reading.figures),
    }
