"""What a plan asks about a layout: channels, coils, filters."""

from collections.abc import Collection, Mapping, Sequence
from typing import Any

from calc.answers.calculator import Calculator
from calc.answers.figures import exact
from calc.bridging.bridged_output import BRIDGED_OUTPUT
from calc.bridging.channel_map import CHANNEL_MAP, outputs_text
from calc.bridging.mapping import Output, Use
from calc.choosing.amplifier_asks import of_amplifier, of_system
from calc.choosing.asks import Ask, Doubt, Traced, rows_text
from calc.choosing.columns import filter_rows
from calc.choosing.job import Feed, Job
from calc.choosing.layouts import Layout
from calc.choosing.wiring import Wiring
from calc.coils.coil_wiring import COIL_WIRING
from calc.crossovers.filter_split import FILTER_SPLIT, section_names
from calc.inputs.fields import Rows
from calc.physics.channel_power import CTA_2006_V

Amplifier = Mapping[str, Any]


def _plate(job: Job, amplifier: Amplifier, calculator: Calculator) -> dict[str, Traced]:
    """Return the figures of the plate and of the supply."""
    inputs = {
        key: of_amplifier(amplifier, key, calculator, key)
        for key in (
            "power_4ohm_w",
            "power_2ohm_w",
            "power_8ohm_w",
            "rated_bridged_w",
            "min_channel_ohm",
            "regulated_min_v",
        )
    }
    rated = amplifier["rated_v"]
    inputs["rated_v"] = (
        Traced(exact(CTA_2006_V), "CTA-2006, where the plate is silent")
        if rated is None
        else of_amplifier(amplifier, "rated_v", calculator, "rated_v")
    )
    inputs["regulated"] = (
        Traced("no", "not known: taken as unregulated")
        if amplifier["regulated"] is None
        else of_amplifier(amplifier, "regulated", calculator, "regulated")
    )
    inputs["supply_v"] = of_system(job, "running_v", calculator, "supply_v")
    return inputs


def channel_map(layout: Layout, amplifier: Amplifier) -> Ask:
    """Ask for the channels of every section, at the wirings chosen."""
    rows = [
        {
            "section": feed.section,
            "load_ohm": exact(wiring.load_ohm),
            "rated_w": exact(wiring.section(feed).rated_w),
            "sensitivity_db": exact(wiring.section(feed).sensitivity_db),
            "speakers": str(wiring.units),
        }
        for feed, wiring, _ in layout.uses
    ]
    settled = [
        {"row": str(number), "outputs": outputs_text(use.outputs)}
        for number, use in enumerate(layout.plan.uses, start=1)
    ]
    inputs = {
        "sections": Traced(
            rows_text(CHANNEL_MAP, "sections", rows), "1 Speakers, with the wiring chosen"
        ),
        "settled": Traced(rows_text(CHANNEL_MAP, "settled", settled), "worked out: the plan"),
        "channels": of_amplifier(amplifier, "channels", CHANNEL_MAP, "channels"),
        **_plate(layout.job, amplifier, CHANNEL_MAP),
    }
    return Ask(calculator=CHANNEL_MAP, inputs=inputs)


def bridged_outputs(layout: Layout, amplifier: Amplifier) -> list[Ask]:
    """Ask for each feed on bridged pairs."""
    return [
        Ask(
            calculator=BRIDGED_OUTPUT,
            whom=feed.name,
            inputs={
                "load_ohm": Traced(exact(use.load_ohm), "worked out: channel map"),
                **_plate(layout.job, amplifier, BRIDGED_OUTPUT),
            },
        )
        for feed, _, use in layout.uses
        if len(use.outputs[0]) == 2
    ]


def coil_ask(
    layout: Layout, feed: Feed, wiring: Wiring, use: Use, *, is_reversed: bool = False
) -> Ask | None:
    """Ask how to wire the coils of each of a feed's outputs; None where there is one coil alone.

    is_reversed : the amplifier's + goes to the speakers' −
    """
    drivers = wiring.drivers * use.per_output
    coils = feed.speaker["coils"]
    if drivers * coils == 1:
        return None
    row = feed.rows[0]
    bridged = len(use.outputs[0]) == 2
    inputs = {
        "drivers": Traced(str(drivers), "worked out: speakers on one output"),
        "coils_per_driver": Traced(
            str(coils), f"1 Speakers: {feed.name}", ("speakers", row, "coils")
        ),
        "coil_ohm": Traced(
            exact(feed.speaker["coil_ohm"]),
            f"1 Speakers: {feed.name}",
            ("speakers", row, "coil_ohm"),
        ),
        "min_load_ohm": Traced(exact(use.load_ohm), "worked out: channel map"),
        "bridged": Traced("yes" if bridged else "no", "worked out: channel map"),
        "reversed": Traced("yes" if is_reversed else "no", "worked out: crossovers"),
        "power_w": Traced(
            "" if use.power.best is None else exact(use.power.best), "worked out: channel map"
        ),
    }
    return Ask(calculator=COIL_WIRING, whom=feed.name, inputs=inputs)


def coil_wirings(layout: Layout, reversed_outputs: Collection[Output] = ()) -> list[Ask]:
    """Ask how to wire the coils of each output that has more than one.

    reversed_outputs : those whose speakers are joined reversed
    """
    asked = (
        coil_ask(layout, feed, wiring, use, is_reversed=use.outputs[0] in reversed_outputs)
        for feed, wiring, use in layout.uses
    )
    return [one for one in asked if one is not None]


