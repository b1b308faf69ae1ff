"""A system as a file: TOML, a table for each step, an array of tables for each list of rows."""

import re
import tomllib
from collections.abc import Mapping, Sequence
from typing import TypeGuard

from calc.answers.figures import exact
from calc.inputs.declared import fields_of
from calc.inputs.errors import FieldError, refuse, shown
from calc.inputs.field_base import Field, Raw, Value
from calc.inputs.fields import Choice, Number, Numbers, Whole, YesNo
from calc.inputs.rows import LOOKED_FOR, NOT_PRINTED, Rows, absent_cell
from calc.system.amplifier import COLUMNS as AMPLIFIER_COLUMNS
from calc.system.amplifier import Amplifier
from calc.system.system import STEPS, SYSTEM_FIELDS

VERSION = 2
_VERSIONS = (1, VERSION)
# Amplifiers in a file: those installed, those compared; of the first version, the one planned.
_AMPLIFIERS: Mapping[str, str] = {
    "amplifiers": "planned",
    "candidates": "candidate",
    "amplifier": "planned",
}
_AMPLIFIER_KEYS = tuple(fields_of(Amplifier))
_LATER = "later"
LONGEST_FILE = 1_000_000  # characters
# A key's parts are read anew for each further one: a hundred thousand would take minutes.
_MOST_DOTS = 50
_MOST_KEYS = 10_000  # lines and figures: a system of all its rows has some hundreds
_PART = r"""(?:"[^"\n]*+"|'[^'\n]*+'|[A-Za-z0-9_-]++)[ \t]*+\.[ \t]*+"""
_DEEP_KEY = re.compile(rf"(?<![A-Za-z0-9_-])(?:{_PART}){{{_MOST_DOTS}}}")
_ROWS = {field.key: field for field in SYSTEM_FIELDS if isinstance(field, Rows)}
_LISTS = [key for key in _ROWS if key != "amplifier"]
_TABLES = {
    step.name: {field.key: field for field in step.fields if field.key not in _ROWS}
    for step in STEPS
    if any(field.key not in _ROWS for field in step.fields)
}


def read_system(text: str) -> tuple[dict[str, Raw], list[FieldError]]:
    """Return a file's figures as the form holds them, each with an entry, and what is wrong.

    What the file leaves out is not known, or takes the usual figure where there is one; an
    invented figure of the handbook's example is never taken.

    Wrong are here: another version, unknown names, a value of the wrong kind.  Ranges, and what
    the values mean together, the form checks, and tells with these.

    Raises InputError when the text is no TOML.
    """
    data = parsed(text, "system file", most=_MOST_KEYS)
    if not {"version", *_TABLES, *_ROWS, *_AMPLIFIERS} & data.keys():
        message = "This is not a system file: it has no version and none of the parts."
        raise refuse("system file", "", f"{message} Use a file like the one the handbook shows.")
    errors = _version_errors(data)
    texts: dict[str, Raw] = {}
    for name, value in data.items():
        if name in ("version", "title", "note"):
            if name != "version" and not isinstance(value, str):
                errors.append(_error(name, value, "Enter a text in quotation marks."))
        elif name in _TABLES:
            errors += _read_table(name, value, texts)
        elif name in _AMPLIFIERS:
            errors += _read_amplifiers(name, value, texts)
        elif name in _ROWS:
            errors += _read_rows(_ROWS[name], value, texts)
        else:
            known = ", ".join(["version", "title", "note", *_TABLES, *_LISTS, *_AMPLIFIERS])
            errors.append(_error(name, value, f"There is no such part. Use one of {known}."))
    for field in SYSTEM_FIELDS:
        if field.key not in texts:
            texts[field.key] = absent(field)
    if "speakers" not in data:
        texts["speakers"] = ""
    return texts, errors


