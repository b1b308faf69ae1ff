"""What the answer of `passive-network` says."""

import math

from calc.answers.calculator import Calculator
from calc.answers.figures import listed, quantity, rounded
from calc.answers.sheet import Figure, Quantity, Sheet
from calc.crossovers.filter_words import TEST_TONE, slope_words
from calc.crossovers.passive_network.inputs import CHECKS, FORM, Inputs
from calc.crossovers.passive_network.solve import WORKSHOP_FACTOR, Result, levelling_of, solve
from calc.crossovers.passive_network.tables import (
    level_drawing,
    levels_table,
    named_parts,
    network_drawing,
    parts_table,
    ratings_tables,
    value_words,
)
from calc.parts.filters import FAMILY_WORDS
from calc.physics.filter_sums import THIRD_OCTAVES_HZ
from calc.physics.filters import level_db
from calc.physics.pads import Levelling, Pad

_MOST_MOVED = 0.1  # our own limit: a crossover that a driver moves farther is another one
SOURCES = (
    "Part values: continued fraction of the filter’s polynomial (Cauer 1926), scaled to load and "
    "frequency; for Butterworth and Linkwitz–Riley they agree with Dickason, Loudspeaker Design "
    "Cookbook (coefficients from memory).",
    "Preferred values: IEC 60063 (from memory).",
    "Response: nodal analysis of the circuit as drawn.",
)
CAUTIONS = (
    TEST_TONE,
    "Capacitors in series with a speaker: bipolar, film where the value permits. Coils at right "
    "angles and apart from one another. Resistors get hot: mount them free of cloth and carpet.",
    "A network that is open at its end can load the amplifier with a short at its resonance: "
    "never play it without its speaker.",
)


def present(inputs: Inputs, result: Result) -> Sheet:
    """Write the answer."""
    lowest_at = quantity(result.least_load_hz, "Hz", 2)
    return Sheet(
        sentence=_sentence(inputs, result),
        results=data(result),
        figures=(
            Figure(_corner_words(inputs), Quantity(result.corner_hz, "Hz")),
            Figure("The same with the driver as given", Quantity(result.built_corner_hz, "Hz")),
            Figure("Level in its band", Quantity(result.passband_db, "dB"), 1),
            Figure(f"Lowest load, at {lowest_at}", Quantity(result.least_load_ohm, "Ω")),
        ),
        drawings=(network_drawing(result), level_drawing(inputs, result)),
        tables=(
            parts_table(result),
            levels_table(inputs, result),
            *ratings_tables(inputs, result),
        ),
        cautions=CAUTIONS,
        steps=_steps(inputs, result),
        unknowns=(
            "The driver’s own response, and its impedance in its box at resonance, unless you "
            "give measured points.",
            "The tolerance of parts: 5 to 10 % is usual (common practice, no source).",
            *(
                ("The resistance of the coils’ wire: counted as none.",)
                if inputs.inductor_ohm is None
                else ()
            ),
        ),
        sources=SOURCES,
    )


def data(result: Result) -> dict[str, object]:
    """Return the results of the contract."""
    return {
        "components": [
            {
                "part": part.part,
                "place": part.place,
                "position": part.position,
                "exact": part.value,
                "preferred": bought.value,
                "unit": "H" if part.part == "inductor" else "F",
            }
            for part, bought in zip(result.exact, result.bought, strict=True)
        ],
        "corner_hz": result.corner_hz,
        "built_corner_hz": result.built_corner_hz,
        "built_passband_db": result.passband_db,
        "least_load_ohm": result.least_load_ohm,
        "pad": _pad_data(result.pad),
        "levelling": _levelling_data(result.levelled),
        "response": [
            {"frequency_hz": hz, "level_db": level_db(result.built.response(hz))}
            for hz in map(float, THIRD_OCTAVES_HZ)
        ],
    }


def _pad_data(pad: Pad | None) -> dict[str, float | None] | None:
    return None if pad is None else {"series_ohm": pad.series_ohm, "shunt_ohm": pad.shunt_ohm}


def _levelling_data(levelled: Levelling | None) -> dict[str, float] | None:
    return None if levelled is None else {"ohm": levelled.ohm, "farad": levelled.farad}


# ---- what is told


def _corner_words(inputs: Inputs) -> str:
    fallen = "6 dB" if inputs.family == "linkwitz-riley" else "3 dB"
    return f"{fallen} down at, into {quantity(inputs.ohm, 'Ω')}"


