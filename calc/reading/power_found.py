"""Powers as a text states them: each with its load, its count and the words beside it."""

from dataclasses import dataclass, field, replace

from calc.reading import power_words as w
from calc.reading.clauses import Clause, Statement
from calc.reading.power_pairs import (
    WATTS,
    ends_bridged,
    is_limit,
    is_parted,
    is_second_label,
    loads_in_turn,
    paired_words,
    pairs_of,
    replace_span,
)
from calc.reading.quantities import Quantity
from calc.reading.record import Span

LOWEST_W, HIGHEST_W = 5.0, 20000.0
_WHICH = "which of them is bridged, or another kind of power, is not clear"
_LOAD = "which load it belongs to is not clear"
_DISTORTED = "measured at high distortion: not a rating"


@dataclass(frozen=True)
class Power:
    """A power that a text states.

    load_ohm : None where it is not stated
    count : of how many channels; None where it is not said
    quality : ‘rms’, ‘max’, ‘mixed’ or empty
    doubt : why it cannot be taken, whatever the rest of the text says
    """

    watts: float
    span: Span
    load_ohm: float | None = None
    count: int | None = None
    quality: str = ""
    bridged: bool = False
    mono: bool = False
    stereo: bool = False
    sub: bool = False
    total: bool = False
    each: bool = False
    place: bool = False
    mixed: bool = False
    rated_v: float | None = None
    doubt: str = ""


@dataclass
class State:
    """What a statement's clauses hand on to those after them."""

    quality: str = ""
    bridged: bool = False
    sub: bool = False
    each: bool = False
    load_first: bool = False  # ‘(4 Ω) 60 W (2 Ω) 90 W’: each load stands before its power
    bridges_next: bool = False
    place: bool = False
    is_unsure: bool = False  # which of several powers is bridged
    volts: float | None = None
    loads: list[float] = field(default_factory=list)
    order: tuple[str, str] | None = None  # of ‘RMS / max.’ in the head
    begun: Clause | None = None  # with the load of the first power, which follows


def quality_of(clause: Clause) -> str:
    """Return what a clause calls its power."""
    most = clause.search(w.MAX) is not None or bool(clause.of("Wmax"))
    rms = clause.search(w.RMS) is not None or bool(clause.of("Wrms"))
    return "mixed" if most and rms else "max" if most else "rms" if rms else ""


def loads_of(clause: Clause) -> list[Quantity]:
    """Return the loads of a clause, single ones and lists."""
    return [each for each in clause.of("Ω") if each.shape in ("one", "list")]


def powers_of(clause: Clause) -> list[Quantity]:
    """Return the powers of a clause; ‘4 x 60’ is one where the words say so."""
    found = clause.of(*WATTS)
    if found or not loads_of(clause):
        return found
    if clause.search(w.RMS) is None and clause.search(w.POWER) is None:
        return []
    return [each for each in clause.of("") if each.count is not None and each.shape != "odd"]


