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
_KIND_OPTIONS: tuple[tuple[SectionKind, str], ...] = (
    ("tweeter", "tweeter"),
    ("midrange", "midrange"),
    ("mid-bass", "mid-bass"),
    ("full-range", "coaxial"),
    ("woofer", "sub"),
)


def _pattern(
    label: str, is_good: Callable[[str], bool], notation: str, *examples: str, **changes: Any
) -> Pattern:
    return Pattern(
        label, is_good=is_good, notation=notation, examples=examples, longest=200, **changes
    )


def _channels(*more: str) -> Pattern:
    notation = (
        f"channel numbers from 1 to {MOST_CHANNELS}: ‘1/2’ for one speaker on each, ‘3+4’ for "
        "bridged channels"
    )
    return _pattern("channels", are_channels, notation, "1/2", "3+4", *more, start="1/2")


def _corner(label: str, **changes: Any) -> Number:
    return Number(label, low=LOWEST_HZ, high=HIGHEST_HZ, **changes)


@dataclass(frozen=True, kw_only=True)
class SectionRow:
    """A kind of speaker on its channels."""

    section: Annotated[
        SectionKind,
        Choice("speaker", start="full-range", options=_KIND_OPTIONS),
    ]
    channels: Annotated[str, _channels("1", "1/2/3/4")]
    lowest_hz: Annotated[float | None, _corner("safe lowest frequency")] = None
    order: Annotated[int, Whole("least high-pass order", low=1, high=8, start=2)]
    top_hz: Annotated[float | None, _corner("highest usable frequency")] = None
    wanted_hz: Annotated[float | None, _corner("wanted high-pass")] = None
    level_db: Annotated[float, Number("level compared with the others", low=-60, high=60)] = 0.0
    tuning_hz: Annotated[
        float | None, Number("port tuning of a ported sub", low=LOWEST_HZ, high=200)
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
    kind: Annotated[Kind, Choice("filter", start="high-pass", options=KIND_OPTIONS)]
    corners_hz: Annotated[
        str,
        _pattern(
            "frequencies",
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
            "range switch",
            are_factors,
            "the positions of the range switch as ‘1/10’ for × 1 and × 10, or 1 for no switch",
            "1",
            "1/10",
            "1/20",
        ),
    ] = "1"
    family: Annotated[Family, family_field("filter type", start="butterworth")]
    orders: Annotated[
        str,
        _pattern(
            "slopes (orders)",
            are_orders,
            "the slopes to choose from, as ‘2’ for 12 dB/oct or ‘2/4’ for 12 and 24 dB/oct",
            "2",
            "2/4",
            "1/2/3/4",
            start="2",
        ),
    ]
    switch: Annotated[
        str | None,
        Text("shared switch", longest=8, hint="Filters with the same word work one at a time."),
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
    frequency_hz: Annotated[float, _corner("crossover frequency", start=3500.0)]
    family: Annotated[Family, family_field("filter type", start="butterworth")]
    order: Annotated[int, Whole("slope (order)", low=1, high=8, start=2)]
    side: Annotated[
        Side, Choice("filters", start="both", options=(("both", "both"), *KIND_OPTIONS))
    ]

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
            "Speakers",
            example="tweeter,1/2,2500,2,,,0;mid-bass,1/2,70,2,4500,,0;woofer,3+4,,2,120,,0",
            hint="One row for each pair of speakers. Channels: 1/2 is one speaker on each, 3+4 is "
            "bridged. The spec sheet gives the safe lowest and the highest usable frequency. "
            "Order 2 "
            "is 12 dB/oct, 4 is 24. A sub gets no high-pass unless you enter its port tuning. "
            "Leave "
            "the wanted high-pass empty and one is chosen.",
            most=12,
            row_name="speaker",
            added=2,
        ),
    ]
    head_unit: Annotated[
        tuple[FilterRow, ...],
        Rows(
            "Head unit’s filters",
            example="1/2,high-pass,60/80/100/120,1,butterworth,2,,yes;"
            "3/4,low-pass,60/80/100/120,1,butterworth,2,,yes",
            hint="One row for each filter in its menu. Channels: those of the amplifier that this "
            "output feeds.",
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
            hint="One row for each filter on the panel. A switch marked HPF / OFF / LPF is two "
            "rows "
            "with the same word under “shared switch”. Range switch: 1 is none, 1/10 is × 1 and "
            "× 10.",
            most=48,
            row_name="filter",
        ),
    ] = ()
    passive: Annotated[
        tuple[PassiveRow, ...],
        Rows(
            "Passive crossovers",
            example="1/2,3500,butterworth,2,both",
            hint="Between two speakers on the same channels. A tweeter capacitor alone is a "
            "high-pass of order 1, an inductor alone a low-pass of order 1.",
            most=8,
            row_name="crossover",
        ),
    ] = ()
    tweeter_capacitor: Annotated[
        bool,
        YesNo(
            "Tweeter capacitor (bass blocker) for active tweeters",
            hint="Softens a turn-on thump. It does not replace the high-pass.",
        ),
    ] = False
    tweeter_ohm: Annotated[
        float,
        Number(
            "Impedance of the tweeter",
            low=0.5,
            high=64,
            example=4.0,
            presets=(2, 4, 8),
            hint="Nominal: the ohms on the spec sheet.",
        ),
    ]
    delays: Annotated[
        bool,
        YesNo(
            "Time alignment is set",
            hint="Yes if a DSP or head unit delays the nearer speakers.",
        ),
    ] = False


FORM = (
    Group("Speakers", ("sections",), more=("tweeter_capacitor", "tweeter_ohm", "delays")),
    Group("Filters", ("head_unit", "amplifier", "passive")),
)
