"""The calculator `filter-response`: what one filter, or two stacked, do to the signal."""

from collections.abc import Iterable, Mapping
from functools import partial
from typing import Any

from calc.answers.calculator import Calculator
from calc.answers.drawing import DASHES
from calc.answers.figures import quantity, rounded
from calc.answers.plots import LEVELS, PHASES, Curve, delay_panel, plot
from calc.answers.sheet import Column, Drawing, Figure, Quantity, Sheet, Table
from calc.crossovers.fields import (
    DRIVERS_DIFFER,
    FREQUENCY_COLUMN,
    INVENTED,
    POINTS,
    SOURCES,
    TEST_TONE,
    check_order,
    family_field,
    filter_of,
    filter_words,
    frequency_field,
    order_field,
    slope_words,
)
from calc.inputs.errors import FieldError
from calc.inputs.fields import Choice
from calc.physics.filter_sums import grid_hz
from calc.physics.filters import (
    HALF_POWER_DB,
    HALF_VOLTAGE_DB,
    Filter,
    cascade,
    cascade_delay_s,
    falling_hz,
    level_db,
    phase_deg,
)

_PER_OCTAVE = 8  # points of a drawn curve


def filter_response(given: Mapping[str, Any]) -> Sheet:
    """Compute `filter-response`."""
    filters = filters_of(given)
    corners = _corners(given, filters)
    rows = [
        {
            "frequency_hz": frequency,
            "level_db": level_db(cascade(filters, frequency)),
            "phase_deg": phase_deg(cascade(filters, frequency)),
            "delay_ms": round(1000 * cascade_delay_s(filters, frequency), 9),
        }
        for frequency in given["points_hz"]
    ]
    stacked = given["second_frequency_hz"] is not None
    order = sum(one.order for one in filters) if stacked else given["order"]
    return Sheet(
        sentence=_sentence(given, filters, corners, order),
        results={
            "response": rows,
            **corners,
            "slope_db_per_octave": 6 * order,
        },
        figures=_figures(corners, order),
        drawings=(_drawing(filters, stacked), _delay_drawing(filters)),
        tables=(_table(rows),),
        cautions=(*([TEST_TONE] if given["kind"] != "low-pass" else []),),
        steps=_steps(given, filters, order),
        unknowns=(DRIVERS_DIFFER,),
        sources=SOURCES,
    )


def filters_of(given: Mapping[str, Any]) -> tuple[Filter, ...]:
    """Return the filters that the fields describe, one after the other."""
    kind, family, order = given["kind"], given["family"], given["order"]
    if kind == "band-pass":
        return (
            filter_of("high-pass", family, order, given["frequency_hz"]),
            filter_of("low-pass", family, order, given["upper_hz"]),
        )
    first = filter_of(kind, family, order, given["frequency_hz"])
    if given["second_frequency_hz"] is None:
        return (first,)
    second = filter_of(
        kind,
        given["second_family"] or family,
        given["second_order"] or order,
        given["second_frequency_hz"],
    )
    return first, second


def _corners(given: Mapping[str, Any], filters: tuple[Filter, ...]) -> dict[str, float | None]:
    """Return where the level falls to half power and half voltage [Hz], against 0 dB."""

    def level_at(frequency: float) -> float:
        return level_db(cascade(filters, frequency))

    own = [one.frequency_hz for one in filters]
    inside = (own[0] * own[-1]) ** 0.5
    lowest, highest = min(own) / 1000, max(own) * 1000
    low = partial(falling_hz, level_at, inside_hz=inside, outside_hz=lowest)
    high = partial(falling_hz, level_at, inside_hz=inside, outside_hz=highest)
    is_band = given["kind"] == "band-pass"
    if given["kind"] == "high-pass":
        low = partial(falling_hz, level_at, inside_hz=highest, outside_hz=lowest)
    if given["kind"] == "low-pass":
        low = partial(falling_hz, level_at, inside_hz=lowest, outside_hz=highest)
    return {
        "corner_3db_hz": low(level=HALF_POWER_DB),
        "corner_6db_hz": low(level=HALF_VOLTAGE_DB),
        "upper_corner_3db_hz": high(level=HALF_POWER_DB) if is_band else None,
        "upper_corner_6db_hz": high(level=HALF_VOLTAGE_DB) if is_band else None,
    }


