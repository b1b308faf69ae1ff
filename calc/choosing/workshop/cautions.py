"""The cautions of this job: at most five, what can hurt somebody first."""

from collections.abc import Iterator

from calc.answers.figures import capital, listed, quantity
from calc.answers.paper import Line, Strong
from calc.choosing.places import places_of
from calc.choosing.plan import Plan
from calc.choosing.words import the
from calc.choosing.workshop.lookups import found, outputs_text
from calc.setup import signal_chain

MOST = 5


def cautions_of(plan: Plan) -> tuple[Line, ...]:
    """Return the first five of what this job asks for."""
    return tuple(line for _, line in zip(range(MOST), _every(plan), strict=False))


def _every(plan: Plan) -> Iterator[Line]:
    yield (
        "Disconnect the battery’s negative first. Near airbags and belt pretensioners, wait as "
        "long as the vehicle maker says. ",
        Strong("Fit the main fuse last."),
    )
    yield from _tweeters(plan)
    yield from _body(plan)
    yield from _loads(plan)
    yield from _fuse(plan)
    yield from _cable(plan)
    yield (
        "Look behind every panel before you drill: fuel lines, brake lines and looms run there. "
        "Fit a grommet in every hole through metal. Bolt the amplifier down: in a crash a loose "
        "one is thrown forward.",
    )


def _body(plan: Plan) -> Iterator[Line]:
    yield (
        "Keep every speaker’s − off the vehicle body (chassis) and off every other output: a short "
        "destroys the output.",
    )
    signals = list(found(plan, signal_chain.Result))
    if any(signal.is_high_level or signal.needs_converter for signal in signals):
        yield ("The head unit’s speaker outputs are bridged: never earth either lead of a pair.",)


def _tweeters(plan: Plan) -> Iterator[Line]:
    """Warn where an active tweeter or midrange has only its filter between it and the bass."""
    active = dict.fromkeys(
        place.channel.speaker
        for place in places_of(plan)
        if place.feed.section in ("tweeter", "midrange")
    )
    if active:
        yield (
            f"{capital(listed(list(active)))}: set the high-pass and check it before you connect "
            "their leads. Bass burns them out in seconds.",
        )


def _loads(plan: Plan) -> Iterator[Line]:
    """Warn where an output runs the lowest load that it can."""
    for part in plan.candidate.parts:
        least = part.amplifier.min_channel_ohm
        at_limit: dict[float, list[str]] = {}
        for place in places_of(plan):
            seen = place.channel.load_ohm / len(place.own)
            if place.amplifier == part.name and least is not None and seen <= least * 1.001:
                at_limit.setdefault(place.channel.load_ohm, []).append(outputs_text(place.own))
        told = [
            f"{quantity(load, 'Ω', 3)} on output{'s' if len(outputs) > 1 else ''} {listed(outputs)}"
            for load, outputs in at_limit.items()
        ]
        if told:
            verb = "is the lowest load" if len(told) == 1 else "are the lowest loads"
            yield (
                f"{listed(told)} {verb} that {the(part.name)} can run. Never add a speaker there.",
            )


def _fuse(plan: Plan) -> Iterator[Line]:
    tree = plan.power
    if tree is None or tree.main.fuse_a is None:
        return
    yield (
        f"Fit a {quantity(tree.main.fuse_a, 'A')} main fuse, in place of the kit’s own, within "
        "450\u202fmm of the battery terminal.",
    )
    fuses = [quantity(run.fuse_a, "A") for run in tree.branches if run.fuse_a is not None]
    if fuses:
        yield (f"Keep a fuse in every branch at the distribution block: {listed(fuses)}.",)


def _cable(plan: Plan) -> Iterator[Line]:
    tree = plan.power
    if tree is not None and tree.main.cable.laid is not None:
        yield (
            "Cable not marked copper or OFC is probably copper-clad aluminium (CCA) and overheats "
            f"sooner: buy {tree.main.cable.laid} marked copper.",
        )


def main_fuse_a(plan: Plan) -> float | None:
    """Return the main fuse [A]; None where it is not known."""
    tree = plan.power
    return None if tree is None else tree.main.fuse_a
