"""Sections, filters and networks written shortly, for the tests of the split."""

from calc.crossovers.split import (
    Control,
    Passive,
    Section,
)
from calc.crossovers.split_problem import Problem
from calc.crossovers.split_search import best_split


def section(kind, channels, lowest_hz, order=2, top_hz=None, **given):
    own = frozenset(map(int, channels))
    return Section(
        kind=kind, channels=own, lowest_hz=lowest_hz, order=order, top_hz=top_hz, **given
    )


def filter_of(box, channels, kind, *corners_hz, orders=(2,), **given):
    """A filter with a range (two corners) or with steps (any other number of them)."""
    is_range = len(corners_hz) == 2
    return Control(
        box=box,
        channels=frozenset(map(int, channels)),
        kind=kind,
        family="butterworth",
        orders=orders,
        range_hz=corners_hz if is_range else None,
        steps_hz=() if is_range else corners_hz,
        **given,
    )


def high_pass(channels, *corners_hz, box="amplifier", **given):
    return filter_of(box, channels, "high-pass", *corners_hz, **given)


def low_pass(channels, *corners_hz, box="amplifier", **given):
    return filter_of(box, channels, "low-pass", *corners_hz, **given)


def network(frequency_hz, channels="12", order=2):
    own = frozenset(map(int, channels))
    return Passive(channels=own, family="butterworth", order=order, frequency_hz=frequency_hz)


class Plan:
    """The best split; `plan["tweeter high-pass"]` is that edge of the first such section."""

    def __init__(self, sections, controls, networks=()):
        self.sections, self.split = sections, best_split(Problem(sections, controls, networks))
        self.is_complete = self.split.is_complete
        self.settings = self.split.settings

    def __getitem__(self, name):
        return next(
            one
            for one in self.split.edges
            if name == f"{self.sections[one.edge.section].kind} {one.edge.kind}"
        )


# Steps of a head unit, a third of an octave apart [Hz].
LOW_STEPS = (20, 25, 32, 40, 50, 63, 80, 100, 125, 160, 200, 250)
FOUR_CHANNELS = [
    high_pass("12", 50, 500),
    low_pass("12", 50, 500),
    high_pass("34", 50, 500),
    low_pass("34", 40, 250),
]
TWEETER, MID_BASS = section("tweeter", "12", 2500), section("mid-bass", "34", 70, top_hz=4000)
FULL_RANGE, WOOFER = section("full-range", "12", 60), section("woofer", "34", None, top_hz=120)
