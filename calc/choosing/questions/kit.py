"""What a plan asks of the kit list: everything that must be ordered for the job.

A length that is missing leaves its line open, never the list empty.
"""

from collections.abc import Iterator, Mapping, Sequence

from calc.answers.figures import rounded
from calc.bridging.mapping import Use
from calc.cabling import kit_list
from calc.choosing.layouts.arrangements import Layout
from calc.choosing.layouts.channels import Channel, output_names
from calc.choosing.layouts.feeds import Job
from calc.choosing.questions.cabling import SHARED_CABLE, CableQuestion
from calc.choosing.questions.coils import coil_question
from calc.choosing.questions.demand import demand_figures, own_fuses
from calc.choosing.questions.question import Known, Question, worked_out
from calc.choosing.questions.sources import from_amplifier, from_system, same
from calc.inputs.field_base import Value
from calc.system.amplifier import Amplifier

KitQuestion = Question[kit_list.Inputs, kit_list.Result]
Row = Mapping[str, Value]


def kit_question(
    layout: Layout,
    amplifier: Amplifier,
    cable: CableQuestion,
    *,
    channels: Sequence[Channel],
    turned_on_by: str | None,
    switches_supply: bool,
    is_high_level: bool,
    needs_converter: bool,
) -> KitQuestion:
    """Ask what the job needs, with the power cable as it was found.

    channels : the channel table, for the tweeters' capacitors
    turned_on_by : the way of `turn-on`; None where it is not known, or not by a remote lead
    switches_supply : a relay in the power cable turns it on
    is_high_level : the signal comes from the head unit's speaker leads
    needs_converter : a line-output converter makes a line signal of them
    """
    job = layout.job
    has_remote = turned_on_by in ("trigger", "relay-added")
    routes = _routes(layout, amplifier.name, has_remote=has_remote, is_high_level=is_high_level)
    parts = tuple(_parts(job, channels, switches_supply=switches_supply))
    size_mm2 = None if cable.result is None else cable.result.size_mm2
    return Question(
        calculator=kit_list.KIT_LIST,
        figures={
            "amplifiers": Known(
                (_amplifier_row(layout, amplifier, has_remote, is_high_level),),
                "worked out: the plan",
            ),
            "routes": Known(tuple(routes), "6 Cable: lengths"),
            "speaker_load_ohm": Known(
                min(use.load_ohm for use in layout.plan.uses), "worked out: the lowest load"
            ),
            "loads": Known(_loads(layout), "worked out: channel map"),
            # The kit list sizes the run alone; the power cable was sized with the earth's length.
            "power_mm2": Known(size_mm2, "worked out: the power cable"),
            "coil_links": Known(_coil_links(layout), "worked out: coil wiring"),
            **worked_out(
                "worked out: turn-on",
                remote_from="supply" if turned_on_by == "relay-added" else "head-unit",
            ),
            "line_converter": Known(needs_converter, "worked out: the signal"),
            "parts": Known(
                parts, "1 Speakers: passive crossovers; worked out: the tweeters’ capacitors"
            ),
            **same(job, "slack_percent", "kit_signal_m", "speaker_loss_db", "duty", *SHARED_CABLE),
            "supply_v": from_system(job, "running_v"),
            **demand_figures(job, layout.total_w, amplifier),
            "amp_fuses_a": own_fuses(amplifier),
            "maker_fuse_a": from_amplifier(amplifier, "main_fuse_a"),
        },
    )


def _amplifier_row(
    layout: Layout, amplifier: Amplifier, has_remote: bool, is_high_level: bool
) -> Row:
    pairs = set().union(*(_pairs(use) for use in layout.plan.uses))
    return {
        "name": amplifier.name,
        "total_power_w": layout.total_w,
        "trigger": has_remote,
        "signal_pairs": 0 if is_high_level else len(pairs),
        "outputs": sum(len(use.outputs) for use in layout.plan.uses),
        "y_leads": 0 if is_high_level else _y_leads(layout),
    }


def _pairs(use: Use) -> set[int]:
    """Return the pairs of inputs that belong to the channels of a section."""
    return {(channel - 1) // 2 for channel in use.channels}


def _y_leads(layout: Layout) -> int | None:
    """Return how many leads of one plug to two the inputs need; None where it is not known.

    Each pair of plugs of the head unit feeds one pair of inputs; every further pair that it feeds
    takes two.
    """
    fed: dict[str | None, set[int]] = {}
    for feed, _, use in layout.uses:
        fed.setdefault(feed.speaker.output, set()).update(_pairs(use))
    if None in fed and len(set().union(*fed.values())) > 1:
        return None
    return 2 * sum(len(pairs) - 1 for pairs in fed.values())


def _loads(layout: Layout) -> tuple[Row, ...]:
    return tuple(
        {"to": end, "load_ohm": use.load_ohm, "subwoofer": feed.section == "woofer"}
        for feed, _, use in layout.uses
        for end in output_names(feed, use)
    )


def _routes(layout: Layout, name: str, *, has_remote: bool, is_high_level: bool) -> Iterator[Row]:
    """Yield every lead of the job; the length of one that is not measured is not known."""
    leads = layout.job.system.leads

    def route(what: str, start: str, end: str, length_m: float | None) -> Row:
        return {"what": what, "from": start, "to": end, "length_m": length_m}

    yield route("power", "battery", name, leads.power_m)
    yield route("earth", name, "body", leads.earth_m)
    if is_high_level:
        for _ in set().union(*(use.channels for use in layout.plan.uses)):
            yield route("high-level", "head unit", name, leads.signal_m)
    else:
        yield route("signal", "head unit", name, leads.signal_m)
    for feed, _, use in layout.uses:
        for end in output_names(feed, use):
            yield route("speaker", name, end, feed.speaker.lead_m)
    if has_remote:
        yield route("trigger", "head unit", name, leads.signal_m)


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


def _parts(job: Job, channels: Sequence[Channel], *, switches_supply: bool) -> Iterator[Row]:
    """Yield passive crossovers, which come with a component set or are built; and capacitors.

    Also the relay in the power cable, where one turns the amplifier on.
    """
    if switches_supply:
        yield {"what": "supply relay with base", "value": "for the main fuse", "quantity": 1}
    for network in job.system.networks:
        value = f"{rounded(network.frequency_hz)} Hz {6 * network.order} dB/oct"
        count = job.speakers[job.rows_by_name[network.below or network.above or ""]].count
        yield {"what": "passive crossover", "value": value, "quantity": count}
    farads = [channel.capacitor_farad for channel in channels if channel.capacitor_farad]
    for farad in sorted(set(farads)):
        value = f"{rounded(farad * 1e6, 3)} µF non-polarised"
        yield {"what": "tweeter capacitor", "value": value, "quantity": farads.count(farad)}