def powers_of_statement(statement: Statement) -> list[Power]:
    """Return the powers of a statement, with what its words say of them."""
    head = statement.head
    state = State(
        quality_of(head) if head else "",
        bool(head and head.search(w.BRIDGED)),
        bool(head and head.search(w.SUB)),
        bool(head and head.search(w.EACH)),
    )
    if head is not None:
        state.loads = [v for q in loads_of(head) if (v := q.one(0.5, 16)) is not None]
        state.order = paired_words(head)
        state.volts = _volts(head)
    found: list[Power] = []
    clauses = statement.clauses
    waiting: Quantity | None = None  # a load without a power: of the one before, or of the next
    for at, clause in enumerate(clauses):
        if clause.search(w.FOREIGN) is not None and clause.opener in ("(", ",", "&"):
            if found and clause.search(w.DISTORTION):
                volts = found[-1].rated_v or _volts(clause)
                doubt = _DISTORTED if _is_distorted(clause) else found[-1].doubt
                found[-1] = replace(found[-1], rated_v=volts, doubt=doubt)
            continue
        powers = powers_of(clause)
        loads = loads_of(clause)
        if not powers:
            waiting = _without_power(clause, at, statement, found, state, waiting)
            continue
        if found and clause.opener == ")" and w.BRIDGED.match(clause.text, clause.span.start):
            state.is_unsure = True  # ‘40 W (4 Ω) bridged 60 W (2 Ω)’: of either
        before, is_plain = waiting, bool(loads)
        is_after = waiting is not None and not loads
        if waiting is not None and not loads:
            loads = [waiting]
            state.load_first = True
        waiting = None
        own = _of_clause(clause, powers, loads, state)
        if before is not None and is_plain and loads[0].numbers != before.numbers:
            own = [replace(power, doubt=_LOAD) for power in own]  # ‘4 Ω: | 60 W, 2 Ω: | 90 W’
        if is_after and state.begun is not None and not found:
            begun, bridged = state.begun, state.begun.search(w.BRIDGED) is not None
            own = [_described(power, begun, quality_of(begun), bridged) for power in own]
        if is_after and state.bridges_next:
            own = [replace(power, bridged=True) for power in own]
        state.bridges_next = False
        found += own
        _hand_on(clause, state)
        state.sub = state.sub or (len(powers) > 1 and clause.search(w.SUB) is not None)
    if head is not None and _is_distorted(head):
        return [replace(power, doubt=_DISTORTED) for power in found]
    if state.load_first and waiting is not None and waiting.span.start > found[-1].span.end:
        return [replace(power, doubt=_LOAD) for power in found]  # loads before and behind
    orders = loads_in_turn(statement)
    if len(orders) == len(found) > 1 and orders != [power.load_ohm for power in found]:
        return [replace(power, doubt=power.doubt or _LOAD) for power in found]
    if state.is_unsure and len(found) > 1:
        return [replace(power, doubt=_WHICH) for power in found]
    return [_headed(power, state, statement) for power in _mixes(found, clauses)]


def _hand_on(clause: Clause, state: State) -> None:
    """A word before the first quantity counts for the clauses after it, too."""
    label = replace_span(clause, Span(clause.span.start, max(clause.span.start, clause.first)))
    quality = quality_of(label)
    if quality:
        state.quality = quality
    # ‘Sub: 200 W at 4 Ω, 300 W at 2 Ω’, up to the next word for channels.
    state.sub = label.search(w.SUB) is not None or (
        state.sub and label.search(w.PLACES) is None and label.search(w.STEREO) is None
    )
    before = clause.text[clause.span.start : clause.first]
    if ":" in before and loads_of(clause) and clause.first == loads_of(clause)[0].span.start:
        state.loads = loads_of(clause)[0].within(0.5, 16) or []


def _without_power(
    clause: Clause,
    at: int,
    statement: Statement,
    found: list[Power],
    state: State,
    waiting: Quantity | None,
) -> Quantity | None:
    """Take in a clause without a power: a load, or words about the power beside it."""
    if clause.search(w.STABLE) is not None and loads_of(clause):
        return waiting  # the lowest load, not that of a power
    quality = quality_of(clause)
    bridged = clause.search(w.BRIDGED) is not None
    loads = loads_of(clause)
    is_load = len(loads) == 1 and not is_limit(clause) and _is_lone(statement, at)
    if not found:
        state.sub = state.sub or clause.search(w.SUB) is not None
        state.place = state.place or clause.search(w.PLACES) is not None
        state.volts = _volts(clause) or state.volts
        state.quality = quality or state.quality
        state.bridged = state.bridged or (bridged and not loads)
        state.is_unsure = state.is_unsure or (bridged and clause.opener == "(")
        if is_load:
            state.begun = replace_span(clause, Span(statement.span.start, clause.span.end))
        return loads[0] if is_load else waiting
    power = found[-1]
    if state.load_first and loads:
        state.bridges_next = bridged
        return loads[0] if len(loads) == 1 else None
    is_last = not any(powers_of(later) for later in statement.clauses[at + 1 :])
    belongs_back = clause.opener == "(" or is_last
    if loads and at and is_second_label(statement, statement.clauses[at - 1], clause):
        power = replace(power, doubt=_LOAD)
    if belongs_back:
        power = _described(power, clause, quality, bridged)
    elif quality == "max" and not power.quality:
        power = replace(power, quality="max")
    elif bridged and not loads:
        power = replace(power, doubt="it is not clear whether this is bridged")
        state.is_unsure = True
    load = loads[0].one(0.5, 16) if is_load and power.load_ohm is None and not waiting else None
    if load is not None:
        span = Span(power.span.start, loads[0].span.end)
        power = replace(power, load_ohm=load, span=span, bridged=power.bridged or bridged)
    found[-1] = power
    return loads[0] if is_load and load is None and not belongs_back else waiting


