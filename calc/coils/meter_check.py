"""The calculator `meter-check`: what a reading at the free ends can mean."""

from collections.abc import Mapping, Sequence
from itertools import islice
from typing import Any

from calc.answers.calculator import Calculator
from calc.answers.figures import quantity, rounded
from calc.answers.sheet import Column, Figure, Quantity, Sheet, Span, Table, Verdict
from calc.coils.coil_wiring import SOURCES
from calc.coils.drawings import circuit_drawing
from calc.coils.faults import OPEN_OHM, Suspect, suspects
from calc.coils.fields import COIL_OHM, COILS_PER_DRIVER, DRIVERS, check_drivers, drivers_of
from calc.coils.model import Circuit, Driver, coil_names, survey_of
from calc.coils.notation import NotationError, check_spelling, read_notation
from calc.coils.words import wiring_words
from calc.inputs.errors import FieldError, shown
from calc.inputs.fields import Number, Text

SHOWN = 10


def _is_index(text: str) -> bool:
    return text.isascii() and text.isdigit() and len(text) <= 3


def _intended(given: Mapping[str, Any], drivers: Sequence[Driver]) -> Circuit:
    """Return the intended circuit; raises NotationError."""
    text = given["intended"]
    if not _is_index(text):
        return read_notation(text, coil_names(drivers))
    ranked = survey_of(tuple(drivers)).ranked(given["min_load_ohm"])
    found = next(islice(ranked, int(text), None), None)
    if found is None:
        raise NotationError(f"the list of circuits has no place {text}")
    return found.circuit


def check_meter(given: Mapping[str, Any]) -> tuple[FieldError, ...]:
    """Return what is wrong with the drivers together, and with the intended circuit."""
    errors = check_drivers(given)
    if "intended" not in given:
        return errors
    try:
        if errors or not {"drivers", "coils_per_driver", "coil_ohm", "min_load_ohm"} <= set(given):
            if not _is_index(given["intended"]):
                check_spelling(given["intended"])  # the rest must wait for the drivers
        else:
            _intended(given, drivers_of(given))
    except NotationError as error:
        message = (
            f"Intended circuit: {error}. Give something like (1a+1b)|(2a+2b), or a place "
            "in the list of coil-wiring, from 0 to 999."
        )
        errors += (FieldError("intended", shown(given["intended"]), message),)
    return errors


def meter_check(given: Mapping[str, Any]) -> Sheet:
    """Compute `meter-check`."""
    drivers = drivers_of(given)
    circuit = _intended(given, drivers)
    reading, lead = given["reading_ohm"], given["lead_ohm"]
    likely = suspects(drivers, circuit, reading_ohm=reading, lead_ohm=lead)
    right = next(one for one in likely if one.kind == "right")
    return Sheet(
        sentence=_sentence(likely, right, reading, circuit),
        notation=circuit.notation,
        verdict=_verdict(likely, right, reading),
        results={
            "likely": [
                {
                    "what": one.what,
                    "kind": one.kind,
                    "expected_low_ohm": one.low_ohm,
                    "expected_high_ohm": one.high_ohm,
                }
                for one in likely
            ]
        },
        figures=(
            Figure("Reading", Quantity(reading, "Ω")),
            Figure("Expected, leads included", Span(right.low_ohm or 0, right.high_ohm or 0, "Ω")),
        ),
        drawings=(circuit_drawing(circuit),),
        tables=(_table(likely),),
        cautions=(
            "Take the speaker leads off the amplifier before you measure: its output stage "
            "spoils the reading and can be harmed.",
            "A right reading does not prove the sense of the coils. With the amplifier "
            "disconnected, touch one 1.5 V cell, never the car’s battery, to the free ends for a "
            "moment, + to +: every cone must jump outwards. One that stays still has a coil "
            "reversed. Not on a tweeter, nor through a crossover.",
        ),
        steps=(
            f"The intended circuit comes to {quantity(float(circuit.load), 'Ω')}; its DC reading "
            f"lies at 0.75 to 0.95 of that, plus {quantity(lead, 'Ω')} of leads.",
            "The other circuits of the same coils (of many the 60 loads nearest to the reading), "
            "each coil open, each coil shorted and each driver left out are worked out the same "
            "way.",
            "Explanations whose range holds the reading come first, the right circuit before "
            "faults; the others follow by their distance from the reading.",
        ),
        unknowns=(
            "Another circuit that comes to the same load: it reads the same.",
            "A coil of reversed sense: a meter cannot see it.",
            "Shorted turns within a coil, or two faults at once.",
        ),
        sources=SOURCES[:1] + SOURCES[2:],
    )


