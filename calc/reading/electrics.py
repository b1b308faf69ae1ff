"""Fuses, inputs, supply, class and efficiency of an amplifier."""

import re

from calc.answers.figures import exact
from calc.reading.clauses import Clause, Page, Statement
from calc.reading.power_words import words
from calc.reading.quantities import Quantity
from calc.reading.record import Notes, Span

_FUSE = words(
    r"fuse", r"fusing", r"sicherung", r"fusible", r"fusibil", r"fusivel", r"zekering",
    r"bezpiecznik", r"sakring", r"sikring", r"pojistk", r"sulake",
)  # fmt: skip
_MAIN = words(
    r"external", r"recommend", r"main", r"in-?line", r"battery", r"not included", r"empfohl",
    r"hauptsicherung", r"extern", r"supply (?:line|cable)", r"power (?:wire|cable|lead)", r"anl",
    r"fuse holder", r"recommande", r"principal", r"should", r"use an?", r"required",
)  # fmt: skip
_KIT = words(r"kit(?![a-z])", r"kabelsatz", r"spare", r"ersatz", r"in the box")
_PIECES = re.compile(
    r"\s*(?:stuck|pcs\.?|pieces|fuses?|sicherungen|off)?\s*(?:of|a|zu|je|each|at)?\s*"
)
_INNER = words(r"internal", r"on-?board", r"built[- ]in", r"intern", r"own", r"eingebaut")
_HIGH = words(
    r"hi(?:gh)?[- ]?(?:level|input|in(?![a-z])|lvl)", r"speaker[- ]?(?:level|input|in(?![a-z]))",
    r"hochpegel", r"hoog-?niveau", r"haut[- ]niveau", r"alto livello", r"nivel alto", r"alto nivel",
    r"high(?![a-z])",
    r"hi(?![a-z])", r"lautsprechereing", r"niveau haut",
)  # fmt: skip
_LOW = words(
    r"low[- ]?(?:level|input|in(?![a-z])|lvl)", r"line[- ]?(?:level|input|in(?![a-z]))", r"rca",
    r"cinch", r"laag-?niveau", r"bas niveau", r"basso livello", r"nivel bajo", r"bajo nivel",
    r"low(?![a-z])",
    r"lo(?![a-z])",
    r"niederpegel", r"line(?![a-z])", r"pre-?amp(?:lifier)? level", r"niveau bas", r"niveau ligne",
)  # fmt: skip
_SENSITIVE = words(
    r"(?:input )?sensitiv", r"(?:eingangs)?empfindlichkeit", r"sensibi",
    r"input (?:range|level|volt)",
    r"(?:ingangs)?gevoelig", r"eingangs(?:pegel|spannung|bereich)", r"gain range",
    r"level range", r"inputs?(?![a-z])",
    r"tension d.entree", r"niveau d.entree", r"eingang(?![a-z])",
)  # fmt: skip
_OUT = words(r"out(?:put)?s?(?![a-z])", r"ausgang", r"sortie", r"pre-?out", r"uscita", r"salida",
             r"remote", r"supply", r"trigger", r"turn[- ]?on", r"battery", r"operating", r"digital",
             r"clipp", r"max(?:imum)?\.? input", r"offset")  # fmt: skip
_CLASS = re.compile(
    r"(?<![a-z])(?:classe|clase|klas[se]e?|class|cl\.)[- ]?(?:[:=|\t]\s{0,2})?"
    r"(?P<c>a/?b(?![a-z])|a-b|[a-z]{1,2}(?![a-z])(?:/[a-z]{1,2}(?![a-z]))?)"
    r"|(?<![a-z])(?P<before>ab|d)[- ]class(?![a-z])"
)
_NEXT_CLASS = re.compile(r"\s*[\t|, ]\s*(?P<c>a/?b|d)(?![a-z/])")
_EFFICIENT = words(r"efficien", r"wirkungsgrad", r"rendement", r"rendimento", r"rendimiento")
_LIMIT = re.compile(
    r"[<>≥≤~]|up to|over|more than|bis zu|max|peak|typ|better|about|min(?![a-z])|uber"
)
_REGULATED = re.compile(
    r"(?P<no>un-?regulated|non[- ]?regulated|not regulated|ungeregelt|unstabilised|non stabilis)|"
    r"(?<![a-z-])(?P<yes>regulated (?:mosfet |switching |switch-mode |pwm )?"
    r"(?:power )?(?:supply|psu|rails?)|"
    r"(?:fully|tightly|stabilised|stabilized|electronically) regulated|geregeltes netzteil|"
    r"power supply\s*[:=]?\s*(?:fully )?regulated|stabilis(?:ed|iertes) (?:supply|netzteil))"
)
_NO_BEFORE = re.compile(r"(?<![a-z])(?:no|not|without|non|ohne|kein\w{0,2}|sans)(?![a-z])[^.;\n]*$")
_NO_AFTER = re.compile(r"\s{0,3}[:=|\t]?\s{0,3}(?:no|none|nein|non)(?![a-z])")
_IDLE = words(r"idle (?:power|consumption|draw)", r"power consumption,? idle", r"leerlauf",
              r"consumption at idle", r"no[- ]signal consumption", r"consumption without signal",
              r"idle(?![a-z])")  # fmt: skip
