"""The rating and the sensitivity of a speaker."""

import math
import re

from calc.reading import power_words as w
from calc.reading.clauses import Clause, Page, Statement
from calc.reading.power_pairs import paired_words
from calc.reading.power_words import words
from calc.reading.quantities import Quantity
from calc.reading.record import Notes, Span

_FOREIGN = words(
    r"recommend", r"empfohl", r"amplifier", r"amp(?![a-z])", r"suitable", r"sensitiv", r"spl",
    r"empfind", r"efficien", r"rendement", r"s/n", r"verstarker", r"minimum", r"compatible",
    r"head unit", r"range", r"thd", r"distort", r"wirkungsgrad", r"ampli", r"at least",
    r"drive with",
)  # fmt: skip
_PAIR = words(r"(?:per|a|the|for the) (?:pair|set)", r"pair(?![a-z])", r"pro paar", r"paarweise",
              r"la paire", r"both", r"total", r"gesamt", r"system", r"combined", r"two speakers",
              r"set(?: of| total)")  # fmt: skip
_ONE = words(r"each(?! coil)", r"per speaker", r"pro lautsprecher", r"je lautsprecher")
_COIL = words(r"per coil", r"each coil", r"pro spule", r"je spule")
_SENSITIVE = words(r"sensitiv", r"spl(?![a-z])", r"empfindlichkeit", r"sensibi", r"efficien",
                   r"wirkungsgrad", r"kennschall", r"rendement", r"rendimento")  # fmt: skip
_NOMINAL = words(r"nominal", r"nenn", r"rated", r"rating")
_AT_WATT = re.compile(r"(?<![0-9.,])1\s?w(?:att)?(?![a-z0-9])")
_AT_VOLT = re.compile(r"(?<![0-9.,])2[.,]83\s?v(?![a-z0-9])")
_AT_METRE = re.compile(r"(?<![0-9.,])1[.,]?0?\s?m(?:et(?:re|er))?(?![a-z0-9])")
_OTHER_PLACE = re.compile(
    r"(?<![0-9])(?:0?[.,]5\s?m|50\s?cm|2\s?m(?![a-z])|in[- ]car|in the car|0[.,]5)"
)


def read_rating(notes: Notes, page: Page) -> None:
    """Take the power that a speaker takes for long; what is called a maximum is refused."""
    for statement in page.statements:
        head = statement.head
        label = Clause(page.text, statement.label, "", ())
        under = _quality(head) if head is not None else ""
        lead = _quality(label)
        for at in range(len(statement.clauses)):
            clause = statement.with_aside(at)  # ‘250 W (RMS), 750 W (peak)’
            powers = clause.of("W", "Wrms", "Wmax")
            if not powers:
                later = _quality(clause)
                is_own = later and not clause.quantities and clause.opener != "("
                lead = later if is_own else lead
                continue
            if (
                clause.search(_FOREIGN)
                or label.search(_FOREIGN)
                or (
                    not any(map(str.isalpha, page.text[label.span.start : label.span.end]))
                    and head is not None
                    and head.search(_FOREIGN) is not None
                )
            ):
                continue
            last = statement.clauses[at - 1] if at else clause
            aside = _quality(last) if last.opener == "(" and not last.quantities else ""
            is_plain = not aside or not lead or aside == lead
            _ratings(notes, statement, clause, powers, lead or under if is_plain else "mixed")


def _quality(clause: Clause) -> str:
    rms = clause.search(w.RMS) or clause.search(_NOMINAL) or (clause.of("Wrms") and clause.span)
    most = clause.search(w.MAX) or (clause.of("Wmax") and clause.span)
    return "mixed" if rms and most else "rms" if rms else "max" if most else ""


def _ratings(
    notes: Notes, statement: Statement, clause: Clause, powers: list[Quantity], lead: str
) -> None:
    for quantity in powers:
        span = quantity.span
        for pattern in (w.RMS, _NOMINAL):
            found = clause.search(pattern)
            if found and found.start - span.end < 16 and span.start - found.end < 24:
                span = Span(min(span.start, found.start), max(span.end, found.end))
        if quantity.shape == "list":
            _list(notes, statement, clause, quantity)
            continue
        several = len(powers) > 1
        quality = _quality(clause) if not several else _several(clause, quantity, powers)
        if not quality:
            quality = lead
        value = quantity.one(2, 5000)
        if quantity.unit == "Wmax" or quality == "max":
            notes.refuse(span, "a maximum, not a rating")
        elif quality == "mixed":
            notes.refuse(span, "it is not clear whether this is RMS or a maximum")
        elif value is None:
            notes.refuse(span, "it is a range, or not clear")
        elif statement.has(_PAIR) and (clause.search(_PAIR) or not clause.search(_ONE)):
            notes.refuse(span, "for a pair or a set: one speaker takes half; ask the seller")
        elif statement.has(_COIL) or quantity.count not in (None, 1):
            notes.refuse(span, "for each voice coil or each speaker: it is not clear which")
        elif quality != "rms":
            notes.refuse(span, "not called RMS or continuous")
        elif (
            clause.text[clause.span.start : quantity.span.start].rstrip().endswith(("<", ">", "~"))
        ):
            notes.refuse(span, "a limit or a rough figure, not a rating")
        else:
            notes.claim("rated_w", value, span)


