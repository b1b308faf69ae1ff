"""Filters, bass boost, ways to turn it on, the remote level control and the terminals."""

import re

from calc.answers.figures import exact
from calc.reading.clauses import Clause, Page, Statement
from calc.reading.power_words import MAX, words
from calc.reading.quantities import Quantity
from calc.reading.record import Notes, Span

HIGH_PASS = words(r"hpf?(?![a-z])", r"high[- ]?pass", r"hi[- ]?pass", r"hochpass", r"hoogdoorlaat",
    r"passe[- ]?haut",
                  r"passa[- ]?alto", r"paso[- ]?alto", r"pasa[- ]?altos?",
                  r"low[- ]?cut")  # fmt: skip
LOW_PASS = words(r"lpf?(?![a-z])", r"low[- ]?pass", r"lo[- ]?pass", r"tiefpass",
    r"laagdoorlaat", r"passe[- ]?bas",
                 r"passa[- ]?basso", r"paso[- ]?bajo", r"pasa[- ]?bajos?")  # fmt: skip
_BAND = words(r"bpf?(?![a-z])", r"band[- ]?pass")
_SUBSONIC = words(r"sub-?sonic", r"infrasonic", r"ssf(?![a-z])", r"rumble")
_OTHER = words(r"response", r"frequenzgang", r"frequency range", r"ubertragung", r"boost",
    r"eq(?![a-z])",
               r"equal", r"resonan", r"bandwidth", r"phase", r"recommend",
               r"head[- ]?unit", r"set (?:the|your|it|to)", r"radio(?![a-z])")  # fmt: skip
_SLOPE = re.compile(r"\s?(?:per\s|/|p\.?\s?|pro\s|par\s|por\s|a[n]?\s)?\s?(?:oct|okt|8ve|otta)")
# A number with a sign between that nobody knows: the corner may be a range.
_AFTER_NUMBER = re.compile(r"\d\s{0,3}[^\sa-zΩ,;:()|\"']{0,3}\s{0,3}\Z")
_SLOPE_LABEL = words(r"(?:crossover |filter |x-?over )?slope", r"flankensteil")
_BOOST = words(r"bass[- ]?boost", r"bass[- ]?eq", r"boost", r"bassanheb", r"refuerzo de graves",
    r"bass[- ]?control",
               r"bass[- ]?equali[sz]er", r"low[- ]?boost")  # fmt: skip
_LEVEL = words(
    r"(?:remote|wired) (?:bass |sub(?:woofer)? )?(?:level|gain|volume) (?:control|knob)",
    r"bass (?:remote|knob)", r"remote bass", r"remote level", r"bass level (?:remote|control|knob)",
    r"(?:kabel)?fernbedienung", r"remote (?:sub(?:woofer)?|gain|volume)", r"level remote",
    r"control remoto de graves",
    r"sub(?:woofer)? (?:level )?remote",
    r"telecommande (?:filaire )?(?:du|de) (?:niveau|grave|basse)",
)  # fmt: skip
_TRIGGER = words(
    r"remote turn[- ]?on", r"remote[- ](?:in(?:put)?|terminal|lead|wire|on)(?![a-z])",
    r"rem(?![a-z])",
    r"trigger (?:in(?:put)?|terminal|turn)", r"turn[- ]?on (?:by |via )?(?:remote|trigger)",
    r"remote-?aansluit", r"12 ?v (?:remote|trigger)", r"einschaltleitung", r"remote-?eingang",
)  # fmt: skip
_BY_REMOTE = words(
    r"(?:turn[- ]?on|einschaltung|mise en marche|inschakeling)\W{1,6}(?:(?:fil|via)\W{1,3})?remote"
)
_SENSING = words(
    r"signal[- ]sens", r"auto(?:matic)?[- ]?(?:turn[- ]?on|sens|on(?![a-z])|power[- ]?on)",
    r"turn[- ]?on (?:by |via |with )?signal", r"dc[- ]?(?:offset )?sens", r"dc[- ]?offset",
    r"detection automatique du signal", r"automatisch uber das (?:musik|audio)?-?signal",
    r"automatisch (?:in|ein)(?: [a-z]+){1,3} (?:muziek|musik)?-?signa",
    r"einschaltautomatik", r"music[- ]sens", r"audio[- ]sens", r"signalerkennung",
)  # fmt: skip
_NOT = re.compile(
    r"(?<![a-z])(?:no|not|without|none|non|ohne|nein|sans|sin|optional\w*|sold separately|"
    r"compatible|needs?|requires?|available|kein\w*|except|lacks?|instead|unlike|if)(?![a-z])"
)
_PLAIN_NO = re.compile(r"^[a-z]{0,8}\s*[:=|\t -]\s*(?:no|none|nein|non)(?![a-z])")
_SCREW = words(r"screw[- ](?:type )?(?:terminal|connect|block|clamp)", r"schraub(?:klemm|anschl)",
               r"(?:terminals?|connectors?|connections?)\s*[:=|\t]?\s*(?:type\s*[:=]?\s*)?screw",
               r"set[- ]screw term", r"bornes? a vis")  # fmt: skip
