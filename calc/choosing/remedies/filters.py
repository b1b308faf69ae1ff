"""Filters that are missing or in the way: made by another box, switched off, or not needed."""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from calc.answers.figures import rounded
from calc.choosing.layouts.arrangements import Layout
from calc.choosing.layouts.feed import Feed
from calc.choosing.questions.crossovers import (
    DSP_HZ,
    SplitQuestion,
    section_rows,
    split_question,
)
from calc.choosing.remedies.case import Aim, Case, Change, Kind
from calc.system.amplifier import NO_FILTERS
from calc.system.speakers import Edge, HeadFilter, Network
from calc.system.system import System

_LOWEST_HZ, _HIGHEST_HZ = 10.0, 20_000.0  # of filters that anybody makes
_STEEPEST = 4  # of the passive networks that are proposed


def other_filters(aim: Aim) -> Iterator[Change]:
    """Yield a passive network for a missing edge, a head unit or an amplifier that makes the
    filter, filters that are switched off, and speakers whose bands meet.
    """
    case, layout = aim.case, aim.plan.layout
    if layout is not None:
        asked = split_question(layout.job, layout.assignment, case.judge.amplifier)
        if asked.result is not None:
            for at in range(len(asked.result.bad)):
                yield from _of_edge(case, layout, asked, at)
            yield from _meeting(case, layout, asked)
    yield from _switched_off(case)
    yield from _processing(case)
    yield from _processing_alone(case)


def _of_edge(case: Case, layout: Layout, asked: SplitQuestion, at: int) -> Iterator[Change]:
    """Yield what makes an edge that is bad, by its number among them."""
    assert asked.result is not None
    edge = asked.result.bad[at].edge
    low, high = edge.window_hz
    if low > high:
        return
    middle = float(f"{math.sqrt(low * high):.2g}") if math.isfinite(high) and low > 0 else low
    middle = middle if low <= middle <= high else low
    channels = asked.result.system.sections[edge.section].channels
    feed = _feed_on(layout, channels)
    if feed is None or not _LOWEST_HZ <= middle <= _HIGHEST_HZ:
        return
    orders = sorted({order for order in (1, 2, 3, 4) if order >= min(edge.least_order, _STEEPEST)})
    yield from _networks(case, feed, edge.kind, middle, orders)
    order = max(orders[0], edge.least_order)
    yield from _head_filter(case, feed, edge.kind, middle, order)
    yield from _own_filter(case, channels, edge.kind, middle, order)


def _feed_on(layout: Layout, channels: Iterable[int]) -> Feed | None:
    for feed, _, use in layout.uses:
        if use.channels >= set(channels):
            return feed
    return None


def _networks(
    case: Case, feed: Feed, edge: Edge, hz: float, orders: Sequence[int]
) -> Iterator[Change]:
    """Yield a network between a feed and its neighbour in pitch that it can share leads with."""
    job, is_below = case.job, edge == "low-pass"
    name = job.speakers[feed.rows[0] if is_below else feed.rows[-1]].name
    for neighbour in job.feeds:
        if neighbour is feed:
            continue
        theirs = job.speakers[neighbour.rows[-1] if is_below else neighbour.rows[0]].name
        above, below = (theirs, name) if is_below else (name, theirs)
        for order in orders:
            network = Network(
                above=above, below=below, frequency_hz=hz, family="butterworth", order=order
            )
            changed = case.of_system(_named(case, networks=(*case.system.networks, network)))
            if changed is not None:
                words = (
                    f"with a passive crossover at {rounded(hz)} Hz, {6 * order} dB/octave, "
                    f"between {name} and {theirs}"
                )
                yield Change("car", words, changed, order)


def _named(case: Case, networks: tuple[Network, ...]) -> System:
    """Return the system with other networks, its speakers by the names that these go by."""
    rows = tuple(
        replace(row, name=speaker.name)
        for row, speaker in zip(case.system.speakers, case.job.speakers, strict=True)
    )
    return replace(case.system, speakers=rows, networks=networks)


def _head_filter(case: Case, feed: Feed, edge: Edge, hz: float, order: int) -> Iterator[Change]:
    """Yield a head unit that makes the filter on the output that feeds the speakers."""
    output, system = feed.speaker.output, case.system
    if not output or case.job.has_dsp_filters:  # what it lists would be all that it has
        return
    made = HeadFilter(
        output=output,
        kind=edge,
        corners_hz=rounded(hz),
        times="1",
        family="butterworth",
        orders=str(order),
    )
    filters = (*system.head_unit.head_filters, made)
    changed = case.of_system(
        replace(system, head_unit=replace(system.head_unit, head_filters=filters))
    )
    if changed is not None:
        words = (
            f"with a head unit that has a {edge} at {rounded(hz)} Hz, {6 * order} dB/octave, "
            f"for {output}"
        )
        yield Change("car", words, changed, 5.0)


