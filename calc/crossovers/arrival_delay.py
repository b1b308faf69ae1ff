"""The calculator `arrival-delay`: how long each section waits for the farthest."""

from collections.abc import Mapping
from typing import Any

from calc.answers.calculator import Calculator
from calc.answers.drawing import DASHES, canvas, label, loudspeaker, wire
from calc.answers.figures import listed, quantity, rounded
from calc.answers.sheet import Column, Drawing, Figure, Quantity, Sheet, Table
from calc.crossovers.fields import INVENTED
from calc.inputs.fields import Number, Rows, Text, Whole
from calc.physics.delays import delays_s, flight_s, sound_speed

_LEFT, _RIGHT = 120.0, 420.0
_ROW = 46.0


def arrival_delay(given: Mapping[str, Any]) -> Sheet:
    """Compute `arrival-delay`."""
    rows, air, rate = given["sections"], given["air_c"], given["sample_rate_hz"]
    distances = tuple(one["distance_m"] for one in rows)
    delays = delays_s(distances_m=distances, air_c=air)
    speed = sound_speed(air_c=air)
    found = [
        {
            "section": one["section"],
            "distance_m": one["distance_m"],
            "flight_ms": 1000 * flight_s(distance_m=one["distance_m"], air_c=air),
            "delay_ms": 1000 * delay,
            "samples": None if rate is None else delay * rate,
        }
        for one, delay in zip(rows, delays, strict=True)
    ]
    first = max(found, key=lambda one: one["delay_ms"])
    last = max(found, key=lambda one: one["distance_m"])
    return Sheet(
        sentence=_sentence(found, first, last),
        results={"sections": found, "sound_speed": speed},
        figures=(
            Figure("Longest delay", Quantity(first["delay_ms"], "ms")),
            Figure("Speed of sound", Quantity(speed, "m/s")),
            Figure("Farthest section", Quantity(last["distance_m"], "m")),
        ),
        drawings=(_drawing(found),),
        tables=(_table(found, rate),),
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


def _sentence(
    found: list[dict[str, Any]], first: Mapping[str, Any], last: Mapping[str, Any]
) -> str:
    if first["delay_ms"] < 1e-9:
        return "All sections are equally far: no delay is needed."
    parts = [
        f"{one['section']} {quantity(one['delay_ms'], 'ms', 3)}"
        for one in found
        if one["delay_ms"] > 1e-9
    ]
    in_words = listed(parts)
    return f"Delay {in_words}, and everything arrives together with {last['section']}."


def _table(found: list[dict[str, Any]], rate: float | None) -> Table:
    columns = [
        Column("Section"),
        Column("Distance", "m"),
        Column("On the way", "ms", decimals=2),
        Column("Delay to set", "ms", decimals=2),
    ]
    rows = [
        [
            one["section"],
            Quantity(one["distance_m"]),
            Quantity(one["flight_ms"]),
            Quantity(one["delay_ms"]),
        ]
        for one in found
    ]
    if rate is not None:
        columns.append(Column(f"Samples at {quantity(rate, 'Hz')}", decimals=0))
        for row, one in zip(rows, found, strict=True):
            row.append(Quantity(one["samples"]))
    return Table(
        name="delays",
        caption="Delay of each section",
        columns=tuple(columns),
        rows=tuple(tuple(row) for row in rows),
    )


def _drawing(found: list[dict[str, Any]]) -> Drawing:
    """Draw every section's time: on the way solid, waiting before it dotted."""
    most = max(one["flight_ms"] for one in found) or 1.0
    scale = (_RIGHT - _LEFT - 26) / most
    parts, y = [], 30.0
    words = []
    for one in found:
        waits = _LEFT + one["delay_ms"] * scale
        name = one["section"] if len(one["section"]) <= 12 else one["section"][:11] + "…"
        parts += [
            label(_LEFT - 10, y, name, anchor="end"),
            loudspeaker(waits, y),
            wire((_LEFT, y), (waits, y), dash=DASHES[2]) if waits > _LEFT + 1 else None,
            wire((min(waits + 26, _RIGHT), y), (_RIGHT, y)),
        ]
        words.append(
            f"{one['section']}: waits {quantity(one['delay_ms'], 'ms', 3)}, then "
            f"{quantity(one['flight_ms'], 'ms', 3)} on the way."
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
    )


ARRIVAL_DELAY = Calculator(
    name="arrival-delay",
    title="Delay for arrival together",
    question="The woofer is behind me, the doors are beside me: how much delay for which?",
    fields=(
        Rows(
            key="sections",
            label="Sections and their distances",
            default="left door,0.9;right door,1.4;woofers,2.2",
            hint="From each driver to the listener’s head.",
            source=INVENTED,
            most=16,
            row_name="section",
            columns=(
                Text(key="section", label="section", default="section", longest=24),
                Number(key="distance_m", label="distance", default="1", low=0, high=50),
            ),
        ),
        Number(
            key="air_c", label="Air temperature", default="20", low=-40, high=80,
            presets=(0, 20, 40),
        ),
        Whole(
            key="sample_rate_hz", label="Sample rate", default="48000", low=1000, high=768_000,
            presets=(44100, 48000, 96000), optional=True, hint="Where delay is set in samples.",
        ),
    ),
    groups=(("Where the sound comes from", ("sections", "air_c", "sample_rate_hz")),),
    compute=arrival_delay,
)  # fmt: skip
