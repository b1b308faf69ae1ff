"""Rows of a table as columns beside one another, each with its own verdict."""

from xml.etree.ElementTree import Element

from calc.answers.arrangement import Columns, Roles
from calc.answers.markup import element
from calc.inputs.field_base import Raw
from calc.inputs.fields import Text
from calc.inputs.rows import Rows
from calc.renderers.html_cards import (
    Row,
    asked_box,
    blank,
    frame,
    paste_button,
    rows_of,
    unseen_cells,
)
from calc.renderers.html_cells import folded, know_row


def columns_box(
    identity: str, field: Rows, raw: Raw, columns: Columns, example: Raw = ""
) -> Element:
    """Return the rows as columns of one table, empty ones ready beside them."""
    rows = list(rows_of(identity, field, raw, example))
    rows += [blank(identity, field, at) for at in range(len(rows) + 1, columns.ready + 1)]
    most = min(columns.most, field.most)
    return frame(
        identity,
        field,
        element(
            "div",
            [_column(row, at, columns) for at, row in enumerate(rows)],
            class_="columns",
            data_count=len(rows),
        ),
        element("div", class_="together", data_together=True, hidden=True),
        element("p", class_="undone", hidden=True),
        element(
            "div",
            element(
                "button",
                f"Add another {field.row_name}",
                type="button",
                class_="add",
                data_action="add-column",
                hidden=len(rows) >= most,
            ),
            _join_all(columns.roles),
            element("p", columns.beyond, class_="hint beyond", hidden=len(rows) < most),
            class_="adds adds--row",
        ),
        element("template", _column(blank(identity, field), 0, columns)),
        data_skips_blank=True,
        data_by_hand=most,
        data_ready=columns.ready,
        data_noun=columns.title,
        data_most_chosen=columns.roles.most if columns.roles else None,
    )


def _column(row: Row, at: int, columns: Columns) -> Element:
    asked = [key for each in columns.asked for key in each.columns]
    unseen = [column.key for column in row.field.columns if column.hidden]
    rest = [
        column.key
        for column in row.field.columns
        if column.key not in (*asked, *unseen, columns.name)
    ]
    roles = columns.roles if columns.roles and row.column(columns.roles.key) else None
    return element(
        "section",
        _column_head(row, at, columns),
        element(
            "div",
            element("div", class_="result", data_result=True, tabindex="-1"),
            _role_buttons(roles),
        ),
        paste_button(columns.pastes),
        [asked_box(row, each) for each in columns.asked],
        element(
            "div",
            folded(
                f"{columns.more} ({len(rest)})",
                [*(know_row(row.cell(key), in_row=True) for key in rest), *_to_list(columns)],
            ),
        ),
        unseen_cells(row),
        class_="amplifier",
        data_row=True,
        data_title_of=columns.name,
        data_role=roles.key if roles else None,
        data_chosen=roles.chosen if roles else None,
        data_other=roles.other if roles else None,
        data_later=roles.later if roles else None,
    )


def _role_buttons(roles: Roles | None) -> Element | None:
    """Return what takes a column in, out or leaves it for later; a script shows what applies."""
    if roles is None:
        return None
    ways = (("join", roles.join), ("put-off", roles.put_off), ("leave", roles.leave))
    return element(
        "div",
        element("p", roles.later_says, class_="hint", data_says_later=True, hidden=True),
        [
            element(
                "button",
                words,
                type="button",
                class_="link-button",
                data_action=f"{way}-row",
                hidden=True,
            )
            for way, words in ways
        ],
        class_="roles",
    )


def _join_all(roles: Roles | None) -> Element | None:
    """Return the button that chooses all columns together."""
    if roles is None:
        return None
    return element(
        "button",
        roles.join_all.format(count="both"),
        type="button",
        class_="add",
        data_action="join-rows",
        data_words=roles.join_all,
        hidden=True,
    )


def _to_list(columns: Columns) -> list[Element]:
    """Return the button that puts a column into the list on the device, and where it is told."""
    if not columns.to_list:
        return []
    button = element(
        "button",
        columns.to_list,
        type="button",
        class_="button button--quiet",
        data_action="stock",
    )
    told = element("p", class_="hint", role="status", data_told=True)
    return [element("div", button, told, class_="know__row know__row--action")]


def _column_head(row: Row, at: int, columns: Columns) -> Element:
    title = row.texts[columns.name] or f"{columns.title} {letter(at)}"
    field = row.cell(columns.name).field
    assert isinstance(field, Text)
    return element(
        "div",
        element("strong", title, data_title=True),
        element(
            "input",
            type="text",
            value=row.texts[columns.name],
            size="12",
            maxlength=field.longest,
            autocomplete="off",
            hidden=True,
            aria_label="Name",
            data_cell=columns.name,
            data_brought=True,
            data_fallback=f"{columns.title} {letter(at)}",
        ),
        element("button", "Name", type="button", class_="link-button", data_action="name-row"),
        class_="amplifier__head",
    )


def letter(at: int) -> str:
    """Return the letter of a column, from A; there are never more than the alphabet has."""
    return chr(ord("A") + at)
