"""The command line: `python -m calc`, see `--help`."""

import argparse
import os
import stat
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import NoReturn

from calc.answers.calculator import Answer, AnyCalculator
from calc.answers.sources import cite
from calc.app.contents import CALCULATORS, link_of
from calc.inputs.errors import FieldError, InputError, and_more, refuse, shown
from calc.inputs.field_base import Field, Raw
from calc.inputs.fields import Document
from calc.inputs.rows import Rows
from calc.renderers.data import answer_json, errors_json
from calc.renderers.html import answer_html
from calc.renderers.text import answer_text

LONGEST_FILE_BYTES = 4_000_000  # a file of the most characters that is read, in any script


class _Parser(argparse.ArgumentParser):
    """Reports wrong options like every other wrong input."""

    def error(self, message: str) -> NoReturn:
        raise refuse("command line", message, f"{_cut(message)}. See python -m calc --help.")


def _cut(message: str) -> str:
    """Return argparse's message with what was typed printable and not too long."""
    head, colon, typed = message.partition(": ")
    return f"{head}: {shown(typed)}" if colon else shown(message)


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(
        prog="python -m calc",
        description="Work out one of the handbook's calculators.",
        epilog=(
            "Without a name: the list of calculators. Rows: separate cells by ',' and rows by ';'."
        ),
        allow_abbrev=False,
    )
    parser.add_argument("name", nargs="?", help="the calculator")
    parser.add_argument(
        "inputs", nargs="*", metavar="key=value", help="what differs from the worked example"
    )
    shape = parser.add_mutually_exclusive_group()
    shape.add_argument("--json", action="store_true", help="print the answer as JSON")
    shape.add_argument(
        "--html",
        action="store_true",
        help="print the page's fragment; of a plan the workshop sheet, ready for paper",
    )
    shape.add_argument(
        "--kit-csv", action="store_true", help="print the kit list as CSV, a line for each article"
    )
    shape.add_argument("--fields", action="store_true", help="print the fields")
    shape.add_argument("--template", action="store_true", help="print a stock list to fill in")
    shape.add_argument("--link", action="store_true", help="print the page link")
    shape.add_argument("--wav", metavar="FILE", help="write the answer's sound to a file")
    return parser


def _texts(
    calculator: AnyCalculator, pairs: Sequence[str]
) -> tuple[dict[str, Raw], list[FieldError], tuple[str, ...]]:
    """Return the inputs by key, what is wrong with the way they are written, and what is to be
    known of a file.

    What is no key=value is a file, where the calculator reads one.
    """
    notices: tuple[str, ...] = ()
    texts: dict[str, Raw] = {}
    from_files: dict[str, Raw] = {}
    errors: list[FieldError] = []
    readers = list(calculator.files)
    for pair in pairs:
        key, equals, value = pair.partition("=")
        if readers and not equals:
            text = _file_text(pair)
            if pair.lower().endswith(".txt") and not _is_written_for_us(text):
                from_files |= _of_texts(calculator, text)
                continue
            if len(readers) == len(calculator.files) and calculator.notices_of_file is not None:
                notices = calculator.notices_of_file(text)
            inputs, wrong = readers.pop(0)(text)
            from_files |= inputs
            errors += wrong
        elif not equals:
            message = f"‘{shown(pair)}’ is not an input. Enter key=value."
            errors.append(FieldError("command line", shown(pair), message))
        elif key in texts:
            message = (
                f"{shown(key)}: entered twice, the second time as ‘{shown(value)}’. Enter it once."
            )
            errors.append(FieldError(shown(key), shown(value), message))
        else:
            texts[key] = value
    return from_files | texts, errors, notices


def _is_written_for_us(text: str) -> bool:
    """Tell a list or a system from spec sheets, whatever the file's name ends in."""
    from calc.system.files.shelf_table import has_head

    return has_head(text) or any(line.lstrip().startswith("[[") for line in text.splitlines())


def _of_texts(calculator: AnyCalculator, text: str) -> dict[str, Raw]:
    """Return the stock list that spec sheets make; what was read of them is told."""
    # Imported here: few lists are texts.
    from calc.reading.shelf import shelf_of_texts

    shelf, told = shelf_of_texts(text)
    sys.stderr.write("".join(f"{line}\n" for line in told))
    inputs, _ = calculator.files[-1](shelf)
    return dict(inputs)


def _file_text(path: str) -> str:
    """Return a file's text; bad input where there is none.

    Only so much is read as any file of ours holds, and only of a file: what is written to while
    it is read need not come to an end, or to a beginning.
    """
    try:
        # A named pipe that nobody writes to would keep a plain `open` waiting.
        handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0))
        with open(handle, "rb") as file:
            if not stat.S_ISREG(os.fstat(handle).st_mode):
                raise _unreadable(path, "it is not a file")
            data = file.read(LONGEST_FILE_BYTES + 1)
    except IsADirectoryError as error:
        raise _unreadable(path, "it is not a file") from error
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) else "not the name of a file"
        raise _unreadable(path, reason or "no file") from error
    if len(data) > LONGEST_FILE_BYTES:
        raise _unreadable(path, f"it is longer than {LONGEST_FILE_BYTES} bytes")
    if data.startswith((b"PK\x03\x04", b"\xd0\xcf\x11\xe0")):
        # A spreadsheet, or an old one that is refused; imported where there is one.
        from calc.system.files.spreadsheet import read_spreadsheet

        return read_spreadsheet(data)
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        raise _unreadable(path, "it is not text in UTF-8") from error
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _unreadable(path: str, reason: str) -> InputError:
    message = f"‘{shown(path)}’ cannot be read ({reason}). Enter key=value, or a file."
    return refuse("command line", path, message)


