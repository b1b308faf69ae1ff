"""Amplifiers of a list that may be installed together: which sets are worth a search."""

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations

from calc.choosing.layouts.feeds import Job
from calc.system.amplifier import Amplifier
from calc.system.plain_filters import USUAL_CHANNELS

AmplifierSet = tuple[Amplifier, ...]
# An amplifier of up to so many channels stands beside another one; who has one of six or more
# needs no second, unless asked for.
_SMALL, _LARGEST = 2, 5
_FEW = 6  # of so few all are tried with one another
MOST_SETS, _MOST_SMALL = 240, 12  # of a large and a small one; small ones of a long list


def sets_of(
    job: Job, amplifiers: Sequence[Amplifier], promise: Mapping[int, float] | None = None
) -> Iterator[AmplifierSet]:
    """Yield the sets of two or three amplifiers of a list that can carry all speakers.

    A large one with each small one, where there is a subwoofer for it; two small ones; a large one
    twice, or with any other of a short list; of a short list also a large one with two small
    ones.  Each must have something to carry, and together they must have the outputs.

    Of a long list there would be thousands: then the most promising large ones are taken, and the
    small ones whose power comes nearest to the subwoofers’ rating.

    promise : the most points that an amplifier can have, by its identity; alike where not given
    """
    known = _few(job, [each for each in amplifiers if _is_taken(each)], promise or {})
    large = [each for each in known if _channels(each) > _SMALL]
    small = [each for each in known if _channels(each) <= _SMALL]
    has_sub = any(feed.section == "woofer" for feed in job.feeds)
    made: list[AmplifierSet] = []
    if has_sub:
        made += [(one, other) for one in large for other in small]
    made += [(one, one) for one in large]
    is_short = len(amplifiers) <= _FEW
    if is_short:
        made += list(combinations(large, 2))
    pairs = [*combinations(small, 2), *((one, one) for one in small)]
    made += pairs
    if is_short and has_sub:
        made += [(one, *pair) for one in large for pair in pairs]
    yield from (each for each in made if _is_worth_it(job, each))


def _is_taken(amplifier: Amplifier) -> bool:
    """Tell whether an amplifier may stand beside another: with known power and few channels."""
    return amplifier.power_4ohm_w is not None and _channels(amplifier) <= _LARGEST


def _few(
    job: Job, amplifiers: Sequence[Amplifier], promise: Mapping[int, float]
) -> list[Amplifier]:
    """Return the amplifiers of which sets are made, in their order: not too many."""
    large = [each for each in amplifiers if _channels(each) > _SMALL]
    small = [each for each in amplifiers if _channels(each) <= _SMALL]
    if len(large) * max(len(small), 1) <= MOST_SETS and len(small) ** 2 <= MOST_SETS:
        return list(amplifiers)
    wanted_w = max((f.speaker.rated_w for f in job.feeds if f.section == "woofer"), default=1.0)
    small = sorted(small, key=lambda each: abs(math.log((each.power_4ohm_w or 1.0) / wanted_w)))[
        :_MOST_SMALL
    ]
    most = MOST_SETS // max(len(small), 1)
    large = sorted(large, key=lambda each: -promise.get(id(each), 0.0))[:most]
    chosen = {id(each) for each in (*large, *small)}
    return [each for each in amplifiers if id(each) in chosen]


def _channels(amplifier: Amplifier) -> int:
    return amplifier.channels or USUAL_CHANNELS


def _is_worth_it(job: Job, amplifiers: AmplifierSet) -> bool:
    """Tell whether a set has enough outputs, and something to carry for each amplifier.

    Pairs may share an output, or one may stay on the radio.
    """
    # Each subwoofer may have an amplifier of its own, a pair has one.
    most = sum(feed.count if feed.section == "woofer" else 1 for feed in job.feeds)
    return len(amplifiers) <= most and sum(map(_channels, amplifiers)) >= job.fewest_outputs
