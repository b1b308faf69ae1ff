"""Spreadsheets as stock lists: what is shown is read; hostile files are refused in words."""

import csv
import io
import struct
import zipfile

import pytest
from conftest import ROOT, each
from spreadsheets import MAIN, PLAIN_PARTS, book, packed, sheet

from calc.inputs.errors import InputError
from calc.system import example_van
from calc.system.files.shelf_file import read_shelf, write_shelf
from calc.system.files.spreadsheet import DATE, is_spreadsheet, read_spreadsheet

SHEET = "xl/worksheets/s.xml"


def cells(data):
    """Return the rows that are read."""
    return list(csv.reader(io.StringIO(read_spreadsheet(data))))


def refusal(data):
    with pytest.raises(InputError) as caught:
        read_spreadsheet(data)
    (error,) = caught.value.errors
    assert error.message.isprintable() and error.field == "shelf"
    return error.message


def test_a_shelf_kept_in_a_spreadsheet_is_the_same_shelf():
    shelf = read_shelf(example_van.SHELF)
    rows = list(csv.reader(io.StringIO(write_shelf(shelf))))
    for row in rows[1:]:
        for at, text in enumerate(row):
            if text.replace(".", "", 1).isdigit():
                row[at] = float(text)
    assert read_shelf(read_spreadsheet(book(rows))) == shelf


def test_rows_keep_their_numbers_and_cells_their_columns():
    rows = [
        ["Stock list"],
        [],
        ["Model", "", "RMS 4Ω"],
        ["A", "", 60],
        ["", "", None],
        ["B", "", "x"],
    ]
    assert cells(book(rows)) == [["Stock list"], [], ["Model", "", "RMS 4Ω"], ["A", "", "60"], [],
                                 ["B", "", "x"]]  # fmt: skip
    with pytest.raises(InputError, match="Row 6"):
        read_shelf(read_spreadsheet(book(rows)))


@each(
    "case",
    [(0.2, "0.2"), (0.30000000000000004, "0.3"), (1200, "1200"), (1.125, "1.1250"),
     (2.5e-05, "0.000025"), (True, "yes"), (False, "no"), (-3, "-3"), ("a, b\n\"c\"", 'a, b\n"c"')],
)  # fmt: skip
def test_a_cell_s_value_is_read_as_it_is_shown(case):
    value, text = case
    assert cells(book([["x", value]])) == [["x", text]]


FORMATS = [
    ("General", "25"), ("0.00", "25"), ('0" cm"', "25 cm"), ('0.0\\ "W"', "25 W"), ("@", "25"),
    ("[$€-407]\\ #,##0.00", "€25"), ('#,##0.00\\ "€"', "25 €"), ("[Red]0;[Blue]-0", "25"),
    ("0%", "2500 %"), ("dd/mm/yyyy", DATE), ("d\\-mmm", DATE), ("[h]:mm", DATE), ("yyyy", DATE),
    ('0" days"', "25 days"), ("0_);(0)", "25"),
]  # fmt: skip


@each("case", FORMATS)
def test_what_a_format_shows_is_read_with_the_number(case):
    code, text = case
    assert cells(book([["x", 25]], [code], {(0, 1): 1})) == [["x", text]]


def test_a_cell_that_the_program_made_a_date_is_no_figure_and_no_name():
    """“2/4” or “4-60”, typed, is a day to a spreadsheet: it must not pass for a number."""
    for head in ("fuses_a", "price", "filter_db_per_octave", "trigger", "width_mm", "front_face"):
        data = book([["name", head], ["A", 45000]], ["d/m/yyyy"], {(1, 1): 1})
        with pytest.raises(InputError, match="Row 2"):
            read_shelf(read_spreadsheet(data))
    with pytest.raises(InputError, match="Row 2, name"):
        read_shelf(read_spreadsheet(book([["name"], [22007]], ["d/m/yyyy"], {(1, 0): 1})))


def test_texts_that_cells_share_are_read_without_reading_aids():
    texts = (
        f"<sst {MAIN}><si><t>Model</t></si><si><r><t>Ha</t></r><r><t>zel</t></r>"
        "<rPh><t>hey</t></rPh></si></sst>"
    )
    rows = (
        f'<worksheet {MAIN}><sheetData><row><c t="s"><v>0</v></c></row>'
        '<row><c t="s"><v>1</v></c><c t="str"><f>1+1</f><v>two</v></c></row></sheetData>'
        "</worksheet>"
    )
    data = packed({**PLAIN_PARTS, "xl/sharedStrings.xml": texts, SHEET: rows})
    assert cells(data) == [["Model"], ["Hazel", "two"]]