def _described(power: Power, clause: Clause, quality: str, bridged: bool) -> Power:
    """Return a power with what the words after it say."""
    if quality:
        quality = _worse(quality, power) if power.quality else quality
    return replace(
        power,
        quality=quality or power.quality,
        bridged=power.bridged or bridged,
        sub=power.sub or clause.search(w.SUB) is not None,
        total=power.total or clause.search(w.TOTAL) is not None,
        each=power.each or clause.search(w.EACH) is not None,
        stereo=power.stereo or clause.search(w.STEREO) is not None,
        rated_v=power.rated_v or _volts(clause),
        doubt=_DISTORTED if _is_distorted(clause) else power.doubt,
    )


def _is_lone(statement: Statement, at: int) -> bool:
    """Tell whether no other load stands beside this one, before the next power."""
    for step in (-1, 1):
        near = at + step
        while 0 <= near < len(statement.clauses) and not powers_of(statement.clauses[near]):
            clause = statement.clauses[near]
            if clause.of("Ω", "") and clause.search(w.STABLE) is None:
                return False
            near += step
    return True


def _worse(quality: str, power: Power) -> str:
    return "mixed" if quality != power.quality else quality


def _volts(clause: Clause) -> float | None:
    volts = clause.of("V")
    return volts[0].one(10, 30) if len(volts) == 1 else None


def _is_distorted(clause: Clause) -> bool:
    shares = [each.within(0, 100) for each in clause.of("%")]
    return any(share and max(share) >= 3 for share in shares)


def _of_clause(
    clause: Clause, powers: list[Quantity], loads: list[Quantity], state: State
) -> list[Power]:
    """Pair a clause's powers with its loads."""
    pairs = pairs_of(powers, loads)
    if pairs is None:
        return [said(clause, p, None, state, _LOAD) for p in powers]
    result: list[Power] = []
    kinds = (w.BRIDGED, w.MONO, w.SUB, w.TOTAL)
    is_last = ends_bridged(clause, pairs)
    if len(powers) > 1 and not is_last and any(clause.search(kind) for kind in kinds):
        return [said(clause, p, None, state, _WHICH) for p in powers]
    for power, load in pairs:
        if power.shape == "list" or (load is not None and load.shape == "list"):
            result += _listed(clause, power, load, state)
        elif power.shape != "one":
            result.append(said(clause, power, None, state, "it is a range, or not clear"))
        else:
            ohm = load.one(0.5, 16) if load is not None else None
            doubt = "the load is not clear" if load is not None and ohm is None else ""
            if load is not None and is_parted(clause, power, load):
                doubt = _LOAD
            one = said(clause, power, ohm, state, doubt, load)
            result.append(replace(one, bridged=power is powers[-1]) if is_last else one)
    return result


def _listed(clause: Clause, power: Quantity, load: Quantity | None, state: State) -> list[Power]:
    """Powers and loads in lists: 60/90 W at 4/2 Ω, or RMS/max 60/120 W."""
    watts = power.within(LOWEST_W, HIGHEST_W)
    if watts is None:
        return [said(clause, power, None, state, "it is not clear")]
    if load is not None and load.shape == "list":
        ohms = load.within(0.5, 16)
        if power.shape == "list" and ohms and len(ohms) == len(watts):
            return [
                replace(said(clause, power, ohm, state, "", load), watts=watt)
                for watt, ohm in zip(watts, ohms, strict=True)
            ]
        return [said(clause, power, None, state, _LOAD)]
    order = paired_words(clause)
    if order is None and not quality_of(clause):
        order = state.order
    if order is None or len(watts) != 2:
        return [said(clause, power, None, state, "which of them is the rating is not clear")]
    ohm = load.one(0.5, 16) if load is not None else None
    return [
        replace(said(clause, power, ohm, state, "", load), watts=watt, quality=quality)
        for watt, quality in zip(watts, order, strict=True)
    ]


