"""What is wrong with the rows of `filter-split`, each by itself and all together."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from calc.core.errors import FieldError, shown
from calc.core.figures import quantity, rounded
from calc.crossovers.fields import FAMILY_WORDS
from calc.crossovers.prototypes import has_order
from calc.crossovers.split_edges import passive_filters, sections_below
from calc.crossovers.split_fields import (
    AMPLIFIER,
    HEAD_UNIT,
    PASSIVE,
    SECTIONS,
    channels_of,
    numbers_of,
    range_of,
    system_of,
)

MOST_SETTINGS = 120  # of one control; more would only make the search long


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
        FieldError(key, shown(place), f"{label}: {message}", row=row)
        for key, label, place, row, message in wrong
    ]


_Wrong = Iterable[tuple[str, str, str, int, str]]


def _wrong_sections(rows: Sequence[Mapping[str, Any]]) -> _Wrong:
    for at, row in enumerate(rows, start=1):
        kind, lowest, top = row["section"], row["lowest_hz"], row["top_hz"]
        where = ("sections", SECTIONS.label, f"{kind}, row {at}", at)
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
        wanted = row["wanted_hz"]
        if wanted is not None and lowest is None:
            yield (
                *where,
                f"Row {at}: a wanted corner at the lower end needs a safe lowest frequency. Give "
                "both.",
            )
        if wanted is not None and lowest is not None and wanted < lowest:
            yield (
                *where,
                f"Row {at}: the wanted corner, {quantity(wanted, 'Hz')}, is below the safe lowest "
                f"frequency. Give at least {quantity(lowest, 'Hz')}.",
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
        where = (key, label, f"{row['channels']} {row['kind']}, row {at}", at)
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
                at,
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
        where = ("sections", SECTIONS.label, rounded(wanted), at + 1)
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
                        at,
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
                at,
                (
                    f"Row {at}: a network stands between two sections on its channels, and there "
                    "is no such pair left. Give the channels of two sections."
                ),
            )
            return
