"""How the speakers of a feed can be wired: each by itself, or all of them as one load."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from calc.bridging.mapping import Section
from calc.choosing.layouts.feed import Feed
from calc.coils.coil_wiring import survey_of
from calc.physics.coils import MOST_COILS, Driver

LEAST_OHM, MOST_OHM = 0.5, 64.0  # what `channel-map` takes
MOST_DRIVERS = 4


@dataclass(frozen=True, kw_only=True)
class Wiring:
    """The load that a feed's speakers are wired to.

    load_ohm : of one unit [Ω]
    units : how many units are spread over outputs; 1 when all drivers are one load
    drivers : drivers in one unit
    """

    load_ohm: float
    units: int
    drivers: int

    def section(self, feed: Feed) -> Section:
        """Return the feed as the formulas of bridging take it."""
        return Section(
            name=feed.section,
            load_ohm=self.load_ohm,
            rated_w=feed.speaker.rated_w * self.drivers,
            sensitivity_db=sensitivity(feed, self),
            speakers=self.units,
        )


def sensitivity(feed: Feed, wiring: Wiring) -> float:
    """Return the level [dB] of one unit at 2.83 V and 1 m, to a hundredth.

    The figure of a speaker is that with its coils in parallel, R_p.  A unit of n like drivers in
    an even network of load R turns the same voltage into R_p/R of the power, and n drivers close
    together into n times the pressure for the power of one: S + 10·lg(n·R_p/R).

    Source: power goes with V²/R; like sources in step add their pressures (laws of physics).
    """
    parallel = feed.speaker.parallel_ohm
    gain = 10 * math.log10(wiring.drivers * parallel / wiring.load_ohm)
    return round(feed.speaker.sensitivity_db + gain, 2)


@lru_cache(maxsize=64)
def even_loads(drivers: int, coils: int, coil_ohm: float) -> tuple[float, ...]:
    """Return the loads [Ω] to which like drivers can be wired so that all coils work alike.

    >>> even_loads(2, 2, 4.0)
    (1.0, 4.0, 16.0)
    """
    if drivers == coils == 1:
        return (coil_ohm,)
    survey = survey_of((Driver(coils, coil_ohm),) * drivers)
    return tuple(float(count.load) for count in survey.distinct_loads if count.even)


def wirings(feed: Feed) -> Sequence[Wiring]:
    """Return every wiring of a feed, the single ones first.

    Joined into one load are woofers only.  A joined load that speakers in parallel on one output
    come to as well is left out: it is the same wiring.
    """
    coils, ohm = feed.speaker.coils, feed.speaker.coil_ohm
    singles = [
        Wiring(load_ohm=load, units=feed.count, drivers=1)
        for load in even_loads(1, coils, ohm)
        if LEAST_OHM <= load <= MOST_OHM
    ]
    joined = []
    if feed.may_join and 1 < feed.count <= MOST_DRIVERS and coils * feed.count <= MOST_COILS:
        in_parallel = [wiring.load_ohm / feed.count for wiring in singles]
        joined = [
            Wiring(load_ohm=load, units=1, drivers=feed.count)
            for load in even_loads(feed.count, coils, ohm)
            if LEAST_OHM <= load <= MOST_OHM
            and not any(math.isclose(load, other) for other in in_parallel)
        ]
    return (*singles, *joined)
