"""What is wrong with the rows of `filter-split`, each by itself and all together."""

from collections.abc import Iterator, Sequence

from calc.answers.figures import quantity, rounded
from calc.crossovers.filter_split.inputs import FilterRow, PassiveRow, SectionRow
from calc.crossovers.filter_split.notation import channels_of
from calc.crossovers.filter_split.solve import shown_names
from calc.crossovers.splitting.edges import passive_filters, sections_below
from calc.inputs.problems import Problem
from calc.parts.filters import FAMILY_WORDS
from calc.physics.filters import Family, has_order

MOST_SETTINGS = 120  # of one control; more would only make the search long


def rows_fit_together(
    *,
    sections: tuple[SectionRow, ...],
    head_unit: tuple[FilterRow, ...],
    amplifier: tuple[FilterRow, ...],
    passive: tuple[PassiveRow, ...],
) -> Iterator[Problem]:
    """Yield what is wrong with the rows: each by itself, and if nothing is, together."""
    problems = [
        *_wrong_sections(sections),
        *_wrong_filters("head_unit", head_unit),
        *_wrong_filters("amplifier", amplifier),
        *_wrong_networks(passive),
    ]
    yield from problems
    if not problems:
        yield from _wrong_windows(sections)
        yield from _wrong_coverage("head_unit", head_unit, sections)
        yield from _wrong_coverage("amplifier", amplifier, sections)
        yield from _wrong_places(sections, passive)


def _wrong_sections(rows: Sequence[SectionRow]) -> Iterator[Problem]:
    for number, row in enumerate(rows, start=1):
        for words in (*_wrong_figures(number, row), *_wrong_channels(number, row, rows)):
            place = f"{row.section}, row {number}"
            yield Problem(field="sections", given=place, words=words, row=number)


def _wrong_figures(number: int, row: SectionRow) -> Iterator[str]:
    kind, lowest, top, wanted = row.section, row.lowest_hz, row.top_hz, row.wanted_hz
    (shown,) = shown_names([kind])
    if lowest is None and kind != "woofer":
        yield (
            f"Row {number}: the safe lowest frequency of the {shown} is missing. Enter it from the "
            "spec sheet: it decides the high-pass that protects the speaker."
        )
    if top is None and kind not in ("tweeter", "full-range"):
        yield f"Row {number}: the highest usable frequency of the {shown} is missing. Enter it."
    if lowest is not None and top is not None and top <= lowest:
        yield (
            f"Row {number}: the highest usable frequency, {quantity(top, 'Hz')}, is not above the "
            f"safe lowest frequency. Enter more than {quantity(lowest, 'Hz')}."
        )
    if wanted is not None and lowest is None:
        yield (f"Row {number}: a wanted crossover needs the safe lowest frequency too. Enter both.")
    if wanted is not None and lowest is not None and wanted < lowest:
        yield (
            f"Row {number}: the wanted crossover, {quantity(wanted, 'Hz')}, is below the safe "
            f"lowest frequency. Enter at least {quantity(lowest, 'Hz')}."
        )


def _wrong_channels(number: int, row: SectionRow, rows: Sequence[SectionRow]) -> Iterator[str]:
    for earlier, other in enumerate(rows[: number - 1], start=1):
        is_shared = bool(channels_of(row.channels) & channels_of(other.channels))
        is_same = channels_of(row.channels) == channels_of(other.channels)
        if is_shared and not (is_same and ("+" in row.channels) == ("+" in other.channels)):
            yield (
                f"Rows {earlier} and {number}: ‘{other.channels}’ and ‘{row.channels}’ share a "
                "channel. Enter the same channels for both, or different ones."
            )


def _wrong_filters(key: str, rows: Sequence[FilterRow]) -> Iterator[Problem]:
    for number, row in enumerate(rows, start=1):
        for words in (*_wrong_filter(number, row), *_wrong_twice(number, row, rows)):
            place = f"{row.channels} {row.kind}, row {number}"
            yield Problem(field=key, given=place, words=words, row=number)


def _wrong_filter(number: int, row: FilterRow) -> Iterator[str]:
    orders = row.rising_orders
    bad = [order for order in orders if not has_order(row.family, order)]
    if bad:
        yield _no_such_order(number, row.family, bad[0])
    if row.switch and not row.off:
        yield (
            f"Row {number}: a filter that shares a switch can be off. Enter yes under “can be off”."
        )
    steps = 2 if row.range_hz else len(row.steps_hz)
    settings = steps * len(row.factors) * len(orders)
    if settings > MOST_SETTINGS:
        yield f"Row {number}: {settings} settings are too many. Enter at most {MOST_SETTINGS}."


def _wrong_twice(number: int, row: FilterRow, rows: Sequence[FilterRow]) -> Iterator[str]:
    for other, earlier in enumerate(rows[: number - 1], start=1):
        is_shared = channels_of(row.channels) & channels_of(earlier.channels)
        if is_shared and row.kind == earlier.kind:
            yield (
                f"Rows {other} and {number}: two {row.kind} filters on one channel. Enter one; put "
                "further ranges under “range switch”."
            )


def _no_such_order(number: int, family: Family, order: int) -> str:
    return (
        f"Row {number}: there is no {FAMILY_WORDS[family]} filter of order {order} "
        f"({6 * order} dB/oct). Enter order 2, 4, 6 or 8."
    )


def _wrong_networks(rows: Sequence[PassiveRow]) -> Iterator[Problem]:
    for number, row in enumerate(rows, start=1):
        if not has_order(row.family, row.order):
            words = _no_such_order(number, row.family, row.order)
            yield Problem(field="passive", given=f"row {number}", words=words, row=number)


def _wrong_windows(rows: Sequence[SectionRow]) -> Iterator[Problem]:
    sections = [row.as_section() for row in rows]
    for at, section in enumerate(sections):
        wanted, lowest = section.wanted_hz, section.lowest_hz
        if wanted is None or lowest is None:
            continue
        tops = [sections[under].top_hz for under in sections_below(sections, at)]
        top = min((top for top in tops if top is not None), default=None)
        if top is not None and wanted > top >= lowest:
            words = (
                f"Row {at + 1}: the wanted crossover, {quantity(wanted, 'Hz')}, is above the "
                "highest "
                f"usable frequency of the speaker below. Enter at most {quantity(top, 'Hz')}."
            )
            yield Problem(field="sections", given=rounded(wanted), words=words, row=at + 1)


def _wrong_coverage(
    key: str, rows: Sequence[FilterRow], sections: Sequence[SectionRow]
) -> Iterator[Problem]:
    for at, row in enumerate(rows, start=1):
        for number, section in enumerate(sections, start=1):
            channels = channels_of(section.channels)
            if 0 < len(channels_of(row.channels) & channels) < len(channels):
                words = (
                    f"Row {at}: ‘{row.channels}’ covers only some of the channels of the speaker "
                    "in "
                    f"row {number} (‘{section.channels}’). Enter all of them or none."
                )
                yield Problem(field=key, given=row.channels, words=words, row=at)


def _wrong_places(rows: Sequence[SectionRow], passive: Sequence[PassiveRow]) -> Iterator[Problem]:
    sections = [row.as_section() for row in rows]
    networks = [row.as_passive() for row in passive]
    for number, row in enumerate(passive, start=1):
        try:
            passive_filters(sections, networks[:number])
        except ValueError:
            words = (
                f"Row {number}: a passive crossover goes between two speakers on the same "
                "channels, "
                "and there are no two left. Enter the channels that two speakers share."
            )
            yield Problem(field="passive", given=row.channels, words=words, row=number)
            return
