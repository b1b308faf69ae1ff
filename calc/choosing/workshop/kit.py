"""The kit list of the workshop sheet: what to buy, in lines as short as a counter reads them."""

from collections.abc import Mapping

from calc.answers.figures import quantity, rounded
from calc.answers.paper import Bought
from calc.choosing.plan import Plan
from calc.choosing.workshop.places import kit_data

Line = Mapping[str, object]


def kit_of(plan: Plan) -> tuple[Bought, ...]:
    """Return the lines; those that differ only in where they go are one."""
    lines: dict[str, list[Line]] = {}
    for item in kit_data(plan, "items"):
        if isinstance(item, dict):
            lines.setdefault(_words(item), []).append(item)
    return tuple(
        Bought(
            number=number,
            item=_counted(words, items),
            where="; ".join(dict.fromkeys(_where(item) for item in items)),
            is_open=any(_is_open(item) for item in items),
        )
        for number, (words, items) in enumerate(lines.items(), 1)
    )


def _words(item: Line) -> str:
    """Say what it is: name, size and length, without how many."""
    size = item["kit_size"] or item["size"]
    length = item["length_m"]
    parts = [str(item["item"]), str(size or "size not known")]
    if isinstance(length, int | float):
        parts.append(quantity(float(length), "m", 3))
    return ", ".join(parts)


def _counted(words: str, items: list[Line]) -> str:
    counts = [item["quantity"] for item in items]
    known = [count for count in counts if isinstance(count, int | float)]
    if len(known) < len(counts):
        return f"{words}: how many is not known"
    total = sum(known)
    return words if total == 1 else f"{rounded(float(total))} × {words}"


def _where(item: Line) -> str:
    """Return where it goes: the first clause of the reason."""
    return str(item["reason"]).split(";")[0]


def _is_open(item: Line) -> bool:
    return item["quantity"] is None or item["size"] is None or "measure it" in str(item["reason"])
