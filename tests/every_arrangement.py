"""Every arrangement of a small system, tried one by one: written from the trade's rules alone.

An output is a channel, or two neighbours bridged; the two channels of a pair (1 and 2, 3 and 4)
share their filter and so play the same band.  Doors come in pairs, left and right on outputs that
give the same, on two amplifiers only where each has a bridged pair; two pairs that play all may
hang joined, left with left, or one behind stays on the radio.  Subwoofers hang together on one
output, their coils wired in any way that has every coil work alike, or one each on two outputs that
give the same.  Nothing of the search is used, of `calc` only the formula of power.
"""

import random
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from itertools import combinations, product

from calc.physics.channel_power import Channel, groupings, output_name, rated_or_bridged_power

RADIO_W = 18.0  # a radio's own power, at most and into 4 Ω
PLAIN = ("full-range", "components")  # need no filter that spares them a part of the band


@dataclass(frozen=True)
class Amp:
    """An amplifier: its channels, power at 4 and 2 Ω and bridged at 4 Ω [W], lowest load [Ω]."""

    name: str
    channels: int
    w4: float
    w2: float | None
    pair_w: float | None
    least: float
    bridges: bool
    filters: bool = False

    @property
    def kind(self):
        """What decides about a power: all but its name."""
        return (self.w4, self.w2, self.pair_w, self.least)

    def toml(self):
        lines = [
            "[[amplifiers]]",
            f'name = "{self.name}"',
            f"channels = {self.channels}",
            f"power_4ohm_w = {self.w4}",
            f"min_channel_ohm = {self.least}",
            f"may_be_bridged = {str(self.bridges).lower()}",
            'amplifier_class = "d"',
        ]
        lines += [f"power_2ohm_w = {self.w2}"] * (self.w2 is not None)
        lines += [f"rated_bridged_w = {self.pair_w}"] * (self.pair_w is not None)
        lines += [f'filters = "{" | ".join(self._filters())}"'] * self.filters
        return "\n".join(lines) + "\n"

    def _filters(self):
        """Yield a high-pass and a low-pass for each pair, both at once, wide enough for all."""
        for first in range(1, self.channels + 1, 2):
            channels = f"{first}/{first + 1}" if first < self.channels else f"{first}"
            for kind in ("high-pass", "low-pass"):
                yield f"{channels} {kind} 40-500 1/10 butterworth 2 - yes"


@dataclass(frozen=True)
class Row:
    """Two doors, or one or two subwoofers: coil [Ω], coils of each, rating and need [W]."""

    name: str
    section: str
    count: int
    ohm: float
    coils: int
    rated_w: float
    need_w: float | None = None

    def is_weak(self, watts):
        """Tell whether a power [W] is less than half of the rating, and none was asked for."""
        return self.need_w is None and watts < self.rated_w / 2 - 1e-6

    def toml(self):
        lines = [
            "[[speakers]]",
            f'name = "{self.name}"',
            f'section = "{self.section}"',
            f"count = {self.count}",
            f"coils = {self.coils}",
            f"coil_ohm = {self.ohm}",
            f"rated_w = {self.rated_w}",
        ]
        lines += [f"need_w = {self.need_w}"] * (self.need_w is not None)
        return "\n".join(lines) + "\n"


@dataclass(frozen=True)
class Spot:
    """Speakers on an output: whose, the load [Ω], what the output gives, and each speaker [W]."""

    amp: str
    output: str
    load_ohm: float
    output_w: float
    each_w: tuple[tuple[str, float], ...]


@dataclass(frozen=True)
class Arranged:
    """A way to hang everything."""

    spots: frozenset[Spot]
    on_radio: tuple[str, ...]
    joined: bool

    @property
    def given_up(self):
        return int(self.joined) + len(self.on_radio)

    def watts(self):
        """Return the least that a speaker of each row gets [W], but for those on the radio."""
        least = {}
        for spot in self.spots:
            for name, watts in spot.each_w:
                least[name] = min(watts, least.get(name, watts))
        return least

    def rank(self, rows):
        """Return what is counted, less being better: fails, given up, weak speakers.

        Weak is who gets less than half of the rating, and was not asked for in watts.
        """
        watts = {row.name: radio_w(row) for row in rows} | self.watts()
        missed = sum(row.need_w is not None and watts[row.name] < row.need_w - 1e-6 for row in rows)
        weak = sum(row.is_weak(watts[row.name]) for row in rows)
        return (missed > 0, self.given_up, weak, missed)


