"""A spreadsheet (.xlsx) as a list parted by commas: the filled cells of its first sheet.

The format is ECMA-376: a zip archive of XML parts.  Nothing in it is trusted: sizes, parts, rows
and cells have limits, document type declarations are refused, and what is shown otherwise than it
is stored (dates, per cent, units in a cell's format) is written as it is shown.
"""

import csv
import io
import pyexpat
import re
import zipfile
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from math import isfinite

from calc.answers.figures import exact
from calc.inputs.errors import InputError, refuse
from calc.system.files.system_file import LONGEST_FILE

LARGEST = 4_000_000  # bytes of the file
_LARGEST_PART = 8_000_000  # bytes of a part when it is unpacked
_MOST_PARTS, _MOST_STYLES, _MOST_TEXTS = 1000, 10_000, 200_000
_MOST_CELLS, _MOST_ROWS, _MOST_COLUMNS = 200_000, 5000, 300
_ZIP, _OLD = b"PK\x03\x04", b"\xd0\xcf\x11\xe0"
# A semicolon is in no cell of ours: such a text passes for nothing.
DATE = "a date; format the cell as text"
_DATES = {*range(14, 23), *range(27, 37), *range(45, 48), *range(50, 59)}
_PERCENT = {9, 10}
Start = Callable[[str, Mapping[str, str]], None]


def is_spreadsheet(data: bytes) -> bool:
    """Tell whether a file's first bytes are those of a spreadsheet, a readable one or not."""
    return data.startswith((_ZIP, _OLD))


def read_spreadsheet(data: bytes) -> str:
    """Return the first sheet of a file as text parted by commas, its rows where they stand.

    Raises InputError in words for what cannot be read.
    """
    if data.startswith(_OLD):
        raise _refused(
            "is in an old format or has a password. Save it as .xlsx without a password, or as CSV"
        )
    if len(data) > LARGEST:
        raise _refused(
            f"is larger than {LARGEST // 1_000_000} MB. Save the list in a file of its own"
        )
    try:
        # Another encoding of names would be imported, and the page's Python has none to import.
        with zipfile.ZipFile(io.BytesIO(data), metadata_encoding="utf-8") as archive:
            rows = _Book(archive).rows()
    except (zipfile.BadZipFile, pyexpat.ExpatError, NotImplementedError, EOFError) as error:
        raise _refused("is damaged. Open it and save it again as .xlsx or CSV") from error
    except (ValueError, ArithmeticError, LookupError, OSError, RuntimeError) as error:
        raise _refused("cannot be read. Save it as CSV") from error
    out = io.StringIO()
    csv.writer(out, lineterminator="\n").writerows(rows)
    if len(out.getvalue()) > LONGEST_FILE:
        raise _refused(
            f"holds more than {LONGEST_FILE} characters. Save the list in a file of its own"
        )
    return out.getvalue()


def _refused(why: str) -> InputError:
    return refuse("shelf", "", f"The spreadsheet {why}.")


@dataclass
class _Xml:
    """What a part is read with: called at an element's start and, with its text, at its end."""

    start: Start
    end: Callable[[str, str], None]
    text: list[str] = field(default_factory=list)

    def read(self, data: bytes) -> None:
        """Read a part; names are given without their prefix."""
        parser = pyexpat.ParserCreate()
        parser.StartDoctypeDeclHandler = self._doctype
        parser.StartElementHandler = self._start
        parser.EndElementHandler = self._end
        parser.CharacterDataHandler = self.text.append
        parser.Parse(data, True)

    def _doctype(self, *_: object) -> None:
        raise _refused("has a document type, which no spreadsheet has. Save it again as .xlsx")

    def _start(self, name: str, attributes: dict[str, str]) -> None:
        self.text.clear()
        self.start(name.rpartition(":")[2], attributes)

    def _end(self, name: str) -> None:
        self.end(name.rpartition(":")[2], "".join(self.text))
        self.text.clear()


def _nothing(*_: object) -> None:
    """Do nothing at an element's start or end."""


