"""The fields of `filter-split`: sections and boxes as rows, and what is wrong with them."""

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from calc.core.errors import FieldError, shown
from calc.core.fields import Choice, Number, Pattern, Rows, Text, Whole, YesNo
from calc.core.figures import quantity, rounded
from calc.crossovers.fields import FAMILY_WORDS, INVENTED, family_field
from calc.crossovers.prototypes import has_order
from calc.crossovers.split import Box, Control, Passive, Section, passive_filters, sections_below

MOST_CHANNELS = 8
MOST_SETTINGS = 120  # of one control; more would only make the search long
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
    "and usable top: from the data sheet; order 2 is 12 dB; a woofer in a closed box has "
    "no lowest. Wanted corner: "
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
        Number(key="level_db", label="level against the others", default="0", low=-40, high=40),
    ),
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
    default="1/2,3500,butterworth,2",
    optional=True,
    hint="Each between two sections on the same channels.",
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


# ---- what is wrong


def check_system(given: Mapping[str, Any]) -> list[FieldError]:
    """Return what is wrong with the rows: each by itself, then together."""
    if not {"sections", "head_unit", "amplifier", "passive"} <= given.keys():
        return []  # a row of its own is wrong, and told
    wrong = [
        *_wrong_sections(given["sections"]),
        *_wrong_filters("head_unit", HEAD_UNIT.label, given["head_unit"]),
        *_wrong_filters("amplifier", AMPLIFIER.label, given["amplifier"]),
        *_wrong_networks(given["passive"]),
    ]
    if not wrong:
        wrong = [*_wrong_windows(given), *_wrong_coverage(given), *_wrong_places(given)]
    return [
        FieldError(key, shown(place), f"{label}: {message}") for key, label, place, message in wrong
    ]


_Wrong = Iterable[tuple[str, str, str, str]]


def _wrong_sections(rows: Sequence[Mapping[str, Any]]) -> _Wrong:
    for at, row in enumerate(rows, start=1):
        kind, lowest, top = row["section"], row["lowest_hz"], row["top_hz"]
        where = ("sections", SECTIONS.label, f"{kind}, row {at}")
        if lowest is None and kind != "woofer":
            yield (
                *where,
                (
                    f"Row {at}: a {kind} has a safe lowest frequency. Give it; without it nothing "
                    "can be said of its protection."
                ),
            )
        if top is None and kind not in ("tweeter", "full-range"):
            yield *where, f"Row {at}: a {kind} has a usable top. Give it."
        if lowest is not None and top is not None and top <= lowest:
            yield (
                *where,
                (
                    f"Row {at}: the usable top, {quantity(top, 'Hz')}, is not above the safe "
                    f"lowest frequency. Give more than {quantity(lowest, 'Hz')}."
                ),
            )
        for other, earlier in enumerate(rows[: at - 1], start=1):
            own, theirs = row["channels"], earlier["channels"]
            overlap = channels_of(own) & channels_of(theirs)
            if overlap and (
                channels_of(own) != channels_of(theirs) or ("+" in own) != ("+" in theirs)
            ):
                yield (
                    *where,
                    (
                        f"Rows {other} and {at}: ‘{theirs}’ and ‘{own}’ share a channel. Give both "
                        "the same channels, or different ones."
                    ),
                )


def _wrong_filters(key: str, label: str, rows: Sequence[Mapping[str, Any]]) -> _Wrong:
    for at, row in enumerate(rows, start=1):
        where = (key, label, f"{row['channels']} {row['kind']}, row {at}")
        orders = {int(one) for one in row["orders"].split("/")}
        bad = sorted(one for one in orders if not has_order(row["family"], one))
        if bad:
            yield (
                *where,
                (
                    f"Row {at}: there is no {FAMILY_WORDS[row['family']]} filter of order "
                    f"{bad[0]}. Give 2, 4, 6 or 8."
                ),
            )
        if row["switch"] and not row["off"]:
            yield *where, f"Row {at}: what shares a switch can be off. Give yes."
        steps = 2 if range_of(row["corners_hz"]) else len(numbers_of(row["corners_hz"]))
        settings = steps * len(numbers_of(row["times"])) * len(orders)
        if settings > MOST_SETTINGS:
            yield *where, f"Row {at}: {settings} settings. Give at most {MOST_SETTINGS}."
        for other, earlier in enumerate(rows[: at - 1], start=1):
            overlap = channels_of(row["channels"]) & channels_of(earlier["channels"])
            if overlap and row["kind"] == earlier["kind"]:
                yield (
                    *where,
                    (
                        f"Rows {other} and {at}: two {row['kind']} filters on one channel. Give "
                        "one; further ranges belong under “range switch, factors”."
                    ),
                )


def _wrong_networks(rows: Sequence[Mapping[str, Any]]) -> _Wrong:
    for at, row in enumerate(rows, start=1):
        if not has_order(row["family"], row["order"]):
            yield (
                "passive",
                PASSIVE.label,
                f"row {at}",
                (
                    f"Row {at}: there is no {FAMILY_WORDS[row['family']]} filter of order "
                    f"{row['order']}. Give 2, 4, 6 or 8."
                ),
            )


def _wrong_windows(given: Mapping[str, Any]) -> _Wrong:
    sections = system_of(given).sections
    for at, section in enumerate(sections):
        wanted, lowest = section.wanted_hz, section.lowest_hz
        if wanted is None:
            continue
        where = ("sections", SECTIONS.label, rounded(wanted))
        if lowest is None:
            yield (
                *where,
                (f"Row {at + 1}: a wanted corner below needs a safe lowest frequency. Give both."),
            )
        elif wanted < lowest:
            yield (
                *where,
                (
                    f"Row {at + 1}: the wanted corner, {quantity(wanted, 'Hz')}, is below the safe "
                    f"lowest frequency. Give at least {quantity(lowest, 'Hz')}."
                ),
            )
        tops = [sections[one].top_hz for one in sections_below(sections, at)]
        top = min((one for one in tops if one is not None), default=None)
        if lowest is not None and top is not None and wanted > top >= lowest:
            yield (
                *where,
                (
                    f"Row {at + 1}: the wanted corner, {quantity(wanted, 'Hz')}, is above the "
                    f"usable top of what plays below. Give at most {quantity(top, 'Hz')}."
                ),
            )


def _wrong_coverage(given: Mapping[str, Any]) -> _Wrong:
    for key, label in (("head_unit", HEAD_UNIT.label), ("amplifier", AMPLIFIER.label)):
        for at, row in enumerate(given[key], start=1):
            own = channels_of(row["channels"])
            for number, section in enumerate(given["sections"], start=1):
                theirs = channels_of(section["channels"])
                if 0 < len(own & theirs) < len(theirs):
                    yield (
                        key,
                        label,
                        row["channels"],
                        (
                            f"Row {at}: ‘{row['channels']}’ holds a part of the channels of "
                            f"section {number} (‘{section['channels']}’). Give all of them or none."
                        ),
                    )


def _wrong_places(given: Mapping[str, Any]) -> _Wrong:
    system = system_of(given)
    for at in range(1, len(system.networks) + 1):
        try:
            passive_filters(system.sections, system.networks[:at])
        except ValueError:
            yield (
                "passive",
                PASSIVE.label,
                given["passive"][at - 1]["channels"],
                (
                    f"Row {at}: a network stands between two sections on its channels, and there "
                    "is no such pair left. Give the channels of two sections."
                ),
            )
            return
