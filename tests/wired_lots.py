"""Systems for the drawing of the whole system drawn by lot, and changed ones."""

from dataclasses import replace
from itertools import permutations

from hypothesis import strategies as st
from wired_systems import (
    RADIO_PINS,
    RELAY,
    REMOTE,
    amplifier,
    coil,
    components,
    earth,
    one,
    output,
    power,
    radio,
    rca,
    remote,
    sub_output,
)

from calc.choosing.wired.system import Part, Pin, Wired
from calc.physics.coils import Driver, coil_names, in_parallel, in_series


def trees(names):
    """Return circuits in which each of these coils stands once."""
    if len(names) == 1:
        return st.just(coil(names[0]))
    cut_at = st.integers(1, len(names) - 1)
    return cut_at.flatmap(
        lambda at: st.tuples(
            trees(names[:at]), trees(names[at:]), st.sampled_from([in_series, in_parallel])
        )
    ).map(lambda parts: parts[2]([parts[0], parts[1]]))


@st.composite
def outputs_of(draw, key, channels):
    """Draw the outputs of an amplifier: bridged or not, used or not, with any load."""
    made, at = [], 1
    while at <= channels:
        is_bridged = at % 2 and at < channels and draw(st.booleans())
        number = f"{at}+{at + 1}" if is_bridged else str(at)
        kind = draw(st.sampled_from(["none", "one", "one", "set", "joined", "coils", "drivers"]))
        name = f"{key}-{at}-"
        is_reversed = draw(st.booleans())
        cap = draw(st.sampled_from(["", "", "25 µF"]))
        if kind == "none" and not is_bridged:
            made.append(output(number))
        elif kind in ("none", "one"):
            made.append(output(number, one(name, "doors", is_reversed=is_reversed), capacitor=cap))
        elif kind == "set":
            made.append(output(number, components(name, "fronts")))
        elif kind == "joined":
            kinds = draw(st.lists(st.booleans(), min_size=2, max_size=3))
            loads = [
                components(f"{name}{n}", "fronts")
                if is_set
                else one(f"{name}{n}", "rears", is_reversed=draw(st.booleans()))
                for n, is_set in enumerate(kinds)
            ]
            made.append(output(number, *loads))
        else:
            count = 1 if kind == "coils" else draw(st.integers(2, 3))
            coils = draw(st.integers(2, 4) if kind == "coils" else st.integers(1, 2))
            names = list(coil_names([Driver(coils, 2.0)] * count))
            circuit = draw(trees(names))
            made.append(sub_output(number, name, count, coils, circuit, is_reversed=is_reversed))
        at += 2 if is_bridged else 1
    return tuple(made)


@st.composite
def systems(draw):
    """Draw a system of one to three amplifiers, its leads plugged anyhow."""
    kinds = draw(st.lists(st.sampled_from([1, 2, 4, 5]), min_size=1, max_size=3))
    bodies = tuple(
        amplifier(f"amp{at}", f"Alder {channels}-50", channels,
                  *draw(outputs_of(f"amp{at}", channels)))
        for at, channels in enumerate(kinds)
    )  # fmt: skip
    pins = draw(st.permutations([*RADIO_PINS, Pin("more", "RCA more"), REMOTE]))
    starts = [pin.key for pin in pins if pin is not REMOTE]
    pairs = []
    for body in bodies:
        for pin in body.inputs[:-3]:
            start = draw(st.sampled_from([*starts, None]))
            if start:
                pairs.append((start, f"{body.key}.{pin.key}"))
    remotes = [f"{body.key}.rem" for body in bodies if draw(st.integers(0, 3))]
    supplies = draw(st.permutations([f"{body.key}.+12" for body in bodies]))
    has_relay = draw(st.booleans()) and len(bodies) > 1 and remotes
    sources, leads = (radio(*pins),), rca(pairs)
    if has_relay:
        sources = (*sources, RELAY)
        leads += remote("relay.86") + remote(*remotes, start="relay.87")
        supplies = ["relay.30", *supplies]
    else:
        leads += remote(*remotes)
    fuses = [draw(st.sampled_from(["30 A", ""])) for _ in supplies]
    earths = earth(
        *(f"{body.key}.gnd" for body in bodies),
        point=draw(st.sampled_from(["", "A"])),
        by_cable=draw(st.integers(0, 4)) == 0,
    )
    return Wired(title="by lot", sources=sources, bodies=bodies, leads=leads,
                 power=power(*supplies, fuses=fuses), earths=earths)  # fmt: skip


def renamed(wired, name):
    """Return the system with every name that a reader may give replaced by one."""

    def load(one):
        return replace(one, name=name, note=name, parts=tuple(Part(name) for _ in one.parts))

    def hung(one):
        loads = tuple(map(load, one.loads))
        return replace(one, loads=loads, cable=name if loads else "")

    bodies = tuple(
        replace(body, name=name, outputs=tuple(map(hung, body.outputs))) for body in wired.bodies
    )
    sources = tuple(
        replace(source, name=(name, name), pins=tuple(replace(p, label=name) for p in source.pins))
        for source in wired.sources
    )
    leads = tuple(replace(lead, words=name) for lead in wired.leads)
    branches = tuple(replace(branch, words=name) for branch in wired.power.branches)
    tree = replace(wired.power, battery=(name, name), fuse=name, main=(name, name),
                   branches=branches)  # fmt: skip
    return replace(wired, bodies=bodies, sources=sources, leads=leads, power=tree)


def plugged_anyhow(wired):
    """Yield the system with its leads for signals plugged in every order, the pins in two."""
    plugged = [lead for lead in wired.leads if lead.kind in ("rca", "high +")][:4]
    others = tuple(lead for lead in wired.leads if lead not in plugged)
    radio = wired.sources[0]
    orders = [radio.pins] if wired.leads[0].kind == "high +" else [radio.pins, radio.pins[::-1]]
    for ends in permutations([lead.end for lead in plugged]):
        leads = tuple(replace(lead, end=end) for lead, end in zip(plugged, ends, strict=True))
        for pins in orders:
            yield replace(wired, leads=(*leads, *others), sources=(replace(radio, pins=pins),))


PLUGGED = ("each pair on its own", "two amplifiers", "three amplifiers", "high level")
LONG_NAMES = (
    "Wide names MMMM WWWW @@",
    "MMMMMMMMMMMMMMMMMMMMMMMM",
    "漢字漢字漢字漢字漢字漢字",
    "ЩЖЩЖЩЖЩЖЩЖЩЖЩЖ",
)
