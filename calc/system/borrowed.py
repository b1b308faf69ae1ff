"""Fields that a system takes over from the calculators that ask for the same figure."""

from dataclasses import replace
from typing import Any, Protocol

from calc.inputs.field_base import Field
from calc.inputs.form import Form
from calc.inputs.rows import Rows


class Asking(Protocol):
    """A calculator, as far as its fields matter."""

    @property
    def form(self) -> Form:
        """Its fields as one form."""


def borrowed(calculator: Asking, key: str, **changes: Any) -> Field:
    """Return a calculator's field to stand beside an attribute of a system.

    An invented figure stays one: the form shows it first and no plan takes it.
    """
    return _bare(calculator.form.by_key[key], **changes)


def borrowed_column(calculator: Asking, table: str, key: str, **changes: Any) -> Field:
    """Return a column of a calculator's table to stand beside an attribute of a row."""
    rows = calculator.form.by_key[table]
    assert isinstance(rows, Rows)
    return _bare(next(column for column in rows.columns if column.key == key), **changes)


def unknown_at(calculator: Asking, key: str, **changes: Any) -> Field:
    """Return a calculator's field as a column in which nothing stands at first."""
    return replace(
        _bare(calculator.form.by_key[key]), example=None, start=None, source="", **changes
    )


def _bare(field: Field, **changes: Any) -> Field:
    is_invented = field.example is not None or "Lantern Van" in field.source
    bare = replace(
        field,
        key="",
        as_key="",
        default="",
        optional=False,
        more=False,
        example=None,
        start=None,
        source="" if is_invented else field.source,
    )
    first: Any = field.default or None
    if first is not None and not isinstance(field, Rows):
        first = field.read(first)
    return replace(bare, **{"example" if is_invented else "start": first, **changes})
