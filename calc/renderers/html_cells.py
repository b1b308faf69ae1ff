"""The controls of a form that shows usual values: a figure that nobody gave stands as a hint.

The usual value is the placeholder and in the hint, never the control's value: nothing is passed
on as typed that was not.
"""

from dataclasses import dataclass
from xml.etree.ElementTree import Element

from calc.answers.figures import capital
from calc.answers.markup import Children, element, group
from calc.inputs.field_base import Field
from calc.inputs.fields import Choice, Document, Number
from calc.inputs.rows import LOOKED_FOR, Rows
from calc.renderers.html_entry import entry


@dataclass(frozen=True)
class Cell:
    """A field of a form or a column of a row, with the text that stands in it.

    identity : the control's id
    attributes : of the control, as `element` takes them
    may_be_looked_for : a `?` says that the figure was looked for and stands nowhere
    """

    field: Field
    text: str
    identity: str
    attributes: dict[str, object]
    may_be_looked_for: bool = False

    @property
    def label(self) -> str:
        """Its label, as a line begins."""
        return capital(self.field.label)

    @property
    def is_kept(self) -> bool:
        """Whether a card is added with it, so that it always stands there."""
        return bool(self.attributes.get("data_kept"))

    @property
    def shown(self) -> str:
        """What the control holds: nothing where the usual value stands."""
        if not claimed(self.field) or self.is_kept:
            return self.text
        if self.text == self.field.default:
            return ""
        return self.text or (LOOKED_FOR if self.field.optional else "")


def claimed(field: Field) -> bool:
    """Tell whether a field's default is its usual value: no invented figure, and none that a
    form merely starts with.
    """
    return bool(field.default) and field.example is None and field.start is None


def usual_words(field: Field) -> str:
    """Return what is usual, the figure first; empty where nothing is.

    Where there is no one figure to tell, the words begin with a comma.

    >>> usual_words(Number("Sensitivity", key="a_db", low=1, high=200, default="90"))
    '90'
    """
    if field.usual or not claimed(field):
        return field.usual
    if isinstance(field, Rows | Document):
        return ""
    if isinstance(field, Choice):
        said = dict(field.options).get(field.default, "")
        return "" if field.default == "not-known" else said
    return field.say(field.read(field.default))


def hint_words(field: Field, more: str = "") -> str:
    """Return the hint of a field with what is usual."""
    words = usual_words(field)
    usual = f"usual {words.lstrip(', ')}" if words else ""
    return ". ".join(part.rstrip(".") for part in (more or field.hint, usual) if part)


def box(cell: Cell, *, is_short: bool = False) -> Element:
    """Return the control of a cell with its unit and the place of its origin's word."""
    field = cell.field
    usual = usual_words(field).partition(",")[0]
    attributes = {**cell.attributes, "id": cell.identity}
    # What is sent where nothing was given; a link leaves it out.
    has_default = claimed(field) and not cell.is_kept
    attributes["data_default"] = field.default if has_default else None
    if isinstance(field, Choice):
        control = _list(cell, field, usual, attributes)
    else:
        control = entry(field, cell.shown, **attributes)
        control.set("placeholder", usual or " ")
        if isinstance(field, Number):
            control.set("enterkeyhint", "next")
        if is_short:
            control.set("class", "short")
    unit = element("span", field.unit, class_="affix", aria_hidden="true") if field.unit else None
    return group(control, None if is_short else unit)


def _list(cell: Cell, field: Choice, usual: str, attributes: dict[str, object]) -> Element:
    """Return a list whose first line stands for what is usual, or for what was not said."""
    words, text = dict(field.options), cell.shown
    first = f"usual: {usual}" if usual else "not stated"
    rest = [(LOOKED_FOR, "not printed")] if cell.may_be_looked_for else []
    if field.optional and claimed(field):
        rest = [(LOOKED_FOR, "not known")]
    options = [("", first), *field.options, *rest]
    if text not in words and text not in ("", LOOKED_FOR):
        options.insert(0, (text, text))  # a wrong word stays in sight, to be corrected
    return element(
        "select",
        [element("option", shown, value=word, selected=word == text) for word, shown in options],
        data_usual=bool(usual),
        **attributes,
    )


def know_row(
    cell: Cell, *, error: bool = False, in_row: bool = False, **attributes: object
) -> Element:
    """Return a line of “I know more”: label and hint, the control, the word of its origin.

    error : it has a place for what is wrong; `in_row`, as a cell of a row
    """
    hint = hint_words(cell.field)
    hint_id, error_id = f"{cell.identity}-hint", f"{cell.identity}-error"
    by_kind = "data_usual_for" in cell.attributes
    described = [hint_id] if hint or by_kind else []
    error = error or in_row
    if error:
        described.append(error_id)
    cell.attributes["aria_describedby"] = " ".join(described) or None
    return element(
        "div",
        element(
            "div",
            element("label", cell.label, for_=cell.identity),
            element("p", hint, class_="hint", id=hint_id) if hint or by_kind else None,
            _error(cell, error_id, in_row=in_row) if error else None,
        ),
        element("span", box(cell), element("span", class_="origin"), class_="entry"),
        class_="know__row",
        **attributes,
    )


def _error(cell: Cell, identity: str, *, in_row: bool) -> Element:
    columns = cell.field.key if in_row else None
    return element("p", class_="error", id=identity, data_wrong=columns, hidden=True)


def folded(title: str, *children: Children, class_: str = "know", is_open: bool = False) -> Element:
    """Return what stands behind a line that opens it."""
    return element(
        "details",
        element("summary", title, class_="know__toggle"),
        element("div", *children, class_="know__rows"),
        class_=class_,
        open=is_open,
    )
