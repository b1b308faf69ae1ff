"""What the answer of `meter-check` says."""

from collections.abc import Sequence

from calc.answers.calculator import Calculator
from calc.answers.figures import quantity, rounded
from calc.answers.sheet import Column, Figure, Quantity, Sheet, Span, Table, Verdict
from calc.coils.drawings import circuit_drawing
from calc.coils.faults import OPEN_OHM, Suspect
from calc.coils.meter_check.inputs import CHECKS, FORM, Inputs
from calc.coils.meter_check.solve import Result, solve
from calc.coils.words import SOURCES, wiring_words

SHOWN = 10


def present(inputs: Inputs, result: Result) -> Sheet:
    """Write the answer."""
    right = result.right
    return Sheet(
        sentence=_sentence(inputs.reading_ohm, result),
        notation=result.circuit.notation,
        verdict=judge(inputs, result),
        results=data(result),
        figures=(
            Figure("Reading", Quantity(inputs.reading_ohm, "Ω")),
            Figure("Expected, leads included", Span(right.low_ohm or 0, right.high_ohm or 0, "Ω")),
        ),
        drawings=(circuit_drawing(result.circuit),),
        tables=(_table(result.likely),),
        cautions=(
            "Take the speaker leads off the amplifier before you measure: its output stage "
            "spoils the reading and can be harmed.",
            "A right reading does not prove the sense of the coils. With the amplifier "
            "disconnected, touch one 1.5 V cell, never the car’s battery, to the free ends for a "
            "moment, + to +: every cone must jump outwards. One that stays still has a coil "
            "reversed. Not on a tweeter, nor through a crossover.",
        ),
        steps=(
            f"The intended circuit comes to {quantity(float(result.circuit.load), 'Ω')}; its DC "
            "reading lies at 0.75 to 0.95 of that, plus "
            f"{quantity(inputs.lead_ohm, 'Ω')} of leads.",
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


def data(result: Result) -> dict[str, object]:
    """Return the results of the contract."""
    return {
        "likely": [
            {
                "what": suspect.what,
                "kind": suspect.kind,
                "expected_low_ohm": suspect.low_ohm,
                "expected_high_ohm": suspect.high_ohm,
            }
            for suspect in result.likely
        ]
    }


def _sentence(reading: float, result: Result) -> str:
    first, circuit = result.likely[0], result.circuit
    if reading >= OPEN_OHM:
        return f"The meter finds no path through the coils; likeliest: {first.what}."
    shown = quantity(reading, "Ω")
    if first is result.right and first.explains(reading):
        how = wiring_words(circuit) or f"wired as {circuit.notation}"
        return f"{shown} is right for this wiring: {how}."
    if first.explains(reading):
        return f"{shown} is not what this circuit should read; likeliest: {first.what}."
    if reading > max(suspect.high_ohm or 0 for suspect in result.likely):
        return f"{shown} is more than these coils can read in any circuit: look for a bad contact."
    return f"{shown} fits nothing known; the nearest explanation: {first.what}."


def judge(inputs: Inputs, result: Result) -> Verdict:
    """Say whether the reading is right for the intended circuit."""
    right, reading = result.right, inputs.reading_ohm
    low, high = rounded(right.low_ohm or 0, 3), quantity(right.high_ohm, "Ω", 3)
    if right.explains(reading):
        also = sum(suspect.explains(reading) for suspect in result.likely) - 1
        more = f"; {also} other explanations lie in reach too" if also else ""
        return Verdict("suitable", f"{low} to {high} expected{more}.")
    return Verdict("unsuitable", f"{low} to {high} expected: do not connect the amplifier.")


def _table(likely: Sequence[Suspect]) -> Table:
    rows = tuple(
        (
            suspect.what,
            "no path"
            if suspect.low_ohm is None or suspect.high_ohm is None
            else Span(suspect.low_ohm, suspect.high_ohm),
        )
        for suspect in likely[:SHOWN]
    )
    return Table(
        name="meanings",
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
    inputs=Inputs,
    groups=FORM,
    checks=CHECKS,
    solve=solve,
    judge=judge,
    present=present,
    heaviest={"drivers": "4", "intended": "0"},
)