def parsed(text: str, what: str, *, most: int) -> dict[str, object]:
    """Return a TOML text as data; raises InputError when it is none.

    most : lines and figures that it may have; what has more is not even read
    """
    text = without_mark(text)
    if len(text) > LONGEST_FILE:
        raise refuse(
            what,
            text,
            f"The {what} is longer than {LONGEST_FILE} characters. Remove what is not needed.",
        )
    if max(text.count("\n"), text.count("=")) > most:
        many = f"The {what} has more than {most} lines or figures. Remove what is not needed."
        raise refuse(what, "", many)
    if _DEEP_KEY.search(text):
        deep = f"The {what} has a key of more than {_MOST_DOTS} parts. Give a file as the handbook"
        raise refuse(what, "", f"{deep} shows it.")
    try:
        return tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        if re.match(r"[a-z0-9_]+[,;\t]", text):
            is_table = f"This is a table, not a {what}. Open a stock list on “Choose an amplifier”."
            raise refuse(what, "", is_table) from error
        is_deep = isinstance(error, RecursionError)
        reason = "its values are nested too deeply" if is_deep else shown(error)
        message = f"The {what} is not TOML: {reason}. Use a file like the one the handbook shows."
        raise refuse(what, "", message) from error
    except (ValueError, OverflowError) as error:
        # What Python does not read though it is TOML: a whole number of thousands of digits.
        message = f"The {what} holds a number with too many digits. Enter 30 or fewer."
        raise refuse(what, "", message) from error


def without_mark(text: str) -> str:
    """Return a file's text without the byte-order mark that some programs put before it."""
    return text.removeprefix("\ufeff")


def absent(field: Field) -> str:
    """Return what a figure is that a file leaves out.

    The mark of a cable that is not bought yet is the usual one: the kit list asks for it.
    """
    if field.key == "insulation_c":
        return field.default
    if field.optional:
        return ""
    if field.example is not None and isinstance(field, Choice):
        words = dict(field.options)
        return next((word for word in ("not-known", "any") if word in words), "")
    return field.default


_TAKEN_OVER = (
    "This is a version 1 file. Everything in it was kept; [amplifier] is the planned one. "
    "Figures it leaves out now have their usual value, and are marked. Save it again as "
    "version 2."
)


def notices_of(text: str) -> tuple[str, ...]:
    """Return what is to be known of a file that was read: an older version's is taken over."""
    data = parsed(text, "system file", most=_MOST_KEYS)
    return (_TAKEN_OVER,) if data.get("version") == 1 else ()


def empty_system() -> dict[str, str]:
    """Return a system of which nothing is told, as the form holds it."""
    return {field.key: absent(field) for field in SYSTEM_FIELDS}


def _version_errors(data: Mapping[str, object]) -> list[FieldError]:
    version = data.get("version", VERSION)
    if type(version) is int and version in _VERSIONS:
        return []
    message = f"This handbook cannot read that version. Enter version = {VERSION}."
    return [_error("version", version, message)]


def _read_table(name: str, value: object, texts: dict[str, Raw]) -> list[FieldError]:
    if not isinstance(value, dict):
        return [_error(name, value, f"Enter a table [{name}].")]
    errors = []
    for key, figure in value.items():
        field = _TABLES[name].get(key)
        if field is None:
            known = ", ".join(_TABLES[name])
            message = f"There is no such figure. Use one of {known}."
            errors.append(_error(f"{name}.{key}", figure, message))
            continue
        text = cell_text(field, figure)
        if text is None:
            errors.append(_error(f"{name}.{key}", figure, f"Enter {field.permitted()}."))
        else:
            texts[key] = text
    return errors


def _read_rows(field: Rows, value: object, texts: dict[str, Raw]) -> list[FieldError]:
    """Read an array of tables."""
    rows, errors = _rows_of(field.key, field.columns, value)
    texts[field.key] = rows
    return errors


