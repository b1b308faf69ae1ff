"""An answer as plain data, with the five keys of the contract."""

from calc.answers.calculator import Answer
from calc.answers.sources import cite


def answer_data(answer: Answer) -> dict[str, object]:
    """Return the answer as plain data, figures unrounded."""
    fields = answer.calculator.fields
    return {
        "calculator": answer.calculator.name,
        "inputs": {field.key: field.as_json(answer.inputs[field.key]) for field in fields},
        "results": dict(answer.sheet.results),
        "cautions": list(answer.sheet.cautions),
        "sources": list(cite(answer.sheet.sources)),
    }
