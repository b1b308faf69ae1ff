"""The calculator `speaker-lead`: what the lead to a speaker loses."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from calc.answers.calculator import Calculator
from calc.answers.cautions import SWITCH_OFF
from calc.answers.drawing import (
    WIDEST,
    box,
    canvas,
    label,
    level_resistor,
    loudspeaker,
    wire,
)
from calc.answers.figures import quantity, rounded
from calc.answers.sheet import Column, Drawing, Figure, Quantity, Sheet, Table, Verdict
from calc.cabling.fields import CONDUCTOR_C, INVENTED, MATERIAL, awg_field
from calc.cabling.words import MATERIAL_WORDS, PERMITTED, RESISTANCE, both_names
from calc.inputs.fields import Number
from calc.physics.conductors import METRIC_SIZES, Size, awg_size, metric_size
from calc.physics.permitted_current import carries, permitted_current
from calc.physics.speaker_leads import lead_current, lead_damping, lead_loss, lead_loss_db, lead_ohm

# Our own choice of rows: what leads to speakers are made of.
LEAD_SIZES = tuple(one for one in METRIC_SIZES if 0.75 <= one.area_mm2 <= 6)


def speaker_lead(given: Mapping[str, Any]) -> Sheet:
    """Compute `speaker-lead`."""
    size = awg_size(given["awg"]) if given["awg"] else metric_size(given["mm2"])
    ampere = lead_current(power_w=given["power_w"], load_ohm=given["load_ohm"])
    may_carry = permitted_current(size, material=given["material"])
    load, most = given["load_ohm"], given["max_loss_db"]
    ohm = _ohm(given, size)
    loss_db, percent = lead_loss_db(load_ohm=load, ohm=ohm), 100 * lead_loss(load_ohm=load, ohm=ohm)
    damping = lead_damping(load_ohm=load, ohm=ohm)
    enough = next(
        (
            one
            for one in LEAD_SIZES
            if lead_loss_db(load_ohm=load, ohm=_ohm(given, one)) <= most * (1 + 1e-9)
            and (
                ampere is None
                or carries(permitted_current(one, material=given["material"]), ampere)
            )
        ),
        None,
    )
    return Sheet(
        sentence=(
            f"Over {quantity(given['length_m'], 'm')} of {both_names(size)} the speaker loses "
            f"{rounded(loss_db, 3)} dB ({rounded(percent, 3)} % of its power)."
        ),
        verdict=_verdict(given, size, loss_db, enough, ampere, may_carry),
        results={
            "loss_db": loss_db,
            "loss_percent": percent,
            "damping": damping,
            "lead_ohm": ohm,
            "current_a": ampere,
            "permitted_a": may_carry,
            "size": size.name,
            "smallest_enough_mm2": None if enough is None else enough.area_mm2,
        },
        figures=(
            Figure("Loss", Quantity(loss_db, "dB")),
            Figure("Power lost", Quantity(percent, "%")),
            Figure("Damping left by the lead", Quantity(damping)),
            Figure("Resistance, out and back", Quantity(1000 * ohm, "mΩ")),
            *((Figure("Current at full power", Quantity(ampere, "A")),) if ampere else ()),
        ),
        drawings=(_drawing(given, size, ohm),),
        tables=(_sizes(given, size, enough), _lengths(given, size)),
        cautions=(
            SWITCH_OFF,
            "Neither terminal of a bridged output may touch the body.",
            "A loose strand that reaches the other terminal can destroy a channel: crimp "
            "ferrules on; a tinned end works loose.",
            "Keep leads off seat rails, hinges and sharp edges; through doors only in the rubber "
            "sleeve, and not through connectors of airbags.",
        ),
        steps=(
            f"Out and back: 2 × {quantity(given['length_m'], 'm')} × "
            f"{quantity(500 * ohm / given['length_m'], 'mΩ/m')} = {quantity(1000 * ohm, 'mΩ')}.",
            f"Loss: 20·lg((R + r) ÷ R) with R = {quantity(load, 'Ω')} and r = "
            f"{quantity(ohm, 'Ω')}: {quantity(loss_db, 'dB')}; of the power "
            f"1 − (R ÷ (R + r))² = {quantity(percent, '%')}.",
            f"Damping: {quantity(load, 'Ω')} ÷ {quantity(ohm, 'Ω')} = "
            f"{'without limit' if damping is None else rounded(damping)}. The amplifier’s own "
            "damping can only lower it.",
        ),
        unknowns=(
            "How the speaker’s impedance changes with frequency: where it is higher, less is lost.",
            "Terminals and splices, which a good crimp keeps small.",
            "Whether the amplifier’s protection would save a thin lead from a short circuit: "
            "speaker leads have no fuse.",
            *(
                ("How much power goes through it: give it, to know the current.",)
                if ampere is None
                else ()
            ),
        ),
        sources=(
            "Voltage divider of lead and load, Ohm’s law.",
            RESISTANCE,
            PERMITTED,
            "Up to 0.5 dB goes unheard; a damping of 10 and more is enough: common practice, no "
            "source.",
        ),
    )


def _ohm(given: Mapping[str, Any], size: Size, length_m: float | None = None) -> float:
    per_m = size.ohm_per_m(material=given["material"], conductor_c=given["conductor_c"])
    return lead_ohm(ohm_per_m=per_m, length_m=length_m or given["length_m"])


def _verdict(
    given: Mapping[str, Any],
    size: Size,
    loss_db: float,
    enough: Size | None,
    ampere: float | None,
    may_carry: float | None,
) -> Verdict:
    limit = quantity(given["max_loss_db"], "dB")
    instead = (
        f"take {both_names(enough)}"
        if enough
        else f"{LEAD_SIZES[-1].words} would not do either; shorten the lead"
    )
    if ampere is not None and may_carry is not None and not carries(may_carry, ampere):
        return Verdict(
            "unsuitable",
            f"{quantity(ampere, 'A', 3)} at full power, and the lead may carry "
            f"{quantity(may_carry, 'A', 3)}; {instead}.",
        )
    if loss_db <= given["max_loss_db"] * (1 + 1e-9):
        if ampere is not None and may_carry is None:
            return Verdict(
                "not known",
                f"{quantity(loss_db, 'dB', 3)} of {limit} permitted; whether the lead may carry "
                f"{quantity(ampere, 'A', 3)} no table here says; {instead}.",
            )
        return Verdict("suitable", f"{quantity(loss_db, 'dB', 3)} of {limit} permitted.")
    told = quantity(loss_db, "dB", 3)
    more = f"slightly over {limit}" if told == limit else f"{told}, more than {limit}"
    return Verdict("unsuitable", f"{more}; {instead}.")


def _sizes(given: Mapping[str, Any], size: Size, enough: Size | None) -> Table:
    offered = sorted({*LEAD_SIZES, size}, key=lambda one: one.area_mm2)
    rows = []
    for one in offered:
        ohm = _ohm(given, one)
        rows.append(
            (
                both_names(one),
                Quantity(1000 * ohm),
                Quantity(lead_loss_db(load_ohm=given["load_ohm"], ohm=ohm)),
                Quantity(100 * lead_loss(load_ohm=given["load_ohm"], ohm=ohm)),
                Quantity(lead_damping(load_ohm=given["load_ohm"], ohm=ohm)),
            )
        )
    note = ""
    if enough is not None:
        note = f"The smallest that keeps {quantity(given['max_loss_db'], 'dB')} is {enough.name}."
    return Table(
        caption=f"Other sizes over {quantity(given['length_m'], 'm')} to "
        f"{quantity(given['load_ohm'], 'Ω')}",
        columns=(
            Column("Size"),
            Column("Out and back", "mΩ"),
            Column("Loss", "dB", decimals=2),
            Column("Power lost", "%", decimals=1),
            Column("Damping"),
        ),
        rows=tuple(rows),
        marked=offered.index(size),
        note=note,
    )


def _lengths(given: Mapping[str, Any], size: Size) -> Table:
    lengths = sorted({1.0, 2.0, 3.0, 5.0, 7.0, 10.0, given["length_m"]})
    loads = sorted({2.0, 4.0, 8.0, given["load_ohm"]})
    return Table(
        caption=f"By length and load, {size.words} of {MATERIAL_WORDS[given['material']]}",
        columns=(
            Column("Length", "m"),
            *(Column(f"{rounded(load)} Ω", "dB", decimals=2) for load in loads),
        ),
        rows=tuple(
            (
                Quantity(length),
                *(
                    Quantity(lead_loss_db(load_ohm=load, ohm=_ohm(given, size, length)))
                    for load in loads
                ),
            )
            for length in lengths
        ),
        marked=lengths.index(given["length_m"]),
    )


def _drawing(given: Mapping[str, Any], size: Size, ohm: float) -> Drawing:
    top, bottom = 62.0, 138.0
    half = quantity(1000 * ohm / 2, "mΩ", 3)
    parts = [
        box(6, 34, 98, 132),
        label(55, 100, "amplifier"),
        label(92, top, "+", anchor="end"),
        label(92, bottom, "−", anchor="end"),
        level_resistor(104, top, 210, 60),
        level_resistor(104, bottom, 210, 60),
        label(209, top - 24, half),
        label(209, bottom + 24, half),
        label(209, 100, f"{size.words}, {quantity(given['length_m'], 'm')}", bold=True),
        wire((314, top), (336, top), (336, 90)),
        wire((314, bottom), (336, bottom), (336, 110)),
        loudspeaker(336, 100),
        label(368, 100, quantity(given["load_ohm"], "Ω"), anchor="start"),
    ]
    return Drawing(
        "The lead as two resistors",
        f"Between the amplifier and the speaker of {quantity(given['load_ohm'], 'Ω')} lie two "
        f"resistances of {half}, one in each conductor of {quantity(given['length_m'], 'm')} of "
        f"{size.words}.",
        canvas(WIDEST, 180, parts),
    )


SPEAKER_LEAD = Calculator(
    name="speaker-lead",
    title="Speaker lead",
    question="Is this lead thick enough for that speaker?",
    fields=(
        Number(
            key="load_ohm", label="Load at its end", default="4", low=0.5, high=64,
            presets=(2, 4, 8), source=INVENTED,
        ),
        Number(
            key="length_m", label="Length, one way", default="5", low=0.1, high=50,
            presets=(2, 5, 7), source=INVENTED,
        ),
        Number(
            key="mm2", label="Cross-section", default="1.5", optional=True, low=0.2, high=50,
            empty="the gauge tells",
            presets=(0.75, 1.5, 2.5, 4),
        ),
        Number(
            key="power_w", label="Power through it", default="150", low=0.1, high=20_000,
            optional=True, presets=(50, 100, 150), hint="What the output gives into this load.",
            source=INVENTED,
        ),
        awg_field(
            "awg", "Gauge (AWG)", "", hint="In place of the cross-section: 16, or 14.",
            empty="the cross-section tells",
        ),
        MATERIAL,
        replace(CONDUCTOR_C,default="20",presets=(20,50)),
        Number(
            key="max_loss_db", label="Highest loss", default="0.5", low=0.05, high=6, more=True,
            source="common practice, no source",
        ),
    ),
    groups=(
        ("The speaker", ("load_ohm", "power_w", "max_loss_db")),
        ("The lead", ("length_m", "mm2", "awg", "material", "conductor_c")),
    ),
    compute=speaker_lead,
    alternatives=(("mm2",), ("awg",)),
)  # fmt: skip