def _several(clause: Clause, quantity: Quantity, powers: list[Quantity]) -> str:
    """Return the quality of one of several powers in a clause, such as 70 W RMS / 210 W max."""
    order = paired_words(clause)
    if order is not None and len(powers) == 2:
        return order[0 if quantity is powers[0] else 1]
    after = [_after(clause, each, powers) for each in powers]
    before = [_before(clause, each, powers) for each in powers]
    at = powers.index(quantity)
    if all(after) and not before[0]:
        return after[at]
    if all(before) and not after[-1]:
        return before[at]
    return "mixed"


def _after(clause: Clause, quantity: Quantity, powers: list[Quantity]) -> str:
    later = [p.span.start for p in powers if p.span.start > quantity.span.start]
    end = min(later, default=clause.span.end)
    return _quality(Clause(clause.text, Span(quantity.span.end, end), "", ()))


def _before(clause: Clause, quantity: Quantity, powers: list[Quantity]) -> str:
    earlier = [p.span.end for p in powers if p.span.start < quantity.span.start]
    start = max(earlier, default=clause.span.start)
    return _quality(Clause(clause.text, Span(start, quantity.span.start), "", ()))


def _list(notes: Notes, statement: Statement, clause: Clause, quantity: Quantity) -> None:
    label = Clause(clause.text, Span(statement.span.start, quantity.span.start), "", ())
    order = next((o for c in (clause, label) if (o := paired_words(c) or _nominal_order(c))), None)
    values = quantity.within(1, 5000)
    if order is None or values is None or len(values) != 2 or quantity.count is not None:
        notes.refuse(quantity.span, "which of them is the rating is not clear")
        return
    notes.claim("rated_w", values[order.index("rms")], quantity.span)


def _nominal_order(clause: Clause) -> tuple[str, str] | None:
    nominal, most = clause.search(_NOMINAL), clause.search(w.MAX)
    if nominal is None or most is None or abs(nominal.start - most.start) > 24:
        return None
    between = clause.text[min(nominal.end, most.end) : max(nominal.start, most.start)]
    if "/" not in between:
        return None
    return ("rms", "max") if nominal.start < most.start else ("max", "rms")


def read_sensitivity(notes: Notes, page: Page) -> None:
    """Take the sensitivity at 2.83 V and 1 m; what is given at 1 W is brought there.

    Into R a voltage of 2.83 V is 8/R watts: 3 dB more than 1 W into 4 Ω.
    """
    for statement in page.statements:
        if not statement.has(_SENSITIVE):
            continue
        levels = [q for q in statement.quantities if q.unit == "dB"]
        start, end = statement.span.start, statement.span.end
        if len(levels) != 1:
            for each in levels:
                notes.refuse(each.span, "which sensitivity applies is not clear")
            continue
        value = levels[0].one(70, 112)
        places = [levels[0].span]
        watt, volt = _AT_WATT.search(page.text, start, end), _AT_VOLT.search(page.text, start, end)
        metre = _AT_METRE.search(page.text, start, end)
        places += [Span(m.start(), m.end()) for m in (watt, volt, metre) if m]
        span = Span(min(p.start for p in places), max(p.end for p in places))
        if value is None or bool(watt) == bool(volt):
            notes.refuse(span, "at 1 W or at 2.83 V: it does not say which")
        elif _OTHER_PLACE.search(page.text, start, end):
            notes.refuse(span, "not at 1 m")
        else:
            _sensitivity(notes, value, span, at_watt=watt is not None)


def _sensitivity(notes: Notes, value: float, span: Span, *, at_watt: bool) -> None:
    ohms, coils = notes.of("coil_ohm"), notes.of("coils")
    if not at_watt:
        if coils and coils != ["1"]:
            notes.refuse(span, "at 2.83 V: it does not say how the coils were connected")
        else:
            notes.claim("sensitivity_db", value, span)
        return
    if len(ohms) != 1 or len(coils) > 1:
        notes.refuse(span, "at 1 W: without the impedance it cannot be converted to 2.83 V")
        return
    load = float(ohms[0]) / (int(coils[0]) if coils else 1)
    level = round(value + 10 * math.log10(8 / load), 1)
    notes.claim("sensitivity_db", level, span, follows="‘1 W’ and the impedance: at 2.83 V")
