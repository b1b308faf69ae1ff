"""The fields of `filter-split`: sections and boxes as rows."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from calc.crossovers.fields import INVENTED, family_field
from calc.crossovers.split import Box, Control, Passive, Section
from calc.inputs.fields import Choice, Number, Pattern, Rows, Text, Whole, YesNo

_LOWEST_HZ, _HIGHEST_HZ = 10.0, 30_000.0
_NUMBER = r"[0-9]{1,6}(?:\.[0-9]{1,4})?"
_CHANNELS = re.compile(r"[1-8](?:[/+][1-8]){0,7}")
_STEPS = re.compile(rf"{_NUMBER}(?:/{_NUMBER}){{0,39}}")
_RANGE = re.compile(rf"({_NUMBER})-({_NUMBER})")
_FACTORS = re.compile(rf"{_NUMBER}(?:/{_NUMBER}){{0,3}}")
_ORDERS = re.compile(r"[1-8](?:/[1-8]){0,7}")


def channels_of(text: str) -> frozenset[int]:
    """Return the channels of a text such as `1/2` (one each) or `3+4` (bridged).

    >>> sorted(channels_of("3+4"))
    [3, 4]
    """
    return frozenset(int(one) for one in re.split("[/+]", text))


def numbers_of(text: str) -> tuple[float, ...]:
    """Return the numbers of a text such as `50/80/100`."""
    return tuple(float(one) for one in text.split("/"))


def range_of(text: str) -> tuple[float, float] | None:
    """Return the ends of a text such as `50-500`; None when it is a list."""
    match = _RANGE.fullmatch(text)
    return (float(match[1]), float(match[2])) if match else None


def _are_channels(text: str) -> bool:
    if not _CHANNELS.fullmatch(text) or ("/" in text and "+" in text):
        return False
    listed = re.split("[/+]", text)
    return len(set(listed)) == len(listed) and not ("+" in text and len(listed) != 2)


def _are_corners(text: str) -> bool:
    ends = range_of(text)
    if ends is not None:
        return _LOWEST_HZ <= ends[0] < ends[1] <= _HIGHEST_HZ
    if not _STEPS.fullmatch(text):
        return False
    steps = numbers_of(text)
    return len(set(steps)) == len(steps) and all(_LOWEST_HZ <= one <= _HIGHEST_HZ for one in steps)


def _are_factors(text: str) -> bool:
    return bool(_FACTORS.fullmatch(text)) and all(0.01 <= one <= 1000 for one in numbers_of(text))


def _pattern(
    key: str, label: str, default: str, is_good: Callable[[str], bool], notation: str, *more: str
) -> Pattern:
    return Pattern(
        key=key, label=label, default=default, is_good=is_good, notation=notation,
        examples=(default, *more), longest=200,
    )  # fmt: skip


def _channels(*more: str) -> Pattern:
    return _pattern(
        "channels", "channels", "1/2", _are_channels,
        "channel numbers from 1 to 8: ‘1/2’ for one speaker on each, ‘3+4’ for a bridged pair",
        "3+4", *more,
    )  # fmt: skip


def _hz(key: str, label: str) -> Number:
    return Number(key=key, label=label, default="", low=_LOWEST_HZ, high=_HIGHEST_HZ, optional=True)


SECTIONS = Rows(
    key="sections",
    label="Sections",
    default="tweeter,1/2,2500,2,,,0;mid-bass,1/2,70,2,4500,,0;woofer,3+4,,2,120,,0",
    hint="Each kind of speaker once for its pair; “full-range” is a coaxial or any speaker with "
    "its tweeter’s filter built in. Channels: 1/2 one on each, 3+4 bridged. Safe lowest frequency "
    "and usable top: from the data sheet; order 2 is 12 dB. A subwoofer gets no high-pass, but for "
    "a subsonic filter where its ported box’s tuning is given. Wanted corner: "
    "empty lets the calculator choose. Level: 0 if not known.",
    source=INVENTED,
    most=8,
    row_name="section",
    columns=(
        Choice(
            key="section",
            label="kind",
            default="full-range",
            options=tuple(
                (one, one) for one in ("tweeter", "midrange", "mid-bass", "full-range", "woofer")
            ),
        ),
        _channels("1", "1/2/3/4"),
        _hz("lowest_hz", "safe lowest frequency"),
        Whole(
            key="order",
            label="high-pass order at least",
            default="2",
            low=1,
            high=8,
        ),
        _hz("top_hz", "usable top"),
        _hz("wanted_hz", "wanted corner at its lower end"),
        Number(key="level_db", label="level against the others", default="0", low=-60, high=60),
        Number(
            key="tuning_hz",
            label="tuning of a subwoofer’s ported box",
            default="",
            low=_LOWEST_HZ,
            high=200,
            optional=True,
        ),
        Number(
            key="distance_m",
            label="distance to the listener",
            default="",
            low=0,
            high=50,
            optional=True,
        ),
    ),
    added=2,
)


def _filters(key: str, label: str, default: str, hint: str) -> Rows:
    return Rows(
        key=key,
        label=label,
        default=default,
        optional=True,
        hint=hint,
        source=INVENTED,
        most=16,
        row_name="filter",
        columns=(
            _channels("3/4", "1/2/3/4"),
            Choice(
                key="kind",
                label="kind",
                default="high-pass",
                options=(("high-pass", "high-pass"), ("low-pass", "low-pass")),
            ),
            _pattern(
                "corners_hz", "corners", "50-500", _are_corners,
                "a range as ‘50-500’ or steps as ‘60/80/100’, from 10 to 30000 Hz",
                "60/80/100/120", "80",
            ),
            _pattern(
                "times", "range switch, factors", "1", _are_factors,
                "the factors of the range switch as ‘1/10’, or 1", "1/10", "1/20",
            ),
            family_field("family", "butterworth", "family"),
            _pattern(
                "orders", "orders", "2", lambda text: bool(_ORDERS.fullmatch(text)),
                "the orders to choose from, as ‘2’ or ‘2/4’ (12 or 24 dB per octave)",
                "2/4", "1/2/3/4",
            ),
            Text(
                key="switch", label="word of a shared switch", default="", optional=True, longest=8,
                hint="The same word: one at a time.",
            ),
            YesNo(key="off", label="can be off", default="yes"),
        ),
    )  # fmt: skip


HEAD_UNIT = _filters(
    "head_unit",
    "Head unit’s filters",
    "1/2,high-pass,60/80/100/120,1,butterworth,2,,yes;"
    "3/4,low-pass,60/80/100/120,1,butterworth,2,,yes",
    "Channels: those of the amplifier that this output feeds.",
)
AMPLIFIER = _filters(
    "amplifier",
    "Amplifier’s filters",
    "1/2,high-pass,50-250,1,butterworth,2,A,yes;1/2,low-pass,50-250,1,butterworth,2,A,yes;"
    "3/4,high-pass,50-250,1,butterworth,2,B,yes;3/4,low-pass,50-250,1,butterworth,2,B,yes",
    "One row for each filter; both channels of a pair have one setting. A switch "
    "“high-pass / off / low-pass” is two rows with the same word under “word of a shared "
    "switch”. Range switch: 1 is none, 1/10 is × 1 and × 10.",
)
PASSIVE = Rows(
    key="passive",
    label="Passive networks",
    default="1/2,3500,butterworth,2,both",
    optional=True,
    hint="Between two sections on the same channels; or one side: a capacitor alone is a high-pass "
    "of order 1, a coil alone a low-pass.",
    source=INVENTED,
    most=8,
    row_name="network",
    columns=(
        _channels(),
        Number(
            key="frequency_hz", label="corner", default="3500", low=_LOWEST_HZ, high=_HIGHEST_HZ
        ),
        family_field("family", "butterworth", "family"),
        Whole(key="order", label="order", default="2", low=1, high=8),
        Choice(
            key="side",
            label="side",
            default="both",
            options=(("both", "both"), ("high-pass", "high-pass"), ("low-pass", "low-pass")),
        ),
    ),
)


@dataclass(frozen=True)
class System:
    """What the rows describe."""

    sections: tuple[Section, ...]
    controls: tuple[Control, ...]
    networks: tuple[Passive, ...]


def system_of(given: Mapping[str, Any]) -> System:
    """Return the sections and boxes that the fields describe."""
    boxes: tuple[tuple[Box, str], ...] = (("head-unit", "head_unit"), ("amplifier", "amplifier"))
    return System(
        sections=tuple(_section(row) for row in given["sections"]),
        controls=tuple(_control(box, row) for box, key in boxes for row in given[key]),
        networks=tuple(
            Passive(
                channels=channels_of(row["channels"]),
                family=row["family"],
                order=row["order"],
                frequency_hz=row["frequency_hz"],
                side=row["side"],
            )
            for row in given["passive"]
        ),
    )


def _section(row: Mapping[str, Any]) -> Section:
    return Section(
        kind=row["section"],
        channels=channels_of(row["channels"]),
        is_bridged="+" in row["channels"],
        lowest_hz=row["lowest_hz"],
        order=row["order"],
        top_hz=row["top_hz"],
        wanted_hz=row["wanted_hz"],
        gain_db=row["level_db"],
        tuning_hz=row["tuning_hz"],
        distance_m=row["distance_m"],
    )


def _control(box: Box, row: Mapping[str, Any]) -> Control:
    ends = range_of(row["corners_hz"])
    return Control(
        box=box,
        channels=channels_of(row["channels"]),
        kind=row["kind"],
        family=row["family"],
        orders=tuple(sorted({int(one) for one in row["orders"].split("/")})),
        steps_hz=() if ends else numbers_of(row["corners_hz"]),
        range_hz=ends,
        times=numbers_of(row["times"]),
        switch=row["switch"] or "",
        can_be_off=row["off"],
    )