def _sentence(inputs: Inputs, result: Result) -> str:
    corner, built_corner = result.corner_hz, result.built_corner_hz
    in_words = listed(
        [
            f"{value_words(part)} {'in series' if part.place == 'series' else 'across'}"
            for part in result.bought
        ]
    )
    meant = quantity(inputs.frequency_hz, "Hz")
    if corner is None:
        return f"{in_words}: but with these parts the corner is not where it was meant, at {meant}."
    load = quantity(inputs.ohm, "Ω")
    bought = f"For {meant} into {load} buy {in_words}; with these parts the corner comes to"
    if inputs.coil_ohm is None and not inputs.impedance:
        return f"{bought} {quantity(corner, 'Hz', 3)}."
    if built_corner is None:
        return (
            f"Do not use these values: on your driver {in_words} make no crossover at all. "
            f"{_remedy(inputs)}"
        )
    if abs(math.log(built_corner / inputs.frequency_hz)) > math.log(1 + _MOST_MOVED):
        return (
            f"Do not use these values: with {in_words} the crossover lands at "
            f"{quantity(built_corner, 'Hz', 3)} on your driver, not at {meant}. {_remedy(inputs)}"
        )
    return (
        f"{bought} {quantity(corner, 'Hz', 3)} into {load}, and to "
        f"{quantity(built_corner, 'Hz', 3)} with your driver."
    )


def _remedy(inputs: Inputs) -> str:
    if inputs.levelling == "none":
        return "Add a levelling network (Zobel) first, and work it out again."
    return "Give the driver’s DC resistance as its impedance, and work it out again."


def _steps(inputs: Inputs, result: Result) -> tuple[str, ...]:
    family = FAMILY_WORDS[inputs.family]
    steps = [
        f"{family} {inputs.side} of order {inputs.order} "
        f"({slope_words(inputs.order)}) at {quantity(inputs.frequency_hz, 'Hz')} into "
        f"{quantity(inputs.ohm, 'Ω')}."
    ]
    turn = 2 * math.pi * inputs.frequency_hz
    for name, part in named_parts(result):
        ideal = result.exact[part.position - 1]
        if part.part == "inductor":
            formula = f"{rounded(ideal.value * turn / inputs.ohm)} × R/(2πf)"
        else:
            formula = f"{rounded(ideal.value * turn * inputs.ohm)}/(2πf·R)"
        steps.append(
            f"{name} = {formula} = {value_words(ideal)}; nearest in {inputs.series}: "
            f"{value_words(part)}."
        )
    if result.corner_hz is not None:
        moved = 100 * (result.corner_hz / inputs.frequency_hz - 1)
        steps.append(f"The preferred values move the corner by {rounded(moved, 2)} %.")
    if inputs.levelling != "none":
        steps.append(_levelling_step(inputs))
    if inputs.pad_db > 0:
        steps.append(
            f"Level pad for {quantity(inputs.pad_db, 'dB')} into {quantity(inputs.ohm, 'Ω')}, "
            "nearest values of E24: the load stays about the same, so the corner does too."
        )
    return tuple(steps)


def _levelling_step(inputs: Inputs) -> str:
    forms = []
    for name, factor in (("exact", 1.0), ("workshop", WORKSHOP_FACTOR)):
        exact = levelling_of(inputs, factor)
        forms.append(
            f"{name} form R = {quantity(exact.ohm, 'Ω', 3)}, C = L_e/R² = "
            f"{quantity(exact.farad * 1e6, 'µF', 3)}"
        )
    coil, peak = inputs.coil_ohm or 0.0, 1.29 * (inputs.coil_ohm or 0.0)
    return (
        f"Levelling network: {forms[0]} keeps the load at {quantity(coil, 'Ω')}; {forms[1]} leaves "
        f"a peak of 1.29 × R_e = {quantity(peak, 'Ω', 3)}. With it the load is R_e: give R_e "
        "as the impedance to have the parts worked out for it."
    )


PASSIVE_NETWORK = Calculator(
    name="passive-network",
    title="A passive network",
    question="Which coil and which capacitor for this tweeter, and what if I use what is in stock?",
    inputs=Inputs,
    groups=FORM,
    checks=CHECKS,
    solve=solve,
    present=present,
)
