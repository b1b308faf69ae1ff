"""The kit list of the workshop sheet: lines that differ only in where they go are one."""

from collections.abc import Sequence
from dataclasses import replace

from calc.answers.kit import KitLine
from calc.answers.paper import Article
from calc.choosing.plan import Plan
from calc.choosing.workshop.lookups import kit_lines


def articles_of(plan: Plan) -> tuple[Article, ...]:
    """Return the lines, in their order; what is the same article stands at its first place."""
    alike: dict[tuple[object, ...], list[KitLine]] = {}
    for line in kit_lines(plan):
        key = (line.item, line.size, line.unit, line.length_m, line.is_open, line.quantity is None)
        alike.setdefault(key, []).append(line)
    return tuple(_article(lines) for lines in alike.values())


def _article(lines: Sequence[KitLine]) -> Article:
    counts = [line.quantity for line in lines if line.quantity is not None]
    quantity = sum(counts) if counts else None
    notes = list(dict.fromkeys(line.note for line in lines))
    return Article(
        numbers=", ".join(str(line.number) for line in lines),
        line=replace(lines[0], quantity=quantity, note=joined(notes)),
    )


def joined(notes: Sequence[str]) -> str:
    """Write notes as one: words with which all begin stand once.

    >>> joined(["A to door left", "A to door right"]), joined(["bulkhead"])
    ('A to door left; right', 'bulkhead')
    """
    words = [note.split(" ") for note in notes]
    shared = 0
    while (
        all(len(each) > shared + 1 for each in words) and len({each[shared] for each in words}) == 1
    ):
        shared += 1
    return "; ".join([notes[0], *(" ".join(each[shared:]) for each in words[1:])])
