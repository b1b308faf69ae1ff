"""Powers statement by statement: what a line takes from the one before it and the one after."""

from collections.abc import Iterator
from dataclasses import replace

from calc.reading import power_words as w
from calc.reading.clauses import Page, Statement
from calc.reading.power_found import Power, loads_of, powers_of, powers_of_statement, quality_of
from calc.reading.power_pairs import WATTS, replace_span
from calc.reading.record import Span


def powers_in(page: Page, but: set[int]) -> Iterator[Power]:
    """Find the powers of all statements, but for lines that were read already."""
    quality, is_sub, open_at = "", False, -1
    for at, statement in enumerate(page.statements):
        if statement.line in but or is_foreign(statement):
            continue
        if not _has_powers(statement):
            if not statement.quantities:
                quality = quality_of(statement.clauses[0]) or quality
            continue
        powers = powers_of_statement(statement)
        head = statement.head
        if head is not None and loads_of(head) and 0 <= open_at < head.span.start:
            # The load on a line of its own may be that of the power above it.
            powers = _doubted(powers, "which load it belongs to is not clear")
        if _begins_with_load(statement) and 0 <= open_at == page.statements[at - 1].span.start:
            powers = _doubted(powers, "which load it belongs to is not clear")  # a broken line
        if _is_row(statement):
            powers = _doubted(powers, "which column of the table it belongs to is not clear")
        if _is_max_after(page, at):
            plain = [power for power in powers if power.quality != "rms"]
            doubted = _doubted(plain, "the words after it call it a maximum")
            powers = [*(p for p in powers if p.quality == "rms"), *doubted]
        if quality == "max" and not _has_words(statement):
            # A line without words of its own goes on with what the one before it began.
            powers = [replace(p, quality=p.quality or "max") for p in powers]
        if is_sub and not _has_words(statement):
            powers = [replace(power, sub=True) for power in powers]
        yield from powers
        quality = powers[-1].quality if powers else quality
        is_sub = bool(powers) and powers[-1].sub
        is_open = bool(powers) and (powers[-1].load_ohm is None or bool(powers[-1].doubt))
        is_open = is_open and powers[-1].quality != "max" and not powers[-1].total
        open_at = statement.span.start if is_open else -1


def _has_powers(statement: Statement) -> bool:
    return any(c.of(*WATTS) or powers_of(c) for c in statement.clauses)


def is_foreign(statement: Statement) -> bool:
    """Tell whether a statement speaks of something else, so that its watts are no rating."""
    label = statement.label
    clause = replace_span(statement.clauses[0], Span(label.start, max(label.start, label.end)))
    if clause.search(w.FOREIGN) is not None or clause.search(w.NEGATED) is not None:
        return True
    text = clause.text[label.start : label.end]
    if any(character > "\u036f" and character.isalpha() and character != "Ω" for character in text):
        return True  # a script whose word for a maximum no rule knows
    head = statement.head
    return bool(not _has_words(statement) and head is not None and head.search(w.FOREIGN))


def _has_words(statement: Statement) -> bool:
    """Tell whether words stand before the first figure."""
    label = statement.label
    return any(c.isalpha() for c in statement.clauses[0].text[label.start : label.end])


def _begins_with_load(statement: Statement) -> bool:
    """Tell whether a load is the first figure of a statement, behind words that go before it."""
    quantities = statement.quantities
    text = statement.clauses[0].text
    is_first = bool(quantities) and quantities[0].unit == "Ω"
    return is_first and ":" not in text[quantities[0].span.end : statement.span.end]


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
    below = len(following) > 1 and _has_powers(following[1])
    return is_said and (is_aside or not below)


def _doubted(powers: list[Power], why: str) -> list[Power]:
    return [replace(power, doubt=power.doubt or why) for power in powers]
