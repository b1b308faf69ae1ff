"""Systems for the drawing of the whole system: by hand for each arrangement, and drawn by lot."""

from dataclasses import replace
from fractions import Fraction

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
from calc.physics.coils import Circuit, in_parallel, in_series

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
