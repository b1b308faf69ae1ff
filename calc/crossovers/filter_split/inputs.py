"""What `filter-split` asks: sections and boxes as rows."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Any, Literal

from calc.answers.calculator import Group
from calc.crossovers.filter_split.notation import (
    HIGHEST_HZ,
    LOWEST_HZ,
    MOST_CHANNELS,
    are_channels,
    are_corners,
    are_factors,
    are_orders,
    channels_of,
    numbers_of,
    range_of,
)
from calc.crossovers.splitting.model import Passive, Section, SectionKind
from calc.inputs.fields import Choice, Number, Pattern, Text, Whole, YesNo
from calc.inputs.rows import Rows
from calc.parts.filters import KIND_OPTIONS, family_field
from calc.physics.filters import Family, Kind

Side = Literal["both", "high-pass", "low-pass"]
_KINDS: tuple[SectionKind, ...] = ("tweeter", "midrange", "mid-bass", "full-range", "woofer")


def _pattern(
    label: str, is_good: Callable[[str], bool], notation: str, *examples: str, **changes: Any
) -> Pattern:
    return Pattern(
        label, is_good=is_good, notation=notation, examples=examples, longest=200, **changes
    )


def _channels(*more: str) -> Pattern:
    notation = (
        f"channel numbers from 1 to {MOST_CHANNELS}: ‘1/2’ for one speaker on each, ‘3+4’ for a "
        "bridged pair"
    )
    return _pattern("channels", are_channels, notation, "1/2", "3+4", *more, start="1/2")


def _corner(label: str, **changes: Any) -> Number:
    return Number(label, low=LOWEST_HZ, high=HIGHEST_HZ, **changes)


@dataclass(frozen=True, kw_only=True)
class SectionRow:
    """A kind of speaker on its channels."""

    section: Annotated[
        SectionKind,
        Choice("kind", start="full-range", options=tuple((kind, kind) for kind in _KINDS)),
    ]
    channels: Annotated[str, _channels("1", "1/2/3/4")]
    lowest_hz: Annotated[float | None, _corner("safe lowest frequency")] = None
    order: Annotated[int, Whole("high-pass order at least", low=1, high=8, start=2)]
    top_hz: Annotated[float | None, _corner("usable top")] = None
    wanted_hz: Annotated[float | None, _corner("wanted corner at its lower end")] = None
    level_db: Annotated[float, Number("level against the others", low=-60, high=60)] = 0.0
    tuning_hz: Annotated[
        float | None, Number("tuning of a subwoofer’s ported box", low=LOWEST_HZ, high=200)
    ] = None
    distance_m: Annotated[float | None, Number("distance to the listener", low=0, high=50)] = None

    def as_section(self) -> Section:
        """Return the section that the row describes."""
        return Section(
            kind=self.section,
            channels=channels_of(self.channels),
            is_bridged="+" in self.channels,
            lowest_hz=self.lowest_hz,
            order=self.order,
            top_hz=self.top_hz,
            wanted_hz=self.wanted_hz,
            gain_db=self.level_db,
            tuning_hz=self.tuning_hz,
            distance_m=self.distance_m,
        )


@dataclass(frozen=True, kw_only=True)
class FilterRow:
    """A filter of a box: what it can be set to, for all its channels alike."""

    channels: Annotated[str, _channels("3/4", "1/2/3/4")]
    kind: Annotated[Kind, Choice("kind", start="high-pass", options=KIND_OPTIONS)]
    corners_hz: Annotated[
        str,
        _pattern(
            "corners",
            are_corners,
            "a range as ‘50-500’ or steps as ‘60/80/100’, from 10 to 30000 Hz",
            "50-500",
            "60/80/100/120",
            "80",
            start="50-500",
        ),
    ]
    times: Annotated[
        str,
        _pattern(
            "range switch, factors",
            are_factors,
            "the factors of the range switch as ‘1/10’, or 1",
            "1",
            "1/10",
            "1/20",
        ),
    ] = "1"
    family: Annotated[Family, family_field("family", start="butterworth")]
    orders: Annotated[
        str,
        _pattern(
            "orders",
            are_orders,
            "the orders to choose from, as ‘2’ or ‘2/4’ (12 or 24 dB per octave)",
            "2",
            "2/4",
            "1/2/3/4",
            start="2",
        ),
    ]
    switch: Annotated[
        str | None,
        Text("word of a shared switch", longest=8, hint="The same word: one at a time."),
    ] = None
    off: Annotated[bool, YesNo("can be off")] = True

    @property
    def range_hz(self) -> tuple[float, float] | None:
        """The ends of a knob that turns without steps [Hz]; None where it has steps."""
        return range_of(self.corners_hz)

    @property
    def steps_hz(self) -> tuple[float, ...]:
        """The steps of a knob that has some [Hz]."""
        return numbers_of(self.corners_hz)

    @property
    def factors(self) -> tuple[float, ...]:
        """The factors of its range switch."""
        return numbers_of(self.times)

    @property
    def rising_orders(self) -> tuple[int, ...]:
        """The orders to choose from, each once."""
        return tuple(sorted({int(order) for order in self.orders.split("/")}))


@dataclass(frozen=True, kw_only=True)
class PassiveRow:
    """A passive network between two sections, or one side of it."""

    channels: Annotated[str, _channels()]
    frequency_hz: Annotated[float, _corner("corner", start=3500.0)]
    family: Annotated[Family, family_field("family", start="butterworth")]
    order: Annotated[int, Whole("order", low=1, high=8, start=2)]
    side: Annotated[Side, Choice("side", start="both", options=(("both", "both"), *KIND_OPTIONS))]

    def as_passive(self) -> Passive:
        """Return the network that the row describes."""
        return Passive(
            channels=channels_of(self.channels),
            family=self.family,
            order=self.order,
            frequency_hz=self.frequency_hz,
            side=self.side,
        )


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """The sections, and the units that filter what they get."""

    sections: Annotated[
        tuple[SectionRow, ...],
        Rows(
            "Sections",
            example="tweeter,1/2,2500,2,,,0;mid-bass,1/2,70,2,4500,,0;woofer,3+4,,2,120,,0",
            hint="Each kind of speaker once for its pair; “full-range” is a coaxial or any speaker "
            "with its tweeter’s filter built in. Channels: 1/2 one on each, 3+4 bridged. Safe "
            "lowest frequency and usable top: from the data sheet; order 2 is 12 dB. A subwoofer "
            "gets no high-pass, but for a subsonic filter where its ported box’s tuning is given. "
            "Wanted corner: empty lets the calculator choose. Level: 0 if not known.",
            most=12,
            row_name="section",
            added=2,
        ),
    ]
    head_unit: Annotated[
        tuple[FilterRow, ...],
        Rows(
            "Head unit’s filters",
            example="1/2,high-pass,60/80/100/120,1,butterworth,2,,yes;"
            "3/4,low-pass,60/80/100/120,1,butterworth,2,,yes",
            hint="Channels: those of the amplifier that this output feeds.",
            most=16,
            row_name="filter",
        ),
    ] = ()
    amplifier: Annotated[
        tuple[FilterRow, ...],
        Rows(
            "Amplifier’s filters",
            example="1/2,high-pass,50-250,1,butterworth,2,A,yes;"
            "1/2,low-pass,50-250,1,butterworth,2,A,yes;"
            "3/4,high-pass,50-250,1,butterworth,2,B,yes;"
            "3/4,low-pass,50-250,1,butterworth,2,B,yes",
            hint="One row for each filter; both channels of a pair have one setting. A switch "
            "“high-pass / off / low-pass” is two rows with the same word under “word of a shared "
            "switch”. Range switch: 1 is none, 1/10 is × 1 and × 10.",
            most=48,
            row_name="filter",
        ),
    ] = ()
    passive: Annotated[
        tuple[PassiveRow, ...],
        Rows(
            "Passive networks",
            example="1/2,3500,butterworth,2,both",
            hint="Between two sections on the same channels; or one side: a capacitor alone is a "
            "high-pass of order 1, a coil alone a low-pass.",
            most=8,
            row_name="network",
        ),
    ] = ()
    tweeter_capacitor: Annotated[
        bool,
        YesNo(
            "Protection capacitor for active tweeters",
            hint="Softens a turn-on thump. Does not replace the high-pass.",
        ),
    ] = False
    tweeter_ohm: Annotated[
        float,
        Number("Impedance of the tweeter", low=0.5, high=64, example=4.0, presets=(2, 4, 8)),
    ]
    delays: Annotated[
        bool,
        YesNo(
            "Delays make up for the distances",
            hint="Yes where a processor delays the nearer speakers.",
        ),
    ] = False


FORM = (
    Group("Speakers", ("sections",), more=("tweeter_capacitor", "tweeter_ohm", "delays")),
    Group("Units", ("head_unit", "amplifier", "passive")),
)
