"""What a job needs, item by item, from its amplifiers and routes."""

import math
from collections.abc import Iterable

from calc.answers.figures import listed, quantity
from calc.cabling.kit_list.job import Job
from calc.cabling.kit_list.lines import Item, piece
from calc.cabling.kit_list.power import Power
from calc.cabling.kit_list.power_items import power_items
from calc.cabling.kit_list.remote_items import remote_items
from calc.cabling.kit_list.signal_items import signal_items
from calc.cabling.kit_list.speaker_items import speaker_items

_TIE_EVERY_M = 0.3  # our own choice
_SCREWS = 4  # for an amplifier, and as many for the board: our own choice


def items(job: Job, power: Power | None, note: str | None) -> tuple[Item, ...]:
    """Return the whole list, in the order of the work.

    note : what the main fuse follows
    """
    return (
        *power_items(job, power, note),
        *signal_items(job),
        *speaker_items(job),
        *remote_items(job),
        *_part_items(job),
        *_mounting_items(job),
        *_tie_items(job),
    )


def _tie_items(job: Job) -> Iterable[Item]:
    # Remote leads run along with others, and so do the leads of a pair and of its channels.
    later = {amplifier.name for amplifier in job.amplifiers if amplifier.later}
    alone = [
        route
        for route in job.routes
        if route.what not in ("trigger", "high-level") and not later & {route.start, route.end}
    ]
    bundles = {(route.start, route.end): route.length_m for route in job.of("high-level")}
    routed = [*(route.length_m for route in alone), *bundles.values()]
    lengths = [job.bought_m(length_m) for length_m in routed]
    total = sum(length_m for length_m in lengths if length_m is not None)
    more = "; more for the cables not measured yet" if None in lengths else ""
    if lengths:
        yield piece(
            "cable ties or clips",
            math.ceil(total / _TIE_EVERY_M) if total else None,
            "200 mm",
            f"one every {quantity(_TIE_EVERY_M, 'm')} of cable; fix it to the body, never to fuel "
            f"lines, brake lines or airbag looms{more}",
            f"every {quantity(_TIE_EVERY_M, 'm')} of cable{more}",
        )


def _part_items(job: Job) -> Iterable[Item]:
    for part in job.parts:
        reason = "for crossover or turn-on; a component set comes with its own crossover"
        note = "see the settings"
        if part.quantity is None:
            reason += "; how many is not known"
            note += "; count them"
        yield piece(part.what, part.quantity, part.value, reason, note)


def _mounting_items(job: Job) -> Iterable[Item]:
    if not job.has_board:
        return
    names = [amplifier.name for amplifier in job.today]
    yield piece(
        "mounting board",
        1,
        "12 mm plywood or thicker, cut to the amplifiers",
        f"under {listed(names)}; its screws end in the board, not in sheet metal",
        f"under {listed(names)}",
    )
    yield piece(
        "screw for the amplifier",
        _SCREWS * len(names),
        "to suit its feet, shorter than the board is thick",
        "four for each amplifier; no longer than the board",
        "four for each amplifier",
    )
    yield piece(
        "bolt with washer and nut, board to body",
        _SCREWS,
        "M6",
        "look on both sides before you drill",
        "board to body; look on both sides before you drill",
    )
