"""The drawing of the whole system in words, for who cannot see it."""

from collections.abc import Iterator

from calc.answers.figures import capital
from calc.choosing.wired.system import Body, Load, Output, Power, Wired


def description_of(wired: Wired) -> str:
    """Say what is joined with what."""
    power = wired.power
    return " ".join(
        (
            _supply(power),
            *(_lead(wired, lead.start, lead.end) for lead in wired.leads),
            *(line for body in wired.bodies for line in _outputs(body)),
        )
    )


def _supply(power: Power) -> str:
    size, drawn = power.main
    length, _, metal = drawn.partition(", ")  # of OFC it is said beside the length
    cable = f"{size} {metal}".rstrip()
    run = f"From the battery through a {power.fuse} main fuse and {length} of {cable}"
    if not power.has_block:
        return f"{run} to the amplifier."
    ends = [
        f"{_at(branch.end)} ({branch.fuse or 'no fuse of its own'})"
        for branch in power.branches
        if not branch.is_later
    ]
    return f"{run} to a distribution block, and from there to {', '.join(ends)}."


def _at(pin: str) -> str:
    return pin.replace(".", " ").replace("-", "−")


def _lead(wired: Wired, start: str, end: str) -> str:
    names = {body.key: body.name for body in wired.bodies}
    names |= {source.key: " ".join(source.name) for source in wired.sources}
    labels = {
        f"{body.key}.{pin.key}": pin.label for body in wired.bodies for pin in body.inputs
    } | {f"{source.key}.{pin.key}": pin.label for source in wired.sources for pin in source.pins}

    def said(pin: str) -> str:
        key, _, own = pin.partition(".")
        return f"{names[key]}, {labels.get(pin, own.replace('-', '−'))}"

    words = f"{said(start)} to {said(end)}."
    is_ours = start.partition(".")[0] in {source.key for source in wired.sources}
    return capital(words) if is_ours else words  # an amplifier's name stays as typed


def _outputs(body: Body) -> Iterator[str]:
    for output in body.outputs:
        if not output.loads:
            continue
        loads = " and ".join(_load(load) for load in output.loads)
        plus, minus = (name.replace("-", "−") for name in (output.plus, output.minus))
        yield f"{body.name}, + on {plus} and − on {minus}: {loads}{_through(output)}."


def _through(output: Output) -> str:
    return f", + through a {output.capacitor} capacitor" if output.capacitor else ""


def _load(load: Load) -> str:
    words = ", ".join((*load.words, *(["reversed"] if load.is_reversed else [])))
    return f"{load.name} ({words})" if words else load.name
