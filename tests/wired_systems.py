"""Systems for the drawing of the whole system: by hand for each arrangement, and drawn by lot."""

from dataclasses import replace
from fractions import Fraction
from itertools import permutations

from hypothesis import strategies as st

from calc.choosing.wired.system import (
    Body,
    Branch,
    Earth,
    Lead,
    Load,
    Output,
    Part,
    Pin,
    Power,
    Source,
    Wired,
)
from calc.physics.coils import Circuit, Driver, coil_names, in_parallel, in_series

ENDS = (Pin("rem", "REM"), Pin("+12", "+12 V"), Pin("gnd", "GND"))
RADIO_PINS = (Pin("front", "RCA front"), Pin("rear", "RCA rear"), Pin("sub", "RCA sub"))
REMOTE = Pin("rem", "remote")
SET = (Part("tweeter"), Part("mid-bass"))
LEAD = "1.5 mm², 5 m"


def inputs(channels):
    """Return the pins of RCA inputs, pair by pair."""
    pairs = [range(at, min(at + 2, channels + 1)) for at in range(1, channels + 1, 2)]
    pins = [Pin("in" + "".join(map(str, p)), "in " + " ".join(map(str, p))) for p in pairs]
    return (*pins, *ENDS)


def output(number, *loads, circuit=None, **more):
    """Return an output; `circuit` says how coils are joined, else all loads are in parallel."""
    numbers = number.split("+")
    terminals = tuple(f"{one}{sign}" for one in numbers for sign in "+-")
    if not loads:
        return Output(terminals=terminals)
    plus, minus, links = circuit or (
        tuple(f"{load.key}.{load.terminals[0]}" for load in loads),
        tuple(f"{load.key}.{load.terminals[1]}" for load in loads),
        (),
    )
    return Output(
        terminals=terminals,
        plus=f"{numbers[0]}+",
        minus=f"{numbers[-1]}-",
        loads=loads,
        plus_to=plus,
        minus_to=minus,
        links=links,
        **{"cable": LEAD, **more},
    )


def one(key, name, **more):
    return Load(key=key, kind="speaker", name=name, **{"note": "coaxial, 4 Ω", **more})


def components(key, name):
    return Load(key=key, kind="set", name=name, note="component set, 4 Ω", parts=SET)


def subs(key, count, coils, circuit, *, is_reversed=False, names=None):
    """Return subwoofers and the joins of their coils."""
    letters = "abcd"[:coils]
    loads = tuple(
        Load(
            key=f"{key}{at}",
            kind="coils" if coils > 1 else "speaker",
            name=f"sub {at}" if names is None else names,
            note=f"{coils} × 2 Ω",
            coils=tuple(f"{at}{letter}" for letter in letters) if coils > 1 else (),
            words=(f"{coils} coils",) if coils > 1 else (),
            is_reversed=is_reversed,
        )
        for at in range(1, count + 1)
    )
    nets = circuit.nets(is_reversed=is_reversed)

    def pin(end):
        return f"{key}{end[0]}.{end if coils > 1 else end[-1]}"

    nets = {name: tuple(map(pin, ends)) for name, ends in nets.items()}
    links = tuple(ends for name, ends in nets.items() if not name.startswith("amp"))
    return loads, (nets["amp+"], nets["amp-"], links)


def coil(name):
    return Circuit(kind="coil", name=name, load=Fraction(2))


def sub_output(number, key, count, coils, circuit, **more):
    loads, joins = subs(key, count, coils, circuit, **more)
    return output(number, *loads, circuit=joins)


SERIES = in_series([coil("1a"), coil("1b")])
PARALLEL = in_parallel([coil("1a"), coil("1b")])


def rca(pairs, source="radio"):
    return tuple(
        Lead(start=f"{source}.{start}", end=end, kind="rca", words=f"{start}, 5.5 m")
        for start, end in pairs
    )


def remote(*ends, start="radio.rem"):
    return tuple(Lead(start=start, end=end, kind="remote", words="1 mm², 5.5 m") for end in ends)