_PLUG = words(r"plug(?:-in|gable)? (?:terminal|connect|block)", r"plug[- ]in speaker",
              r"steck(?:klemm|verbind|anschl)",
              r"(?:terminals?|connectors?|connections?)\s*[:=|\t]?\s*plug",
              r"detachable (?:terminal|connector|plug|block)",
              r"removable (?:terminal|connector|plug)",
              r"molex")  # fmt: skip


def read_filters(notes: Notes, page: Page) -> None:
    """Take the ranges of high-pass and low-pass, and their slope."""
    for statement in page.statements:
        head = statement.head
        kinds: set[str] = set()
        pending: set[str] = set()
        start = read_to = statement.span.start
        spans: list[tuple[Span, set[str]]] = []
        for at, clause in enumerate(statement.clauses):
            if clause.span.end <= read_to:
                continue
            if clause.of("Hz"):
                clause = statement.with_aside(at)  # ‘50-250 Hz (HPF/LPF)’
                read_to = clause.span.end
            if clause.search(_OTHER) or clause.search(_SUBSONIC):
                kinds, pending = set(), set()
                continue
            own = _kinds(clause)
            if own:
                found = [s for p in (HIGH_PASS, LOW_PASS) if (s := clause.search(p))]
                start = min([s.start for s in found], default=clause.span.start)
            if own and not clause.quantities:
                pending |= own
                continue
            kinds = own | pending or kinds or (_kinds(head) if head else set())
            if not kinds and _is_slope_line(statement):
                kinds = {"slope"}
            pending = set()
            if not kinds:
                continue
            _filter(notes, clause, kinds, start if own or spans else clause.span.start, bool(spans))
            spans.append((clause.span, kinds))
    _check_slope(notes)


def _is_slope_line(statement: Statement) -> bool:
    """Tell whether a line gives nothing but a slope: ‘Filter slope: 12 dB/oct’."""
    is_plain = all(each.unit == "dB" for each in statement.quantities)
    is_other = any(statement.has(kind) for kind in (_SUBSONIC, MAX))
    return is_plain and statement.has(_SLOPE_LABEL) and not is_other


def _kinds(clause: Clause) -> set[str]:
    if clause.search(_SUBSONIC) or clause.search(_BAND):
        # A band-pass is both at once; which range is whose is not said.
        return set() if clause.search(_SUBSONIC) else {"band"}
    kinds = set()
    if clause.search(HIGH_PASS):
        kinds.add("high_pass_hz")
    if clause.search(LOW_PASS):
        kinds.add("low_pass_hz")
    return kinds


def _filter(notes: Notes, clause: Clause, kinds: set[str], start: int, is_later: bool) -> None:
    corners = clause.of("Hz")
    slopes = [q for q in clause.of("dB") if _is_slope(clause, q)]
    if is_later and slopes and slopes[0].span.end <= start:
        slopes = []  # ‘… 12 dB/oct LPF: 80 Hz’: of the filter before this one
    if "band" in kinds:
        for each in corners:
            notes.refuse(each.span, "a band-pass: it does not say which range is the high-pass")
        return
    last = max([q.span.end for q in [*corners, *slopes]], default=clause.span.end)
    if slopes and slopes[-1].span.end == last:
        octave = _SLOPE.match(clause.text, last)
        last = octave.end() + _rest_of_word(clause.text, octave.end()) if octave else last
    first = min([q.span.start for q in [*corners, *slopes]], default=start)
    span = Span(min(start, first), last)
    if len(corners) == 1:
        text = _corner(corners[0])
        if text is None or _AFTER_NUMBER.search(clause.text, first - 8, first):
            notes.refuse(span, "the frequencies of the filter are not clear")
        else:
            for kind in sorted(kinds):
                notes.claim(kind, text, span)
    elif corners:
        notes.refuse(span, "which frequencies belong to which filter is not clear")
    for slope in slopes:
        value = slope.one(6, 48)
        if value is None or len(slopes) > 1 or value % 6:
            notes.refuse(slope.span, "the slope is adjustable, or not clear")
        else:
            notes.claim("filter_db_per_octave", exact(value), span)