def radio_w(row):
    """Return what a radio's own power brings a door [W]: a voltage, and no more than 18 W."""
    return min(RADIO_W, RADIO_W * 4 / row.ohm)


# ---- trying all


@dataclass(frozen=True)
class _Hung:
    """What wants outputs: how many, the loads that each may see, and who shares its power."""

    outputs: int
    is_sub: bool
    loads: tuple[tuple[float, tuple[tuple[str, float], ...]], ...]


def every(rows, amps) -> Iterator[Arranged]:
    """Yield every way, each once."""
    doors = [row for row in rows if row.section != "woofer"]
    subs = [row for row in rows if row.section == "woofer"]
    plain = [row for row in doors if row.section in PLAIN]
    ways = [([_pair(row) for row in doors], False, ())]
    for two in combinations(plain, 2):
        others = [_pair(row) for row in doors if row not in two]
        ways.append(([_joined(two), *others], True, ()))
    for stays in plain:
        if stays is not doors[0]:  # the front is what one listens to
            others = [_pair(row) for row in doors if row is not stays]
            ways.append((others, False, (stays.name,)))
    seen = set()
    for of_doors, joined, on_radio in ways:
        for hung in product(*[[one] for one in of_doors], *[_subs(row) for row in subs]):
            for outputs in _all_outputs(amps):
                for spots in _hang(hung, outputs, {}):
                    found = Arranged(frozenset(spots), on_radio, joined)
                    if found not in seen:
                        seen.add(found)
                        yield found


def _pair(row):
    return _Hung(2, False, ((row.ohm, ((row.name, 1.0),)),))


def _joined(rows):
    """Two speakers side by side on an output: one voltage, power as the loads are small."""
    load = 1 / sum(1 / row.ohm for row in rows)
    return _Hung(2, False, ((load, tuple((row.name, load / row.ohm) for row in rows)),))


def _subs(row):
    """All on one output, or one each on as many as there are."""
    yield _Hung(
        1, True, tuple((load, ((row.name, 1 / row.count),)) for load in _even(row, row.count))
    )
    if row.count > 1:
        yield _Hung(row.count, True, tuple((load, ((row.name, 1.0),)) for load in _even(row, 1)))