class _Book:
    """A file's parts, as far as its first sheet needs them."""

    def __init__(self, archive: zipfile.ZipFile) -> None:
        self._archive = archive
        if len(archive.infolist()) > _MOST_PARTS:
            raise _refused(f"has more than {_MOST_PARTS} parts. Save it as CSV")

    def _part(self, name: str) -> bytes:
        """Return a part, empty where there is none; no more of it than is permitted is unpacked."""
        if name not in self._archive.namelist():
            return b""
        with self._archive.open(name) as part:
            data = part.read(_LARGEST_PART + 1)
        if len(data) > _LARGEST_PART:
            raise _refused(
                "is too large when unpacked. Save the list in a file of its own, or as CSV"
            )
        return data

    def _read(self, name: str, start: Start, end: Callable[[str, str], None] = _nothing) -> bool:
        data = self._part(name)
        if data:
            _Xml(start, end).read(data)
        return bool(data)

    def rows(self) -> list[list[str]]:
        """Return the texts of the first sheet's rows, empty ones among them."""
        sheet = _Sheet(self._texts(), self._formats())
        if not self._read(self._first_sheet(), sheet.start, sheet.end):
            raise _refused("has no sheet. Save it again as .xlsx or CSV")
        return list(sheet.rows())

    def _first_sheet(self) -> str:
        """Return the name of the part with the first sheet that is not hidden."""
        sheets: list[str] = []
        targets: dict[str, str] = {}

        def sheet(name: str, attributes: Mapping[str, str]) -> None:
            if name == "sheet" and attributes.get("state", "visible") == "visible":
                sheets.extend(
                    value for key, value in attributes.items() if key.rpartition(":")[2] == "id"
                )

        def relation(name: str, attributes: Mapping[str, str]) -> None:
            if name == "Relationship":
                targets[attributes.get("Id", "")] = attributes.get("Target", "")

        self._read("xl/workbook.xml", sheet)
        self._read("xl/_rels/workbook.xml.rels", relation)
        target = targets.get(sheets[0], "") if sheets else ""
        if not target:
            return "xl/worksheets/sheet1.xml"
        return target[1:] if target.startswith("/") else f"xl/{target}"

    def _texts(self) -> list[str]:
        """Return the texts that cells share."""
        texts: list[str] = []
        parts: list[str] = []
        is_reading_aid = False  # how a word is spoken stands beside it

        def start(name: str, _: Mapping[str, str]) -> None:
            nonlocal is_reading_aid
            if name == "si":
                parts.clear()
            is_reading_aid = is_reading_aid or name == "rPh"

        def end(name: str, text: str) -> None:
            nonlocal is_reading_aid
            if name == "t" and not is_reading_aid:
                parts.append(text)
            elif name == "rPh":
                is_reading_aid = False
            elif name == "si":
                texts.append("".join(parts))
                if len(texts) > _MOST_TEXTS:
                    raise _refused("holds too many texts. Save the list in a file of its own")

        self._read("xl/sharedStrings.xml", start, end)
        return texts

    def _formats(self) -> list["_Format"]:
        """Return how cells show numbers, by their style."""
        codes: dict[int, str] = {}
        numbers: list[int] = []
        is_in_cells = False

        def start(name: str, attributes: Mapping[str, str]) -> None:
            nonlocal is_in_cells
            if name == "numFmt":
                codes[int(attributes["numFmtId"])] = attributes.get("formatCode", "")
            elif name == "cellXfs":
                is_in_cells = True
            elif name == "xf" and is_in_cells:
                numbers.append(int(attributes.get("numFmtId", "0")))
            if len(codes) + len(numbers) > _MOST_STYLES:
                raise _refused("has too many styles. Save it as CSV")

        def end(name: str, _: str) -> None:
            nonlocal is_in_cells
            is_in_cells = is_in_cells and name != "cellXfs"

        self._read("xl/styles.xml", start, end)
        return [_format(number, codes.get(number, "")) for number in numbers]