def _sentence(
    given: Mapping[str, Any],
    filters: tuple[Filter, ...],
    corners: Mapping[str, float | None],
    order: int,
) -> str:
    corner = corners["corner_3db_hz"]
    if given["kind"] == "band-pass":
        upper = corners["upper_corner_3db_hz"]
        if corner is None or upper is None:
            return (
                "These two corners lie so close together that the band between them never "
                "comes within 3 dB of full level."
            )
        return (
            f"What lies between {quantity(corner, 'Hz', 3)} and {quantity(upper, 'Hz', 3)} "
            f"passes within 3 dB; beyond, the level falls by {slope_words(order)}."
        )
    side = "below" if given["kind"] == "high-pass" else "above"
    together = "Together they are" if len(filters) > 1 else "It is"
    octave = (corner or 1) / 2 if given["kind"] == "high-pass" else 2 * (corner or 1)
    at_octave = level_db(cascade(filters, octave))
    return (
        f"{together} 3 dB down at {quantity(corner, 'Hz', 3)} and {rounded(-at_octave, 3)} dB "
        f"an octave {side}, at {quantity(octave, 'Hz', 3)}; far {side} the slope is "
        f"{slope_words(order)}."
    )


def _figures(corners: Mapping[str, float | None], order: int) -> tuple[Figure, ...]:
    figures = [
        Figure("3 dB down at", Quantity(corners["corner_3db_hz"], "Hz")),
        Figure("6 dB down at", Quantity(corners["corner_6db_hz"], "Hz")),
    ]
    if corners["upper_corner_3db_hz"] is not None:
        figures += [
            Figure("3 dB down again at", Quantity(corners["upper_corner_3db_hz"], "Hz")),
            Figure("6 dB down again at", Quantity(corners["upper_corner_6db_hz"], "Hz")),
        ]
    return (*figures, Figure("Slope per octave", Quantity(6 * order, "dB")))


def level_curve(name: str, filters: Iterable[Filter], grid: Iterable[float], **how: Any) -> Curve:
    """Return the level of filters over a grid of frequencies [Hz]."""
    own = tuple(filters)
    points = tuple((one, level_db(cascade(own, one))) for one in grid)
    return Curve(name=name, points=points, **how)


def _drawing(filters: tuple[Filter, ...], stacked: bool) -> Drawing:
    grid = grid_hz(*(one.frequency_hz for one in filters), per_octave=_PER_OCTAVE)
    high_pass = filters[0].kind == "high-pass"
    shown = [level_curve("", filters, grid, is_heavy=stacked)]
    if stacked:
        for at, one in enumerate(filters):
            # The names stand at different heights, on the side that the sum does not take.
            name_hz = one.frequency_hz * (0.5 if high_pass else 2) ** (at + 1)
            shown.append(
                level_curve(
                    "first" if at == 0 else "second",
                    [one],
                    grid,
                    dash=DASHES[at + 1],
                    name_at=(name_hz, level_db(one.response(name_hz))),
                    name_side="left" if high_pass else "right",
                )
            )
    phases = Curve(name="", points=tuple((one, phase_deg(cascade(filters, one))) for one in grid))
    words = "; then ".join(filter_words(one) for one in filters)
    return plot(
        "Level and phase",
        f"Level in decibels over frequency from 20 Hz to 20 kHz, and phase beneath: {words}. "
        "The table gives the values.",
        (LEVELS.showing(*shown), PHASES.showing(phases)),
    )


def _delay_drawing(filters: tuple[Filter, ...]) -> Drawing:
    grid = grid_hz(*(one.frequency_hz for one in filters), per_octave=_PER_OCTAVE)
    curve = Curve(
        name="", points=tuple((one, 1000 * cascade_delay_s(filters, one)) for one in grid)
    )
    return plot(
        "Group delay",
        "Group delay in milliseconds over frequency from 20 Hz to 20 kHz. "
        "The table gives the values.",
        (delay_panel((curve,)),),
    )


def _table(rows: list[dict[str, float]]) -> Table:
    return Table(
        caption="Level, phase and group delay",
        columns=(
            FREQUENCY_COLUMN,
            Column("Level", "dB", decimals=2),
            Column("Phase", "°", decimals=1),
            Column("Group delay", "ms", decimals=3),
        ),
        rows=tuple(tuple(Quantity(value) for value in row.values()) for row in rows),
    )


