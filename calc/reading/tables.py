"""Powers in the columns of a table: the load in the head of a column, the kind in the row's."""

import re
from collections.abc import Iterator
from dataclasses import replace

from calc.reading import power_words as w
from calc.reading.clauses import Clause, Page
from calc.reading.power_found import Power, State, loads_of, powers_of, quality_of, said
from calc.reading.record import Span

_CELL = re.compile(r"\t+|[ \t]*\|[ \t]*|[ ]{2,}")


def powers_in_tables(page: Page) -> tuple[list[Power], set[int]]:
    """Return the powers of tables, and the numbers of the lines that were read so."""
    found: list[Power] = []
    used: set[int] = set()
    head: list[Clause] = []
    for number, line in enumerate(page.lines):
        cells = _cells(page, line)
        if len(cells) < 2:
            head = []
        elif not any(powers_of(cell) for cell in cells):
            head = cells if any(map(_is_head, cells)) else []
        elif head:
            powers = _row(head, cells)
            if powers:
                found += powers
                used.add(number)
    return found, used


def _cells(page: Page, line: Span) -> list[Clause]:
    edges = [line.start]
    text = page.text
    for match in _CELL.finditer(text, line.start, line.end):
        edges += [match.start(), match.end()]
    edges.append(line.end)
    cells = []
    for start, end in zip(edges[::2], edges[1::2], strict=True):
        if text[start:end].strip():
            inside = tuple(q for q in page.of_line(line) if start <= q.span.start < end)
            cells.append(Clause(text, Span(start, end), "\t", inside))
    return cells


def _is_head(cell: Clause) -> bool:
    return len(loads_of(cell)) == 1 or bool(quality_of(cell))


def _row(head: list[Clause], cells: list[Clause]) -> list[Power]:
    """Return the powers of a row; none where its cells do not stand under the head's."""
    label, rest = cells[0], cells[1:]
    columns = head[1:] if len(head) == len(cells) else head
    if len(columns) != len(rest) or powers_of(label) or (columns is not head and _is_head(head[0])):
        return []
    return [
        power
        for column, cell in zip(columns, rest, strict=True)
        for power in _one(label, column, cell)
    ]


def _one(label: Clause, column: Clause, cell: Clause) -> Iterator[Power]:
    powers = powers_of(cell)
    loads = [load for part in (label, column, cell) for load in loads_of(part)]
    kinds = {quality_of(part) for part in (label, column, cell)} - {""}
    for quantity in powers:
        doubt = (
            ""
            if len(powers) == 1 and len(loads) <= 1
            else ("which load it belongs to is not clear")
        )
        ohm = loads[0].one(0.5, 16) if len(loads) == 1 else None
        state = State(quality="mixed" if len(kinds) > 1 else next(iter(kinds), ""))
        power = said(cell, quantity, ohm, state, doubt)
        yield replace(
            power,
            bridged=power.bridged or any(p.search(w.BRIDGED) for p in (label, column)),
            mono=power.mono or any(p.search(w.MONO) for p in (label, column)),
            sub=power.sub or any(p.search(w.SUB) for p in (label, column)),
            total=power.total or any(p.search(w.TOTAL) for p in (label, column)),
            each=power.each or any(p.search(w.EACH) for p in (label, column)),
            doubt=power.doubt or ("of something else" if label.search(w.FOREIGN) else ""),
        )