@dataclass(frozen=True)
class _Format:
    """How a number is shown: as a date, in per cent, with words before and behind it."""

    is_date: bool = False
    is_percent: bool = False
    before: str = ""
    behind: str = ""

    def text(self, number: float) -> str:
        """Return the number as it is shown, with as many digits as it has."""
        if self.is_date:
            return DATE
        if not isfinite(number):
            raise ValueError(number)
        value = float(f"{100 * number if self.is_percent else number:.15g}")
        digits = exact(value)
        if re.fullmatch(r"-?[0-9]+\.[0-9]{3}", digits):
            digits += "0"  # three digits behind a mark may be thousands
        unit = " %" if self.is_percent else f" {self.behind}" if self.behind else ""
        return f"{self.before}{digits}{unit}"


def _format(number: int, code: str) -> _Format:
    """Return a format by its number and code, such as `0.0" mm"` or `[$€-407] #,##0.00`."""
    first = code.split(";")[0][:200]
    bare = re.sub(r'"[^"]*"|\[[^\]]*\]|\\.|[_*].', "", first)
    if number in _DATES or re.search("[dmyhs]", bare.lower()):
        return _Format(is_date=True)
    if number in _PERCENT or "%" in bare:
        return _Format(is_percent=True)
    place = re.search(r"[0#?]", re.sub(r'"[^"]*"', lambda quoted: " " * len(quoted[0]), first))
    words = [
        (word.start(), (word[1] or word[2] or "").strip())
        for word in re.finditer(r'"([^"]*)"|\[\$([^\]-]*)[^\]]*\]', first)
    ]
    at = place.start() if place else 0
    return _Format(
        before="".join(word for start, word in words if start < at),
        behind=" ".join(word for start, word in words if start >= at and word),
    )


class _Sheet:
    """The filled cells of a sheet, by row and column from 0."""

    def __init__(self, texts: list[str], formats: list[_Format]) -> None:
        self._texts, self._formats = texts, formats
        self._cells: dict[tuple[int, int], str] = {}
        self._row, self._column = -1, -1
        self._kind, self._style = "n", 0
        self._value: list[str] = []

    def start(self, name: str, attributes: Mapping[str, str]) -> None:
        """Take a row's or a cell's place."""
        if name == "row":
            self._row = int(attributes["r"]) - 1 if "r" in attributes else self._row + 1
            self._column = -1
        elif name == "c":
            place = _column(attributes.get("r", ""))
            self._column = place - 1 if place else self._column + 1
            self._kind = attributes.get("t", "n")
            self._style = int(attributes.get("s", "0"))
            self._value = []

    def end(self, name: str, text: str) -> None:
        """Take a cell's value."""
        if name in ("v", "t") and (name == "t") == (self._kind == "inlineStr"):
            self._value.append(text)
        elif name == "c":
            shown = self._shown("".join(self._value)).strip()
            if shown:
                self._keep(shown)

    def _shown(self, value: str) -> str:
        if not value:
            return ""
        if self._kind == "s":
            return self._texts[int(value)]
        if self._kind == "b":
            return "yes" if value.strip() == "1" else "no"
        if self._kind != "n":
            return DATE if self._kind == "d" else value
        styled = self._formats[self._style] if self._style < len(self._formats) else _Format()
        return styled.text(float(value))

    def _keep(self, shown: str) -> None:
        if not (0 <= self._row < _MOST_ROWS and 0 <= self._column < _MOST_COLUMNS):
            raise _refused(f"has more than {_MOST_ROWS} rows or {_MOST_COLUMNS} columns")
        if len(self._cells) >= _MOST_CELLS:
            raise _refused(f"has more than {_MOST_CELLS} filled cells")
        self._cells[self._row, self._column] = shown

    def rows(self) -> Iterator[list[str]]:
        """Yield the rows up to the last filled one."""
        by_row: dict[int, dict[int, str]] = {}
        for (row, column), shown in self._cells.items():
            by_row.setdefault(row, {})[column] = shown
        for row in range(max(by_row, default=-1) + 1):
            cells = by_row.get(row, {})
            yield [cells.get(column, "") for column in range(max(cells, default=-1) + 1)]


def _column(reference: str) -> int:
    """Return the column of a reference such as `AB3`, from 1; 0 where there is none.

    >>> _column("A1"), _column("AB3"), _column("")
    (1, 28, 0)
    """
    column = 0
    for sign in reference[:4]:
        if not "A" <= sign <= "Z":
            break
        column = 26 * column + ord(sign) - ord("A") + 1
    return column
