"""What the answer of `filter-response` says."""

from collections.abc import Sequence

from calc.answers.calculator import Calculator
from calc.answers.drawing import DASHES
from calc.answers.figures import quantity
from calc.answers.plots import LEVELS, PHASES, Curve, delay_panel, plot
from calc.answers.sheet import Column, Drawing, Figure, Quantity, Sheet, Table
from calc.crossovers.filter_response.inputs import CHECKS, FORM, Inputs
from calc.crossovers.filter_response.solve import Point, Result, solve
from calc.crossovers.filter_words import (
    DRIVERS_DIFFER,
    FREQUENCY_COLUMN,
    SOURCES,
    TEST_TONE,
    filter_words,
    slope_words,
)
from calc.physics.filter_sums import grid_hz
from calc.physics.filters import Filter, cascade, cascade_delay_s, level_db, phase_deg

_PER_OCTAVE = 8  # points of a drawn curve


def present(inputs: Inputs, result: Result) -> Sheet:
    """Write the answer."""
    filters = result.filters
    return Sheet(
        sentence=_sentence(inputs, result),
        results=data(result),
        figures=_figures(result),
        drawings=(_drawing(filters, result.is_stack), _delay_drawing(filters)),
        tables=(_table(result.points),),
        cautions=(*([TEST_TONE] if inputs.kind != "low-pass" else []),),
        steps=_steps(result),
        unknowns=(DRIVERS_DIFFER,),
        sources=SOURCES,
    )


def data(result: Result) -> dict[str, object]:
    """Return the results of the contract."""
    return {
        "response": [
            {
                "frequency_hz": point.frequency_hz,
                "level_db": point.level_db,
                "phase_deg": point.phase_deg,
                "delay_ms": point.delay_ms,
            }
            for point in result.points
        ],
        "corner_3db_hz": result.corner_3db_hz,
        "corner_6db_hz": result.corner_6db_hz,
        "upper_corner_3db_hz": result.upper_3db_hz,
        "upper_corner_6db_hz": result.upper_6db_hz,
        "slope_db_per_octave": 6 * result.order,
    }


def _sentence(inputs: Inputs, result: Result) -> str:
    corner, order = result.corner_3db_hz, result.order
    if inputs.kind == "band-pass":
        upper = result.upper_3db_hz
        if corner is None or upper is None:
            return (
                "The two cut-offs are so close together that nothing between them comes within 3 "
                "dB of "
                "full level."
            )
        return (
            f"This band-pass lets {quantity(corner, 'Hz', 3)} to {quantity(upper, 'Hz', 3)} "
            f"through within 3 dB; outside it falls at {slope_words(order)}."
        )
    side = "below" if inputs.kind == "high-pass" else "above"
    these = (
        f"Together these two {inputs.kind} filters are"
        if len(result.filters) > 1
        else f"This {inputs.kind} is"
    )
    octave = (corner or 1) / 2 if inputs.kind == "high-pass" else 2 * (corner or 1)
    at_octave = level_db(cascade(result.filters, octave))
    return (
        f"{these} 3 dB down at {quantity(corner, 'Hz', 3)} and {quantity(-at_octave, 'dB', 3)} "
        "down "
        f"an octave {side}, at {quantity(octave, 'Hz', 3)}: {_article(6 * order)} "
        f"{slope_words(order)} slope."
    )


def _article(number: int) -> str:
    """Return the article before a spoken number up to 96, such as an 18."""
    return "an" if number == 18 or 80 <= number < 90 else "a"


def _figures(result: Result) -> tuple[Figure, ...]:
    figures = [
        Figure("3 dB down at", Quantity(result.corner_3db_hz, "Hz")),
        Figure("6 dB down at", Quantity(result.corner_6db_hz, "Hz")),
    ]
    if result.upper_3db_hz is not None:
        figures += [
            Figure("3 dB down again at", Quantity(result.upper_3db_hz, "Hz")),
            Figure("6 dB down again at", Quantity(result.upper_6db_hz, "Hz")),
        ]
    return (*figures, Figure("Slope", Quantity(6 * result.order, "dB/oct")))


def _levels(filters: Sequence[Filter], grid: Sequence[float]) -> tuple[tuple[float, float], ...]:
    """Return the level [dB] of filters over a grid of frequencies [Hz]."""
    return tuple((hz, level_db(cascade(filters, hz))) for hz in grid)


def _drawing(filters: tuple[Filter, ...], is_stack: bool) -> Drawing:
    grid = grid_hz(*(made.frequency_hz for made in filters), per_octave=_PER_OCTAVE)
    high_pass = filters[0].kind == "high-pass"
    shown = [Curve(name="", points=_levels(filters, grid), is_heavy=is_stack)]
    if is_stack:
        for at, made in enumerate(filters):
            # The names stand at different heights, on the side that the sum does not take.
            name_hz = made.frequency_hz * (0.5 if high_pass else 2) ** (at + 1)
            shown.append(
                Curve(
                    name="first" if at == 0 else "second",
                    points=_levels([made], grid),
                    dash=DASHES[at + 1],
                    name_at=(name_hz, level_db(made.response(name_hz))),
                    name_side="left" if high_pass else "right",
                )
            )
    phases = Curve(name="", points=tuple((hz, phase_deg(cascade(filters, hz))) for hz in grid))
    words = "; then ".join(filter_words(made) for made in filters)
    return plot(
        "Level and phase",
        f"Level in decibels over frequency from 20 Hz to 20 kHz, and phase beneath: {words}. "
        "The table gives the values.",
        (LEVELS.showing(*shown), PHASES.showing(phases)),
        name="level-and-phase",
    )


def _delay_drawing(filters: tuple[Filter, ...]) -> Drawing:
    grid = grid_hz(*(made.frequency_hz for made in filters), per_octave=_PER_OCTAVE)
    curve = Curve(name="", points=tuple((hz, 1000 * cascade_delay_s(filters, hz)) for hz in grid))
    return plot(
        "Group delay",
        "Delay of the filter (group delay) in milliseconds over frequency from 20 Hz to 20 kHz. "
        "The table gives the values.",
        (delay_panel((curve,)),),
        name="group-delay",
    )


def _table(points: Sequence[Point]) -> Table:
    return Table(
        name="response",
        caption="Level, phase and group delay",
        columns=(
            FREQUENCY_COLUMN,
            Column("Level", "dB", decimals=2),
            Column("Phase", "°", decimals=1),
            Column("Group delay", "ms", decimals=3),
        ),
        rows=tuple(
            (
                Quantity(point.frequency_hz),
                Quantity(point.level_db),
                Quantity(point.phase_deg),
                Quantity(point.delay_ms),
            )
            for point in points
        ),
    )


def _steps(result: Result) -> tuple[str, ...]:
    filters, order = result.filters, result.order
    steps = [f"{filter_words(made)}." for made in filters]
    if result.is_stack:
        steps.append(
            f"The decibels of two filters add, and so do their phases: 6 dB × {order} = "
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
                f"({slope_words(order)}): 6 dB down at {quantity(first.frequency_hz, 'Hz')}."
            )
    steps.append("Half power is 10·lg 0.5 = −3.01 dB, half voltage 20·lg 0.5 = −6.02 dB.")
    return tuple(steps)


FILTER_RESPONSE = Calculator(
    name="filter-response",
    title="What a crossover does",
    question="Where does this crossover start to cut, and how steeply?",
    inputs=Inputs,
    groups=FORM,
    checks=CHECKS,
    solve=solve,
    present=present,
)
