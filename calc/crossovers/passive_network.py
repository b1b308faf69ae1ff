"""The calculator `passive-network`: coils and capacitors for one speaker."""

import math
from collections.abc import Mapping, Sequence
from typing import Any

from calc.answers.calculator import Calculator
from calc.answers.figures import exact, listed, quantity, rounded
from calc.answers.sheet import Figure, Quantity, Sheet
from calc.crossovers.fields import (
    FAMILY_WORDS,
    INVENTED,
    KIND_WORDS,
    TEST_TONE,
    check_order,
    family_field,
    frequency_field,
    slope_words,
)
from calc.crossovers.passive_design import (
    WORKSHOP_FACTOR,
    Design,
    corner_hz,
    design_of,
    least_load,
    passband_db,
)
from calc.crossovers.passive_tables import (
    level_drawing,
    levels_table,
    named_parts,
    network_drawing,
    parts_table,
    ratings_tables,
    value_words,
)
from calc.inputs.errors import FieldError
from calc.inputs.fields import Choice, Number, Rows, Whole
from calc.physics.filter_sums import THIRD_OCTAVES_HZ
from calc.physics.filters import level_db
from calc.physics.ladder import MOST_PASSIVE_ORDER
from calc.physics.pads import Levelling, Pad, levelling

_PER_OCTAVE = 6
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


def passive_network(given: Mapping[str, Any]) -> Sheet:
    """Compute `passive-network`."""
    design = design_of(given)
    corner = corner_hz(given, design.nominal)
    passband = passband_db(given, design.built)
    built_corner = corner_hz(given, design.built)
    least_ohm, at_hz = least_load(design.built)
    return Sheet(
        sentence=_sentence(given, design, corner, built_corner),
        results={
            "components": [
                {
                    "part": one.part,
                    "place": one.place,
                    "position": one.position,
                    "exact": one.value,
                    "preferred": bought.value,
                    "unit": "H" if one.part == "inductor" else "F",
                }
                for one, bought in zip(design.exact, design.bought, strict=True)
            ],
            "corner_hz": corner,
            "built_corner_hz": built_corner,
            "built_passband_db": passband,
            "least_load_ohm": least_ohm,
            "pad": _pad_data(design.pad),
            "levelling": _levelling_data(design.levelled),
            "response": [
                {"frequency_hz": one, "level_db": level_db(design.built.response(one))}
                for one in map(float, THIRD_OCTAVES_HZ)
            ],
        },
        figures=(
            Figure(_corner_words(given), Quantity(corner, "Hz")),
            Figure("The same with the driver as given", Quantity(built_corner, "Hz")),
            Figure("Level in its band", Quantity(passband, "dB"), 1),
            Figure(f"Lowest load, at {quantity(at_hz, 'Hz', 2)}", Quantity(least_ohm, "Ω")),
        ),
        drawings=(network_drawing(design), level_drawing(given, design, passband)),
        tables=(parts_table(design), levels_table(given, design), *ratings_tables(given, design)),
        cautions=CAUTIONS,
        steps=_steps(given, design, corner),
        unknowns=(
            "The driver’s own response, and its impedance in its box at resonance, unless you "
            "give measured points.",
            "The tolerance of parts: 5 to 10 % is usual (common practice, no source).",
            *(
                ("The resistance of the coils’ wire: counted as none.",)
                if given["inductor_ohm"] is None
                else ()
            ),
        ),
        sources=SOURCES,
    )


def _pad_data(pad: Pad | None) -> dict[str, float | None] | None:
    return None if pad is None else {"series_ohm": pad.series_ohm, "shunt_ohm": pad.shunt_ohm}


def _levelling_data(levelled: Levelling | None) -> dict[str, float] | None:
    return None if levelled is None else {"ohm": levelled.ohm, "farad": levelled.farad}


# ---- what is told


def _corner_words(given: Mapping[str, Any]) -> str:
    fallen = "6 dB" if given["family"] == "linkwitz-riley" else "3 dB"
    return f"{fallen} down at, into {quantity(given['ohm'], 'Ω')}"


