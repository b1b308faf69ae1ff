"""Inputs declared once: a frozen dataclass whose attributes carry their fields.

    @dataclass(frozen=True, kw_only=True)
    class Inputs:
        length_m: Annotated[float, Number("Length of the cable, one way", low=0.05, high=100,
                                          example=3.0)]
        supply_v: Annotated[float, Number("Voltage at the battery", low=9, high=32)] = 14.4
        draw: Draw

An attribute whose type is such a dataclass is a *part*; its fields stand in the form at that
place.  The attribute's name is the field's key.  A field may be left empty where the type takes
None; a table of rows is `tuple[Row, ...]`, with `Row` such a dataclass.

The declaration is checked when the module is imported: notes in `Annotated` are seen by no type
checker, so that these checks are their only net.
"""

from collections.abc import Callable, Mapping
from dataclasses import MISSING, dataclass, fields, is_dataclass, replace
from dataclasses import Field as Attribute
from functools import cache
from types import NoneType, UnionType
from typing import Any, Literal, TypeVar, Union, get_args, get_origin, get_type_hints

from calc.inputs.field_base import Field, Value
from calc.inputs.fields import Choice, Document, Number, Numbers, Text, Whole, Words, YesNo
from calc.inputs.rows import Rows

Inputs = TypeVar("Inputs")

INVENTED = "invented, the Lantern Van"


class BadDeclaration(TypeError):
    """A dataclass of inputs whose fields do not suit its types."""


@dataclass(frozen=True)
class _Entry:
    """An attribute: a field of its own, or a part with several."""

    name: str
    field: Field | None
    part: Any = None


def fields_of(declared: Any) -> dict[str, Field]:
    """Return the fields of a dataclass of inputs by their keys, those of its parts at their place.

    >>> list(fields_of(dataclass(type("Empty", (), {}))))
    []
    """
    return dict(_fields_of(declared))


@cache
def _fields_of(declared: Any) -> Mapping[str, Field]:
    by_key: dict[str, Field] = {}
    for entry in _entries(declared):
        these = {entry.field.key: entry.field} if entry.field else _fields_of(_part(entry))
        if by_key.keys() & these.keys():
            raise BadDeclaration(f"{declared.__qualname__}: two fields share a key")
        by_key |= these
    return by_key


def like(declared: Any, key: str, **changes: Any) -> Field:
    """Return a declared field once more, changed, to stand beside another attribute."""
    bare = replace(_fields_of(declared)[key], key="", default="", optional=False)
    return replace(bare, **{"more": False, "as_key": "", **changes})


def values_of(inputs: Any) -> dict[str, Value]:
    """Return the values of inputs by the keys of their fields, parts opened up."""
    values: dict[str, Value] = {}
    declared: Any = type(inputs)
    for entry in _entries(declared):
        value = getattr(inputs, entry.name)
        values |= {entry.field.key: value} if entry.field else values_of(value)
    return values


def build(declared: Callable[..., Inputs], values: Mapping[str, Value]) -> Inputs:
    """Return the inputs with these values; each must be there, of the kind that its field reads.

    Raises KeyError for a value that is not there.
    """
    hashed: Any = declared
    parts = {
        entry.name: values[entry.field.key] if entry.field else build(_part(entry), values)
        for entry in _entries(hashed)
    }
    return declared(**parts)


def replaced(inputs: Inputs, changed: Mapping[str, Value]) -> Inputs:
    """Return the inputs with other values at these keys, in parts too."""
    declared: Any = type(inputs)
    made: Inputs = build(declared, {**values_of(inputs), **changed})
    return made


def _part(entry: _Entry) -> Any:
    assert entry.part is not None
    return entry.part


@cache
def _entries(declared: Any) -> tuple[_Entry, ...]:
    if not is_dataclass(declared):
        raise BadDeclaration(f"{declared.__qualname__} is no dataclass")
    hints = get_type_hints(declared, include_extras=True)
    return tuple(
        _entry(declared, attribute, hints[attribute.name]) for attribute in fields(declared)
    )


