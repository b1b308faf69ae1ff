"""What the drawing of the whole system shows of a plan."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from calc.choosing.installed import Part
from calc.choosing.layouts.feed import Feed
from calc.choosing.places import Place, places_of
from calc.choosing.plan import Plan
from calc.choosing.wired.figures import Figures, figures_of
from calc.choosing.wired.hung import output_of, terminals_of
from calc.choosing.wired.power import RELAY, earths_of, power_of
from calc.choosing.wired.signal import Signal, Way
from calc.choosing.wired.system import (
    GROUND,
    REMOTE,
    SUPPLY,
    Body,
    Lead,
    Load,
    Output,
    Pin,
    Source,
    Wired,
)
from calc.choosing.wired.system import Part as SetPart
from calc.setup import signal_chain, turn_on
from calc.system.plain_filters import USUAL_CHANNELS

TurnOn = Literal["radio", "feed", "supply-relay", "none", "open"]
_TITLE = "The whole system, wire by wire"
_FEED_PIN = "feed.12"
_FEED = Source(
    key="feed", name=("accessory", "12\u202fV supply"), pins=(Pin("12", "1\u202fA fuse"),)
)


@dataclass(frozen=True)
class _Amp:
    """An amplifier of the plan: its key in the drawing, its rows of the table, what turns it on."""

    key: str
    part: Part
    rows: tuple[Place, ...]
    turn_on: TurnOn


def wired_of(plan: Plan) -> Wired:
    """Return a plan as it is to be joined.

    Raises ValueError for a plan that nothing may be connected by.
    """
    if not plan.channels or not plan.may_connect:
        raise ValueError("nothing can be connected by this plan")
    figures, amps = figures_of(plan), _amps(plan)
    signal = Signal(plan.job.system.head_unit.kind, figures)
    bodies = [_body(amp, plan, figures, signal) for amp in amps]
    bodies += [_later(at, one.name, one.channels) for at, one in enumerate(plan.later, start=1)]
    layout = plan.candidate.layout
    bodies += [_own_power(feed) for feed in (layout.job.on_radio if layout else ())]
    remote, switches = _remote_leads(amps, figures)
    is_of_radio = any(lead.start == f"radio.{REMOTE}" for lead in remote)
    keys, later = [amp.key for amp in amps], [one.key for one in bodies if one.kind == "later"]
    relays = [amp.key for amp in amps if amp.turn_on == "supply-relay"]
    taps = any(source.key == RELAY for source in switches)
    sources = signal.sources((Pin(REMOTE, "remote"),) if is_of_radio else ())
    return Wired(
        title=_TITLE,
        sources=(*sources, *switches),
        bodies=tuple(bodies),
        leads=(*signal.leads, *remote),
        power=power_of(plan, keys, later, relays, taps=taps),
        earths=earths_of(plan, keys),
    )


def _amps(plan: Plan) -> tuple[_Amp, ...]:
    """Return the amplifiers that something plays on with their rows, in the table's order."""
    rows = places_of(plan)
    playing = {row.channel.part for row in rows}
    return tuple(
        _Amp(
            f"amp{part.at + 1}",
            part,
            tuple(row for row in rows if row.channel.part == part.at),
            _turn_on(plan, part),
        )
        for part in plan.candidate.parts
        if part.at in playing
    )


def _turn_on(plan: Plan, part: Part) -> TurnOn:
    results = _results(plan, part)
    best = next((one.best for one in results if isinstance(one, turn_on.Result)), None)
    if best is None:
        return "open"
    if best == "trigger":
        return "radio"
    if best != "relay-added":
        return "none"
    return "supply-relay" if part.amplifier.trigger is False else "feed"


def _way(plan: Plan, part: Part) -> Way:
    for result in _results(plan, part):
        if isinstance(result, signal_chain.Result):
            if result.is_high_level:
                return "high"
            return "converter" if result.needs_converter else "rca"
    return "rca"


def _results(plan: Plan, part: Part) -> list[object]:
    """Return what was found about an amplifier: of several each is asked by its name."""
    return [one.result for one in plan.questions if one.about in ("", part.name)]


