"""How many channels there are, how low a load each takes, and whether pairs may be bridged."""

import re
from collections.abc import Sequence

from calc.answers.figures import rounded
from calc.reading import power_words as w
from calc.reading.clauses import Clause, Page, Statement
from calc.reading.power_found import Power
from calc.reading.quantities import Quantity
from calc.reading.record import Notes, Span

_NUMBERS = {"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "eight": 8,
            "vier": 4, "funf": 5, "sechs": 6, "zwei": 2, "quatre": 4, "cinq": 5, "deux": 2,
            "quattro": 4, "cuatro": 4}  # fmt: skip
_WORDED = re.compile(
    rf"(?<![a-z])(?P<n>{'|'.join(_NUMBERS)})[- ]?"
    r"(?:channels?|ch(?![a-z])|kanal(?:e|ig)?|canaux|canali|canales)"
)
_NUMBER_OF = re.compile(
    r"(?<![a-z])(?:(?:number|no\.?|nr\.?) of channels|channels|kanale|kanalzahl|"
    r"anzahl(?: der)? kanale|"
    r"canaux|canales|canali|nombre de canaux)\s*[:=|\t ]\s*(?P<n>[1-8])"
    r"(?=[ ]?(?:$|[;.\n)]|[,|\t](?!\s*\d)))"
)
_USED_AS = re.compile(r"(?<![a-z])(?:to|into|as|than|from|drives?|any|only|or|in)\s{1,2}$")
_MODES = re.compile(
    r"(?<![0-9./-])(?P<n>[2-8](?:/[1-7]){1,3})[- ]?"
    r"(?:channels?|ch(?![a-z])|kanal)"
)
_MONO = re.compile(
    r"mono ?-?blo[ckq][a-z]{0,2}|mono(?:phonic)? (?:sub(?:woofer)? )?amp|single[- ]channel|"
    r"1[- ]channel|einkanal|mono sub(?:woofer)?[- ]amp|class[- ]?d mono\b"
)
_STEREO = re.compile(r"stereo (?:power )?amp")
_NO_COUNT = re.compile(
    r"\s{0,2}-?\s?(?:x?\s?(?:rca|line|low|high|speaker|audio|signal|cinch|dsp|eq|pre)?[- ]?"
    r"(?:level )?(?:in(?:put)?s?|eing\w*|mode|operation|betrieb|source|select|switch|"
    r"bridg\w*|stereo|mono|out(?:put)?s?|"
    r"setup|configuration|use|remote|driven|only|processor|dsp|sound|[1-8] [1-8]))(?![a-z])"
)
_ABLE_NOT = w.words(
    r"not bridg", r"no (?:es )?puenteable", r"niet brugbaar", r"non[- ]?bridg",
    r"cannot be bridged",
    r"can not be bridged", r"do not bridge",
    r"never bridge", r"nicht bruck", r"must not be bridged", r"no bridging", r"unbridge",
    r"bridg(?:e?able|ing)\s*[:=|\t-]\s*no(?![a-z])", r"nicht gebruckt", r"non pont",
    r"not (?:be )?(?:suitable|intended|meant|made) for bridg", r"bridging is not",
)  # fmt: skip
_ABLE_NO_DOUBT = w.words(
    r"bridge?-?able", r"can be bridged", r"may be bridged", r"bruckbar", r"pontable",
    r"puenteable", r"ponteabile", r"ponticell", r"bridged (?:mode|power|output)",
)  # fmt: skip
_BELOW = w.words(r"below", r"less than", r"under", r"lower than", r"unter", r"onder", r"sous")
_MAYBE = w.words(r"if ", r"optional", r"some ", r"only(?![a-z])", r"except")
_SPEAKER = w.words(r"impedan", r"load(?! dump)", r"lautsprecherimp", r"last(?:impedanz|widerstand)")


def read_channels(notes: Notes, page: Page) -> tuple[int | None, Span | None, bool]:
    """Return the number of channels that the text names, where, and whether it names several."""
    found: list[tuple[int, Span]] = []
    text = page.text
    for match in _MODES.finditer(text):
        numbers = [int(n) for n in match["n"].split("/")]
        if numbers[0] == max(numbers) and not _NO_COUNT.match(text, match.end()):
            found.append((numbers[0], Span(match.start(), match.end())))
    for match in _WORDED.finditer(text):
        if not _NO_COUNT.match(text, match.end()):
            found.append((_NUMBERS[match["n"]], Span(match.start(), match.end())))
    for match in _NUMBER_OF.finditer(text):
        if not any(q.span.start <= match.start("n") < q.span.end and (q.shape != "one" or q.count)
                   for q in page.quantities):  # fmt: skip
            found.append((int(match["n"]), Span(match.start(), match.end())))
    for quantity in page.quantities:
        number = _count_of(quantity, text)
        if number is not None:
            found.append((number, quantity.span))
    found = [(number, span) for number, span in found if not page.is_skipped(span.start)]
    if not found:
        for pattern, number in ((_MONO, 1), (_STEREO, 2)):
            named = pattern.search(text)
            if named is not None:
                found.append((number, Span(named.start(), named.end())))
                break
    if len({number for number, _ in found}) > 1:
        for _, span in found:
            notes.refuse(span, "the text gives several numbers of channels")
        return None, None, True
    return (found[0][0], found[0][1], False) if found else (None, None, False)