def _entry(declared: Any, attribute: Attribute[Any], hint: Any) -> _Entry:
    where = f"{declared.__qualname__}.{attribute.name}"
    notes = [note for note in getattr(hint, "__metadata__", ()) if isinstance(note, Field)]
    if not notes:
        if isinstance(hint, type) and is_dataclass(hint):
            return _Entry(attribute.name, None, hint)
        raise BadDeclaration(f"{where} has neither a field nor the type of a part")
    # The last one is nearest to the attribute.
    marker, kind = notes[-1], get_args(hint)[0]
    taken = get_args(kind) if get_origin(kind) in (Union, UnionType) else (kind,)
    kinds = [kind for kind in taken if kind is not NoneType]
    _check_kind(where, marker, kinds)
    usual = MISSING if attribute.default is MISSING else attribute.default
    is_optional = marker.optional or NoneType in taken
    if isinstance(marker, Rows):
        is_optional = marker.optional or usual == ()
        marker = _with_columns(where, marker, kinds)
    if usual is not MISSING and usual is not None and usual != ():
        # A field that is borrowed from elsewhere may only start there with what is usual here.
        marker = replace(marker, start=None)
    shown = next((value for value in (marker.example, marker.start) if value is not None), usual)
    if shown is MISSING:
        if not is_optional:
            raise BadDeclaration(f"{where} has no default, no example and no start")
        shown = None
    source = marker.source or (INVENTED if marker.example is not None else "")
    made = replace(
        marker,
        key=marker.as_key or attribute.name,
        default=shown if isinstance(shown, str) and _is_text(marker) else marker.write(shown),
        optional=is_optional,
        source=source,
    )
    _check_unit(where, made)
    return _Entry(attribute.name, made)


def _is_text(marker: Field) -> bool:
    """Tell whether a start value may be written down as a person would type it."""
    return isinstance(marker, Rows | Document | Text)


def _with_columns(where: str, marker: Rows, kinds: list[Any]) -> Rows:
    """Return a table whose columns are the fields of its rows' dataclass."""
    row: Any = next(get_args(kind)[0] for kind in kinds if get_origin(kind) is tuple)
    columns = tuple(_fields_of(row).values())

    def make_row(values: Mapping[str, Value]) -> Any:
        return build(row, values)

    return replace(marker, columns=columns, make_row=make_row, cells_of=values_of)


def _check_unit(where: str, field: Field) -> None:
    """Refuse a number whose name ends in no unit that is known: it would be shown without one."""
    is_number = type(field) is Number and "_" in field.key and not field.is_plain
    if is_number and not field.unit:
        raise BadDeclaration(f"{where} ends in no unit: see UNITS in calc/answers/figures.py")


def _check_kind(where: str, marker: Field, kinds: list[Any]) -> None:
    """Refuse a type that is not that of the values which the field reads."""
    is_rows = [get_origin(kind) is tuple and len(get_args(kind)) == 2 for kind in kinds]
    match marker:
        case Document():
            is_good = True
        case Rows():
            others = [kind for kind, rows in zip(kinds, is_rows, strict=True) if not rows]
            is_good = any(is_rows) and others == ([int] if marker.count_of else [])
        case YesNo():
            is_good = kinds == [bool]
        case Words():
            is_good = kinds == [tuple[str, ...]] or (
                len(is_rows) == 1
                and is_rows[0]
                and get_origin(get_args(kinds[0])[0]) is Literal
                and get_args(get_args(kinds[0])[0]) == marker.words
            )
        case Choice():
            words = tuple(word for word, _ in marker.options)
            is_good = len(kinds) == 1 and get_origin(kinds[0]) is Literal
            is_good = is_good and get_args(kinds[0]) == words
        case Numbers():
            is_good = kinds == [tuple[float, ...]]
        case Whole():
            is_good = kinds == [int]
        case Number():
            is_good = kinds == [float]
        case _:
            is_good = kinds == [str]
    if not is_good:
        raise BadDeclaration(f"{where}: a field of the kind ‘{marker.kind}’ reads another type")
