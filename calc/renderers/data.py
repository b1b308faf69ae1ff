"""The data renderers: JSON as the contract has it, and CSV for a spreadsheet."""

import csv
import io
import json

from calc.answers.calculator import Answer
from calc.answers.data import answer_data
from calc.answers.exercise import lettered
from calc.answers.kit import KitLine
from calc.answers.sheet import Box, Cell, Press, Quantity, Span, Verdict
from calc.inputs.errors import InputError
from calc.inputs.fields import Document
from calc.renderers.text import heading_text


def answer_json(answer: Answer) -> str:
    """Write the answer as JSON; a figure that is not a number cannot pass."""
    return json.dumps(answer_data(answer), ensure_ascii=False, indent=2, allow_nan=False)


def errors_json(error: InputError) -> str:
    """Write what is wrong as JSON; of very many things, the number of those left out."""
    errors = [wrong.as_data() for wrong in error.errors]
    return json.dumps({"errors": errors, "more": error.more}, ensure_ascii=True, indent=2)


def answer_csv(answer: Answer) -> str:
    """Write inputs, single results and tables as CSV, parted by empty lines."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")

    def write(row: list[object]) -> None:
        writer.writerow([harmless(cell) for cell in row])

    write(["input", "value", "unit"])
    for field in answer.calculator.fields:
        value = answer.inputs[field.key]
        # A file is a table of its own; here it is told in words.
        text = field.say(value) if isinstance(field, Document) else field.write(value)
        write([field.key, text, field.unit])
    write([])
    write(["result", "value"])
    for key, value in answer.sheet.results.items():
        if not isinstance(value, list | dict):
            write([key, _plain(value)])
    if answer.sheet.exercises:
        write([])
        write(["number", "question", "options", "answer", "unit"])
    for each in answer.sheet.exercises:
        options = "; ".join(" ".join(pair) for pair in lettered(each.options))
        told = each.solution.answer if each.solution else ""
        write([each.number, each.question, options, told, each.unit])
    for table in answer.sheet.all_tables:
        write([])
        write([table.caption])
        write([heading_text(column) for column in table.columns])
        for row in table.rows:
            write([_cell(cell) for cell in row])
    return out.getvalue()


def _plain(value: object) -> object:
    """Return a value as a spreadsheet takes it; twelve figures are the same on any machine."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return float(f"{value:.12g}")
    return "" if value is None else value


def _cell(cell: Cell) -> object:
    match cell:
        case Quantity(value, _):
            return _plain(value)
        case Span(low, high, _):
            return f"{_plain(low)!r} to {_plain(high)!r}"
        case Verdict(state, reason, word):
            return f"{word or state}: {reason}"
        case Box():
            return cell.text
        case KitLine():
            return ""  # a price is the shop's own
        case Press(_, field, text):
            return f"{field}={text}"
        case _:
            return _plain(cell)


def harmless(cell: object) -> object:
    """Keep a spreadsheet from taking a text for a formula."""
    if isinstance(cell, str) and cell[:1] in ("=", "+", "-", "@", "\t", "\r"):
        return "'" + cell
    return cell