def _sentence(
    given: Mapping[str, Any], design: Design, corner: float | None, built_corner: float | None
) -> str:
    parts = [
        f"{value_words(one)} {'in series' if one.place == 'series' else 'across'}"
        for one in design.bought
    ]
    in_words = listed(parts)
    meant = quantity(given["frequency_hz"], "Hz")
    if corner is None:
        return f"{in_words}: but with these parts the corner is not where it was meant, at {meant}."
    load = quantity(given["ohm"], "Ω")
    told = f"For {meant} into {load} buy {in_words}; with these parts the corner comes to"
    if given["coil_ohm"] is None and not given["impedance"]:
        return f"{told} {quantity(corner, 'Hz', 3)}."
    if built_corner is None:
        return (
            f"Do not use these values: on your driver {in_words} make no crossover at all. "
            f"{_remedy(given)}"
        )
    if abs(math.log(built_corner / given["frequency_hz"])) > math.log(1 + _MOST_MOVED):
        return (
            f"Do not use these values: with {in_words} the crossover lands at "
            f"{quantity(built_corner, 'Hz', 3)} on your driver, not at {meant}. {_remedy(given)}"
        )
    return (
        f"{told} {quantity(corner, 'Hz', 3)} into {load}, and to "
        f"{quantity(built_corner, 'Hz', 3)} with your driver."
    )


def _remedy(given: Mapping[str, Any]) -> str:
    if given["levelling"] == "none":
        return "Add a levelling network (Zobel) first, and work it out again."
    return "Give the driver’s DC resistance as its impedance, and work it out again."


def _steps(given: Mapping[str, Any], design: Design, corner: float | None) -> tuple[str, ...]:
    family = FAMILY_WORDS[given["family"]]
    steps = [
        f"{family} {KIND_WORDS[given['side']]} of order {given['order']} "
        f"({slope_words(given['order'])}) at {quantity(given['frequency_hz'], 'Hz')} into "
        f"{quantity(given['ohm'], 'Ω')}."
    ]
    turn = 2 * math.pi * given["frequency_hz"]
    for name, one in named_parts(design):
        ideal = design.exact[one.position - 1]
        if one.part == "inductor":
            formula = f"{rounded(ideal.value * turn / given['ohm'])} × R/(2πf)"
        else:
            formula = f"{rounded(ideal.value * turn * given['ohm'])}/(2πf·R)"
        steps.append(
            f"{name} = {formula} = {value_words(ideal)}; nearest in {given['series']}: "
            f"{value_words(one)}."
        )
    if corner is not None:
        moved = 100 * (corner / given["frequency_hz"] - 1)
        steps.append(f"The preferred values move the corner by {rounded(moved, 2)} %.")
    if given["levelling"] != "none":
        steps.append(_levelling_step(given))
    if given["pad_db"] > 0:
        steps.append(
            f"Level pad for {quantity(given['pad_db'], 'dB')} into {quantity(given['ohm'], 'Ω')}, "
            "nearest values of E24: the load stays about the same, so the corner does too."
        )
    return tuple(steps)


def _levelling_step(given: Mapping[str, Any]) -> str:
    coil, factor = given["coil_ohm"], 1.0
    told = []
    for name, factor in (("exact", 1.0), ("workshop", WORKSHOP_FACTOR)):
        one = levelling(
            coil_resistance_ohm=coil, coil_inductance_h=given["coil_mh"] / 1000, factor=factor
        )
        told.append(
            f"{name} form R = {quantity(one.ohm, 'Ω', 3)}, C = L_e/R² = "
            f"{quantity(one.farad * 1e6, 'µF', 3)}"
        )
    return (
        f"Levelling network: {told[0]} keeps the load at {quantity(coil, 'Ω')}; {told[1]} leaves a "
        f"peak of 1.29 × R_e = {quantity(1.29 * coil, 'Ω', 3)}. With it the load is R_e: give R_e "
        "as the impedance to have the parts worked out for it."
    )


# ---- fields

