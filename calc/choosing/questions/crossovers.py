"""What a plan asks of the chapter on crossovers: who filters what, delays, passive networks."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import chain

from calc.bridging.mapping import Output
from calc.choosing.layouts.feeds import Job
from calc.choosing.layouts.short_names import short_names
from calc.choosing.questions.question import Known, Question, Unsure, worked_out
from calc.choosing.questions.sources import from_system
from calc.crossovers import arrival_delay, filter_split, passive_network
from calc.inputs.field_base import Value
from calc.system.amplifier import Amplifier
from calc.system.plain_filters import USUAL_ORDER
from calc.system.speakers import Speaker

DelayQuestion = Question[arrival_delay.Inputs, arrival_delay.Result]
NetworkQuestion = Question[passive_network.Inputs, passive_network.Result]
Assignment = Sequence[Sequence[Output]]


@dataclass(frozen=True, kw_only=True)
class SplitQuestion(Question[filter_split.Inputs, filter_split.Result]):
    """What `filter-split` is asked, and what it calls the sections in its answer."""

    called: tuple[str, ...]

    def _named(self, result: filter_split.Result) -> filter_split.Result:
        return replace(result, called=self.called)


def channel_texts(outputs: Sequence[Output]) -> list[str]:
    """Return outputs as `filter-split` names them, a text for each pair of channels.

    >>> channel_texts([(1,), (2,), (3,)]), channel_texts([(3, 4)])
    (['1/2', '3'], ['3+4'])
    """
    pairs: dict[int, list[Output]] = {}
    for output in outputs:
        pairs.setdefault((output[0] - 1) // 2, []).append(output)
    return [
        "+".join(map(str, pair[0]))
        if len(pair[0]) == 2
        else "/".join(str(output[0]) for output in pair)
        for pair in pairs.values()
    ]


def section_rows(job: Job, assignment: Assignment) -> list[tuple[int, str]]:
    """Return the sections of the split: of each the row of its speakers, and its channels."""
    return [
        (row, channels)
        for feed, outputs in zip(job.feeds, assignment, strict=True)
        for channels in channel_texts(outputs)
        for row in reversed(feed.rows)
    ]


def own_names(job: Job, assignment: Assignment) -> list[tuple[str, str]]:
    """Return what `filter-split` calls each section, and the name of its speakers.

    By its kind where that is enough.  Of two pairs each is called by its own name, short enough for
    a drawing; so are component sets, whose kind is that of coaxials.
    """
    rows = [row for row, _ in section_rows(job, assignment)]
    speakers = [job.speakers[row] for row in rows]
    kinds = [speaker.section for speaker in speakers]
    words = list(filter_split.shown_names(kinds))
    short = short_names(speaker.name for speaker in job.speakers)
    for at, (row, speaker) in enumerate(zip(rows, speakers, strict=True)):
        if speaker.section == "full-range" or kinds.count(speaker.section) > 1:
            number = f" {rows[: at + 1].count(row)}" if rows.count(row) > 1 else ""
            words[at] = f"{short[speaker.name]}{number}"
    if len({word.casefold() for word in words}) < len(words):
        words = list(filter_split.shown_names(kinds))
    return [(word, speaker.name) for word, speaker in zip(words, speakers, strict=True)]


def split_question(
    job: Job,
    assignment: Assignment,
    amplifier: Amplifier,
    levels_db: Mapping[int, float] | None = None,
    *,
    has_dsp_filters: bool | None = None,
) -> SplitQuestion:
    """Ask which box makes which filter, with the feeds on their outputs.

    levels_db : of the rows of speakers against one another [dB]; alike where not given, for no
        filter depends on them
    has_dsp_filters : whether a DSP filters every output; as the job says where not given
    """
    levels_db = levels_db or {}
    sections = tuple(
        _section_row(job.speakers[row], channels, round(levels_db.get(row, 0.0), 6))
        for row, channels in section_rows(job, assignment)
    )
    tweeters = [speaker for speaker in job.speakers if speaker.section == "tweeter"]
    own = amplifier.own_filters
    of_amplifier = filter_split.FILTER_SPLIT.form.by_key["amplifier"].read(own.rows)
    is_dsp = job.has_dsp_filters if has_dsp_filters is None else has_dsp_filters
    if is_dsp:  # every filter is set in one box, and those of the amplifier are switched off
        of_amplifier = tuple(row for row in of_amplifier if not row.off)
    return SplitQuestion(
        calculator=filter_split.FILTER_SPLIT,
        called=tuple(word for word, _ in own_names(job, assignment)),
        figures={
            "sections": Known(sections, "1 Speakers, on the chosen channels"),
            "head_unit": Known(
                _dsp_rows(job, assignment) if is_dsp else _head_rows(job, assignment),
                "2 Head unit: filters",
            ),
            "amplifier": Known(of_amplifier, f"the amplifier {amplifier.name}"),
            "passive": Known(_network_rows(job, assignment), "1 Speakers: passive crossovers"),
            "tweeter_capacitor": from_system(job, "tweeter_capacitor"),
            "tweeter_ohm": Known(
                tweeters[0].coil_ohm if tweeters else 4.0, "1 Speakers: impedance of a coil"
            ),
            "delays": Known(job.has_delays, "2 Head unit: a DSP, and all distances known"),
        },
        # Of filters that nobody told of, one may be fixed where it harms.
        unsure=Unsure(_filter_gaps(own.missing)) if own.missing else None,
    )


_FILTER_GAPS = {
    "high_pass_hz": "its high-pass (we use none)",
    "low_pass_hz": "its low-pass (we use none)",
    "filter_db_per_octave": f"its filter slope (we use {6 * USUAL_ORDER} dB/octave)",
}


def _filter_gaps(missing: Sequence[str]) -> tuple[str, ...]:
    """Return what is not known of an amplifier's filters, in words."""
    if {"high_pass_hz", "low_pass_hz"} <= set(missing):
        return ("its filters (we use none)",)
    return tuple(_FILTER_GAPS[key] for key in missing)