def power(*ends, fuses=None, later=(), main=("4 AWG", "5 m, OFC")):
    """Return a power tree: with several ends a fused block."""
    fuses = fuses or ["30 A"] * len(ends)
    has_block = len(ends) > 1
    branches = tuple(
        Branch(
            end=end,
            fuse=fuse if has_block and end not in later else "",
            words="8 AWG, 0.5 m" if has_block else "from main fuse",
            is_later=end in later,
        )
        for end, fuse in zip(ends, fuses, strict=True)
    )
    battery = ("under bonnet,", "60 Ah")
    return Power(battery=battery, fuse="70 A", fuse_where="max 450 mm", main=main,
                 branches=branches, has_block=has_block)  # fmt: skip


def earth(*starts, point="", by_cable=False):
    return tuple(
        Earth(start=start, words="8 AWG, 0.5 m", point=point, by_cable=by_cable) for start in starts
    )


def radio(*pins, **more):
    return Source(key="radio", name=("replacement", "radio"), pins=pins, **more)


def amplifier(key, name, channels, *outputs, **more):
    return Body(key=key, name=name, inputs=inputs(channels), outputs=outputs, **more)


def alone(
    *outputs, pairs=(("front", "amp.in12"), ("rear", "amp.in34")), pins=RADIO_PINS, name=None
):
    """Return a system with one four-channel amplifier."""
    return Wired(
        title="one amplifier",
        sources=(radio(*RADIO_PINS, REMOTE),),
        bodies=(amplifier("amp", "Hazel 4-75", 4, *outputs),),
        leads=(*rca(pairs), *remote("amp.rem")),
        power=power("amp.+12"),
        earths=earth("amp.gnd"),
    )


SIDES = ("left", "right")
DOORS = tuple(
    output(str(at), components(f"d{at}", f"front {side}")) for at, side in enumerate(SIDES, 1)
)
REARS = tuple(output(str(at), one(f"r{at}", f"rear {side}")) for at, side in enumerate(SIDES, 3))
JOINED = tuple(
    output(str(at), components(f"d{at}", f"front {side}"), one(f"r{at}", f"rear {side}"))
    for at, side in enumerate(SIDES, 1)
)
ACTIVE = tuple(
    output(
        str(at),
        one(f"t{at}", f"tweeter {side}", note="4 Ω", is_reversed=True),
        capacitor="25 µF",
    )
    for at, side in enumerate(SIDES, 1)
)
MIDS = tuple(
    output(str(at), one(f"m{at}", f"mid-bass {side}", note="4 Ω"))
    for at, side in enumerate(SIDES, 3)
)
BRIDGED_SUB = sub_output("3+4", "s", 1, 2, SERIES)


def high_level():
    words = ("front L", "front R", "rear L", "rear R")
    pins = [(f"o{at}{sign}", f"{word} {sign}") for at, word in enumerate(words, 1) for sign in "+-"]
    ins = [(f"i{at}{sign}", f"in {at} {sign}") for at in range(1, 5) for sign in "+-"]
    leads = tuple(
        Lead(start=f"radio.{o}", end=f"amp.{i}", kind="high " + o[-1], words=f"{label}, 5.5 m")
        for (o, label), (i, _) in zip(pins, ins, strict=True)
    )
    body = Body(
        key="amp",
        name="Hazel 4-75",
        inputs=(*(Pin(key, label, key[-1] == "-") for key, label in ins), *ENDS),
        outputs=(*DOORS, *REARS),
    )
    made = alone()
    source = radio(*(Pin(key, label, key[-1] == "-") for key, label in pins))
    return replace(made, sources=(source,), bodies=(body,), leads=leads)


def converter(pairs=("FL", "FR", "RL", "RR")):
    made = alone(*DOORS, *REARS)
    box = Source(key="loc", name=("line-output", "converter"), pins=RADIO_PINS[:2], inlets=pairs)
    between = tuple(
        Lead(start=f"radio.{one}{sign}", end=f"loc.{one}{sign}", kind="high " + sign)
        for one in pairs
        for sign in "+-"
    )
    leads = rca((("front", "amp.in12"), ("rear", "amp.in34")), "loc")
    sources = (radio(REMOTE, outlets=pairs), box)
    return replace(made, sources=sources, leads=(*between, *leads, *remote("amp.rem")))


