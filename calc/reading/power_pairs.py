"""Which power of a clause goes with which load, and which word with which of two powers."""

from calc.reading import power_words as w
from calc.reading.clauses import Clause
from calc.reading.quantities import Quantity


def is_parted(clause: Clause, power: Quantity, load: Quantity) -> bool:
    """Tell whether a new label stands between a power and a load: lines that ran together."""
    first, last = sorted((power.span, load.span), key=lambda span: span.start)
    fresh = w.FRESH.search(clause.text, first.end, last.start)
    if fresh is None:
        return False
    if first is power.span:  # ‘60 W into a load of 4 Ω’ and ‘60 W RMS power at 4 Ω’ are plain
        return w.INTO.search(clause.text, first.end, last.start) is None
    before = clause.text[clause.span.start : first.start].rstrip()
    return any(map(str.isalpha, before)) and w.INTO.search(before[-7:]) is None


def pairs_of(
    powers: list[Quantity], loads: list[Quantity]
) -> list[tuple[Quantity, Quantity | None]] | None:
    """Return each power with its load; None where they do not go up."""
    if not loads:
        return [(power, None) for power in powers]
    if len(powers) == 1 and len(loads) == 1:
        return [(powers[0], loads[0])]
    if len(powers) != len(loads):
        return None
    both = sorted([*powers, *loads], key=lambda each: each.span.start)
    first = [each.unit == "Ω" for each in both[::2]]
    second = [each.unit == "Ω" for each in both[1::2]]
    if len(set(first)) != 1 or len(set(second)) != 1 or first[0] == second[0]:
        return None
    if any("\n" in each.unit for each in both):
        return None
    return list(zip(powers, loads, strict=True))


def paired_words(clause: Clause) -> tuple[str, str] | None:
    """Return the order of ‘RMS/max’ in a clause; None where it is not said once."""
    rms = [m.start() for m in w.RMS.finditer(clause.text, clause.span.start, clause.span.end)]
    most = [m.start() for m in w.MAX.finditer(clause.text, clause.span.start, clause.span.end)]
    if len(rms) != 1 or len(most) != 1 or abs(rms[0] - most[0]) > 14:
        return None
    between = clause.text[min(rms[0], most[0]) : max(rms[0], most[0])]
    if "/" not in between or any(map(str.isdigit, between)):
        return None
    return ("rms", "max") if rms[0] < most[0] else ("max", "rms")