def _own_filter(
    case: Case, channels: frozenset[int], edge: Edge, hz: float, order: int
) -> Iterator[Change]:
    """Yield an amplifier that makes the filter on these channels, beside those it has."""
    part = next((part for part in case.parts if channels <= set(part.numbers)), None)
    if part is None or part.given.filters is None:
        return  # plain columns have one range for all pairs
    own = part.given.filters
    numbers = [str(channel - part.first + 1) for channel in sorted(channels)]
    row = f"{'/'.join(numbers)} {edge} {rounded(hz)} 1 butterworth {order} - yes"
    filters = row if own.strip() == NO_FILTERS else f"{own} | {row}"
    lead = "with an amplifier" if len(case.parts) == 1 else f"with {part.name} changed for one"
    words = (
        f"{lead} that has a {edge} at {rounded(hz)} Hz, {6 * order} dB/octave, on "
        f"{' and '.join(numbers)}"
    )
    yield Change("amplifier", words, case.of_amplifier(part.at, filters=filters), 1.0)


def _meeting(case: Case, layout: Layout, asked: SplitQuestion) -> Iterator[Change]:
    """Yield speakers that play down to where those below them end."""
    assert asked.result is not None
    rows = section_rows(layout.job, layout.assignment)
    for below, above in asked.result.gaps:
        (under, _), (over, _) = rows[below], rows[above]
        top_hz = case.job.speakers[under].top_hz
        changed = case.of_rows({over: {"lowest_hz": top_hz}})
        if changed is not None and top_hz is not None:
            name = case.job.speakers[over].name
            words = f"with {name} that can be crossed over as high as {rounded(top_hz)} Hz"
            yield Change("speakers", words, changed, 3.0)


def _switched_off(case: Case) -> Iterator[Change]:
    """Yield the job without one of the head unit's filters or networks, then without any."""
    system, head = case.system, case.system.head_unit
    filters = head.head_filters
    for at, made in enumerate(filters):
        fewer = replace(
            system, head_unit=replace(head, head_filters=filters[:at] + filters[at + 1 :])
        )
        words = f"with the head unit’s {made.kind} of {made.output} switched off"
        yield from _maybe("car", words, case.of_system(fewer), 2.0)
    for at, network in enumerate(system.networks):
        fewer = _named(case, system.networks[:at] + system.networks[at + 1 :])
        ends = " and ".join(filter(None, (network.above, network.below)))
        words = f"without the passive crossover of {ends}"
        yield from _maybe("car", words, case.of_system(fewer), 3.0)
    if filters or system.networks:
        words = "without any filter of the head unit, and without passive crossovers"
        yield from _maybe("car", words, _bare(case), 6.0)


def _maybe(kind: Kind, words: str, changed: Case | None, size: float) -> Iterator[Change]:
    if changed is not None:
        yield Change(kind, words, changed, size)


def _bare(case: Case) -> Case | None:
    """Return the case in which nothing filters before or after the amplifier."""
    named = _named(case, ())
    head = replace(named.head_unit, head_filters=(), filters_every_output="no")
    return case.of_system(replace(named, head_unit=head))


def _processing(case: Case) -> Iterator[Change]:
    """Yield an amplifier with a processor: every filter on every channel."""
    words = f"with {_some(case)} a DSP: any high-pass and low-pass on every channel"
    yield Change("amplifier", words, _every_filter(case), 4.0)


def _processing_alone(case: Case) -> Iterator[Change]:
    """Yield such an amplifier and nothing else that filters."""
    bare = _bare(case)
    if bare is not None:
        words = f"with {_some(case)} a DSP, the head unit’s filters off and no passive crossovers"
        yield Change("amplifier", words, _every_filter(bare), 6.0)


def _some(case: Case) -> str:
    return "an amplifier that has" if len(case.parts) == 1 else "amplifiers that have"


def _every_filter(case: Case) -> Case:
    for part in case.parts:
        rows = [
            f"{channel} {kind} {DSP_HZ} 1 butterworth 1/2/3/4/5/6/7/8 - yes"
            for channel in range(1, part.count + 1)
            for kind in ("high-pass", "low-pass")
        ]
        case = case.of_amplifier(part.at, filters=" | ".join(rows))
    return case