def test_the_first_sheet_that_is_not_hidden_is_read_and_prefixes_do_not_matter():
    workbook = (
        '<m:workbook xmlns:m="m" xmlns:q="q"><m:sheets><m:sheet state="hidden" q:id="r1"/>'
        '<m:sheet q:id="r2"/></m:sheets></m:workbook>'
    )
    relations = (
        '<Relationships><Relationship Id="r1" Target="worksheets/s.xml"/>'
        '<Relationship Id="r2" Target="/xl/other.xml"/></Relationships>'
    )
    parts = {
        "xl/workbook.xml": workbook,
        "xl/_rels/workbook.xml.rels": relations,
        SHEET: sheet([["hidden"]]),
        "xl/other.xml": sheet([["shown"]]).replace("<", "<m:").replace("<m:/", "</m:")
        .replace(MAIN, 'xmlns:m="m"'),
    }  # fmt: skip
    assert cells(packed(parts)) == [["shown"]]


def test_spreadsheets_are_told_by_their_first_bytes():
    assert is_spreadsheet(book([["a"]])) and is_spreadsheet(b"\xd0\xcf\x11\xe0rest")
    assert not is_spreadsheet((ROOT / "shared" / "systems" / "shelf.csv").read_bytes())


BOMB = "<!DOCTYPE a [" + "".join(
    f'<!ENTITY a{at + 1} "{f"&a{at};" * 10}">' for at in range(9)
) + ']><worksheet><c t="str"><v>&a9;</v></c></worksheet>'  # fmt: skip


def with_rows(rows):
    """Return a spreadsheet whose first sheet holds this text."""
    return packed({**PLAIN_PARTS, SHEET: f"<worksheet><sheetData>{rows}</sheetData></worksheet>"})


MANY = f"<worksheet {MAIN}><sheetData>" + "<row>" + "<c><v>1</v></c>" * 299 + "</row>"


def encrypted():
    """Return an archive whose parts say that they have a password."""
    data = bytearray(book([["a"]]))
    at = 0
    while (at := data.find(b"PK\x01\x02", at + 1)) > 0:
        data[at + 8] |= 1
    return bytes(data)


def claiming(size):
    """Return an archive whose parts say that they are as small as this."""
    data = bytearray(packed({**PLAIN_PARTS, SHEET: " " * 30_000_000}))
    at = 0
    while (at := data.find(b"PK\x01\x02", at + 1)) > 0:
        data[at + 24 : at + 28] = struct.pack("<I", size)
    return bytes(data)


HOSTILE = {
    "no archive": b"PK\x03\x04 and nothing",
    "old": b"\xd0\xcf\x11\xe0" + b"x" * 600,
    "empty": packed({}),
    "no sheet": packed({"readme.txt": "a"}),
    "no xml": packed({**PLAIN_PARTS, SHEET: "name,channels"}),
    "cut off": book([["a", "b"]])[:-30],
    "half a sheet": packed({**PLAIN_PARTS, SHEET: MANY}),
    "entities": packed({**PLAIN_PARTS, SHEET: BOMB}),
    "entities in utf-16": packed({**PLAIN_PARTS, SHEET: BOMB.encode("utf-16")}),
    "foreign entity": packed(
        {**PLAIN_PARTS, SHEET: '<!DOCTYPE a SYSTEM "file:///etc/passwd"><worksheet/>'}
    ),
    "blanks": packed({**PLAIN_PARTS, SHEET: " " * 30_000_000}),
    "small by its own word": claiming(10),
    "texts": packed({**PLAIN_PARTS, "xl/sharedStrings.xml": "<sst>" + "<si/>" * 300_000}),
    "parts": packed({f"{at}": "" for at in range(1200)}),
    "styles": packed({**PLAIN_PARTS, "xl/styles.xml": "<s><cellXfs>" + "<xf/>" * 20_000}),
    "far column": with_rows('<row r="1"><c r="ZZZ1"><v>1</v></c></row>'),
    "far row": with_rows('<row r="1048576"><c><v>1</v></c></row>'),
    "text that is none": with_rows('<row r="1"><c t="s"><v>7</v></c></row>'),
    "no number": with_rows('<row r="1"><c><v>one</v></c></row>'),
    "endless number": with_rows('<row r="1"><c><v>1e999</v></c></row>'),
    "row of many digits": with_rows(f'<row r="{"9" * 5000}"/>'),
    "password": encrypted(),
    "other packing": packed({**PLAIN_PARTS, SHEET: sheet([["a"]])}, zipfile.ZIP_STORED)[:60],
}  # fmt: skip


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_spreadsheet_is_refused_in_words(name):
    message = refusal(HOSTILE[name])
    assert "spreadsheet" in message


def test_too_many_cells_and_too_large_files_are_refused():
    row = "<row>" + "<c><v>1</v></c>" * 299 + "</row>"
    many = f"<worksheet {MAIN}><sheetData>{row * 700}</sheetData></worksheet>"
    assert "200000" in refusal(packed({**PLAIN_PARTS, SHEET: many}))
    assert "4 MB" in refusal(b"PK\x03\x04" + b"x" * 4_000_001)
    long = [["a" * 5000] * 290]
    assert "characters" in refusal(book(long))
