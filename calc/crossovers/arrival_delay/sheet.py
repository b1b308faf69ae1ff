"""What the answer of `arrival-delay` says."""

from collections.abc import Sequence

from calc.answers.calculator import Calculator
from calc.answers.drawing import DASHES, canvas, label, loudspeaker, wire
from calc.answers.figures import listed, quantity, rounded
from calc.answers.markup import Children
from calc.answers.sheet import Cell, Column, Drawing, Figure, Quantity, Sheet, Table
from calc.crossovers.arrival_delay.inputs import FORM, Inputs
from calc.crossovers.arrival_delay.solve import Arrival, Result, solve

_LEFT, _RIGHT = 120.0, 420.0
_ROW = 46.0


def present(inputs: Inputs, result: Result) -> Sheet:
    """Write the answer."""
    air, speed = inputs.air_c, result.sound_speed
    return Sheet(
        sentence=_sentence(result),
        results=data(result),
        figures=(
            Figure("Longest delay", Quantity(result.longest.delay_ms, "ms")),
            Figure("Speed of sound", Quantity(speed, "m/s")),
            Figure("Farthest section", Quantity(result.farthest.distance_m, "m")),
        ),
        drawings=(_drawing(result.sections),),
        tables=(_table(result.sections, inputs.sample_rate_hz),),
        cautions=(
            "Delays hold for one seat: what is right for the driver is wrong for the passenger.",
            "Set delays with the vehicle at rest.",
        ),
        steps=(
            f"Speed of sound at {quantity(air, '°C')}: 331.3 × √(1 + {rounded(air)} ÷ 273.15) = "
            f"{quantity(speed, 'm/s')}.",
            "Time on the way = distance ÷ speed; delay = time of the farthest less its own.",
        ),
        unknowns=(
            "The delay inside the head unit’s or processor’s own filters, and of the filters as "
            "such (see group delay).",
            "Where in a driver the sound starts: measure from the middle of its cone or dome.",
        ),
        sources=("Speed of sound in dry air as an ideal gas: c = 331.3·√(1 + T/273.15) m/s.",),
    )


def data(result: Result) -> dict[str, object]:
    """Return the results of the contract."""
    sections = [
        {
            "section": arrival.section,
            "distance_m": arrival.distance_m,
            "flight_ms": arrival.flight_ms,
            "delay_ms": arrival.delay_ms,
            "samples": arrival.samples,
        }
        for arrival in result.sections
    ]
    return {"sections": sections, "sound_speed": result.sound_speed}


def _sentence(result: Result) -> str:
    if result.longest.delay_ms < 1e-9:
        return "All sections are equally far: no delay is needed."
    waits = [
        f"{arrival.section} {quantity(arrival.delay_ms, 'ms', 3)}"
        for arrival in result.sections
        if arrival.delay_ms > 1e-9
    ]
    return f"Delay {listed(waits)}, and everything arrives together with {result.farthest.section}."


def _table(arrivals: Sequence[Arrival], rate_hz: int | None) -> Table:
    columns = [
        Column("Section"),
        Column("Distance", "m"),
        Column("On the way", "ms", decimals=2),
        Column("Delay to set", "ms", decimals=2),
    ]
    rows: list[tuple[Cell, ...]] = [
        (
            arrival.section,
            Quantity(arrival.distance_m),
            Quantity(arrival.flight_ms),
            Quantity(arrival.delay_ms),
        )
        for arrival in arrivals
    ]
    if rate_hz is not None:
        columns.append(Column(f"Samples at {quantity(rate_hz, 'Hz')}", decimals=0))
        rows = [
            (*row, Quantity(arrival.samples)) for row, arrival in zip(rows, arrivals, strict=True)
        ]
    return Table(
        name="delays",
        caption="Delay of each section",
        columns=tuple(columns),
        rows=tuple(rows),
    )


def _drawing(arrivals: Sequence[Arrival]) -> Drawing:
    """Draw every section's time: on the way solid, waiting before it dotted."""
    most = max(arrival.flight_ms for arrival in arrivals) or 1.0
    scale = (_RIGHT - _LEFT - 26) / most
    parts: list[Children] = []
    y, words = 30.0, []
    for arrival in arrivals:
        waits = _LEFT + arrival.delay_ms * scale
        name = arrival.section if len(arrival.section) <= 12 else arrival.section[:11] + "…"
        parts += [
            label(_LEFT - 10, y, name, anchor="end"),
            loudspeaker(waits, y),
            wire((_LEFT, y), (waits, y), dash=DASHES[2]) if waits > _LEFT + 1 else None,
            wire((min(waits + 26, _RIGHT), y), (_RIGHT, y)),
        ]
        words.append(
            f"{arrival.section}: waits {quantity(arrival.delay_ms, 'ms', 3)}, then "
            f"{quantity(arrival.flight_ms, 'ms', 3)} on the way."
        )
        y += _ROW
    parts += [
        wire((_RIGHT, 8), (_RIGHT, y - 16), width=3),
        label(_RIGHT, y, "the ear", anchor="end"),
    ]
    return Drawing(
        "Waiting (dotted) and on the way (solid), all arriving at one moment",
        " ".join(words),
        canvas(428, y + 16, parts),
        name="arrivals",
    )


ARRIVAL_DELAY = Calculator(
    name="arrival-delay",
    title="Delay for arrival together",
    question="The woofer is behind me, the doors are beside me: how much delay for which?",
    inputs=Inputs,
    groups=FORM,
    solve=solve,
    present=present,
)
