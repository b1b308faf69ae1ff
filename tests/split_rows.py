"""Sections, filters and networks written shortly, for the tests of the split."""

from dataclasses import dataclass, replace

from calc.crossovers.splitting.edges import edges_of
from calc.crossovers.splitting.hand import hand_steps_hz
from calc.crossovers.splitting.model import Control, Passive, Section
from calc.crossovers.splitting.problem import Problem
from calc.crossovers.splitting.search import best_split


def section(kind, channels, lowest_hz, order=2, top_hz=None, **given):
    own = frozenset(map(int, channels))
    return Section(
        kind=kind, channels=own, lowest_hz=lowest_hz, order=order, top_hz=top_hz, **given
    )


@dataclass(frozen=True)
class Knob:
    """A filter that turns without steps; what a hand sets on it depends on the sections."""

    range_hz: tuple[float, float]
    at_its_ends: Control

    def control(self, sections):
        ends = self.at_its_ends
        steps = hand_steps_hz(
            self.range_hz,
            kind=ends.kind,
            channels=ends.channels,
            times=ends.times,
            sections=sections,
            edges=edges_of(sections),
        )
        return replace(ends, steps_hz=steps)


def controls_on(sections, filters):
    """The controls that filters are, knobs as a hand sets them."""
    return [one.control(sections) if isinstance(one, Knob) else one for one in filters]


def filter_of(box, channels, kind, *corners_hz, orders=(2,), **given):
    """A knob with a range (two corners) or a filter with steps (any other number of them)."""
    control = Control(
        box=box,
        channels=frozenset(map(int, channels)),
        kind=kind,
        family="butterworth",
        orders=orders,
        steps_hz=corners_hz,
        **given,
    )
    return Knob(corners_hz, control) if len(corners_hz) == 2 else control


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
        problem = Problem(sections, controls_on(sections, controls), networks)
        self.sections, self.split = sections, best_split(problem)
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
