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
            Figure("Farthest speaker", Quantity(result.farthest.distance_m, "m")),
        ),
        drawings=(_drawing(result.sections),),
        tables=(_table(result.sections, inputs.sample_rate_hz),),
        cautions=(
            "Adjusting a menu on the move takes your eyes off the road: set delays with the "
            "vehicle "
            "parked.",
        ),
        steps=(
            f"Speed of sound at {quantity(air, '°C')}: 331.3 × √(1 + {rounded(air)} ÷ 273.15) = "
            f"{quantity(speed, 'm/s')}.",
            "Travel time = distance ÷ speed; delay = travel time of the farthest speaker − its "
            "own.",
        ),
        unknowns=(
            "More than one seat: a delay that is right for the driver’s seat is wrong for the "
            "passenger’s.",
            "The delay of the filters themselves: a low-pass makes a sub later still.",
            "Where in the speaker the sound starts: we measure from the middle of the cone or "
            "dome.",
        ),
        sources=("speed-of-sound",),
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
        return "Every speaker is the same distance away: no delay is needed."
    waits = [
        f"the {arrival.section} by {quantity(arrival.delay_ms, 'ms', 3)}"
        for arrival in result.sections
        if arrival.delay_ms > 1e-9
    ]
    arrive = "it arrives" if len(waits) == 1 else "they arrive"
    return f"Delay {listed(waits)}, so that {arrive} with the {result.farthest.section}."


def _table(arrivals: Sequence[Arrival], rate_hz: int | None) -> Table:
    columns = [
        Column("Speaker"),
        Column("Distance", "m"),
        Column("Travel time", "ms", decimals=2),
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
        caption="Delay for each speaker",
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
            f"{arrival.section}: delayed by {quantity(arrival.delay_ms, 'ms', 3)}, then "
            f"{quantity(arrival.flight_ms, 'ms', 3)} through the air."
        )
        y += _ROW
    parts += [
        wire((_RIGHT, 8), (_RIGHT, y - 16), width=3),
        label(_RIGHT, y, "listener", anchor="end"),
    ]
    return Drawing(
        "Delay (dotted) and travel time (solid): everything arrives at once",
        " ".join(words),
        canvas(428, y + 16, parts),
        name="arrivals",
    )


ARRIVAL_DELAY = Calculator(
    name="arrival-delay",
    title="Time alignment",
    question="The sub is behind me and the doors are beside me: which speaker needs how much "
    "delay?",
    inputs=Inputs,
    groups=FORM,
    solve=solve,
    present=present,
)