def _count_after(clause: Clause, power: Quantity) -> tuple[int | None, int]:
    """Return the count that stands after a power with words between: 60 W RMS x 4."""
    for each in clause.quantities:
        if each.span.start < power.span.end:
            continue
        between = clause.text[power.span.end : each.span.start].rstrip()
        is_count = each.unit in ("", "ch") and each.shape == "one" and each.count is None
        if is_count and between.endswith("x") and len(between) < 24:
            value = each.one(1, 12)
            if value is not None and value.is_integer():
                return int(value), each.span.end
        return None, power.span.end
    return None, power.span.end


def said(
    clause: Clause,
    power: Quantity,
    ohm: float | None,
    state: State,
    doubt: str,
    load: Quantity | None = None,
) -> Power:
    """Return a power with the words of its clause, and with what came before it."""
    count, end = (power.count, power.span.end)
    if count is None:
        count, end = _count_after(clause, power)
    watts = power.within(LOWEST_W, HIGHEST_W)
    before = clause.text[max(clause.span.start, power.span.start - 14) : power.span.start].rstrip()
    able = clause.search(w.ABLE)
    is_able = able is not None and 0 <= power.span.start - able.end < 14
    quality = quality_of(clause) or state.quality
    if before.endswith((">", "<", "≥", "~", "ca.", "ca", "approx.", "about", "almost", "nearly")):
        doubt = doubt or "a limit or a rough figure, not a rating"
    if _is_distorted(clause):
        doubt = doubt or _DISTORTED
    start = min(power.span.start, load.span.start if load is not None else power.span.start)
    end = max(end, load.span.end if load is not None else end)
    for pattern in (w.RMS, w.BRIDGED, w.EACH, w.MAX, w.TOTAL):
        found = clause.search(pattern)
        if found is not None and found.start - end < 24 and start - found.end < 24:
            start, end = min(start, found.start), max(end, found.end)
    return Power(
        watts=watts[0] if watts else 0.0,
        span=Span(start, max(end, power.span.end)),
        load_ohm=ohm,
        count=count,
        quality=quality,
        bridged=clause.search(w.BRIDGED) is not None or is_able,
        mono=clause.search(w.MONO) is not None,
        stereo=clause.search(w.STEREO) is not None,
        sub=clause.search(w.SUB) is not None or state.sub,
        total=clause.search(w.TOTAL) is not None,
        each=clause.search(w.EACH) is not None or power.unit == "Wpc",
        place=clause.search(w.PLACES) is not None or state.place,
        mixed=clause.opener == "+",
        rated_v=_volts(clause) or state.volts,
        doubt=doubt or ("" if watts else "not a power that an amplifier has"),
    )


def _mixes(found: list[Power], clauses: tuple[Clause, ...]) -> list[Power]:
    """Mark what is joined by plus signs: 4 x 60 W + 1 x 300 W."""
    if not any(clause.opener == "+" for clause in clauses):
        return found
    marked = []
    for at, power in enumerate(found):
        nearby = at + 1 < len(found) and found[at + 1].mixed
        marked.append(replace(power, mixed=power.mixed or nearby))
    loads = {power.load_ohm for power in marked if power.mixed}
    known = loads - {None}
    is_plain = not any(power.doubt for power in marked if power.mixed)
    if known == {4.0} and None in loads and is_plain:  # 4 x 60 + 1 x 300 W at 4 Ω
        load = known.pop()
        marked = [replace(p, load_ohm=load) if p.mixed else p for p in marked]
    return marked


def _headed(power: Power, state: State, statement: Statement) -> Power:
    """Give a power what its line's head says, where its own line does not."""
    load = power.load_ohm
    if load is None and len(state.loads) == 1 and not power.doubt:
        load = state.loads[0]
    explicit = statement.head is not None and statement.head.search(w.BRIDGED) is not None
    bridged = power.bridged or ((state.bridged or explicit) and not power.stereo)
    return replace(
        power, load_ohm=load, bridged=bridged, sub=power.sub, each=power.each or state.each
    )