_SIDE = Choice(
    key="side",
    label="Side",
    default="high-pass",
    options=tuple(KIND_WORDS.items()),
    hint="High-pass for a tweeter, low-pass for a woofer.",
)
_FAMILY = family_field("family", "butterworth")
_ORDER = Whole(
    key="order", label="Order", default="2", low=1, high=MOST_PASSIVE_ORDER, presets=(1, 2, 3, 4),
    hint="Each order is one part and 6 dB per octave.",
)  # fmt: skip
_OHM = Number(
    key="ohm", label="Impedance of the driver", default="4", low=0.5, high=64, presets=(2, 4, 8),
    hint="Nominal; the parts are worked out for it.", source=INVENTED,
)  # fmt: skip
_IMPEDANCE = Rows(
    key="impedance",
    label="Measured impedance of the driver",
    default="",
    optional=True,
    most=40,
    row_name="point",
    hint="Frequencies rising; wins over the coil’s figures.",
    more=True,
    columns=(
        Number(key="frequency_hz", label="frequency", default="1000", low=1, high=100_000),
        Number(key="ohm", label="size", default="4", low=0.1, high=1000),
        Number(key="phase_deg", label="phase", default="0", low=-90, high=90),
    ),
)


def _check(given: Mapping[str, Any]) -> list[FieldError]:
    errors = [*check_order(given, _FAMILY, _ORDER, MOST_PASSIVE_ORDER)]
    wants = given.get("levelling") not in (None, "none")
    for key, name in (("coil_ohm", "DC resistance"), ("coil_mh", "Inductance")):
        if wants and key in given and given[key] is None:
            message = f"{name}: a levelling network needs it. Give it, or choose none."
            errors.append(FieldError(key, "", message))
    if given.get("coil_mh") is not None and "coil_ohm" in given and given["coil_ohm"] is None:
        message = "DC resistance: an inductance is given, so give the resistance too."
        errors.append(FieldError("coil_ohm", "", message))
    points = [one["frequency_hz"] for one in given.get("impedance") or ()]
    if points != sorted(set(points)):
        told = ", ".join(exact(one) for one in points[:4])
        message = (
            "Measured impedance of the driver: the frequencies do not rise. Give them in rising "
            "order, each once."
        )
        errors.append(FieldError("impedance", told, message))
    return _first_of_each(errors)


def _first_of_each(errors: Sequence[FieldError]) -> list[FieldError]:
    return list({one.field: one for one in reversed(errors)}.values())


PASSIVE_NETWORK = Calculator(
    name="passive-network",
    title="A passive network",
    question="Which coil and which capacitor for this tweeter, and what if I use what is in stock?",
    fields=(
        _SIDE,
        _FAMILY,
        _ORDER,
        frequency_field(
            "frequency_hz", "3500", "Corner frequency", source=INVENTED, presets=(2500, 3500, 5000)
        ),
        _OHM,
        Choice(
            key="series", label="Series of preferred values", default="E12",
            options=(("E6", "E6"), ("E12", "E12"), ("E24", "E24")),
            source="IEC 60063 (from memory)",
        ),
        Number(
            key="inductor_ohm", label="Resistance of each coil’s wire", default="", low=0.01,
            high=10, optional=True,
        ),
        Number(
            key="pad_db", label="Level pad", default="0", low=0, high=20, presets=(0, 2, 3, 6),
            hint="How much quieter; 0 is no pad.",
        ),
        Choice(
            key="levelling", label="Levelling network (Zobel)", default="none",
            options=(("none", "none"), ("exact", "exact form"), ("workshop", "workshop form")),
            hint="Keeps the driver’s impedance from rising.",
        ),
        Number(
            key="power_w", label="Amplifier’s power into this load", default="50", low=1, high=5000,
            optional=True, hint="For what the parts must stand.", source=INVENTED,
        ),
        Number(
            key="coil_ohm", label="Driver’s DC resistance", default="", low=0.1, high=64,
            optional=True, more=True, hint="R_e of the data sheet.",
        ),
        Number(
            key="coil_mh", label="Driver’s inductance", default="", low=0.001, high=20,
            optional=True, more=True, hint="L_e of the data sheet.",
        ),
        _IMPEDANCE,
    ),
    groups=(
        ("Filter", ("side", "family", "order", "frequency_hz", "ohm")),
        ("Parts", ("series", "inductor_ohm", "pad_db", "levelling", "power_w")),
        ("The driver itself", ("coil_ohm", "coil_mh", "impedance")),
    ),
    compute=passive_network,
    check=_check,
)  # fmt: skip
