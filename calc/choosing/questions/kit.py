"""What a plan asks of the kit list: everything that must be ordered for the job.

A length that is missing leaves its line open, never the list empty.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from calc.answers.figures import rounded
from calc.bridging.mapping import Use
from calc.cabling import kit_list
from calc.choosing.installed import Part
from calc.choosing.layouts.arrangements import Layout
from calc.choosing.layouts.channels import Channel, output_names
from calc.choosing.layouts.feed import Feed
from calc.choosing.layouts.feeds import Job
from calc.choosing.power_tree import PowerTree
from calc.choosing.questions.cabling import SHARED_CABLE
from calc.choosing.questions.coils import coil_question
from calc.choosing.questions.demand import demand_figures, own_fuses
from calc.choosing.questions.power import BATTERY, BLOCK, branch_of, place_names
from calc.choosing.questions.question import Known, Question, worked_out
from calc.choosing.questions.sets import TreeLoad, later_load, load_rows
from calc.choosing.questions.sources import from_amplifier, from_system, same
from calc.inputs.field_base import Value

KitQuestion = Question[kit_list.Inputs, kit_list.Result]
Row = Mapping[str, Value]
_HEAD_UNIT, _BODY = "head unit", "body"


@dataclass(frozen=True, kw_only=True)
class Fitted:
    """An amplifier that is put in, with what brings its signal and turns it on.

    total_w : the power of all its outputs together [W]; None where it is not known
    turned_on_by : the way of `turn-on`; None where it is not known
    is_high_level : its signal comes from the head unit's speaker leads
    needs_converter : a line-output converter makes a line signal of them
    """

    part: Part
    total_w: float | None
    turned_on_by: str | None
    is_high_level: bool
    needs_converter: bool

    @property
    def switches_supply(self) -> bool:
        """Whether a relay switches its supply, for want of a remote terminal and of sensing."""
        return self.turned_on_by == "relay-added" and self.part.amplifier.trigger is False

    @property
    def source(self) -> str:
        """What carries the signal from the head unit, in words."""
        if self.is_high_level:
            return "speaker leads"
        return "speaker leads with converter" if self.needs_converter else "RCA"

    @property
    def has_remote(self) -> bool:
        """Whether a remote lead goes to it."""
        return self.turned_on_by in ("trigger", "relay-added") and not self.switches_supply

    @property
    def load(self) -> TreeLoad:
        """The amplifier as the power cable sees it.

        One that carries nothing is wired for what its plate permits: something will be put on it.
        """
        if self.total_w == 0:
            return replace(later_load(self.part.given), is_later=False)
        return TreeLoad(amplifier=self.part.amplifier, total_w=self.total_w)


def kit_question(
    layout: Layout,
    fitted: Sequence[Fitted],
    power: PowerTree | None,
    *,
    channels: Sequence[Channel],
    later: Sequence[TreeLoad] = (),
) -> KitQuestion:
    """Ask what the job needs, with the power cables as they were found.

    power : None where no size can be told
    channels : the channel table, for the tweeters' capacitors
    later : amplifiers for which main run, holder and block are made already
    """
    job = layout.job
    loads = (*(each.load for each in fitted), *later)
    names = place_names(loads)
    routes = tuple(_routes(layout, fitted, names, power))
    by_supply = any(each.turned_on_by == "relay-added" for each in fitted if each.has_remote)
    return Question(
        calculator=kit_list.KIT_LIST,
        figures={
            "amplifiers": Known(
                tuple(_amplifier_rows(layout, fitted, loads, names)), "worked out: the plan"
            ),
            "routes": Known(routes, "6 Cables: lengths"),
            "speaker_load_ohm": Known(
                min(use.load_ohm for use in layout.plan.uses), "worked out: the lowest load"
            ),
            "loads": Known(_loads(layout), "worked out: channel map"),
            "coil_links": Known(_coil_links(layout), "worked out: coil wiring"),
            **worked_out("worked out: turn-on", remote_from="supply" if by_supply else "head-unit"),
            "line_converter": Known(
                any(each.needs_converter for each in fitted), "worked out: the signal"
            ),
            "parts": Known(
                tuple(_parts(job, fitted, channels)),
                "1 Speakers: passive crossovers; worked out: the tweeters’ capacitors",
            ),
            "kit_signal_m": _kit_signal(job),
            **same(job, "slack_percent", "speaker_loss_db", "duty", *SHARED_CABLE),
            "supply_v": from_system(job, "running_v"),
            **_draw(job, fitted, power, later),
        },
    )


def _kit_signal(job: Job) -> Known:
    """Return the length of the signal leads of the cable kit [m]; none where no kit is named."""
    known = from_system(job, "kit_signal_m")
    if known.value is not None:
        return known
    return Known(0.0, "no cable kit is named", known.path)


def _draw(
    job: Job, fitted: Sequence[Fitted], power: PowerTree | None, later: Sequence[TreeLoad]
) -> dict[str, Known]:
    """Return how one amplifier draws; of several each row tells its own."""
    if len(fitted) > 1 or later:
        return {}
    (one,) = fitted
    amplifier = one.part.amplifier
    size_mm2 = None if power is None else power.main.cable.size_mm2
    return {
        # The kit list sizes the run alone; the power cable was sized with the earth's length.
        "power_mm2": Known(size_mm2, "worked out: the power cable"),
        **demand_figures(job, one.total_w, amplifier),
        "amp_fuses_a": own_fuses(amplifier),
        "maker_fuse_a": from_amplifier(amplifier, "main_fuse_a"),
    }


# ---- amplifiers


def _amplifier_rows(
    layout: Layout, fitted: Sequence[Fitted], loads: Sequence[TreeLoad], names: Sequence[str]
) -> Iterator[Row]:
    """Yield the rows of those that are put in, then of those for later."""
    several = len(loads) > 1
    y_leads = _y_leads(layout, fitted)
    for each, load, name in zip(fitted, loads, names, strict=False):
        own = [
            (use, [output for output in use.outputs if each.part.has(output)])
            for use in layout.plan.uses
        ]
        pairs = set().union(*(_pairs(use, each.part) for use, _ in own))
        yield {
            "name": name,
            "total_power_w": load.total_w,
            "trigger": each.has_remote,
            "signal_pairs": 0 if each.is_high_level else len(pairs),
            "outputs": sum(len(outputs) for _, outputs in own),
            "y_leads": y_leads[each.part.at],
            **_own_draw(layout.job, load, several=several),
            "trigger_a": each.part.amplifier.trigger_a,
        }
    for load, name in zip(loads[len(fitted) :], names[len(fitted) :], strict=True):
        yield {
            "name": name,
            "total_power_w": load.total_w,
            "trigger": False,
            "signal_pairs": 0,
            "outputs": 0,
            "y_leads": 0,
            **_own_draw(layout.job, load, several=True),
            "later": True,
        }


def _own_draw(job: Job, load: TreeLoad, *, several: bool) -> Row:
    """Return how an amplifier among several draws; one alone is told by the shared figures."""
    if not several:
        return {}
    (row,) = load_rows(job, (load,), (load.name,))
    keys = (
        "efficiency_percent", "amplifier_class", "idle_w", "own_fuses_a", "regulated_min_v",
    )  # fmt: skip
    return {key: row[key] for key in keys}


def _pairs(use: Use, part: Part) -> set[int]:
    """Return the pairs of an amplifier's inputs that belong to its channels of a section."""
    own = [part.own(output) for output in use.outputs if part.has(output)]
    return {(channel - 1) // 2 for output in own for channel in output}


def _y_leads(layout: Layout, fitted: Sequence[Fitted]) -> list[int | None]:
    """Return how many leads of one plug to two each amplifier's inputs need; None: not known.

    Each pair of plugs of the head unit feeds one pair of inputs; every further pair that it feeds
    takes two.
    """
    counts: list[int | None] = [0] * len(layout.installed.parts)
    fed: dict[str | None, list[tuple[int, int]]] = {}
    by_line = [each.part for each in fitted if not each.is_high_level]
    for feed, _, use in layout.uses:
        inputs = fed.setdefault(feed.speaker.output, [])
        for part in by_line:
            new = [(part.at, pair) for pair in sorted(_pairs(use, part))]
            inputs += [each for each in new if each not in inputs]
    every = {each for inputs in fed.values() for each in inputs}
    if None in fed and len(every) > 1:
        # It is asked once, beside the first amplifier that it may concern.
        asked = min(part.at for part in by_line)
        return [None if at == asked else 0 for at in range(len(counts))]
    for inputs in fed.values():
        for at, _ in inputs[1:]:
            counts[at] = (counts[at] or 0) + 2
    return counts


# ---- routes


def _ends(feed: Feed, use: Use) -> Iterator[tuple[int, str, Feed]]:
    """Yield where the leads of a feed end: the output's place, the end's name, whose it is.

    Of joined pairs each speaker has a lead of its own.
    """
    for at, name in enumerate(output_names(feed, use)):
        if not feed.branches:
            yield at, name, feed
        for member in feed.branches:
            side = ("left", "right")[at % 2]
            yield at, f"{member.short} {side}", member


def lead_ends(feed: Feed, use: Use, at: int) -> list[str]:
    """Return the names of the ends of an output's leads, by the output's place among the feed's."""
    return [name for place, name, _ in _ends(feed, use) if place == at]


def _loads(layout: Layout) -> tuple[Row, ...]:
    return tuple(
        {
            "to": end,
            "load_ohm": member.speaker.coil_ohm if feed.branches else use.load_ohm,
            "subwoofer": feed.section == "woofer",
        }
        for feed, _, use in layout.uses
        for _, end, member in _ends(feed, use)
    )


def _route(
    what: str, start: str, end: str, length_m: float | None, least_mm2: float | None = None
) -> Row:
    return {"what": what, "from": start, "to": end, "length_m": length_m, "least_mm2": least_mm2}


def _routes(
    layout: Layout,
    fitted: Sequence[Fitted],
    names: Sequence[str],
    power: PowerTree | None,
) -> Iterator[Row]:
    """Yield every lead of the job; the length of one that is not measured is not known.

    names : of the places of those that are put in, then of those for later
    """
    leads = layout.job.system.leads
    places = {each.part.at: name for each, name in zip(fitted, names, strict=False)}
    yield from _power_routes(layout.job, names, power)
    for name in names:
        yield _route("earth", name, _BODY, leads.earth_m)
    for each in fitted:
        own = {channel for output in layout.outputs_of(each.part) for channel in output}
        if each.is_high_level:
            for _ in own:
                yield _route("high-level", _HEAD_UNIT, places[each.part.at], leads.signal_m)
        else:
            yield _route("signal", _HEAD_UNIT, places[each.part.at], leads.signal_m)
    for feed, _, use in layout.uses:
        for at, end, member in _ends(feed, use):
            start = places[layout.installed.part_of(use.outputs[at]).at]
            yield _route("speaker", start, end, member.speaker.lead_m)
    switched = [places[each.part.at] for each in fitted if each.has_remote]
    yield from _remote_routes(layout.job, switched)


def _power_routes(job: Job, names: Sequence[str], power: PowerTree | None) -> Iterator[Row]:
    """Yield main run and branches, with the sizes that were found."""
    power_m = job.system.leads.power_m
    if len(names) == 1 and (power is None or not power.has_block):
        yield _route("power", BATTERY, names[0], power_m)
        return
    main_mm2 = None if power is None else power.main.cable.size_mm2
    yield _route("power", BATTERY, BLOCK, power_m, main_mm2)
    branches = () if power is None else power.branches
    for at, name in enumerate(names):
        least_mm2 = branches[at].cable.size_mm2 if branches else None
        yield _route("power", BLOCK, name, branch_of(job), least_mm2)


def _remote_routes(job: Job, names: Sequence[str]) -> Iterator[Row]:
    """Yield the remote lead: to the first amplifier, and from each on to the next."""
    start, length_m = _HEAD_UNIT, job.system.leads.signal_m
    for name in names:
        yield _route("trigger", start, name, length_m)
        # Both hang on one block: they stand no farther apart than their branches reach.
        start, length_m = name, 2 * branch_of(job)


# ---- links and parts


def _coil_links(layout: Layout) -> int:
    """Return how many short links join coil terminals: one less than the terminals of a net."""
    count = 0
    for feed, wiring, use in layout.uses:
        question = coil_question(feed, wiring, use)
        result = None if question is None else question.result
        if result is not None and result.best is not None:
            nets = result.nets_of(result.best)
            count += len(use.outputs) * sum(len(ends) - 1 for ends in nets.values())
    return count


def _parts(job: Job, fitted: Sequence[Fitted], channels: Sequence[Channel]) -> Iterator[Row]:
    """Yield passive crossovers, which come with a component set or are built; and capacitors.

    Also the relay in the power cable, where one turns an amplifier on.
    """
    switched = sum(each.switches_supply for each in fitted)
    if switched:
        value = "for the main fuse" if len(fitted) == 1 else "for the branch fuse"
        yield {"what": "supply relay with base", "value": value, "quantity": switched}
    for network in job.system.networks:
        value = f"{rounded(network.frequency_hz)} Hz {6 * network.order} dB/oct"
        count = job.speakers[job.rows_by_name[network.below or network.above or ""]].count
        yield {"what": "passive crossover", "value": value, "quantity": count}
    farads = [channel.capacitor_farad for channel in channels if channel.capacitor_farad]
    for farad in sorted(set(farads)):
        value = f"{rounded(farad * 1e6, 3)} µF non-polarised"
        yield {"what": "tweeter capacitor", "value": value, "quantity": farads.count(farad)}