def _rest_of_word(text: str, at: int) -> int:
    match = re.compile(r"[a-z]{0,8}\.?").match(text, at)
    return len(match[0]) if match else 0


def _is_slope(clause: Clause, quantity: Quantity) -> bool:
    before = clause.text[max(clause.span.start, quantity.span.start - 2) : quantity.span.start]
    if "+" in before or before.rstrip().endswith("-"):
        return False
    return _SLOPE.match(clause.text, quantity.span.end) is not None or clause.search(_BOOST) is None


def _corner(quantity: Quantity) -> str | None:
    values = quantity.within(10, 20000)
    if values is None or quantity.is_fraction or quantity.count is not None:
        return None
    if quantity.shape == "one":
        return exact(values[0])
    if quantity.shape == "range" and values[0] < values[1]:
        return f"{exact(values[0])}-{exact(values[1])}"
    return None


def _check_slope(notes: Notes) -> None:
    if len(notes.of("filter_db_per_octave")) > 1:
        notes.withdraw(
            "filter_db_per_octave",
            "the filters have different slopes; there is one field for all",
        )


def read_boost(notes: Notes, page: Page) -> None:
    """Take the most that the bass boost gives."""
    for statement in page.statements:
        for clause in statement.clauses:
            label = Clause(clause.text, statement.label, "", ())
            own = clause.search(_BOOST)
            if own is None and (label.search(_BOOST) is None or len(statement.clauses) > 3):
                continue
            gains = [q for q in clause.of("dB") if not _SLOPE.match(clause.text, q.span.end)]
            if len(gains) != 1 or clause.search(_LEVEL) is not None:
                continue
            values = gains[0].within(0, 24)
            if values is None or gains[0].shape == "odd" or gains[0].count is not None:
                notes.refuse(gains[0].span, "the amount of boost is not clear")
                continue
            start = min(own.start if own else gains[0].span.start, gains[0].span.start)
            end = max(own.end if own else gains[0].span.end, gains[0].span.end)
            notes.claim("boost_db", max(values), Span(start, end))


def read_switches(notes: Notes, page: Page) -> None:
    """Take what it has or has not: trigger, signal sensing, level control, kind of terminals."""
    for statement in page.statements:
        for clause in statement.clauses:
            level = clause.search(_LEVEL)
            sensing = clause.search(_SENSING)
            trigger = clause.search(_TRIGGER)
            if trigger is None and clause is statement.clauses[0]:
                clause = Clause(clause.text, statement.span, "", ())
                trigger = clause.search(_BY_REMOTE)
            if level is not None:
                _switch(notes, "level_control", clause, level, statement)
            elif trigger is not None:
                _switch(notes, "trigger", clause, trigger, statement)
            if sensing is not None:
                _switch(notes, "signal_sensing", clause, sensing, statement)
            screw, plug = clause.search(_SCREW), clause.search(_PLUG)
            if screw is not None:
                notes.claim("terminals", "screw", screw)
            if plug is not None:
                notes.claim("terminals", "plug", plug)


def _switch(notes: Notes, key: str, clause: Clause, found: Span, statement: Statement) -> None:
    rest = clause.text[found.end : statement.span.end]
    if _PLAIN_NO.match(rest) or re.match(r"\s*[(]?\s*[:=|\t]?\s*(?:no|nein)\s*$", rest):
        notes.claim(key, False, found)
    elif _NOT.search(clause.text, clause.span.start, clause.span.end) is None and not re.match(
        r"[a-z]{0,8}[\s(,:=|]{0,6}(?:optional|sold|not )", rest
    ):
        notes.claim(key, True, found)
    else:
        notes.refuse(found, "whether it has this is not clear")