def _remote_leads(amps: Sequence[_Amp], figures: Figures) -> tuple[list[Lead], tuple[Source, ...]]:
    """Return the remote leads, and the boxes that they need beside the radio.

    Where one amplifier needs a feed, all that have a terminal take it.  A relay stands between
    where the kit list has one; one that switches a supply belongs to its amplifier.
    """
    fed = [amp for amp in amps if amp.turn_on in ("radio", "feed")]
    needs_feed = any(amp.turn_on in ("feed", "supply-relay") for amp in amps)
    by_feed = any(amp.turn_on == "feed" for amp in amps)
    start = _FEED_PIN if by_feed else f"radio.{REMOTE}"
    leads, sources = [], [_FEED] if needs_feed else []
    if fed and figures.has_relay:
        leads.append(Lead(start=start, end=f"{RELAY}.86", kind="remote"))
        sources.append(_relay(RELAY, ("relay for", "remote lead"), "87 to REM"))
        start = f"{RELAY}.87"
    for amp in fed:
        end, words = f"{amp.key}.{REMOTE}", figures.remote(amp.part.name)
        leads.append(Lead(start=start, end=end, kind="remote", words=words))
    for amp in amps:
        if amp.turn_on == "supply-relay":
            key = f"{RELAY}-{amp.key}"
            sources.append(_relay(key, ("relay for", amp.part.name), "87 switched"))
            end = f"{amp.key}.{SUPPLY}"
            leads.append(Lead(start=_FEED_PIN, end=f"{key}.86", kind="remote"))
            leads.append(Lead(start=f"{key}.87", end=end, kind="power", words="switched"))
    return leads, tuple(sources)


def _relay(key: str, name: tuple[str, ...], gives: str) -> Source:
    """Return a relay, its terminals numbered by DIN 72552."""
    pins = (Pin("86", "86 coil"), Pin("30", "30 supply"), Pin("87", gives))
    return Source(key=key, name=name, pins=pins, earth="85")


def _body(amp: _Amp, plan: Plan, figures: Figures, signal: Signal) -> Body:
    part = amp.part
    inputs = signal.inputs(amp.key, part.name, amp.rows, _way(plan, part), part.count)
    remote = Pin(REMOTE, "REM", is_open=amp.turn_on == "open")
    has_remote = part.amplifier.trigger is not False
    ends = (remote, *_ENDS) if has_remote else _ENDS
    outputs = tuple(_outputs(amp, plan, figures))
    return Body(key=amp.key, name=part.name, inputs=(*inputs, *ends), outputs=outputs)


_ENDS = (Pin(SUPPLY, "+12\u202fV"), Pin(GROUND, "GND"))


def _outputs(amp: _Amp, plan: Plan, figures: Figures) -> list[Output]:
    """Return all outputs of an amplifier in the order of its channels, used or not."""
    made, taken = {}, set()
    for at, row in enumerate(amp.rows, start=1):
        numbers = [int(number) for number in row.channel.output.split("+")]
        made[numbers[0]] = output_of(row, plan, f"{amp.key}-load{at}", figures)
        taken |= set(numbers)
    for number in range(1, amp.part.count + 1):
        if number not in taken:
            made[number] = Output(terminals=terminals_of([str(number)]))
    return [made[number] for number in sorted(made)]


def _later(at: int, name: str, channels: int | None) -> Body:
    """Return an amplifier that comes later: nothing but its supply is there yet."""
    count = channels or USUAL_CHANNELS
    label = "in L R" if count == 1 else "inputs"
    inputs = (Pin("in", label), Pin(REMOTE, "REM"), *_ENDS)
    return Body(key=f"later{at}", name=name, kind="later", inputs=inputs)


def _own_power(feed: Feed) -> Body:
    """Return the radio with the pair that its own power drives."""
    speaker = feed.speaker
    parts = (SetPart("tweeter"), SetPart("mid-bass")) if speaker.has_network else ()
    outputs = []
    for side, letter in (("left", "L"), ("right", "R")):
        load = Load(
            key=f"own-{side}",
            kind="set" if parts else "speaker",
            name=f"{feed.name} {side}",
            note="as they are",
            parts=parts,
        )
        outputs.append(
            Output(
                terminals=terminals_of([letter]),
                plus=f"{letter}+",
                minus=f"{letter}-",
                loads=(load,),
                plus_to=(f"{load.key}.+",),
                minus_to=(f"{load.key}.-",),
                cable="factory leads",
            )
        )
    return Body(key="own", name="head unit’s power", kind="radio", outputs=tuple(outputs))
