"""What every unit is set to, in the order of the knobs, gain last."""

from collections.abc import Iterable, Iterator, Sequence

from calc.answers.figures import listed, quantity
from calc.answers.paper import Block
from calc.choosing.places import Place, own_place, places_of
from calc.choosing.plan import Plan
from calc.choosing.workshop.lookups import amplifiers_of, outputs_text
from calc.crossovers.filter_split import SHORT, Knob, knobs_of

_RADIOS = {"factory": "Factory head unit", "replacement": "Head unit", "processor": "DSP"}


def blocks_of(plan: Plan) -> tuple[Block, ...]:
    """Return a block for each unit; none where nothing may be connected."""
    places = places_of(plan)
    if not places or plan.split is None or plan.split.result is None:
        return ()
    return (
        Block(heading=radio_words(plan), rows=tuple(_radio_rows(plan))),
        *_amplifier_blocks(plan, places),
        *_passive_block(places),
    )


def radio_words(plan: Plan) -> str:
    """Say what plays."""
    return _RADIOS.get(plan.job.given.head_unit.kind or "", "Head unit")


# ---- head unit


def _radio_rows(plan: Plan) -> Iterator[tuple[str, str]]:
    is_factory = plan.job.system.head_unit.source_v is None
    volume = "highest clean volume: find it first" if is_factory else "the highest you will use"
    yield "Volume while setting gains", volume
    yield "Tone, loudness, bass boost", "flat, off"
    if plan.job.on_radio:
        yield "Balance", "centre"
        yield "Fader", "centre; at the end set the rears by ear"
        yield "Head unit’s own high-pass, rears", "on, if it has one"
    else:
        yield "Fader, balance", "centre"
    assert plan.split is not None and plan.split.result is not None
    for knob in knobs_of(plan.split.result, "head-unit"):
        yield f"{knob.name}, {_output_words(plan, knob)}", knob.words
    delays = {row.speaker: row.delay_ms for row in plan.channels if row.delay_ms is not None}
    for name, delay in delays.items():
        yield f"Delay, {name}", quantity(delay, "ms", 3)


def _output_words(plan: Plan, knob: Knob) -> str:
    """Say which output of the head unit a filter is on."""
    layout = plan.candidate.layout
    assert layout is not None
    outputs = dict.fromkeys(
        feed.speaker.output or feed.name
        for feed, _, use in layout.uses
        if use.channels & knob.channels
    )
    return listed(list(outputs)) if outputs else "output"


# ---- amplifiers


def _amplifier_blocks(plan: Plan, places: Sequence[Place]) -> Iterator[Block]:
    """Yield a block for each pair of channels that is used: its filters, then boost and gain."""
    assert plan.split is not None and plan.split.result is not None
    knobs = knobs_of(plan.split.result, "amplifier")
    for amplifier in amplifiers_of(plan):
        of_pair: dict[int, list[Place]] = {}
        for place in places:
            if place.amplifier == amplifier:
                of_pair.setdefault((place.own[0] - 1) // 2, []).append(place)
        for on_it in of_pair.values():
            own = sorted({channel for place in on_it for channel in place.own})
            words = f"channel{'s' if len(own) > 1 else ''} {listed(list(map(str, own)))}"
            yield Block(heading=f"{amplifier}, {words}", rows=tuple(_pair_rows(plan, on_it, knobs)))


def _pair_rows(
    plan: Plan, on_it: Sequence[Place], knobs: Iterable[Knob]
) -> Iterator[tuple[str, str]]:
    used = {channel for place in on_it for channel in place.output}
    if any(place.is_bridged for place in on_it):
        yield "Bridge switch", "on, if there is one"
    for knob in knobs:
        if knob.channels & used:
            yield _knob_words(plan, knob, used), knob.words
    if plan.job.has_dsp_filters:
        yield "HPF, LPF", "off: the DSP has them"
    yield "Bass boost", "off (0\u202fdB)"
    yield from _gain_rows(on_it)


def _knob_words(plan: Plan, knob: Knob, used: set[int]) -> str:
    """Name a filter's knob; one that does not act on just this pair says on what it acts."""
    if used <= knob.channels and len(knob.channels) <= 2:
        return knob.name
    own = [own_place(plan, (channel,))[0] for channel in sorted(knob.channels)]
    return f"{knob.name}, channels {listed(list(map(str, own)))}"


def _gain_rows(on_it: Sequence[Place]) -> Iterator[tuple[str, str]]:
    """Yield what the gain is set to; one line where all outputs of the pair have the same."""
    lines = [gain_words(place) for place in on_it]
    if len(set(lines)) == 1:
        yield "Gain", lines[0]
        return
    for place, words in zip(on_it, lines, strict=True):
        yield f"Gain, output {outputs_text(place.own)}", words


def gain_words(place: Place) -> str:
    """Say where a gain starts and where it ends [V AC at the output, with a tone at 0 dBFS]."""
    ceiling, start = place.channel.ceiling_v, place.channel.start_v
    if ceiling is None or start is None:
        return "not known: don’t set it yet"
    most = quantity(ceiling, "V", 3)
    if place.is_subwoofer:
        return f"from 0, by ear; never above {most}"
    return f"from 0 up to {quantity(start, 'V', 3)} (ceiling {most})"


# ---- passive crossovers


def _passive_block(places: Sequence[Place]) -> Iterator[Block]:
    rows: dict[tuple[str, str], None] = {}
    for place in places:
        for made in place.channel.filters:
            if made.box == "passive":
                corner = f"{quantity(made.hz, 'Hz')}, {6 * made.order}\u202fdB/oct, fixed"
                rows[f"{SHORT[made.edge]}, {made.speaker or place.feed.name}", corner] = None
        for load in place.channel.loads:
            if load.kind == "set" and not place.has_network:
                rows[f"Tweeter level, {load.speaker}", "0\u202fdB to start with"] = None
        farad = place.channel.capacitor_farad
        if farad is not None:
            part = f"{quantity(farad * 1e6, 'µF', 3)}, in the + lead"
            rows[f"Capacitor, {place.feed.name}", part] = None
    if rows:
        yield Block(heading="Passive crossovers", rows=tuple(rows))


__all__ = ["blocks_of", "gain_words", "radio_words"]