_PARKED = words(r"stand-?by", r"sleep", r"parasitic", r"off[- ]state", r"switched off",
    r"ruhestrom aus",
                r"off current", r"bereitschaft", r"en veille")  # fmt: skip
_RATED = words(r"rated at", r"measured at", r"test(?:ed)?(?: voltage)?(?: at)?", r"bei ", r"at ")
_RATED_LABEL = words(r"(?:rated|test|reference|measuring) (?:supply )?voltage", r"prufspannung",
                     r"potenza misurata",
        r"powers? (?:rated|measured|given|specified) (?:at|with)", r"all powers? at",
                     r"ratings? at", r"power (?:rated|measured) (?:at|with)")  # fmt: skip


def _covering(clause: Clause, quantity: Quantity, *patterns: re.Pattern[str]) -> Span:
    """Return the quantity's place with the nearest words that it was known by."""
    span = quantity.span
    for pattern in patterns:
        found = clause.search(pattern)
        if found is not None and found.start - span.end < 40 and span.start - found.end < 40:
            span = Span(min(span.start, found.start), max(span.end, found.end))
    return span


def read_fuses(notes: Notes, page: Page) -> None:
    """Take its own fuses, and the main fuse that its maker asks for."""
    for statement in page.statements:
        if not statement.has(_FUSE):
            continue
        amps = [q for q in statement.quantities if q.unit == "A"]
        after = _after_fuse(statement, amps)
        if not after:
            continue
        is_main, is_inner = statement.has(_MAIN), statement.has(_INNER)
        whole = Span(after[0].span.start, after[-1].span.end)
        first = statement.clauses[0]
        found = _FUSE.search(first.text, statement.span.start, statement.span.end)
        if found is not None:
            whole = Span(min(whole.start, found.start()), max(whole.end, found.end()))
        if statement.has(_KIT):
            notes.refuse(
                whole, "belongs to a wiring kit or is a spare, not a fuse on the amplifier"
            )
            continue
        if is_main and is_inner:
            notes.refuse(whole, "which of these fuses are on the amplifier is not clear")
            continue
        fuses = _fuses(statement, after)
        if fuses is None:
            notes.refuse(whole, "which fuses these are is not clear")
        elif is_main:
            if len(fuses) == 1:
                notes.claim("main_fuse_a", fuses[0], whole)
            else:
                notes.refuse(whole, "several external fuses: which is the main fuse is not clear")
        else:
            notes.claim("fuses_a", "/".join(exact(fuse) for fuse in fuses), whole)


def _after_fuse(statement: Statement, amps: list[Quantity]) -> list[Quantity]:
    """Return the currents that the word for a fuse is about."""
    good = []
    for clause in statement.clauses:
        own = clause.search(_FUSE)
        for each in clause.quantities:
            if each not in amps:
                continue
            words_of = clause.text[clause.span.start : clause.span.end]
            if own is None and re.search(r"current|draw|strom|courant|consum|idle", words_of):
                continue
            good.append(each)
    return good


def _fuses(statement: Statement, amps: list[Quantity]) -> list[float] | None:
    fuses: list[float] = []
    for at, each in enumerate(amps):
        if each.shape != "one":
            return None
        value = each.one(1, 400)
        count = each.count or _count_beside(statement, each)
        if value is None or count is None or count > 8:
            return None
        if at and not _is_joined(statement, amps[at - 1], each):
            return None
        fuses += [value] * count
    return fuses


