"""Powers statement by statement: what a line takes from the one before it and the one after."""

from collections.abc import Iterator
from dataclasses import replace

from calc.reading import power_words as w
from calc.reading.clauses import Page, Statement
from calc.reading.power_found import (
    WATTS,
    Power,
    powers_of,
    powers_of_statement,
    quality_of,
    replace_span,
)
from calc.reading.record import Span


def powers_in(page: Page, but: set[int]) -> Iterator[Power]:
    """Find the powers of all statements, but for lines that were read already."""
    quality = ""
    for at, statement in enumerate(page.statements):
        if statement.line in but or is_foreign(statement):
            continue
        if not any(c.of(*WATTS) or powers_of(c) for c in statement.clauses):
            continue
        powers = powers_of_statement(statement)
        if _is_row(statement):
            powers = _doubted(powers, "which column of the table is meant is not plain")
        if _is_max_after(page, at):
            plain = [power for power in powers if power.quality != "rms"]
            doubted = _doubted(plain, "what follows calls it a maximum")
            powers = [*(p for p in powers if p.quality == "rms"), *doubted]
        if quality == "max" and not _has_words(statement):
            # A line without words of its own goes on with what the one before it began.
            powers = [replace(p, quality=p.quality or "max") for p in powers]
        yield from powers
        quality = powers[-1].quality if powers else quality


def is_foreign(statement: Statement) -> bool:
    """Tell whether a statement speaks of something else, so that its watts are no rating."""
    label = statement.label
    clause = replace_span(statement.clauses[0], Span(label.start, max(label.start, label.end)))
    if clause.search(w.FOREIGN) is not None or clause.search(w.NEGATED) is not None:
        return True
    head = statement.head
    return bool(not _has_words(statement) and head is not None and head.search(w.FOREIGN))


def _has_words(statement: Statement) -> bool:
    """Tell whether words stand before the first figure."""
    label = statement.label
    return any(c.isalpha() for c in statement.clauses[0].text[label.start : label.end])


def _is_row(statement: Statement) -> bool:
    """Tell whether powers stand in several cells that say no more than their figures."""
    bare = [
        clause
        for clause in statement.clauses
        if clause.opener == "\t" and powers_of(clause)
        and not clause.of("Ω") and not quality_of(clause)
    ]  # fmt: skip
    return len(bare) > 1


def _is_max_after(page: Page, at: int) -> bool:
    """Tell whether words about a maximum follow, with nothing after them that they are about."""
    following = page.statements[at + 1 : at + 3]
    if not following or following[0].quantities:
        return False
    is_said = any(quality_of(clause) == "max" for clause in following[0].clauses)
    is_aside = following[0].line == page.statements[at].line
    below = len(following) > 1 and bool(following[1].quantities)
    return is_said and (is_aside or not below)


def _doubted(powers: list[Power], why: str) -> list[Power]:
    return [replace(power, doubt=power.doubt or why) for power in powers]
