"""What the answer of `meter-check` says."""

import re
from collections.abc import Sequence

from calc.answers.calculator import Calculator
from calc.answers.cautions import SWITCH_OFF
from calc.answers.figures import capital, quantity, rounded
from calc.answers.sheet import Column, Figure, Quantity, Sheet, Span, Table, Verdict
from calc.coils.drawings import circuit_drawing
from calc.coils.faults import OPEN_OHM, Suspect
from calc.coils.meter_check.inputs import CHECKS, FORM, Inputs
from calc.coils.meter_check.solve import Result, solve

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
            Figure(
                "It should read, leads included", Span(right.low_ohm or 0, right.high_ohm or 0, "Ω")
            ),
        ),
        drawings=(circuit_drawing(result.circuit),),
        tables=(_table(result.likely),),
        cautions=(
            SWITCH_OFF,
            "An amplifier left connected gives a false reading, and the test can damage it: take "
            "the speaker leads off it first.",
            "A right reading does not prove the polarity, and a reversed coil cancels the bass. "
            "With the amplifier disconnected, touch a 1.5 V cell to the two leads for a moment, + "
            "to +: every cone must jump outwards. Never use the car’s battery, and never test a "
            "tweeter or through a crossover.",
        ),
        steps=(
            f"The planned wiring makes {quantity(float(result.circuit.load), 'Ω')}. A meter reads "
            f"0.75 to 0.95 of that, plus {quantity(inputs.lead_ohm, 'Ω')} for its leads.",
            "We work out the same for every other wiring of these coils (at most the 60 loads "
            "nearest to the reading), each coil open, each coil shorted and each sub left out.",
            "Causes that match the reading come first, and of these the right wiring; the others "
            "follow by how far off they are.",
        ),
        unknowns=(
            "Another wiring that makes the same load: it reads the same.",
            "A reversed coil: a meter cannot show it.",
            "Shorted turns inside a coil, or two faults at once.",
        ),
        sources=("coil-resistance", "meter-leads", "polarity-cell"),
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
    first, right = result.likely[0], result.right
    wait = "Don’t connect the amplifier yet."
    if reading >= OPEN_OHM:
        return f"No reading: there is no path through the coils. {capital(probable(first))}. {wait}"
    shown = quantity(reading, "Ω")
    if first is right and first.explains(reading):
        return f"{shown} is right for this wiring."
    side = "high" if reading > (right.high_ohm or 0) else "low"
    if first.explains(reading):
        return f"{shown} is too {side}: {probable(first)}. {wait}"
    if reading > max(suspect.high_ohm or 0 for suspect in result.likely):
        return (
            f"{shown} is more than these coils can read in any wiring: look for a bad connection. "
            f"{wait}"
        )
    nearest = f"The nearest is that {first.what}."
    return f"{shown} is too {side} and matches no usual fault. {nearest} {wait}"


def probable(suspect: Suspect) -> str:
    """Say what is probably the matter, to be read aloud."""
    coils = set(re.findall(r"\d[a-h]", suspect.what))
    subs = set(re.findall(r"\b\d\b", suspect.what))
    if suspect.kind == "left out":
        return f"{'one sub' if len(subs) > 1 else f'sub {min(subs)}'} is probably not connected"
    if suspect.kind == "open" and coils and "lead" not in suspect.what:
        which = "one coil" if len(coils) > 1 else f"coil {min(coils)}"
        return f"{which} is probably open or not connected"
    if suspect.kind == "shorted" and coils and "leads" not in suspect.what:
        return f"{'one coil' if len(coils) > 1 else f'coil {min(coils)}'} is probably shorted"
    text = re.sub(" touch", " probably touch", suspect.what, count=1)
    return text if text != suspect.what else re.sub(" is ", " is probably ", text, count=1)


def judge(inputs: Inputs, result: Result) -> Verdict:
    """Say whether the reading is right for the planned wiring."""
    right, reading = result.right, inputs.reading_ohm
    low, high = rounded(right.low_ohm or 0, 3), quantity(right.high_ohm, "Ω", 3)
    expected = f"It should read {low} to {high}, leads included."
    if not right.explains(reading):
        return Verdict("unsuitable", f"{expected} Find the fault before you connect the amplifier.")
    also = sum(suspect.explains(reading) for suspect in result.likely) - 1
    if not also:
        return Verdict("suitable", expected)
    others = "One other cause reads" if also == 1 else f"{also} other causes read"
    return Verdict("suitable", f"{expected} {others} the same: see the table.")


def _table(likely: Sequence[Suspect]) -> Table:
    rows = tuple(
        (
            capital(suspect.what),
            "no reading"
            if suspect.low_ohm is None or suspect.high_ohm is None
            else Span(suspect.low_ohm, suspect.high_ohm),
        )
        for suspect in likely[:SHOWN]
    )
    return Table(
        name="meanings",
        caption="What the reading can mean, most likely first",
        columns=(Column("Cause"), Column("Meter reads, leads included", "Ω")),
        rows=rows,
        note=f"The data holds {len(likely) - SHOWN} less likely causes."
        if len(likely) > SHOWN
        else "",
    )


METER_CHECK = Calculator(
    name="meter-check",
    title="Check it with a meter",
    question="What should the meter read across the two leads, and what is wrong if it does not?",
    inputs=Inputs,
    groups=FORM,
    checks=CHECKS,
    solve=solve,
    judge=judge,
    present=present,
    heaviest={"drivers": "4", "intended": "0"},
)