def _count_of(quantity: Quantity, text: str) -> int | None:
    """Return the number of ‘4-channel’; None for ‘60 W x 4 channels’ and ‘2-channel mode’."""
    if quantity.unit != "ch" or quantity.shape != "one" or quantity.count is not None:
        return None
    value = quantity.one(1, 8)
    if value is None or not value.is_integer() or _NO_COUNT.match(text, quantity.span.end):
        return None
    near = text[max(0, quantity.span.start - 3) : quantity.span.start]
    before = near.rstrip()
    if (
        near.endswith("-")
        or before.endswith(("x", "/", "+", "&"))
        or _USED_AS.search(text, max(0, quantity.span.start - 12), quantity.span.start)
    ):
        return None
    return int(value)


def claim_channels(
    notes: Notes,
    said: tuple[int | None, Span | None, bool],
    counted: int | None,
    powers: Sequence[Power],
) -> None:
    """Take the number of channels: as the text says, or as its powers show."""
    number, span, several = said
    if several:
        return
    spans = [power.span for power in powers if power.count == counted]
    place = span or (spans[0] if spans else None)
    is_five = number == 5 if number is not None else counted == 4 and _has_fifth(powers)
    if place is not None and is_five and counted != 5:
        notes.ask(
            place,
            "Five channels: four the same and one for the sub?",
            [
                ("only the four", {"channels": 4}),
                ("all five the same", {"channels": 5}),
            ],
        )
        return
    if number is not None and span is not None:
        notes.claim("channels", number, span)
    elif counted is not None and spans:
        notes.claim("channels", counted, spans[0])


def _has_fifth(powers: Sequence[Power]) -> bool:
    """Tell whether a power is of a single channel beside others: 4 x 60 W + 1 x 300 W."""
    joins = any(power.mixed and (power.count or 0) >= 4 for power in powers)
    return any(
        power.sub or (power.count == 1 and not power.bridged and (joins or not power.mixed))
        for power in powers
        if power.quality != "max" and not power.mono
    )


def read_loads(notes: Notes, page: Page, channels: int | None) -> None:
    """Take the lowest load of a channel, and what a bridged load says of it."""
    for statement in page.statements:
        for at, clause in enumerate(statement.clauses):
            loads = [q for q in clause.of("Ω") if q.shape in ("one", "range")]
            if not loads or clause.of("W", "Wrms", "Wpc", "Wmax"):
                continue
            _load(notes, statement, statement.with_aside(at), loads, channels)


def _load(
    notes: Notes, statement: Statement, clause: Clause, loads: list[Quantity], channels: int | None
) -> None:
    label = Clause(clause.text, statement.label, "", ())
    own = clause.search(w.STABLE)
    is_limit = own is not None or label.search(w.STABLE) is not None
    is_range = loads[0].shape == "range" and (
        clause.search(_SPEAKER) is not None or label.search(_SPEAKER) is not None
    )
    if not (is_limit or is_range) or clause.search(w.FOREIGN) or label.search(w.FOREIGN):
        return
    if w.NEGATED.search(clause.text, statement.span.start, clause.span.end):
        return  # ‘not stable at 2 Ω’
    if len(loads) > 1:
        return
    values = loads[0].within(0.5, 16)
    if values is None or loads[0].count is not None:
        return
    if loads[0].shape == "range" and not is_range and not is_limit:
        return
    bridged = clause.search(w.BRIDGED) is not None
    mono = clause.search(w.MONO) is not None
    stereo = clause.search(w.STEREO) is not None
    span = loads[0].span
    for pattern in (w.STABLE, w.BRIDGED, _SPEAKER):
        near = clause.search(pattern)
        if near is not None:
            span = Span(min(span.start, near.start), max(span.end, near.end))
    low = min(values)
    if clause.search(w.SUB) is not None:
        notes.refuse(span, "belongs to the sub channel, so it was left out")
    elif (bridged or (mono and channels != 1)) and not stereo:
        if mono and not bridged and channels is None:
            notes.refuse(span, "mono: it may or may not mean bridged")
            return
        said = f"‘bridged at {rounded(low)} Ω’"
        notes.claim("may_be_bridged", True, span, follows=said)
        if low >= 1:
            notes.claim("min_channel_ohm", low / 2, span, follows=said, rank=-1)
    elif not bridged:
        notes.claim("min_channel_ohm", low, span, rank=0)


def check_loads(notes: Notes) -> None:
    """Of a lowest load that does not go with a bridged one, neither is taken."""
    claims = notes.claims.get("min_channel_ohm", [])
    direct = {float(c.value) for c in claims if c.rank >= 0}
    follows = {float(c.value) for c in claims if c.rank < 0}
    if len(direct) == 1 and follows and min(follows) < min(direct):
        notes.withdraw(
            "min_channel_ohm",
            "the minimum load per channel does not match the bridged load: ask which is right",
        )
    elif not direct and len(follows) > 1:
        lowest = min(follows)
        notes.claims["min_channel_ohm"] = [c for c in claims if float(c.value) == lowest]


def read_bridging(notes: Notes, page: Page) -> None:
    """Take whether pairs may be bridged, where it is said in words."""
    for statement in page.statements:
        text = page.text[statement.span.start : statement.span.end]
        start = statement.span.start
        no = _ABLE_NOT.search(text)
        if no is not None and _BELOW.search(text):
            continue  # ‘do not bridge below 4 Ω’
        if no is not None:
            notes.claim("may_be_bridged", False, Span(start + no.start(), start + no.end()))
            continue
        yes = _ABLE_NO_DOUBT.search(text)
        if (
            yes is None
            or _MAYBE.search(text)
            or re.search(r"(?<![a-z])(?:not|no|nicht|without)(?![a-z])", text)
        ):
            continue
        if yes[0].startswith(("bridged",)) and not any(map(str.isdigit, text)):
            continue
        notes.claim("may_be_bridged", True, Span(start + yes.start(), start + yes.end()))