def channel_texts(outputs: Sequence[Output]) -> list[str]:
    """Return outputs as `filter-split` names them, a text for each pair of channels.

    >>> channel_texts([(1,), (2,), (3,)]), channel_texts([(3, 4)])
    (['1/2', '3'], ['3+4'])
    """
    pairs: dict[int, list[Output]] = {}
    for output in outputs:
        pairs.setdefault((output[0] - 1) // 2, []).append(output)
    return [
        "+".join(map(str, own[0])) if len(own[0]) == 2 else "/".join(str(one[0]) for one in own)
        for own in pairs.values()
    ]


def own_names(job: Job, assignment: Sequence[Sequence[Output]]) -> list[tuple[str, str]]:
    """Return what `filter-split` calls each section, and the name of its speakers."""
    rows = [
        job.speakers[row]
        for feed, outputs in zip(job.feeds, assignment, strict=True)
        for _ in channel_texts(outputs)
        for row in reversed(feed.rows)
    ]
    words = section_names([row["section"] for row in rows])
    return [(word, row["name"]) for word, row in zip(words, rows, strict=True)]


def filter_split(
    job: Job,
    assignment: Sequence[Sequence[Output]],
    amplifier: Amplifier,
    levels_db: Mapping[int, float] | None = None,
) -> Ask:
    """Ask which box makes which filter, with the feeds on their outputs.

    levels_db : of the rows of speakers against one another [dB]; alike where not given, for no
        filter depends on them
    """
    levels_db = levels_db or {}
    texts = [channel_texts(outputs) for outputs in assignment]
    sections = [
        {
            "section": job.speakers[row]["section"],
            "channels": text,
            **{
                key: "" if value is None else exact(value)
                for key, value in job.speakers[row].items()
                if key in ("lowest_hz", "top_hz", "wanted_hz", "distance_m")
            },
            "order": str(job.speakers[row]["order"]),
            "level_db": exact(round(levels_db.get(row, 0.0), 6)),
            "tuning_hz": _tuning(job.speakers[row]),
        }
        for feed, own in zip(job.feeds, texts, strict=True)
        for text in own
        for row in reversed(feed.rows)
    ]
    tweeters = [row for row in job.speakers if row["section"] == "tweeter"]
    ohm = tweeters[0]["coil_ohm"] if tweeters else 4.0
    inputs = {
        "sections": Traced(
            rows_text(FILTER_SPLIT, "sections", sections), "1 Speakers, on the channels chosen"
        ),
        "head_unit": Traced(_head_rows(job, assignment), "2 Head unit: filters"),
        "amplifier": Traced(
            filter_rows(amplifier["filters"] or "none"), f"the amplifier {amplifier['name']}"
        ),
        "passive": Traced(_network_rows(job, texts), "1 Speakers: passive networks"),
        "tweeter_capacitor": of_system(job, "tweeter_capacitor", FILTER_SPLIT),
        "tweeter_ohm": Traced(exact(ohm), "1 Speakers: impedance of a coil"),
        "delays": Traced(
            "yes" if job.has_delays else "no",
            "2 Head unit: what plays now, and all distances known",
        ),
    }
    # Of filters that nobody told of, one may be fixed where it harms.
    doubt = Doubt(("its filters (taken as none)",)) if amplifier["filters"] is None else None
    return Ask(calculator=FILTER_SPLIT, inputs=inputs, doubt=doubt)


def _tuning(speaker: Mapping[str, Any]) -> str:
    """Return the tuning of a subwoofer whose box is known to be ported; else nothing."""
    hz = speaker["tuning_hz"]
    is_ported = speaker["section"] == "woofer" and speaker["enclosure"] == "ported"
    return exact(hz) if is_ported and hz is not None else ""


def _head_rows(job: Job, assignment: Sequence[Sequence[Output]]) -> str:
    """Return the head unit's filters with the channels that each output feeds."""
    channels: dict[str, set[int]] = {}
    for feed, outputs in zip(job.feeds, assignment, strict=True):
        own = channels.setdefault(feed.speaker["output"], set())
        own |= {channel for output in outputs for channel in output}
    field = FILTER_SPLIT.form.by_key["head_unit"]
    assert isinstance(field, Rows)
    rows = [
        {**row, "channels": "/".join(map(str, sorted(channels[row["output"]])))}
        for row in job.given["head_filters"]
        if channels.get(row["output"])
    ]
    texts = [
        {column.key: column.write(row[column.key]) for column in field.columns} for row in rows
    ]
    return rows_text(FILTER_SPLIT, "head_unit", texts)


def _network_rows(job: Job, texts: Sequence[Sequence[str]]) -> str:
    at = {row["name"]: number for number, row in enumerate(job.speakers)}
    rows = []
    for one in job.given["networks"]:
        side = "low-pass" if one["above"] is None else "high-pass"
        if one["above"] is not None and one["below"] is not None:
            side = "both"
        name = one["below"] if one["above"] is None else one["above"]
        rows += [
            {
                "channels": text,
                "frequency_hz": exact(one["frequency_hz"]),
                "family": one["family"],
                "order": str(one["order"]),
                "side": side,
            }
            for text in texts[job.feed_of(at[name])]
        ]
    return rows_text(FILTER_SPLIT, "passive", rows)
