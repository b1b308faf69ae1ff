"""A system as a file: TOML, a table for each step, an array of tables for each list of rows."""

import re
import tomllib
from collections.abc import Mapping, Sequence
from typing import Any

from calc.answers.figures import exact
from calc.choosing.fields import STEPS, SYSTEM_FIELDS
from calc.inputs.errors import FieldError, refuse, shown
from calc.inputs.fields import Choice, Field, Number, Numbers, Raw, Rows, Whole, YesNo

VERSION = 1
LONGEST_FILE = 1_000_000  # characters
# A key's parts are read anew for each further one: a hundred thousand would take minutes.
_MOST_DOTS = 50
_PART = r"""(?:"[^"\n]*+"|'[^'\n]*+'|[A-Za-z0-9_-]++)[ \t]*+\.[ \t]*+"""
_DEEP_KEY = re.compile(rf"(?<![A-Za-z0-9_-])(?:{_PART}){{{_MOST_DOTS}}}")
_ROWS = {one.key: one for one in SYSTEM_FIELDS if isinstance(one, Rows)}
_TABLES = {
    step.name: {one.key: one for one in step.fields if one.key not in _ROWS}
    for step in STEPS
    if any(one.key not in _ROWS for one in step.fields)
}


def read_system(text: str) -> tuple[dict[str, Raw], list[FieldError]]:
    """Return a file's figures as the form holds them, each with an entry, and what is wrong.

    What the file leaves out is not known, or takes the usual figure where there is one; an
    invented figure of the handbook's example is never taken.

    Wrong are here: another version, unknown names, a value of the wrong kind.  Ranges, and what
    the values mean together, the form checks, and tells with these.

    Raises InputError when the text is no TOML.
    """
    data = parsed(text, "system file")
    if not {"version", *_TABLES, *_ROWS} & data.keys():
        told = "This is not a system file: it has no version and none of its parts."
        raise refuse("system file", "", f"{told} Give a file as the handbook shows it.")
    errors = _version_errors(data)
    given: dict[str, Raw] = {}
    for name, value in data.items():
        if name in ("version", "title", "note"):
            if name != "version" and not isinstance(value, str):
                errors.append(_error(name, value, "Give a text in quotation marks."))
        elif name in _TABLES:
            errors += _read_table(name, value, given)
        elif name in _ROWS:
            errors += _read_rows(_ROWS[name], value, given)
        else:
            known = ", ".join(["version", "title", "note", *_TABLES, *_ROWS])
            errors.append(_error(name, value, f"There is no such part. There are {known}."))
    for one in SYSTEM_FIELDS:
        if one.key not in given:
            given[one.key] = absent(one)
    if "speakers" not in data:
        given["speakers"] = ""
    return given, errors


def parsed(text: str, what: str) -> dict[str, Any]:
    """Return a TOML text as data; raises InputError when it is none."""
    text = without_mark(text)
    if len(text) > LONGEST_FILE:
        raise refuse(what, text, f"The {what} is longer than {LONGEST_FILE} characters.")
    if _DEEP_KEY.search(text):
        told = f"The {what} has a key of more than {_MOST_DOTS} parts. Give a file as the handbook"
        raise refuse(what, "", f"{told} shows it.")
    try:
        return tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        if re.match(r"[a-z0-9_]+[,;\t]", text):
            told = f"This is a table and no {what}. Open a shelf list on ‘Choose an amplifier’."
            raise refuse(what, "", told) from error
        is_deep = isinstance(error, RecursionError)
        why = "its values lie too deep within one another" if is_deep else shown(error)
        message = f"The {what} is not TOML: {why}. Give a file as the handbook shows it."
        raise refuse(what, "", message) from error
    except (ValueError, OverflowError) as error:
        # What Python does not read though it is TOML: a whole number of thousands of digits.
        message = f"The {what} holds a number of too many digits. Give up to 30."
        raise refuse(what, "", message) from error


