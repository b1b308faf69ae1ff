"""What a plan asks of the kit list: everything that must be ordered for the job.

A length that is missing leaves its line open, never the list empty.
"""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from calc.answers.figures import exact, rounded
from calc.bridging.mapping import Use
from calc.cabling.kit_list import KIT_LIST
from calc.choosing.amplifier_asks import of_amplifier, of_system
from calc.choosing.asks import Ask, Traced, rows_text
from calc.choosing.channels import Channel
from calc.choosing.demand_asks import demand_inputs, own_fuses_text
from calc.choosing.fields import SHARED_CABLE
from calc.choosing.job import Job
from calc.choosing.layout_asks import coil_ask
from calc.choosing.layouts import Layout
from calc.choosing.plan_asks import output_names

Amplifier = Mapping[str, Any]
Row = dict[str, str]


def _pairs(use: Use) -> set[int]:
    """Return the pairs of inputs that belong to the channels of a section."""
    return {(channel - 1) // 2 for channel in use.channels}


def _y_leads(layout: Layout) -> str:
    """Return how many leads of one plug to two the inputs need; empty where it is not known.

    Each pair of plugs of the head unit feeds one pair of inputs; every further pair that it feeds
    takes two.
    """
    fed: dict[str | None, set[int]] = {}
    for feed, _, use in layout.uses:
        fed.setdefault(feed.speaker["output"], set()).update(_pairs(use))
    if None in fed and len(set().union(*fed.values())) > 1:
        return ""
    return str(2 * sum(len(pairs) - 1 for pairs in fed.values()))


def kit_list(
    layout: Layout,
    amplifier: Amplifier,
    cable: Ask,
    *,
    channels: Sequence[Channel],
    turned_on_by: str | None,
    switches_supply: bool,
    is_high_level: bool,
    needs_converter: bool,
) -> Ask:
    """Ask what the job needs, with the power cable as it was found.

    channels : the channel table, for the tweeters' capacitors
    turned_on_by : the way of `turn-on`; None where it is not known, or not by a remote lead
    switches_supply : a relay in the power cable turns it on
    is_high_level : the signal comes from the head unit's speaker leads
    needs_converter : a line-output converter makes a line signal of them
    """
    job, name = layout.job, amplifier["name"]
    total = layout.total_w
    has_remote = turned_on_by in ("trigger", "relay-added")
    pairs = set().union(*(_pairs(use) for use in layout.plan.uses))
    row = {
        "name": name,
        "total_power_w": "" if total is None else exact(total),
        "trigger": "yes" if has_remote else "no",
        "signal_pairs": "0" if is_high_level else str(len(pairs)),
        "outputs": str(sum(len(use.outputs) for use in layout.plan.uses)),
        "y_leads": "0" if is_high_level else _y_leads(layout),
    }
    ends = [(feed, use, end) for feed, _, use in layout.uses for end in output_names(feed, use)]
    loads = [
        {
            "to": end,
            "load_ohm": exact(use.load_ohm),
            "subwoofer": "yes" if feed.section == "woofer" else "no",
        }
        for feed, use, end in ends
    ]
    routes = list(_routes(layout, name, has_remote=has_remote, is_high_level=is_high_level))
    lowest = min(use.load_ohm for use in layout.plan.uses)
    inputs = {
        "amplifiers": Traced(rows_text(KIT_LIST, "amplifiers", [row]), "worked out: the plan"),
        "routes": Traced(rows_text(KIT_LIST, "routes", routes), "6 Cable: lengths"),
        "speaker_load_ohm": Traced(exact(lowest), "worked out: the lowest load"),
        "loads": Traced(rows_text(KIT_LIST, "loads", loads), "worked out: channel map"),
        "power_mm2": Traced(_power_mm2(cable), "worked out: the power cable"),
        "coil_links": Traced(str(_coil_links(layout)), "worked out: coil wiring"),
        "remote_from": Traced(
            "supply" if turned_on_by == "relay-added" else "head-unit", "worked out: turn-on"
        ),
        "line_converter": Traced("yes" if needs_converter else "no", "worked out: the signal"),
        "parts": Traced(
            rows_text(
                KIT_LIST, "parts", list(_parts(job, channels, switches_supply=switches_supply))
            ),
            "1 Speakers: passive crossovers; worked out: the tweeters’ capacitors",
        ),
        **{
            key: of_system(job, key, KIT_LIST)
            for key in ("slack_percent", "kit_signal_m", "speaker_loss_db", "duty", *SHARED_CABLE)
        },
        "supply_v": of_system(job, "running_v", KIT_LIST, "supply_v"),
        **demand_inputs(amplifier, KIT_LIST),
        "amp_fuses_a": own_fuses_text(amplifier),
        "maker_fuse_a": of_amplifier(amplifier, "main_fuse_a", KIT_LIST, "maker_fuse_a"),
    }
    return Ask(calculator=KIT_LIST, inputs=inputs)


def _routes(layout: Layout, name: str, *, has_remote: bool, is_high_level: bool) -> Iterator[Row]:
    """Yield every lead of the job; the length of one that is not measured is empty."""
    given = layout.job.given

    def route(what: str, start: str, end: str, length_m: float | None) -> Row:
        length = "" if length_m is None else exact(length_m)
        return {"what": what, "from": start, "to": end, "length_m": length}

    yield route("power", "battery", name, given["power_m"])
    yield route("earth", name, "body", given["earth_m"])
    if is_high_level:
        for _ in set().union(*(use.channels for use in layout.plan.uses)):
            yield route("high-level", "head unit", name, given["signal_m"])
    else:
        yield route("signal", "head unit", name, given["signal_m"])
    for feed, _, use in layout.uses:
        for end in output_names(feed, use):
            yield route("speaker", name, end, feed.speaker["lead_m"])
    if has_remote:
        yield route("trigger", "head unit", name, given["signal_m"])


def _power_mm2(cable: Ask) -> str:
    """Return the cross-section of the power cable, which the kit’s may not be thinner than.

    The kit list sizes the run alone; the power cable was sized with the earth’s length.
    """
    found = cable.answer.sheet.results["size_mm2"] if cable.answer else None
    return "" if found is None else exact(found)


def _coil_links(layout: Layout) -> int:
    """Return how many short links join coil terminals: one less than the terminals of a net."""
    count = 0
    for feed, wiring, use in layout.uses:
        ask = coil_ask(layout, feed, wiring, use)
        if ask is None or ask.answer is None or ask.answer.sheet.results["best"] is None:
            continue
        results = ask.answer.sheet.results
        nets = results["arrangements"][results["best"]]["nets"]
        count += len(use.outputs) * sum(len(ends) - 1 for ends in nets.values())
    return count


def _parts(job: Job, channels: Sequence[Channel], *, switches_supply: bool) -> Iterator[Row]:
    """Yield passive crossovers, which come with a component set or are built; and capacitors.

    Also the relay in the power cable, where one turns the amplifier on.
    """
    if switches_supply:
        yield {"what": "supply relay with base", "value": "for the main fuse", "quantity": "1"}
    speakers = {row["name"]: row for row in job.speakers}
    for one in job.given["networks"]:
        who = speakers[one["below"] or one["above"]]
        value = f"{rounded(one['frequency_hz'])} Hz {6 * one['order']} dB/oct"
        yield {"what": "passive crossover", "value": value, "quantity": str(who["count"])}
    farads = [one.capacitor_farad for one in channels if one.capacitor_farad is not None]
    for farad in sorted(set(farads)):
        value = f"{rounded(farad * 1e6, 3)} µF non-polarised"
        quantity = str(farads.count(farad))
        yield {"what": "tweeter capacitor", "value": value, "quantity": quantity}