def _even(row, speakers):
    """The loads in which every coil works alike: so many strings, each of so many in series.

    Which coils form a string, those of one speaker or of several, is all one.
    """
    coils = speakers * row.coils
    return [
        row.ohm * (coils // strings) / strings
        for strings in range(1, coils + 1)
        if coils % strings == 0
    ]


def _all_outputs(amps):
    """Yield the outputs of all together, for every way to bridge: (amplifier, channels)."""
    ways = [
        [way for way in groupings(amp.channels) if amp.bridges or all(len(one) < 2 for one in way)]
        for amp in amps
    ]
    for chosen in product(*ways):
        yield [(amp, output) for amp, way in zip(amps, chosen, strict=True) for output in way]


def _hang(hung, free, owners):
    if not hung:
        yield ()
        return
    first, *rest = hung
    for chosen in combinations(free, first.outputs):
        pairs = {(amp.name, (channels[0] - 1) // 2) for amp, channels in chosen}
        if pairs & owners.keys() or len({(amp.kind, len(out)) for amp, out in chosen}) > 1:
            continue  # another band has the filter, or left and right would differ
        if not first.is_sub and len({amp for amp, _ in chosen}) > 1 and len(chosen[0][1]) < 2:
            continue
        left = [one for one in free if one not in chosen]
        taken = {**owners, **dict.fromkeys(pairs, True)}
        for load_ohm, shares in first.loads:
            watts = watts_of(chosen[0][0], len(chosen[0][1]) > 1, load_ohm)
            if watts is None:
                continue
            spots = tuple(
                Spot(amp.name, output_name(channels), round(load_ohm, 4), round(watts, 4),
                     tuple(sorted((name, round(share * watts, 4)) for name, share in shares)))
                for amp, channels in chosen
            )  # fmt: skip
            for others in _hang(rest, left, taken):
                yield (*spots, *others)


@cache
def watts_of(amp, bridged, load_ohm):
    """Return what an output gives into a load [W]; None where the load is refused."""
    channel = Channel(
        power_4ohm_w=amp.w4, power_2ohm_w=amp.w2, min_load_ohm=amp.least, rated_bridged_w=amp.pair_w
    )
    if not channel.takes(load_ohm=load_ohm / 2 if bridged else load_ohm):
        return None
    if bridged:
        return rated_or_bridged_power(channel, load_ohm=load_ohm).best
    return channel.power(load_ohm=load_ohm).best


def arranged(found):
    """Return what a plan's results say as one of these."""
    spots = set()
    for row in found["channels"]:
        watts = Counter()
        each = {}
        for load in row["loads"]:
            watts[load["speaker"]] += 1
            each[load["speaker"]] = round(load["power_w"], 4)
        spots.add(
            Spot(row["amplifier"], row["output"], round(row["load_ohm"], 4),
                 round(row["power_w"], 4), tuple(sorted(each.items())))
        )  # fmt: skip
    return spots


# ---- drawing lots


def random_case(seed):
    """Return rows and one to three amplifiers, few enough to try everything."""
    rng = random.Random(f"arranged {seed}")
    active = rng.random() < 0.2
    rows = [_doors(rng, "fronts", "components")]
    if active:
        rows = [_doors(rng, "tweeters", "tweeter"), _doors(rng, "mids", "mid-bass")]
    if rng.random() < 0.6:
        rows.append(_doors(rng, "rears", "full-range"))
    if len(rows) == 2 and rng.random() < 0.15:
        rows.append(_doors(rng, "sides", "full-range"))
    if rng.random() < 0.75:
        need, rated = rng.choice([None, None, None, 60.0, 150.0]), rng.choice([80.0, 150.0, 300.0])
        rows.append(
            Row("subs", "woofer", rng.choice([1, 1, 2]), rng.choice([2.0, 4.0]),
                rng.choice([1, 2]), rated, need and min(need, rated))
        )  # fmt: skip
    kinds = rng.choice([[4], [4], [4], [2], [4, 1], [4, 2], [2, 2], [4, 4], [2, 2, 1], [2, 1, 1]])
    amps = [random_amp(rng, f"{'ABC'[at]} {count}", count) for at, count in enumerate(kinds)]
    if len(amps) > 1 and amps[0].channels == amps[1].channels and rng.random() < 0.4:
        amps[1] = replace(amps[0], name=amps[1].name)
    return tuple(rows), tuple(replace(amp, filters=active) for amp in amps)


def _doors(rng, name, section):
    need, rated = rng.choice([None, None, None, 20.0, 45.0]), rng.choice([30.0, 50.0, 80.0, 120.0])
    ohm = rng.choice([4.0, 4.0, 4.0, 8.0, 3.0])
    return Row(name, section, 2, ohm, 1, rated, need and min(need, rated))


def random_amp(rng, name, channels):
    """Return an amplifier with plausible figures."""
    w4 = rng.choice([40.0, 60.0, 100.0]) * (3 if channels == 1 else 1)
    least = rng.choice([2.0, 2.0, 4.0])
    w2 = round(w4 * rng.choice([1.0, 1.4, 1.8]), 1) if least == 2.0 else None
    bridges = channels > 1 and rng.random() < 0.8
    pair = round(2 * w2 * rng.choice([0.9, 1.0]), 1) if w2 and bridges else None
    return Amp(name, channels, w4, w2, pair if rng.random() < 0.6 else None, least, bridges)


CAR = """
[head_unit]
source_v = 4

[leads]
power_m = 3

[supply]
alternator_a = 250
"""


def system_text(rows, amps, wish="", car=CAR):
    """Return the system file of a case."""
    wishes = f'[wishes]\nlayout = "{wish}"\n' if wish else ""
    blocks = [row.toml() for row in rows] + [amp.toml() for amp in amps]
    return "version = 2\n\n" + "\n".join([*blocks, wishes, car])