def without_mark(text: str) -> str:
    """Return a file's text without the byte-order mark that some programs put before it."""
    return text.removeprefix("\ufeff")


def absent(one: Field) -> str:
    """Return what a figure is that a file leaves out.

    The mark of a cable that is not bought yet is the usual one: the kit list asks for it.
    """
    if one.key == "insulation_c":
        return one.default
    if one.optional:
        return ""
    if "Lantern Van" in one.source and isinstance(one, Choice):
        return "not-known" if "not-known" in dict(one.options) else ""
    return one.default


def _version_errors(data: Mapping[str, Any]) -> list[FieldError]:
    version = data.get("version")
    if type(version) is int and version == VERSION:
        return []
    told = "It is missing." if version is None else "This handbook does not know it."
    return [_error("version", version or "", f"{told} Give version = {VERSION}.")]


def _read_table(name: str, value: Any, given: dict[str, Raw]) -> list[FieldError]:
    if not isinstance(value, dict):
        return [_error(name, value, f"Give a table [{name}].")]
    errors = []
    for key, one in value.items():
        field = _TABLES[name].get(key)
        if field is None:
            known = ", ".join(_TABLES[name])
            told = f"There is no such figure. There are {known}."
            errors.append(_error(f"{name}.{key}", one, told))
            continue
        found = cell_text(field, one)
        if found is None:
            errors.append(_error(f"{name}.{key}", one, f"Give {field.permitted()}."))
        else:
            given[key] = found
    return errors


def _read_rows(field: Rows, value: Any, given: dict[str, Raw]) -> list[FieldError]:
    """Read an array of tables, or one table where there can be one row only."""
    if isinstance(value, dict) and field.most == 1:
        value = [value]
    if not isinstance(value, list) or not all(isinstance(row, dict) for row in value):
        return [_error(field.key, value, f"Give rows, each under [[{field.key}]].")]
    errors = []
    rows = []
    for at, row in enumerate(value, start=1):
        cells, wrong = row_cells(field.columns, row, field.key, at)
        rows.append(cells)
        errors += wrong
    given[field.key] = rows
    return errors


def row_cells(
    columns: Sequence[Field], row: Mapping[str, Any], name: str, at: int
) -> tuple[list[str], list[FieldError]]:
    """Return a row's cells as texts, and what is wrong with their names and kinds.

    name, at : of the list of rows, and the row's number from 1
    """
    known = {one.key for one in columns}
    names = f"There is no such figure. There are {', '.join(one.key for one in columns)}."
    errors = [_cell_error(name, at, key, row[key], names) for key in row if key not in known]
    cells = []
    for one in columns:
        text = cell_text(one, row[one.key]) if one.key in row else _absent_cell(one)
        if text is None:
            told = f"Give {one.permitted()}."
            errors.append(_cell_error(name, at, one.key, row[one.key], told))
        cells.append(text or "")
    return cells, errors


def _cell_error(name: str, at: int, key: str, given: object, told: str) -> FieldError:
    message = f"{name}, row {at}: {shown(key)}: {told}"
    return FieldError(name, shown(given), message, row=at, column=shown(key))


def _absent_cell(one: Field) -> str:
    """A cell that is left out: not known, or what the usual figure is."""
    return one.default if one.key in ("coils", "order", "family", "times", "off") else ""


def cell_text(one: Field, value: Any) -> str | None:
    """Return a TOML value as the field's text; None for a value of another kind."""
    if isinstance(one, Numbers):
        values = value if isinstance(value, list) else [value]
        return ";".join(map(_number, values)) if all(map(_is_number, values)) else None
    if isinstance(one, YesNo):
        return ("yes" if value else "no") if isinstance(value, bool) else _text(value)
    if isinstance(one, Number):
        if value == "" and one.optional:
            return ""  # said to be not known, which is another thing than not said
        return _number(value) if _is_number(value) else None
    return _text(value) if not _is_number(value) else _number(value)