def _read_amplifiers(name: str, value: object, texts: dict[str, Raw]) -> list[FieldError]:
    """Read the amplifiers installed or compared; one table of the first version is a row.

    One that is installed may be planned for later: `later = true`.
    """
    tables = [value] if isinstance(value, dict) else value
    later: list[object] = []
    if name == "amplifiers" and isinstance(tables, list):
        later = [row.get(_LATER, False) if isinstance(row, dict) else False for row in tables]
        tables = [
            {key: figure for key, figure in row.items() if key != _LATER}
            if isinstance(row, dict)
            else row
            for row in tables
        ]
    rows, errors = _rows_of(name, AMPLIFIER_COLUMNS, tables)
    for at, told in enumerate(later, start=1):
        if not isinstance(told, bool):
            errors.append(_cell_error(name, at, _LATER, told, "Enter true or false."))
    before = texts.get("amplifier", [])
    roles = [_LATER if told is True else _AMPLIFIERS[name] for told in later]
    roles += [_AMPLIFIERS[name]] * (len(rows) - len(roles))
    shown = [column.key for column in AMPLIFIER_COLUMNS]
    made = []
    for cells, role in zip(rows, roles, strict=False):
        by_key = {**dict(zip(shown, cells, strict=True)), "role": role}
        # What only a form holds is empty here; the columns stand in the order of the form's.
        made.append([by_key.get(key, "") for key in _AMPLIFIER_KEYS])
    texts["amplifier"] = [*before, *made] if isinstance(before, list) else made
    return errors


def _rows_of(
    name: str, columns: Sequence[Field], value: object
) -> tuple[list[list[str]], list[FieldError]]:
    if not isinstance(value, list) or not all(isinstance(row, dict) for row in value):
        return [], [_error(name, value, f"Enter rows, each under [[{name}]].")]
    errors = []
    rows = []
    for at, row in enumerate(value, start=1):
        cells, wrong = row_cells([each for each in columns if not each.hidden], row, name, at)
        rows.append([*cells, *("" for each in columns if each.hidden)])
        errors += wrong
    return rows, errors


def row_cells(
    columns: Sequence[Field], row: Mapping[str, object], name: str, at: int
) -> tuple[list[str], list[FieldError]]:
    """Return a row's cells as texts, and what is wrong with their names and kinds.

    name, at : of the list of rows, and the row's number from 1
    """
    known = [column.key for column in columns]
    names = f"There is no such figure. Use one of {', '.join(known)}."
    errors = [_cell_error(name, at, key, row[key], names) for key in row if key not in known]
    cells = []
    for column in columns:
        key = column.key
        text = cell_text(column, row[key]) if key in row else absent_cell(column)
        if text is None:
            errors.append(_cell_error(name, at, key, row[key], f"Enter {column.permitted()}."))
        cells.append(text or "")
    return cells, errors


def _cell_error(name: str, at: int, key: str, value: object, problem: str) -> FieldError:
    message = f"{name}, row {at}: {shown(key)}: {problem}"
    return FieldError(name, shown(value), message, row=at, column=shown(key))


def cell_text(field: Field, value: object) -> str | None:
    """Return a TOML value as the field's text; None for a value of another kind."""
    if value == LOOKED_FOR and field.optional:
        return LOOKED_FOR
    if isinstance(field, Numbers):
        values = value if isinstance(value, list) else [value]
        return ";".join(map(_number, values)) if all(map(_is_number, values)) else None
    if isinstance(field, YesNo):
        return ("yes" if value else "no") if isinstance(value, bool) else _text(value)
    if isinstance(field, Number):
        if value == "" and field.optional:
            return ""  # said to be not known, which is another thing than not said
        return _number(value) if _is_number(value) else None
    return _text(value) if not _is_number(value) else _number(value)


def _is_number(value: object) -> TypeGuard[float]:
    """Tell whether it is a number that can be written out; thousands of digits cannot."""
    if isinstance(value, int):
        return not isinstance(value, bool) and abs(value) < 10**30
    return isinstance(value, float)


