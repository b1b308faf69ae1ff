"""The control of a table of rows: its cells, and the buttons that add, remove and move rows."""

from xml.etree.ElementTree import Element

from calc.answers.markup import element, group
from calc.inputs.field_base import Field, Raw
from calc.inputs.fields import Text, Words
from calc.inputs.rows import Rows, absent_cell
from calc.renderers.html_entry import entry


def rows_box(identity: str, field: Rows, raw: Raw) -> Element:
    """Return the table of a field's rows, with a count in its place where one will do."""
    count = raw if isinstance(raw, str) and field.count_of is not None and "," not in raw else None
    return element(
        "div",
        _count(field, count),
        _more(field, raw),
        _table(field, raw, is_hidden=count is not None),
        class_="rows rows--many" if len(field.columns) > 4 else "rows",
        id=identity,
        tabindex="-1",
        role="group",
        aria_labelledby=f"{identity}-label",
        aria_describedby=f"{identity}-hint {identity}-error",
        data_least=0 if field.optional else 1,
        data_most=field.most,
    )


def _more(field: Rows, raw: Raw) -> Element | None:
    """Return the tick that shows the columns that few need; it is set where one of them is told."""
    hidden = [at for at, column in enumerate(field.columns) if column.more]
    if not hidden:
        return None
    rows = [padded(field, row) for row in row_texts(field, raw)]
    is_told = any(
        row[at].strip() != absent_cell(field.columns[at]) for row in rows for at in hidden
    )
    return element(
        "label",
        element("input", type="checkbox", class_="rows__more", checked=is_told),
        f" more about each {field.row_name}",
        class_="tick",
    )


def row_texts(field: Rows, raw: Raw) -> list[list[str]]:
    """Return the texts of the rows' cells, as many to a row as were given."""
    if isinstance(raw, str):
        rows = [row.split(",") for row in raw.split(";")] if raw else []
    else:
        rows = [list(row) for row in raw]
    return rows[: field.most]  # the message tells of more; the form need not hold them


def padded(field: Rows, cells: list[str]) -> list[str]:
    """Return a text for each column.

    What an older row lacks has its default, as when it is read; else it is empty and told of.
    """
    lacking = len(field.columns) - len(cells)
    is_older = 0 < lacking <= field.added
    more = [absent_cell(column) for column in field.columns[-lacking:]] if is_older else []
    return [*cells, *more, *[""] * len(field.columns)][: len(field.columns)]


def _table(field: Rows, raw: Raw, *, is_hidden: bool) -> Element:
    """Return the rows with the way to add one; empty where a count stands in their place."""
    rows = row_texts(field, "" if is_hidden else raw)
    blank = [column.default for column in field.columns]
    heads = [
        (
            element(
                "th",
                f"{c.label} ({c.unit})" if c.unit else c.label,
                scope="col",
                class_="cell--more" if c.more else None,
            ),
            " ",
        )
        for c in field.columns
    ]
    head = element("tr", element("th", field.row_name, scope="col"), heads, element("td"))
    body = [_row(field, at, row, len(rows)) for at, row in enumerate(rows, 1)]
    table = element("table", element("thead", head), element("tbody", body))
    return element(
        "div",
        element("div", table, class_="table-box"),
        element(
            "button",
            f"Add {'an' if field.row_name[0] in 'aeiou' else 'a'} {field.row_name}",
            type="button",
            class_="button button--quiet",
            data_action="add-row",
            disabled=len(rows) >= field.most,
        ),
        element("template", _row(field, 0, blank, 0)),
        class_="rows__table",
        hidden=is_hidden,
    )


def _count(field: Rows, count: str | None) -> Element | None:
    """Return the control of a count, and the tick that asks for rows instead."""
    if field.count_of is None:
        return None
    return group(
        element(
            "span",
            entry(
                field.count_of,
                count or "",
                class_="rows__count",
                aria_label=field.count_of.label,
            ),
            class_="entry",
            hidden=count is None,
        ),
        element(
            "label",
            element("input", type="checkbox", data_action="differ", checked=count is None),
            f" the {field.row_name}s differ",
            class_="tick",
        ),
    )


def _row(field: Rows, number: int, cells: list[str], last: int) -> Element:
    return element(
        "tr",
        element("th", str(number), scope="row", data_name=field.row_name),
        [
            element(
                "td",
                entry(
                    column,
                    text.strip(" "),
                    data_cell=column.key,
                    data_label=column.label,
                    data_numbered=isinstance(column, Text) and column.numbered,
                    data_names=(isinstance(column, Text) and column.names) or None,
                    data_refers=(isinstance(column, Text) and column.refers) or None,
                    aria_label=f"{column.label}, {field.row_name} {number}",
                ),
                data_head=f"{column.label} ({column.unit})" if column.unit else column.label,
                class_=_kind(column),
            )
            for column, text in zip(field.columns, padded(field, cells), strict=True)
        ],
        element(
            "td",
            _movers(field, number, last) if field.ordered else None,
            element(
                "button",
                "Remove",
                type="button",
                class_="button button--quiet",
                data_action="remove-row",
                aria_label=f"Remove {field.row_name} {number}",
            ),
        ),
        data_row_name=field.row_name,
    )


def _kind(column: Field) -> str | None:
    """Return the class of a column's cells."""
    if column.more:
        return "cell--more"
    return "cell--wide" if isinstance(column, Words) else None


def _movers(field: Rows, number: int, last: int) -> list[Element]:
    """Return the buttons that move a row; at the table's ends one of them rests."""
    return [
        element(
            "button",
            sign,
            type="button",
            class_="button button--quiet",
            data_action=f"row-{way}",
            aria_label=f"Move {field.row_name} {number} {way}",
            disabled=number == end,
        )
        for way, sign, end in (("up", "↑", 1), ("down", "↓", last))
    ]


def gathered(identity: str, label: str) -> Element:
    """Return what stands in the form for readings, whose boxes are in the answer."""
    return element(
        "button",
        f"Clear all {label[:1].lower()}{label[1:]}",
        type="button",
        id=identity,
        class_="button button--quiet",
        data_action="clear-readings",
    )