def _count_beside(statement: Statement, amps: Quantity) -> int | None:
    """Return the count that stands apart: ‘two 25 A fuses’, ‘25 A fuse x 2’; None if not plain."""
    text = statement.clauses[0].text
    before = text[max(statement.span.start, amps.span.start - 12) : amps.span.start].rstrip()
    numbers = [q for q in statement.quantities if q.unit == "" and q.span.end <= amps.span.start]
    if numbers:  # ‘2 fuses of 25 A’
        between = text[numbers[-1].span.end : amps.span.start]
        count = numbers[0].one(1, 8)
        is_plain = len(numbers) == 1 and count is not None and count.is_integer()
        return int(count) if is_plain and count and _PIECES.fullmatch(between) else None
    counted = re.search(r"(?<![a-z])(two|three|four|zwei|drei|vier|deux|trois)$", before)
    if counted:
        return {"two": 2, "zwei": 2, "deux": 2, "three": 3, "drei": 3, "trois": 3}.get(
            counted[1], 4
        )
    if re.search(
        r"(?<![a-z])(?:each|per|je)(?![a-z])", text[statement.span.start : statement.span.end]
    ):
        return None
    after = text[amps.span.end : statement.span.end]
    times = re.match(r"[^0-9,;]{0,20}(?<![a-z])x\s?([2-8])(?![0-9.])", after)
    if times:
        return int(times[1])
    if re.match(r"[^0-9,;]{0,20}\(\s?([2-8])\s?(?:x|pcs|pieces|off)?\s?\)", after):
        return None
    return 1


def _is_joined(statement: Statement, left: Quantity, right: Quantity) -> bool:
    between = statement.clauses[0].text[left.span.end : right.span.start].strip()
    return between in ("+", "and", "und", "et", "&", "plus")


def read_inputs(notes: Notes, page: Page) -> None:
    """Take the voltage ranges of the line input and the high-level input."""
    for statement in page.statements:
        volts = [q for q in statement.quantities if q.unit == "V"]
        if not volts or any(q.unit in ("W", "Wrms", "dB", "Hz") for q in statement.quantities):
            continue
        head = statement.head
        is_headed = head is not None and head.search(_SENSITIVE) is not None
        state = ""
        for at in range(len(statement.clauses)):
            clause = statement.with_aside(at)
            high, low = clause.search(_HIGH), clause.search(_LOW)
            sensitive = clause.search(_SENSITIVE)
            if high and low:
                state = _both(notes, clause, statement)
                continue
            own = "high" if high else "low" if low else ""
            if own or sensitive:
                state = own or "line"
            ranges = clause.of("V")
            if not ranges:
                continue
            kind = state or (_head_kind(head) if head else "")
            known = sensitive or is_headed or statement.has(_SENSITIVE) or own or kind
            if clause.search(_OUT) or not known or not kind:
                continue
            label = Clause(clause.text, statement.label, "", ())
            if label.search(_OUT):
                continue
            _input(notes, clause, ranges, kind)


def _head_kind(head: Clause) -> str:
    if head.search(_HIGH):
        return "high" if not head.search(_LOW) else ""
    return "low" if head.search(_LOW) else "line" if head.search(_SENSITIVE) else ""


def _both(notes: Notes, clause: Clause, statement: Statement) -> str:
    """Take ‘low/high: 0.2-5 V / 2-12 V’, two ranges in the order of the words."""
    ranges = [q for q in statement.quantities if q.unit == "V"]
    high, low = clause.search(_HIGH), clause.search(_LOW)
    assert high is not None and low is not None
    if len(ranges) == 2 and all(q.shape == "range" for q in ranges):
        first_is_low = low.start < high.start
        if min(low.start, high.start) < ranges[0].span.start and (
            max(low.start, high.start) < ranges[0].span.start
        ):
            for quantity, is_low in zip(ranges, (first_is_low, not first_is_low), strict=True):
                _range(notes, quantity.span, quantity, "low" if is_low else "high")
    return "done"


def _input(notes: Notes, clause: Clause, ranges: list[Quantity], kind: str) -> None:
    if kind == "done":
        return
    span = _covering(clause, ranges[0], _SENSITIVE, _HIGH if kind == "high" else _LOW)
    if len(ranges) == 1 and ranges[0].shape == "range":
        _range(notes, span, ranges[0], kind)
    elif any(q.shape == "range" for q in ranges) or len(ranges) > 1:
        notes.refuse(span, "which voltages belong to the input is not clear")
    else:
        notes.refuse(span, "one voltage is not a range: which end it is, is not clear")