def _explains(one: Suspect, reading: float) -> bool:
    return one.order(reading)[0] is False


def _sentence(likely: Sequence[Suspect], right: Suspect, reading: float, circuit: Circuit) -> str:
    first = likely[0]
    if reading >= OPEN_OHM:
        return f"The meter finds no path through the coils; likeliest: {first.what}."
    shown = quantity(reading, "Ω")
    if first is right and _explains(first, reading):
        how = wiring_words(circuit) or f"wired as {circuit.notation}"
        return f"{shown} is right for this wiring: {how}."
    if _explains(first, reading):
        return f"{shown} is not what this circuit should read; likeliest: {first.what}."
    if reading > max(one.high_ohm or 0 for one in likely):
        return f"{shown} is more than these coils can read in any circuit: look for a bad contact."
    return f"{shown} fits nothing known; the nearest explanation: {first.what}."


def _verdict(likely: Sequence[Suspect], right: Suspect, reading: float) -> Verdict:
    low, high = rounded(right.low_ohm or 0, 3), quantity(right.high_ohm, "Ω", 3)
    if _explains(right, reading):
        also = sum(_explains(one, reading) for one in likely) - 1
        more = f"; {also} other explanations lie in reach too" if also else ""
        return Verdict("suitable", f"{low} to {high} expected{more}.")
    return Verdict("unsuitable", f"{low} to {high} expected: do not connect the amplifier.")


def _table(likely: Sequence[Suspect]) -> Table:
    rows = tuple(
        (
            one.what,
            "no path"
            if one.low_ohm is None or one.high_ohm is None
            else Span(one.low_ohm, one.high_ohm),
        )
        for one in likely[:SHOWN]
    )
    return Table(
        caption="What the reading can mean, likeliest first",
        columns=(Column("What"), Column("Reading to expect, leads included", "Ω")),
        rows=rows,
        note=f"{len(likely) - SHOWN} less likely ones are left out here; the data holds them."
        if len(likely) > SHOWN
        else "",
    )


METER_CHECK = Calculator(
    name="meter-check",
    title="Meter check",
    question="My meter shows this at the free ends: is the wiring right?",
    fields=(
        Number(
            key="reading_ohm",
            label="Reading of the meter",
            default="3.4",
            low=0,
            high=1_000_000,
            hint="Ohms, amplifier disconnected. For “no reading” or “OL” give 1000000.",
            source="invented, the Lantern Van",
        ),
        Number(
            key="lead_ohm",
            label="Leads",
            default="0.1",
            low=0,
            high=5,
            hint="Touch the probes together and read; add the cable to the free ends.",
            source="common practice, no source",
        ),
        Text(
            key="intended",
            label="Intended circuit",
            default="(1a+1b)|(2a+2b)",
            longest=60,
            hint="As the coil wiring calculator writes it, or its place in that list from 0. + "
            "is series, | is parallel.",
            source="invented, the Lantern Van",
        ),
        DRIVERS,
        COILS_PER_DRIVER,
        COIL_OHM,
        Number(
            key="min_load_ohm",
            label="Lowest load of the output",
            default="2",
            low=0.25,
            high=64,
            more=True,
            hint="Only orders the list that a place is counted in.",
        ),
    ),
    groups=(
        ("The reading", ("reading_ohm", "lead_ohm")),
        ("What was meant", ("intended", "drivers", "coils_per_driver", "coil_ohm", "min_load_ohm")),
    ),
    compute=meter_check,
    check=check_meter,
    heaviest={"drivers": "4", "intended": "0"},
)
