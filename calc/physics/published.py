"""Published tables: each stands once, in `shared/published`, with its source.

In the wheel, and so in the page, a copy made by the build lies beside this module.
"""

import json
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from pkgutil import get_data
from typing import TypeAlias

Data: TypeAlias = "str | float | bool | list[Data] | dict[str, Data] | None"

_SHARED = Path(__file__).parents[2] / "shared" / "published"


def read(name: str) -> bytes:
    """Return what a file of the folder holds."""
    if _SHARED.is_dir():
        return (_SHARED / name).read_bytes()
    return get_data(__package__, f"published/{name}") or b""


@cache
def _file(name: str) -> Mapping[str, Data]:
    """Return the tables of a file by their names."""
    tables: Mapping[str, Data] = json.loads(read(f"{name}.json"))
    return tables


def _entry(file: str, table: str, key: str) -> Data:
    named = _file(file)[table]
    assert isinstance(named, dict)
    return named[key]


def _number(data: Data) -> float:
    assert isinstance(data, int | float)
    return float(data)


def _listed(file: str, table: str, key: str) -> list[Data]:
    listed = _entry(file, table, key)
    assert isinstance(listed, list)
    return listed


def figure(file: str, table: str, key: str) -> float:
    """Return one figure of a table.

    >>> figure("conductors", "copper", "alpha_per_k")
    0.00393
    """
    return _number(_entry(file, table, key))


def text(file: str, table: str, key: str) -> str:
    """Return one text of a table.

    >>> text("conductors", "thinnest_power_conductor", "awg")
    '16'
    """
    return str(_entry(file, table, key))


def figures(file: str, table: str, key: str) -> tuple[float, ...]:
    """Return a list of figures of a table.

    >>> figures("preferred-values", "preferred_values", "E6")
    (1.0, 1.5, 2.2, 3.3, 4.7, 6.8)
    """
    return tuple(map(_number, _listed(file, table, key)))


def texts(file: str, table: str, key: str) -> tuple[str, ...]:
    """Return a list of texts of a table.

    >>> texts("conductors", "bought", "awg")
    ('8', '4', '2', '1/0')
    """
    return tuple(map(str, _listed(file, table, key)))


def named(file: str, table: str, key: str) -> dict[str, float]:
    """Return figures of a table by their names.

    >>> named("permitted-currents", "duties", "one_part_of")["normal"]
    8.0
    """
    listed = _entry(file, table, key)
    assert isinstance(listed, dict)
    return {name: _number(figure) for name, figure in listed.items()}


def rows(file: str, table: str) -> tuple[tuple[Data, ...], ...]:
    """Return the rows of a table.

    >>> rows("permitted-currents", "bundles")[0]
    (3, 3, 0.7)
    """
    return tuple(tuple(row) for row in _listed(file, table, "rows") if isinstance(row, list))


def by_number(file: str, table: str) -> dict[float, float]:
    """Return the second column of a table by the first, both numbers.

    >>> by_number("conductors", "class_5")[1.5]
    13.3
    """
    return {_number(row[0]): _number(row[1]) for row in rows(file, table)}


def by_last(file: str, table: str) -> tuple[tuple[float, float], ...]:
    """Return the last two columns of a table.

    >>> by_last("permitted-currents", "bundles")
    ((3.0, 0.7), (6.0, 0.6), (24.0, 0.5))
    """
    return tuple((_number(row[-2]), _number(row[-1])) for row in rows(file, table))


def by_text(file: str, table: str) -> dict[str, float]:
    """Return the second column of a table by the first, which is text.

    >>> by_text("permitted-currents", "single_conductors")["1/0"]
    285.0
    """
    return {str(row[0]): _number(row[1]) for row in rows(file, table)}


def column(file: str, table: str, key: str, value: str) -> dict[str, float]:
    """Return what stands at `value` in the rows that are named by `key`.

    >>> column("conductors", "copper_clad_aluminium", "material", "resistivity_ratio")["cca10"]
    1.59
    """
    found = (row for row in _listed(file, table, "rows") if isinstance(row, dict))
    return {str(row[key]): _number(row[value]) for row in found}