def _is_number(value: Any) -> bool:
    """Tell whether it is a number that can be written out; thousands of digits cannot."""
    if isinstance(value, int):
        return not isinstance(value, bool) and abs(value) < 10**30
    return isinstance(value, float)


def _number(value: float) -> str:
    """Write a number as a person types it; what is no figure stays a wrong text."""
    if isinstance(value, int):
        return str(value)
    return exact(value) if abs(value) < 1e30 else repr(value)


def _text(value: Any) -> str | None:
    return value if isinstance(value, str) else None


def _error(field: str, given: object, message: str) -> FieldError:
    return FieldError(shown(field), shown(given), f"{shown(field)}: {message}")


# ---- writing


def write_briefly(values: Mapping[str, Any]) -> str:
    """Write a system with nothing in it that may be left out, for a code that holds little."""
    lines = [f"version={VERSION}"]
    for step in STEPS:
        plain = [one for one in step.fields if one.key not in _ROWS]
        own = [line for one in plain for line in _brief_line(one, values[one.key])]
        lines += [f"[{step.name}]", *own] if own else []
        for one in step.fields:
            for row in _cells(_ROWS[one.key], values.get(one.key)) if one.key in _ROWS else ():
                lines.append(f"[{one.key}]" if _ROWS[one.key].most == 1 else f"[[{one.key}]]")
                lines += [
                    f"{column.key}={toml_value(column, row[column.key])}"
                    for column in _ROWS[one.key].columns
                    if row[column.key] is not None
                    and column.write(row[column.key]) != _absent_cell(column)
                ]
    return "\n".join(lines) + "\n"


def _brief_line(one: Field, value: Any) -> list[str]:
    if one.write(value) == absent(one):
        return []
    return [line.replace(" = ", "=", 1) for line in _line(one, value)]


def write_system(values: Mapping[str, Any], title: str = "") -> str:
    """Write a system as a file; reading it gives the same figures."""
    lines = ["# A system of the handbook. What is left out is not known.", f"version = {VERSION}"]
    if title:
        lines.append(f"title = {quoted(title)}")
    for step in STEPS:
        plain = [one for one in step.fields if one.key not in _ROWS]
        lines += ["", f"# {step.heading}"]
        if plain:
            lines.append(f"[{step.name}]")
            lines += [line for one in plain for line in _line(one, values[one.key])]
        for one in step.fields:
            if one.key in _ROWS:
                lines += _row_lines(_ROWS[one.key], values.get(one.key))
    return "\n".join(lines) + "\n"


def _line(one: Field, value: Any) -> list[str]:
    if value is None:
        # An empty figure is left out; one that has a usual figure says that it is empty.
        return [] if absent(one) == "" else [f'{one.key} = ""']
    return [f"{one.key} = {toml_value(one, value)}"]


def _cells(field: Rows, rows: Any) -> list[Mapping[str, Any]]:
    """Return the cells of rows by their columns' keys."""
    return [field.cells_of(row) for row in rows or ()]


def _row_lines(field: Rows, rows: Any) -> list[str]:
    head = f"[{field.key}]" if field.most == 1 else f"[[{field.key}]]"
    lines = []
    for row in _cells(field, rows):
        lines += ["", head]
        for column in field.columns:
            if row[column.key] is not None:
                lines.append(f"{column.key} = {toml_value(column, row[column.key])}")
    return lines


def toml_value(one: Field, value: Any) -> str:
    """Write a value as TOML."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(one, Whole):
        return str(value)
    if isinstance(one, Number):
        return exact(float(value))
    if isinstance(one, Numbers):
        return f"[{', '.join(exact(float(each)) for each in value)}]"
    return quoted(one.write(value))


def quoted(text: str) -> str:
    """Write a text in quotation marks, as TOML's basic strings have them.

    >>> quoted('5" woofer')
    '"5\\\\" woofer"'
    """
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return '"' + "".join(c if c.isprintable() else f"\\U{ord(c):08X}" for c in escaped) + '"'
