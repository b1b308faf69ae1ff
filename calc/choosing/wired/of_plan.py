"""What the drawing of the whole system shows of a plan."""

from dataclasses import dataclass
from typing import Literal

from calc.answers.figures import quantity
from calc.choosing.plan import Plan
from calc.choosing.wired.figures import Figures, figures_of
from calc.choosing.wired.hung import Hung, hung_of, output_of, terminals_of
from calc.choosing.wired.signal import Signal, Way, ends_of
from calc.choosing.wired.system import (
    GROUND,
    REMOTE,
    SUPPLY,
    Body,
    Branch,
    Earth,
    Lead,
    Output,
    Pin,
    Power,
    Source,
    Wired,
)
from calc.system.amplifier import Amplifier

Remote = Literal["radio", "feed", "relay", "supply-relay", "none", "open"]
_TITLE = "The whole system, wire by wire"
_FEED = Source(key="feed", name=("accessory", "12\u202fV feed"), pins=(Pin("12", "1\u202fA fuse"),))
_RELAY_PINS = (Pin("86", "86 coil"), Pin("30", "30 supply"), Pin("87", "87 to REM"))
_RELAY = Source(key="relay", name=("relay for", "remote lead"), pins=_RELAY_PINS, earth="85")
_SUPPLY_RELAY = Source(
    key="relay",
    name=("supply", "relay"),
    pins=(Pin("86", "86 coil"), Pin("30", "30 battery"), Pin("87", "87 to +12\u202fV")),
    earth="85",
)


@dataclass(frozen=True)
class _Amp:
    """An amplifier of the plan: its key in the drawing, its figures, its rows of the table."""

    key: str
    amplifier: Amplifier
    rows: tuple[Hung, ...]


def wired_of(plan: Plan) -> Wired:
    """Return a plan as it is to be joined.

    Raises ValueError for a plan that nothing may be connected by.
    """
    if not plan.channels:
        raise ValueError("nothing may be connected by this plan")
    figures = figures_of(plan)
    amps = _amps(plan)
    remote = _remote(plan, figures)
    signal = Signal(_way(plan), plan.job.system.head_unit.kind, figures)
    for amp in amps:
        signal.add(amp.key, amp.amplifier.name, amp.amplifier.channels or 4, amp.rows)
    of_radio = (Pin(REMOTE, "remote"),) if remote in ("radio", "relay") else ()
    sources = (*signal.sources(of_radio), *_switches(remote, figures))
    return Wired(
        title=_TITLE,
        sources=sources,
        bodies=tuple(_body(amp, plan, figures, signal, remote) for amp in amps),
        leads=(*signal.leads, *_remote_leads(amps, figures, remote)),
        power=_power(plan, amps, figures, remote),
        earths=tuple(_earth(plan, amp, figures) for amp in amps),
    )


def _amps(plan: Plan) -> tuple[_Amp, ...]:
    """Return the amplifiers with their rows, in the order of the table."""
    return (_Amp("amp1", plan.candidate.amplifier, hung_of(plan)),)


def _answer(plan: Plan, calculator: str) -> object:
    asked = (one for one in plan.questions if one.calculator.name == calculator)
    return next((one.result for one in asked), None)


def _way(plan: Plan) -> Way:
    result = _answer(plan, "signal-chain")
    if getattr(result, "is_high_level", False):
        return "high"
    return "converter" if getattr(result, "needs_converter", False) else "rca"


def _remote(plan: Plan, figures: Figures) -> Remote:
    """Return how the remote terminals get their signal."""
    best = getattr(_answer(plan, "turn-on"), "best", None)
    if best is None:
        return "open"
    if best == "trigger":
        return "relay" if figures.has("relay") else "radio"
    if best != "relay-added":
        return "none"
    return "supply-relay" if plan.candidate.amplifier.trigger is False else "feed"


def _switches(remote: Remote, figures: Figures) -> tuple[Source, ...]:
    if remote == "relay":
        return (_RELAY,)
    if remote == "supply-relay":
        return (_FEED, _SUPPLY_RELAY)
    if remote != "feed":
        return ()
    return (_FEED, _RELAY) if figures.has("relay") else (_FEED,)


def _remote_leads(amps: tuple[_Amp, ...], figures: Figures, remote: Remote) -> tuple[Lead, ...]:
    """Return the remote leads: from the radio or a feed, by a relay where there is one."""
    starts = {"radio": f"radio.{REMOTE}", "relay": f"radio.{REMOTE}"}
    start = starts.get(remote, "feed.12")
    if remote in ("none", "open"):
        return ()
    leads = []
    has_relay = remote in ("relay", "supply-relay") or figures.has("relay,")
    if has_relay:
        leads.append(Lead(start=start, end="relay.86", kind="remote"))
        start = "relay.87"
    if remote == "supply-relay":
        end, words = f"{amps[0].key}.{SUPPLY}", "switched"
        return (*leads, Lead(start=start, end=end, kind="power", words=words))
    for amp in amps:
        if amp.amplifier.trigger is not False:
            end = f"{amp.key}.{REMOTE}"
            leads.append(Lead(start=start, end=end, kind="remote", words=figures.remote))
    return tuple(leads)


def _body(amp: _Amp, plan: Plan, figures: Figures, signal: Signal, remote: Remote) -> Body:
    ends = ends_of(has_remote=amp.amplifier.trigger is not False, is_open=remote == "open")
    return Body(
        key=amp.key,
        name=amp.amplifier.name,
        inputs=(*signal.inputs[amp.key], *ends),
        outputs=tuple(_outputs(amp, plan, figures)),
    )


def _outputs(amp: _Amp, plan: Plan, figures: Figures) -> list[Output]:
    """Return all outputs of an amplifier in the order of its channels, used or not."""
    made = {}
    for at, row in enumerate(amp.rows, start=1):
        numbers = row.channel.output.split("+")
        made[int(numbers[0])] = output_of(row, plan, f"{amp.key}-load{at}", figures)
    taken = {int(n) for row in amp.rows for n in row.channel.output.split("+")}
    for number in range(1, (amp.amplifier.channels or 0) + 1):
        if number not in taken:
            made[number] = Output(terminals=terminals_of([str(number)]))
    return [made[number] for number in sorted(made)]


def _power(plan: Plan, amps: tuple[_Amp, ...], figures: Figures, remote: Remote) -> Power:
    charging = plan.job.system.charging
    under = plan.job.system.leads.engine_space
    battery = quantity(charging.battery_ah, "Ah") if charging.battery_ah is not None else ""
    lines = ("under bonnet," if under else "", battery)
    end = f"{amps[0].key}.{SUPPLY}"
    branches = [Branch(end=end, words="from main fuse")]
    if remote == "supply-relay":
        branches = [Branch(end="relay.30")]
    elif figures.has("relay,"):
        branches.append(Branch(end="relay.30"))
    return Power(
        battery=tuple(line for line in lines if line),
        fuse=figures.fuse,
        fuse_where="max 450\u202fmm",
        main=figures.main,
        branches=tuple(branches),
    )


def _earth(plan: Plan, amp: _Amp, figures: Figures) -> Earth:
    by_cable = plan.job.system.leads.return_ == "cable"
    return Earth(start=f"{amp.key}.{GROUND}", words=figures.earth, by_cable=by_cable)
