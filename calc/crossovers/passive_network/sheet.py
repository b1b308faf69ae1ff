"""What the answer of `passive-network` says."""

import math

from calc.answers.calculator import Calculator
from calc.answers.figures import listed, quantity, rounded
from calc.answers.sheet import Figure, Quantity, Sheet
from calc.crossovers.filter_words import OPEN_CROSSOVER, TEST_TONE, slope_words
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

# Our own limit: a crossover that a speaker moves farther is another one.
_MOST_MOVED = 0.1
_TWEETER_HZ = 1500.0  # from here a high-pass is taken to be a tweeter's
SOURCES = ("passive-parts", "filter-types", "stock-values", "part-tolerance")
CAUTIONS = (
    TEST_TONE,
    OPEN_CROSSOVER,
    "Resistors get hot enough to burn: mount them away from cloth, carpet and cables.",
    "A polarised capacitor can burst on a speaker signal: use bipolar or film capacitors only.",
)


def present(inputs: Inputs, result: Result) -> Sheet:
    """Write the answer."""
    lowest_at = quantity(result.least_load_hz, "Hz", 2)
    return Sheet(
        sentence=_sentence(inputs, result),
        results=data(result),
        figures=(
            Figure(_corner_words(inputs), Quantity(result.corner_hz, "Hz")),
            *(
                [Figure("The same, as built", Quantity(result.built_corner_hz, "Hz"))]
                if _is_known(inputs) or inputs.inductor_ohm is not None or inputs.pad_db > 0
                else []
            ),
            Figure("Level it passes", Quantity(result.passband_db, "dB"), 1),
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
            "The speaker’s own response, and its impedance peak at resonance unless you enter "
            "measured "
            "points.",
            "The tolerance of the parts: 5 to 10 % is usual.",
            *(
                ("The resistance of the inductors’ wire: taken as zero.",)
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
    return f"{fallen} down at, with stock values into {quantity(inputs.ohm, 'Ω')}"


def _sentence(inputs: Inputs, result: Result) -> str:
    corner, built = result.corner_hz, result.built_corner_hz
    aim, load = quantity(inputs.frequency_hz, "Hz"), quantity(inputs.ohm, "Ω")
    is_known = _is_known(inputs)
    if is_known and built is None:
        return f"Don’t use these values: on your speaker they never cut. {_remedy(inputs)}"
    if is_known and abs(math.log((built or 1) / inputs.frequency_hz)) > math.log(1 + _MOST_MOVED):
        return (
            "Don’t use these values: on your speaker the crossover lands at "
            f"{quantity(built, 'Hz', 3)}. {_remedy(inputs)}"
        )
    fit = f"For {aim} into {load}, fit {_parts_words(inputs, result)}."
    if corner is None:
        return f"{fit} With these stock values it never cuts: choose a series with more values."
    crosses = f"{fit} Those stock values cross at {quantity(corner, 'Hz', 3)}"
    if is_known:
        return f"{crosses}, and at {quantity(built, 'Hz', 3)} on your speaker."
    return f"{crosses}."


def _is_known(inputs: Inputs) -> bool:
    """Tell whether more is known of the speaker than its nominal impedance."""
    return inputs.coil_ohm is not None or bool(inputs.impedance)


def _parts_words(inputs: Inputs, result: Result) -> str:
    """Say which parts are fitted where, from the amplifier to the speaker."""
    is_tweeter = inputs.side == "high-pass" and inputs.frequency_hz >= _TWEETER_HZ
    parts = [
        f"{with_article(value_words(part))} {part.part} "
        f"{'in series' if part.place == 'series' else 'across'}"
        for part in result.bought
    ]
    if result.bought[-1].place != "series":
        parts[-1] += f" the {'tweeter' if is_tweeter else 'speaker'}"
    in_order = ", in this order from the amplifier" if len(parts) > 2 else ""
    return listed(parts) + in_order


def with_article(value: str) -> str:
    """Return a value with the article that it is spoken with.

    >>> with_article("8.2 µF"), with_article("0.27 mH"), with_article("18 µF")
    ('an 8.2 µF', 'a 0.27 mH', 'an 18 µF')
    """
    whole = value.partition("\u202f")[0].partition(" ")[0].partition(".")[0]
    return f"{'an' if whole[0] == '8' or whole in ('11', '18') else 'a'} {value}"


def _remedy(inputs: Inputs) -> str:
    if inputs.levelling == "none":
        return "Add a Zobel network first."
    return "Enter the speaker’s DC resistance as its impedance."


def _steps(inputs: Inputs, result: Result) -> tuple[str, ...]:
    family = FAMILY_WORDS[inputs.family]
    steps = [
        f"{family} {inputs.side}, {slope_words(inputs.order)}, at "
        f"{quantity(inputs.frequency_hz, 'Hz')} into "
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
            f"{name} = {formula} = {value_words(ideal)}; nearest {inputs.series} stock value: "
            f"{value_words(part)}."
        )
    if result.corner_hz is not None:
        moved = 100 * (result.corner_hz / inputs.frequency_hz - 1)
        steps.append(f"The stock values move the crossover by {rounded(moved, 2)} %.")
    if inputs.levelling != "none":
        steps.append(_levelling_step(inputs))
    if inputs.pad_db > 0:
        steps.append(
            f"L-pad for {quantity(inputs.pad_db, 'dB')} into {quantity(inputs.ohm, 'Ω')}, "
            "nearest E24 "
            "stock values: the load hardly changes, so the crossover stays where it is."
        )
    return tuple(steps)


def _levelling_step(inputs: Inputs) -> str:
    forms = []
    for name, factor in (("exact", 1.0), ("usual", WORKSHOP_FACTOR)):
        exact = levelling_of(inputs, factor)
        forms.append(
            f"{name} form R = {quantity(exact.ohm, 'Ω', 3)}, C = L_e/R² = "
            f"{quantity(exact.farad * 1e6, 'µF', 3)}"
        )
    coil, peak = inputs.coil_ohm or 0.0, 1.29 * (inputs.coil_ohm or 0.0)
    return (
        f"Zobel network: {forms[0]} keeps the load at {quantity(coil, 'Ω')}; {forms[1]} leaves "
        f"a peak of 1.29 × R_e = {quantity(peak, 'Ω', 3)}. With a Zobel network the load is R_e: "
        "enter R_e as the impedance, and the parts are worked out for it."
    )


PASSIVE_NETWORK = Calculator(
    name="passive-network",
    title="Build a passive crossover",
    question="Which capacitor and which inductor does this tweeter need, and what if I use stock "
    "values?",
    inputs=Inputs,
    groups=FORM,
    checks=CHECKS,
    solve=solve,
    present=present,
)
