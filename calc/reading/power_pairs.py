"""Which power of a clause goes with which load, and which word with which of two powers."""

from calc.reading import power_words as w
from calc.reading.clauses import Clause, Statement
from calc.reading.quantities import Quantity
from calc.reading.record import Span

WATTS = ("W", "Wrms", "Wpc", "Wmax")


def is_parted(clause: Clause, power: Quantity, load: Quantity) -> bool:
    """Tell whether a new label stands between a power and a load: lines that ran together."""
    first, last = sorted((power.span, load.span), key=lambda span: span.start)
    between = [each for each in clause.quantities if first.end <= each.span.start < last.start]
    if any(each.unit in ("dB", "Hz", "A") for each in between) or (
        w.STABLE.search(clause.text, first.end, min(clause.span.end, last.end + 8)) is not None
    ):
        return True  # ‘4 x 75 W RMS 2 Ω stable’: the load is a limit, not that of the power
    fresh = w.FRESH.search(clause.text, first.end, last.start)
    if fresh is None:
        return False
    if first is power.span:  # ‘60 W into a load of 4 Ω’ and ‘60 W RMS power at 4 Ω’ are plain
        if w.POWER.match(clause.text, fresh.start()):
            after = fresh.end()
            if power.count is not None:  # ‘2 x 180 W RMS power bridged at 4 Ω’
                bridged = w.BRIDGED.search(clause.text, after, last.start)
                after = bridged.end() if bridged else after
            return w.DIRECTLY.match(clause.text, after, last.start) is None
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


def ends_bridged(clause: Clause, pairs: list[tuple[Quantity, Quantity | None]]) -> bool:
    """Tell whether only the last of several powers is bridged: ‘4x60W@4Ω 2x180W@4Ω bridged’."""
    bridged = clause.search(w.BRIDGED)
    if bridged is None or any(clause.search(kind) for kind in (w.MONO, w.SUB, w.TOTAL)):
        return False
    counts = [power.count for power, load in pairs if load is not None and power.shape == "one"]
    if len(counts) != len(pairs) or len(pairs) < 2 or None in counts:
        return False
    twice = 2 * (counts[-1] or 0)
    ends = [span.end for power, load in pairs if load for span in (power.span, load.span)]
    return bridged.start >= max(ends) and all(count == twice for count in counts[:-1])


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


def loads_in_turn(statement: Statement) -> list[float | None]:
    """Return the loads of a statement where each power has its own behind it, one after another."""
    both = [q for q in statement.quantities if q.unit in ("Ω", *WATTS)]
    turns = [each.unit == "Ω" for each in both]
    if len(both) % 2 or turns != [False, True] * (len(both) // 2):
        return []
    return [load.one(0.5, 16) for load in both[1::2]]


def replace_span(clause: Clause, span: Span) -> Clause:
    """Return a clause as if it held no more than a piece of it."""
    return Clause(clause.text, span, clause.opener, clause.quantities)


def is_second_label(statement: Statement, before: Clause, clause: Clause) -> bool:
    """Tell whether ‘60 W Rated power (2 Ω)’ follows a label: the load is of what comes next."""
    if not before.quantities or clause.opener != "(":
        return False
    end = before.quantities[-1].span.end
    label = replace_span(clause, Span(statement.span.start, before.quantities[-1].span.start))
    return label.search(w.POWER) is not None and (
        w.POWER.search(clause.text, end, before.span.end) is not None
    )


def is_limit(clause: Clause) -> bool:
    """Tell whether a load is one for itself: the lowest, or ‘impedance 4 Ω’ beside a power."""
    before = replace_span(clause, Span(clause.span.start, clause.first))
    is_labelled = before.search(w.LOAD) is not None and before.search(w.INTO) is None
    return clause.search(w.STABLE) is not None or (is_labelled and clause.opener != "(")