def _section_row(speaker: Speaker, channels: str, level_db: float) -> dict[str, Value]:
    is_ported = speaker.section == "woofer" and speaker.enclosure == "ported"
    return {
        "section": speaker.section,
        "channels": channels,
        "lowest_hz": speaker.lowest_hz,
        "order": speaker.order,
        "top_hz": speaker.top_hz,
        "wanted_hz": speaker.wanted_hz,
        "distance_m": speaker.distance_m,
        "level_db": level_db,
        "tuning_hz": speaker.tuning_hz if is_ported else None,
    }


def _head_rows(job: Job, assignment: Assignment) -> tuple[dict[str, Value], ...]:
    """Return the head unit's filters with the channels that each output feeds."""
    channels: dict[str | None, set[int]] = {}
    for feed, outputs in zip(job.feeds, assignment, strict=True):
        fed = channels.setdefault(feed.speaker.output, set())
        fed |= {channel for output in outputs for channel in output}
    return tuple(
        {
            "channels": "/".join(map(str, sorted(channels[made.output]))),
            "kind": made.kind,
            "corners_hz": made.corners_hz,
            "times": made.times,
            "family": made.family,
            "orders": made.orders,
            "switch": made.switch,
            "off": made.off,
        }
        for made in job.system.head_unit.head_filters
        if channels.get(made.output)
    )


# What nearly every DSP sets on every output, and what is set there (common practice, no source).
DSP_HZ = "20-20000"
_OF_A_DSP: Mapping[str, Value] = {
    "corners_hz": DSP_HZ, "times": "1", "family": "linkwitz-riley", "orders": "4",
    "switch": None, "off": True,
}  # fmt: skip
_TOP = ("tweeter", "full-range")  # nothing plays above these


def _dsp_rows(job: Job, assignment: Assignment) -> tuple[dict[str, Value], ...]:
    """Return a high-pass and a low-pass on the channels of each feed, as a DSP has them."""
    return tuple(
        {
            "channels": "/".join(str(one) for one in sorted(set(chain(*outputs)))),
            "kind": kind,
            **_OF_A_DSP,
        }
        for feed, outputs in zip(job.feeds, assignment, strict=True)
        for kind in ("high-pass", "low-pass")
        if kind == "high-pass" or feed.section not in _TOP
    )


def _network_rows(job: Job, assignment: Assignment) -> tuple[dict[str, Value], ...]:
    amplified = {row for feed in job.feeds for row in feed.rows}
    rows = []
    for network in job.system.networks:
        side = "low-pass" if network.above is None else "high-pass"
        if network.above is not None and network.below is not None:
            side = "both"
        name = network.below if network.above is None else network.above
        assert name is not None  # a network has one end at least
        row = job.rows_by_name[name]
        if row not in amplified:  # it stays on the radio
            continue
        rows += [
            {
                "channels": channels,
                "frequency_hz": network.frequency_hz,
                "family": network.family,
                "order": network.order,
                "side": side,
            }
            for channels in channel_texts(assignment[job.feed_of(row)])
        ]
    return tuple(rows)


def delay_question(job: Job) -> DelayQuestion | None:
    """Ask for the delays of the outputs whose distance is known; None for fewer than two.

    Speakers on one output have one delay: that of the highest band, by which one hears where it
    comes from (common practice, no source).
    """
    known = [(feed.name, feed.distance_m(job.speakers)) for feed in job.feeds]
    rows = tuple(
        arrival_delay.SectionRow(section=name, distance_m=far)
        for name, far in known
        if far is not None
    )
    if len(rows) < 2:
        return None
    words = "1 Speakers: distance to the listener; on one output, that of the highest speaker"
    return Question(
        calculator=arrival_delay.ARRIVAL_DELAY, figures={"sections": Known(rows, words)}
    )


def network_questions(job: Job) -> list[NetworkQuestion]:
    """Ask for the parts of each side of each passive network."""
    speakers = {speaker.name: speaker for speaker in job.speakers}
    words = "1 Speakers: passive crossovers"
    questions: list[NetworkQuestion] = []
    for at, network in enumerate(job.system.networks):
        for name, side in ((network.above, "high-pass"), (network.below, "low-pass")):
            if name is None:
                continue
            copied = {
                key: Known(getattr(network, key), words, ("networks", at, key))
                for key in ("family", "order", "frequency_hz")
            }
            questions.append(
                Question(
                    calculator=passive_network.PASSIVE_NETWORK,
                    about=name,
                    figures={
                        "side": Known(side, words),
                        **worked_out(f"1 Speakers: {name}", ohm=speakers[name].parallel_ohm),
                        **copied,
                    },
                    no_part=("impedance", "power_w"),
                )
            )
    return questions