def relay_of_feed():
    """Return a system turned on by an accessory feed over a relay, both at the main run."""
    made = alone(*DOORS, BRIDGED_SUB)
    feed = Source(key="feed", name=("accessory", "12 V feed"), pins=(Pin("12", "1 A fuse"),))
    leads = (*made.leads[:2], *remote("relay.86", start="feed.12"),
             *remote("amp.rem", start="relay.87"))  # fmt: skip
    branches = (*made.power.branches, Branch(end="relay.30"))
    return replace(made, sources=(radio(*RADIO_PINS), feed, RELAY), leads=leads,
                   power=replace(made.power, branches=branches))  # fmt: skip


RELAY = Source(
    key="relay",
    name=("relay for", "remote lead"),
    pins=(Pin("86", "86 coil"), Pin("30", "30 supply"), Pin("87", "87 to REM")),
    earth="85",
)


def two(point="A", by_cable=False, sub=None):
    sub = sub or sub_output("1", "s", 1, 2, PARALLEL)
    return Wired(
        title="a four-channel and a mono",
        sources=(radio(*RADIO_PINS, REMOTE),),
        bodies=(
            amplifier("amp", "Hazel 4-75", 4, *DOORS, *REARS),
            amplifier("mono", "Rowan 1-400", 1, sub),
        ),
        leads=(
            *rca((("front", "amp.in12"), ("rear", "amp.in34"), ("sub", "mono.in1"))),
            *remote("amp.rem", "mono.rem"),
        ),
        power=power("amp.+12", "mono.+12"),
        earths=earth("amp.gnd", "mono.gnd", point=point, by_cable=by_cable),
    )


def later():
    made = two()
    mono = replace(made.bodies[1], kind="later", outputs=())
    leads = tuple(lead for lead in made.leads if not lead.end.startswith("mono"))
    return replace(made, bodies=(made.bodies[0], mono), leads=leads, earths=made.earths[:1],
                   power=power("amp.+12", "mono.+12", later=("mono.+12",)))  # fmt: skip


def relay_of_two():
    made = two()
    leads = (*made.leads[:3], *remote("relay.86"),
             *remote("amp.rem", "mono.rem", start="relay.87"))  # fmt: skip
    tree = power("relay.30", "amp.+12", "mono.+12", fuses=["3 A", "30 A", "40 A"])
    return replace(made, sources=(*made.sources, RELAY), leads=leads, power=tree)


def three():
    """Return an active three-way system on two four-channels, with a mono for two subs."""
    high = tuple(output(str(at), one(f"h{at}", f"midrange {s}")) for at, s in enumerate(SIDES, 3))
    low = tuple(output(str(at), one(f"w{at}", f"mid-bass {s}")) for at, s in enumerate(SIDES, 1))
    drivers = in_parallel(
        [in_series([coil("1a"), coil("1b")]), in_series([coil("2a"), coil("2b")])]
    )
    numbers = zip("abcd", ("1 2", "3 4", "5 6", "7 8"), strict=True)
    pins = [Pin(key, f"out {pair}") for key, pair in numbers]
    ends = ("one", "two", "mono")
    return Wired(
        title="three amplifiers",
        sources=(replace(radio(*pins, REMOTE), name=("processor",)),),
        bodies=(
            amplifier("one", "Hazel 4-75 A", 4, *ACTIVE, *high),
            amplifier("two", "Hazel 4-75 B", 4, *low, output("3"), output("4")),
            amplifier("mono", "Rowan 1-400", 1, sub_output("1", "s", 2, 2, drivers)),
        ),
        leads=(
            *rca((("a", "one.in12"), ("b", "one.in34"), ("c", "two.in12"), ("d", "mono.in1"))),
            *remote(*(f"{end}.rem" for end in ends)),
        ),
        power=power(*(f"{end}.+12" for end in ends)),
        earths=earth(*(f"{end}.gnd" for end in ends), point="A"),
    )