def _steps(given: Mapping[str, Any], filters: tuple[Filter, ...], order: int) -> tuple[str, ...]:
    steps = [f"{filter_words(one)}." for one in filters]
    if given["second_frequency_hz"] is not None:
        steps.append(
            f"Levels in decibels add, and so do phases: the slope is 6 dB × {order} = "
            f"{slope_words(order)}."
        )
        first, second = filters
        is_pair = (
            first.family == second.family == "butterworth"
            and first.order == second.order
            and abs(first.frequency_hz / second.frequency_hz - 1) < 1e-9
        )
        if is_pair and first.order <= 4:
            steps.append(
                "Two equal Butterworth filters at one frequency are one Linkwitz–Riley filter "
                f"of order {order}: 6 dB down at {quantity(first.frequency_hz, 'Hz')}."
            )
    steps.append("Half power is 10·lg 0.5 = −3.01 dB, half voltage 20·lg 0.5 = −6.02 dB.")
    return tuple(steps)


_KIND = Choice(
    key="kind",
    label="Kind",
    default="high-pass",
    options=(("high-pass", "high-pass"), ("low-pass", "low-pass"), ("band-pass", "band-pass")),
    hint="High-pass: lets the treble through. Low-pass: the bass. Band-pass: what lies between.",
)
_FAMILY = family_field("family", "butterworth")
_ORDER = order_field("order", "2")
_FREQUENCY = frequency_field(
    "frequency_hz", "80", "Corner frequency", source=INVENTED, presets=(60, 80, 100, 3000)
)
_UPPER = frequency_field(
    "upper_hz", "", "Upper corner frequency", optional=True, empty="none", hint="For a band-pass."
)
_SECOND = frequency_field(
    "second_frequency_hz", "", "Second filter: corner frequency", optional=True, empty="none",
    hint="A second filter of the same kind, in another unit.",
)  # fmt: skip
_SECOND_FAMILY = family_field(
    "second_family", "", "Second filter: family", optional=True, empty="as the first"
)
_SECOND_ORDER = order_field(
    "second_order", "", "Second filter: order", optional=True, empty="as the first"
)


def _check(given: Mapping[str, Any]) -> list[FieldError]:
    errors = [*check_order(given, _FAMILY, _ORDER)]
    both = {**given, "second_family": given.get("second_family") or given.get("family")}
    errors += check_order(both, _SECOND_FAMILY, _SECOND_ORDER)
    if given.get("second_family") and given.get("second_order") is None:
        whole = {**given, "second_order": given.get("order")}
        if check_order(whole, _SECOND_FAMILY, _SECOND_ORDER):
            message = (
                "Second filter: the first filter’s order does not exist in this family. Give one."
            )
            errors.append(FieldError("second_order", "", message))
    if "second_frequency_hz" in given and given["second_frequency_hz"] is None:
        for key in ("second_family", "second_order"):
            if given.get(key) is not None:
                message = (
                    "Second filter: its corner frequency is missing. Give it, or leave this empty."
                )
                errors.append(FieldError(key, str(given[key]), message))
    kind, upper, lower = given.get("kind"), given.get("upper_hz"), given.get("frequency_hz")
    if "upper_hz" in given and kind == "band-pass" and upper is None:
        message = "Upper corner frequency: a band-pass has one. Give it."
        errors.append(FieldError("upper_hz", "", message))
    if kind == "band-pass" and upper is not None and lower is not None and upper <= lower:
        message = (
            f"Upper corner frequency: {rounded(upper)} Hz is not above the lower corner. "
            f"Give more than {rounded(lower)} Hz."
        )
        errors.append(FieldError("upper_hz", rounded(upper), message))
    if kind == "band-pass" and given.get("second_frequency_hz") is not None:
        message = "Second filter: it is for a high-pass or a low-pass. Leave it empty."
        errors.append(
            FieldError("second_frequency_hz", rounded(given["second_frequency_hz"]), message)
        )
    return errors


FILTER_RESPONSE = Calculator(
    name="filter-response",
    title="What a filter does",
    question="How steeply does this crossover cut, and where does it begin?",
    fields=(
        _KIND, _FAMILY, _ORDER, _FREQUENCY, _UPPER, _SECOND, _SECOND_FAMILY, _SECOND_ORDER, POINTS,
    ),
    groups=(
        ("Filter", ("kind", "family", "order", "frequency_hz", "upper_hz")),
        (
            "A second filter on the same edge",
            ("second_frequency_hz", "second_family", "second_order"),
        ),
        ("Table", ("points_hz",)),
    ),
    compute=filter_response,
    check=_check,
)  # fmt: skip