def _number(value: float) -> str:
    """Write a number as a person types it; what is no figure stays a wrong text."""
    if isinstance(value, int):
        return str(value)
    return exact(value) if abs(value) < 1e30 else repr(value)


def _text(value: object) -> str | None:
    return value if isinstance(value, str) else None


def _error(field: str, value: object, message: str) -> FieldError:
    return FieldError(shown(field), shown(value), f"{shown(field)}: {message}")


# ---- writing


def write_briefly(values: Mapping[str, Value]) -> str:
    """Write a system with nothing in it that may be left out, for a code that holds little."""
    lines = [f"version={VERSION}"]
    for step in STEPS:
        plain = [field for field in step.fields if field.key not in _ROWS]
        written = [line for field in plain for line in _brief_line(field, values[field.key])]
        lines += [f"[{step.name}]", *written] if written else []
        for field in step.fields:
            if field.key in _ROWS:
                for row in values.get(field.key) or ():
                    lines += [line.replace(" = ", "=", 1) for line in _row(_ROWS[field.key], row)]
    return "\n".join(lines) + "\n"


def _brief_line(field: Field, value: Value) -> list[str]:
    if field.write(value) == absent(field):
        return []
    return [line.replace(" = ", "=", 1) for line in _line(field, value)]


def write_system(values: Mapping[str, Value], title: str = "") -> str:
    """Write a system as a file; reading it gives the same figures."""
    lines = [
        "# A system of the handbook. Figures that are left out are not known.",
        f"version = {VERSION}",
    ]
    if title:
        lines.append(f"title = {quoted(title)}")
    for step in STEPS:
        plain = [field for field in step.fields if field.key not in _ROWS]
        lines += ["", f"# {step.heading}"]
        if plain:
            lines.append(f"[{step.name}]")
            lines += [line for field in plain for line in _line(field, values[field.key])]
        for field in step.fields:
            if field.key in _ROWS:
                lines += _row_lines(_ROWS[field.key], values.get(field.key) or ())
    return "\n".join(lines) + "\n"


def _line(field: Field, value: Value) -> list[str]:
    if value is None:
        # An empty figure is left out; one that has a usual figure says that it is empty.
        return [] if absent(field) == "" else [f'{field.key} = ""']
    return [f"{field.key} = {toml_value(field, value)}"]


def _row_lines(field: Rows, rows: Sequence[Value]) -> list[str]:
    return [line for row in rows for line in ("", *_row(field, row))]


def _row(field: Rows, row: Value) -> list[str]:
    """Return a row's lines; what is left out is read as the same again."""
    cells = field.cells_of(row)
    name = field.key
    if name == "amplifier":
        name = "candidates" if cells["role"] == "candidate" else "amplifiers"
    looked_for = (cells.get(NOT_PRINTED) or "").split("+")
    lines = [f"[[{name}]]"]
    for column in field.columns:
        value = cells[column.key]
        if column.hidden:
            continue
        if value is None and column.key in looked_for:
            lines.append(f"{column.key} = {quoted(LOOKED_FOR)}")
        elif value is not None and column.write(value) != absent_cell(column):
            lines.append(f"{column.key} = {toml_value(column, value)}")
    if cells.get("role") == _LATER:
        lines.append(f"{_LATER} = true")
    return lines


def toml_value(field: Field, value: Value) -> str:
    """Write a value as TOML."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(field, Whole):
        return str(value)
    if isinstance(field, Number):
        return exact(float(value))
    if isinstance(field, Numbers):
        return f"[{', '.join(exact(float(each)) for each in value)}]"
    return quoted(field.write(value))


def quoted(text: str) -> str:
    """Write a text in quotation marks, as TOML's basic strings have them.

    >>> quoted('5" woofer')
    '"5\\\\" woofer"'
    """
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return '"' + "".join(c if c.isprintable() else f"\\U{ord(c):08X}" for c in escaped) + '"'
