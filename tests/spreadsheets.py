"""Spreadsheets for the tests, made part by part with zipfile."""

import io
import zipfile
from xml.sax.saxutils import escape, quoteattr

MAIN = 'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"'
REL = 'xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"'
PLAIN_PARTS = {
    "xl/workbook.xml": f'<workbook {MAIN} {REL}><sheets><sheet name="a" r:id="r1"/></sheets>'
    "</workbook>",
    "xl/_rels/workbook.xml.rels": '<Relationships><Relationship Id="r1" Target="worksheets/s.xml"/>'
    "</Relationships>",
}


def packed(parts, compression=zipfile.ZIP_DEFLATED):
    """Return an archive with these parts."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", compression) as archive:
        for name, data in parts.items():
            archive.writestr(name, data)
    return out.getvalue()


def column(at):
    """Return a column's letters from its number, from 0."""
    letters = ""
    at += 1
    while at:
        at, rest = divmod(at - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


def cell(row, at, value, style):
    """Return a cell as a sheet holds it: a number, a text that stands in it, or nothing."""
    place = f'r="{column(at)}{row}" s="{style}"'
    if value is None or value == "":
        return f"<c {place}/>"
    if isinstance(value, bool):
        return f'<c {place} t="b"><v>{int(value)}</v></c>'
    if isinstance(value, int | float):
        return f"<c {place}><v>{value!r}</v></c>"
    return f'<c {place} t="inlineStr"><is><t>{escape(value)}</t></is></c>'


def sheet(rows, styles=None):
    """Return a sheet of rows; styles are by row and column from 0."""
    lines = [
        f'<row r="{at}">'
        + "".join(
            cell(at, place, value, (styles or {}).get((at - 1, place), 0))
            for place, value in enumerate(row)
        )
        + "</row>"
        for at, row in enumerate(rows, start=1)
        if any(value not in ("", None) for value in row)
    ]
    return f"<worksheet {MAIN}><sheetData>{''.join(lines)}</sheetData></worksheet>"


def styles_part(codes):
    """Return a part with a style for each code, the first for everything else."""
    formats = "".join(
        f'<numFmt numFmtId="{200 + at}" formatCode={quoteattr(code)}/>'
        for at, code in enumerate(codes)
    )
    cells = "".join(f'<xf numFmtId="{200 + at}"/>' for at in range(len(codes)))
    return (
        f'<styleSheet {MAIN}><numFmts>{formats}</numFmts><cellStyleXfs><xf numFmtId="14"/>'
        f'</cellStyleXfs><cellXfs><xf numFmtId="0"/>{cells}</cellXfs></styleSheet>'
    )


def book(rows, codes=(), styles=None, **more):
    """Return a spreadsheet of one sheet.

    codes : formats of numbers; a cell with the style 1 has the first
    more : parts of it that are others, by their name with `__` for `/` and `_` for `.`
    """
    parts = {
        "xl/styles.xml": styles_part(codes),
        **PLAIN_PARTS,
        "xl/worksheets/s.xml": sheet(rows, styles),
    }
    return packed(parts | more)