def five_channels():
    made = two()
    sub = replace(sub_output("5", "s", 2, 1, in_series([coil("1a"), coil("2a")])), block=1)
    body = amplifier("amp", "Hazel 5-75", 5, *DOORS, *REARS, sub)
    leads = (*rca((("front", "amp.in12"), ("rear", "amp.in34"), ("sub", "amp.in5"))),
             *remote("amp.rem"))  # fmt: skip
    return replace(made, bodies=(body,), leads=leads, power=power("amp.+12"),
                   earths=earth("amp.gnd"))  # fmt: skip


def rears_on_radio():
    made = alone(*DOORS, BRIDGED_SUB, pairs=(("front", "amp.in12"), ("sub", "amp.in34")))
    outputs = tuple(
        output(letter, one(f"r{letter}", f"rear {side}"), cable="own leads")
        for letter, side in (("L", "left"), ("R", "right"))
    )
    own = Body(key="own", name="radio outputs", kind="radio", outputs=outputs)
    return replace(made, bodies=(*made.bodies, own))


def mixed():
    """Return two subs of two coils in a circuit of both."""
    return in_series([in_parallel([coil("1a"), coil("1b")]), in_parallel([coil("2a"), coil("2b")])])


ARRANGEMENTS = {
    "each pair on its own": alone(*DOORS, *REARS),
    "front and rear joined, sub bridged": alone(
        *JOINED, BRIDGED_SUB, pairs=(("front", "amp.in12"), ("sub", "amp.in34"))
    ),
    "active two-way": alone(*ACTIVE, *MIDS),
    "part-active three-way": alone(
        *(output(str(at), Load(key=f"p{at}", kind="set", name="midranges", note="4 Ω",
                               parts=(Part("tweeter", is_reversed=True), Part("midrange"))))
          for at in (1, 2)),
        *(output(str(at), one(f"b{at}", "mid-basses", is_reversed=True)) for at in (3, 4)),
    ),
    "two subs, one each": alone(
        *DOORS, *(sub_output(str(at), f"s{at}", 1, 2, SERIES) for at in (3, 4))
    ),
    "two subs, each bridged": alone(
        *(output(number, one(f"s{number[0]}", "sub")) for number in ("1+2", "3+4")),
        pairs=(("sub", "amp.in12"), ("sub", "amp.in34")),
    ),
    "two subs in parallel, bridged": alone(
        *DOORS,
        sub_output("3+4", "s", 2, 2, in_parallel([in_series([coil("1a"), coil("1b")]),
                                                  in_series([coil("2a"), coil("2b")])])),
    ),
    "two subs in series": alone(
        *DOORS, sub_output("3+4", "s", 2, 1, in_series([coil("1a"), coil("2a")]))
    ),
    "coils of two subs mixed": alone(*DOORS, sub_output("3+4", "s", 2, 2, mixed())),
    "reversed twin coils": alone(*DOORS, sub_output("3+4", "s", 1, 2, SERIES, is_reversed=True)),
    "joined and reversed": alone(
        *(output(str(at), one(f"a{at}", "doors", is_reversed=True),
                 one(f"b{at}", "rears", is_reversed=True)) for at in (1, 2)),
        output("3"), output("4"),
    ),
    "one pair, the rest not used": alone(
        *DOORS, output("3"), output("4"), pairs=(("front", "amp.in12"),)
    ),
    "a passive crossover of one": alone(
        *(output(str(at), Load(key=f"p{at}", kind="set", name="tweeters", parts=(Part("tweeter"),)))
          for at in (1, 2)), *MIDS
    ),
    "two sets in series, bridged": alone(
        output("1+2", components("a", "fronts 1"), components("b", "fronts 2"),
               circuit=(("a.+",), ("b.-",), (("a.-", "b.+"),))), *MIDS
    ),
    "rears on the radio": rears_on_radio(),
    "high level": high_level(),
    "converter": converter(),
    "converter of one pair": converter(("FL", "FR")),
    "relay and accessory feed": relay_of_feed(),
    "five channels": five_channels(),
    "two amplifiers": two(),
    "two amplifiers, an earth each": two(point=""),
    "two amplifiers, return by cable": two(by_cable=True),
    "two amplifiers, a relay": relay_of_two(),
    "one for later": later(),
    "three amplifiers": three(),
}  # fmt: skip


# ---- drawn by lot


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
