"""What hangs on the outputs of a plan's amplifiers: outputs and loads for the drawing."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from calc.answers.figures import quantity
from calc.choosing.layouts.channels import Channel, output_names
from calc.choosing.layouts.feeds import Feed
from calc.choosing.layouts.wirings import Wiring
from calc.choosing.plan import Plan
from calc.choosing.wired.figures import Figures
from calc.choosing.wired.system import Load, Output, Part
from calc.coils.notation import read_notation
from calc.physics.coils import LETTERS, Driver, coil_names
from calc.system.speakers import Speaker

_OF_A_SET = (Part("tweeter"), Part("mid-bass"))
_KINDS = {"full-range": "coaxial", "woofer": "subwoofer"}


@dataclass(frozen=True)
class Hung:
    """A row of the channel table with what it is made of.

    end : the name of the end of its cable, as the kit list has it
    drivers : speakers or sets on this output
    """

    channel: Channel
    feed: Feed
    wiring: Wiring
    end: str
    drivers: int


def hung_of(plan: Plan) -> tuple[Hung, ...]:
    """Return the rows of the channel table with the feeds that they come from."""
    layout = plan.candidate.layout
    if layout is None:
        return ()
    found = {}
    for feed, wiring, use in layout.uses:
        for output, end in zip(use.outputs, output_names(feed, use), strict=True):
            drivers = wiring.drivers * use.per_output
            found["+".join(map(str, output))] = (feed, wiring, end, drivers)
    return tuple(Hung(channel, *found[channel.output]) for channel in plan.channels)


def output_of(one: Hung, plan: Plan, key: str, figures: Figures) -> Output:
    """Return an output with its loads; `key` makes the names of its loads."""
    channel = one.channel
    numbers = channel.output.split("+")
    farad = channel.capacitor_farad
    loads = _loads(one, plan, key)
    nets = _nets(one, loads)
    plus, minus, links = nets
    return Output(
        terminals=terminals_of(numbers),
        plus=channel.plus,
        minus=channel.minus,
        loads=loads,
        plus_to=plus,
        minus_to=minus,
        links=links,
        cable=figures.speaker(one.end),
        capacitor="" if farad is None else quantity(farad * 1e6, "µF", 3),
    )


def terminals_of(numbers: Sequence[str]) -> tuple[str, ...]:
    """Return the terminals of channels, from the top.

    >>> terminals_of(["3", "4"])
    ('3+', '3-', '4+', '4-')
    """
    return tuple(f"{number}{sign}" for number in numbers for sign in "+-")


def _loads(one: Hung, plan: Plan, key: str) -> tuple[Load, ...]:
    """Return the loads of an output: a speaker, a set or the coils of each driver on it."""
    feed, speaker = one.feed, one.feed.speaker
    parts = _parts(plan, feed)
    is_reversed = one.channel.polarity == "reversed"
    load = Load(
        key=key,
        kind="set" if parts else "speaker",
        name=one.end,
        note=_note(feed, bool(parts)),
        parts=parts,
        is_reversed=is_reversed,
    )
    if speaker.coils > 1:
        letters = LETTERS[: speaker.coils]
        load = replace(load, kind="coils", words=_coil_words(one), coils=tuple(letters))
    if one.drivers == 1:
        if speaker.coils == 1:
            return (load,)
        return (replace(load, coils=tuple(f"1{letter}" for letter in load.coils)),)
    words = "in parallel" if "|" in (one.channel.wiring or "") else "in series"
    made = []
    for at in range(1, one.drivers + 1):
        coils = tuple(f"{at}{letter}" for letter in load.coils)
        note = load.note if load.kind == "coils" else f"{load.note}, {words}"
        made.append(
            replace(load, key=f"{key}{at}", name=f"{load.name} {at}", coils=coils, note=note)
        )
    return tuple(made)


def _parts(plan: Plan, feed: Feed) -> tuple[Part, ...]:
    """Return the speakers behind a passive crossover, the highest band first; none without."""
    if feed.speaker.has_network:
        return _OF_A_SET
    rows: list[Speaker] = [plan.job.speakers[row] for row in reversed(feed.rows)]
    names = {speaker.name for speaker in rows}
    alone = any({network.above, network.below} & names for network in plan.job.system.networks)
    return tuple(Part(speaker.section) for speaker in rows) if alone else ()


def _note(feed: Feed, is_set: bool) -> str:
    speaker = feed.speaker
    ohm = quantity(speaker.coil_ohm, "Ω")
    if speaker.coils > 1:
        return f"{speaker.coils} × {ohm}"
    if is_set:
        is_said = "component" in speaker.name or not speaker.has_network
        return ohm if is_said else f"component set, {ohm}"
    word = _KINDS.get(speaker.section, speaker.section)
    return ohm if word.split("-")[0] in speaker.name else f"{word}, {ohm}"


def _coil_words(one: Hung) -> tuple[str, ...]:
    """Say how the coils of one speaker are joined, where this is plain to say."""
    count = f"{one.feed.speaker.coils} coils"
    wiring = one.channel.wiring or ""
    if one.drivers > 1:
        return (count,)
    if "|" not in wiring:
        return count, "in series"
    return (count, "parallel") if "+" not in wiring else (count,)


def _nets(
    one: Hung, loads: Sequence[Load]
) -> tuple[tuple[str, ...], tuple[str, ...], tuple[tuple[str, ...], ...]]:
    """Return the pins on the leads + and −, and those that are joined with one another."""
    if one.channel.wiring is None:
        (load,) = loads
        upper, lower = load.terminals
        return (f"{load.key}.{upper}",), (f"{load.key}.{lower}",), ()
    nets = _coil_nets(one)
    pins = {name: [_pin(loads, end) for end in ends] for name, ends in nets.items()}
    plus, minus = tuple(pins.pop("amp+")), tuple(pins.pop("amp-"))
    return plus, minus, tuple(tuple(ends) for ends in pins.values())


def _coil_nets(one: Hung) -> Mapping[str, Sequence[str]]:
    """Return the nets of the circuit that the channel table names."""
    speaker = one.feed.speaker
    drivers = [Driver(speaker.coils, speaker.coil_ohm)] * one.drivers
    circuit = read_notation(one.channel.wiring or "", coil_names(drivers))
    return circuit.nets(is_reversed=one.channel.polarity == "reversed")


def _pin(loads: Sequence[Load], terminal: str) -> str:
    """Return the pin of a coil's terminal such as `2a+`: a single coil's is the speaker's own."""
    load = loads[int(terminal[0]) - 1]
    return f"{load.key}.{terminal if load.coils else terminal[-1]}"