def _calculator(name: str) -> AnyCalculator:
    if name not in CALCULATORS:
        known = ", ".join(CALCULATORS)
        message = f"There is no calculator ‘{shown(name)}’. Use one of {known}."
        raise refuse("calculator", name, message)
    return CALCULATORS[name]


def _field_lines(field: Field, indent: str = "") -> list[str]:
    unit = f" [{field.unit}]" if field.unit else ""
    empty = f"; empty: {field.empty}" if field.optional else ""
    default = field.say(field.read(field.default)) if isinstance(field, Document) else field.default
    lines = [
        f"{indent}{field.key}{unit}  {field.kind}: {field.label}",
        f"{indent}    allowed: {field.permitted()}{empty}",
        f"{indent}    default: {default or 'not known'}"
        + (f" ({cite([field.source])[0]})" if field.source else ""),
    ]
    if isinstance(field, Rows | Document):
        for column in field.columns:
            lines += _field_lines(column, indent + "    ")
    return lines


def fields_text(calculator: AnyCalculator) -> str:
    """Describe the fields of a calculator."""
    lines = [f"{calculator.name}: {calculator.question}"]
    for field in calculator.fields:
        lines += _field_lines(field)
    return "\n".join(lines) + "\n"


def _output(options: argparse.Namespace) -> str:
    if options.name is None:
        return "".join(
            f"{name}  {calculator.question}\n" for name, calculator in CALCULATORS.items()
        )
    calculator = _calculator(options.name)
    if options.fields:
        return fields_text(calculator)
    if options.template:
        return _template(calculator)
    texts, errors, notices = _texts(calculator, options.inputs)
    answer = calculator.answer(texts, errors)
    # Only with an answer: where there is none, what is wrong stands there alone, as data if asked.
    sys.stderr.write("".join(f"{line}\n" for line in notices))
    if options.json:
        return answer_json(answer) + "\n"
    if options.html:
        return _html(answer) + "\n"
    if options.link:
        return link_of(answer) + "\n"
    if options.kit_csv:
        return _kit(answer)
    if options.wav is not None:
        return _saved(answer, options.wav)
    return answer_text(answer)


def _html(answer: Answer) -> str:
    """Return the page's fragment; of an answer with a paper a document that prints it.

    Nobody knows at which address the handbook will be read: the code holds the system's file.
    """
    write = answer.calculator.write_brief
    if answer.sheet.paper is None or write is None:
        return answer_html(answer)
    # Imported here: the page's Python has no command line, and most answers no paper.
    from calc.app.away import code_on_paper
    from calc.renderers.html_document import document_html

    try:
        code = code_on_paper(write(answer.inputs), "file")
    except ImportError:  # without the QR library the corner stays empty
        code = None
    return document_html(answer, code)


def _kit(answer: Answer) -> str:
    """Return the answer's kit list as CSV; bad input where it has none."""
    # Imported here: few ask for it.
    from calc.renderers.kit_csv import kit_csv

    if answer.sheet.kit:
        return kit_csv(answer.sheet.kit)
    name = answer.calculator.name
    reason = "Only kit-list does, and fit-plan once an amplifier is planned."
    raise refuse("--kit-csv", name, f"{name} has no kit list here. {reason}")


def _template(calculator: AnyCalculator) -> str:
    """Return the file that a calculator gives to start from; bad input where it has none."""
    for field in calculator.fields:
        if isinstance(field, Document) and field.template:
            return field.template
    message = f"{calculator.name} has no template. Only amplifier-choice and fit-plan do."
    raise refuse("--template", calculator.name, message)


def _saved(answer: Answer, path: str) -> str:
    """Write the answer's sound and say so; bad input where it has none or it cannot be written."""
    sound = answer.sheet.sound
    if sound is None:
        name = answer.calculator.name
        raise refuse("--wav", path, f"{name} makes no sound. Only test-tone does.")
    try:
        Path(path).write_bytes(sound.wav())
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) else "not the name of a file"
        message = f"‘{shown(path)}’ cannot be written ({reason}). Enter another file."
        raise refuse("--wav", path, message) from error
    return f"{sound.title}: written to {shown(path)}\n"


def main(arguments: Sequence[str]) -> int:
    """Run the command line; returns 0 with an answer and 2 for bad input."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="backslashreplace")
    try:
        sys.stdout.write(_output(_parser().parse_intermixed_args(arguments)))
    except InputError as error:
        if "--json" in arguments:
            text = errors_json(error)
        else:
            lines = [wrong.message for wrong in error.errors]
            text = "\n".join([*lines, and_more(error.more)] if error.more else lines)
        sys.stderr.write(text + "\n")
        return 2
    return 0


def run() -> int:
    """Run the command line of this process; a reader that has gone is no error."""
    try:
        status = main(sys.argv[1:])
        sys.stdout.flush()
    except BrokenPipeError:
        # The reader has gone (for example `| head`); nothing is left to tell it.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        status = 0
    return status