def _range(notes: Notes, span: Span, quantity: Quantity, kind: str) -> None:
    values = quantity.within(0.005, 60)
    if values is None:
        notes.refuse(span, "this voltage range is not clear")
        return
    low, high = min(values), max(values)
    fits = (0.5 <= high <= 60) if kind == "high" else (0.02 <= low <= 1.2 and 0.5 <= high <= 20)
    if low >= high or not fits:
        notes.refuse(span, "not a range that such an input has")
        return
    name = "high_level" if kind == "high" else "sensitivity"
    notes.claim(f"{name}_min_v", low, span)
    notes.claim(f"{name}_max_v", high, span)


def read_class(notes: Notes, page: Page) -> None:
    """Take the class, where the text names one."""
    found = []
    for match in _CLASS.finditer(page.text):
        if page.is_skipped(match.start()):
            continue
        word = (match["c"] or match["before"]).replace("/", "").replace("-", "")
        found.append((word, Span(match.start(), match.end())))
    kinds = {word for word, _ in found}
    for word, span in found:
        following = _NEXT_CLASS.match(page.text, span.end)
        if len(kinds) > 1 or (following and following["c"].replace("/", "") != word):
            notes.refuse(span, "the text gives several classes")
        elif word in ("ab", "d"):
            notes.claim("amplifier_class", word, span)
        else:
            notes.refuse(span, "the handbook covers class AB and class D only")


def read_supply(notes: Notes, page: Page) -> None:
    """Take efficiency, regulated supply, idle power, standby current and the rated voltage."""
    for match in _REGULATED.finditer(page.text):
        if page.is_skipped(match.start()):
            continue
        span = Span(match.start(), match.end())
        if _NO_BEFORE.search(page.text, max(0, span.start - 24), span.start):
            notes.refuse(span, "whether it is regulated is not clear")
            continue
        is_denied = match["no"] is not None or _NO_AFTER.match(page.text, span.end) is not None
        notes.claim("regulated", not is_denied, span)
    for statement in page.statements:
        for clause in statement.clauses:
            label = Clause(clause.text, statement.label, "", ())

            def about(
                pattern: re.Pattern[str],
                clause: Clause = clause,
                label: Clause = label,
                whole: Statement = statement,
            ) -> bool:
                has = clause.search(pattern) is not None or label.search(pattern) is not None
                return has or whole.has(pattern)

            shares, watts, amps = clause.of("%"), clause.of("W"), clause.of("A")
            if len(shares) == 1 and about(_EFFICIENT):
                _efficiency(notes, clause, shares[0])
            if len(watts) == 1 and about(_IDLE) and not clause.of("Ω"):
                value = watts[0].one(0.5, 100)
                if value is not None:
                    notes.claim("idle_w", value, _covering(clause, watts[0], _IDLE))
            if len(amps) == 1 and about(_PARKED) and not about(_FUSE):
                _parked(notes, clause, amps[0])
            volts = clause.of("V")
            if len(volts) == 1 and about(_RATED_LABEL):
                value = volts[0].one(10, 30)
                if value is not None:
                    notes.claim("rated_v", value, _covering(clause, volts[0], _RATED_LABEL))


def _parked(notes: Notes, clause: Clause, amps: Quantity) -> None:
    span = _covering(clause, amps, _PARKED)
    value = amps.one(0.00001, 0.5)
    if value is None or _LIMIT.search(clause.text, clause.span.start, clause.span.end):
        notes.refuse(span, "a limit, or not clearly the standby current")
    else:
        notes.claim("quiescent_a", value, span)


def _efficiency(notes: Notes, clause: Clause, share: Quantity) -> None:
    span = _covering(clause, share, _EFFICIENT)
    value = share.one(30, 98)
    loads = [load.one(0.5, 16) for load in clause.of("Ω")]
    is_limit = _LIMIT.search(clause.text, clause.span.start, clause.span.end)
    if value is None or is_limit or loads not in ([], [4.0]):
        notes.refuse(span, "a limit or a rough figure, not the efficiency at full power")
    else:
        notes.claim("efficiency_percent", value, span)
