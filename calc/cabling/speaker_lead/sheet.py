"""What the answer of `speaker-lead` holds."""

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
from calc.answers.markup import Children
from calc.answers.sheet import Drawing, Figure, Quantity, Sheet
from calc.cabling.speaker_lead.inputs import FORM, WAYS, Inputs
from calc.cabling.speaker_lead.solve import Result, solve
from calc.cabling.speaker_lead.tables import lengths_table, sizes_table
from calc.cabling.speaker_lead.words import judge
from calc.cabling.words import PERMITTED, RESISTANCE, both_names


def present(inputs: Inputs, result: Result) -> Sheet:
    """Write the answer."""
    return Sheet(
        sentence=(
            f"Over {quantity(inputs.length_m, 'm')} of {both_names(result.size)} the speaker loses "
            f"{rounded(result.loss_db, 3)} dB ({rounded(result.loss_percent, 3)} % of its power)."
        ),
        verdict=judge(inputs, result),
        results=data(result),
        figures=(
            Figure("Loss", Quantity(result.loss_db, "dB")),
            Figure("Power lost", Quantity(result.loss_percent, "%")),
            Figure("Damping left by the lead", Quantity(result.damping)),
            Figure("Resistance, out and back", Quantity(1000 * result.ohm, "mΩ")),
            *(
                (Figure("Current at full power", Quantity(result.ampere, "A")),)
                if result.ampere
                else ()
            ),
        ),
        drawings=(_drawing(inputs, result),),
        tables=(sizes_table(inputs, result), lengths_table(inputs, result.size)),
        cautions=(
            SWITCH_OFF,
            "Neither terminal of a bridged output may touch the body.",
            "A loose strand that reaches the other terminal can destroy a channel: crimp "
            "ferrules on; a tinned end works loose.",
            "Keep leads off seat rails, hinges and sharp edges; through doors only in the rubber "
            "sleeve, and not through connectors of airbags.",
        ),
        steps=_steps(inputs, result),
        unknowns=(
            "How the speaker’s impedance changes with frequency: where it is higher, less is lost.",
            "Terminals and splices, which a good crimp keeps small.",
            "Whether the amplifier’s protection would save a thin lead from a short circuit: "
            "speaker leads have no fuse.",
            *(
                ("How much power goes through it: give it, to know the current.",)
                if result.ampere is None
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


def data(result: Result) -> dict[str, object]:
    """Return the results of the contract."""
    return {
        "loss_db": result.loss_db,
        "loss_percent": result.loss_percent,
        "damping": result.damping,
        "lead_ohm": result.ohm,
        "current_a": result.ampere,
        "permitted_a": result.permitted_a,
        "size": result.size.name,
        "smallest_enough_mm2": None if result.enough is None else result.enough.area_mm2,
    }


def _steps(inputs: Inputs, result: Result) -> tuple[str, ...]:
    damping = "without limit" if result.damping is None else rounded(result.damping)
    return (
        f"Out and back: 2 × {quantity(inputs.length_m, 'm')} × "
        f"{quantity(500 * result.ohm / inputs.length_m, 'mΩ/m')} = "
        f"{quantity(1000 * result.ohm, 'mΩ')}.",
        f"Loss: 20·lg((R + r) ÷ R) with R = {quantity(inputs.load_ohm, 'Ω')} and r = "
        f"{quantity(result.ohm, 'Ω')}: {quantity(result.loss_db, 'dB')}; of the power "
        f"1 − (R ÷ (R + r))² = {quantity(result.loss_percent, '%')}.",
        f"Damping: {quantity(inputs.load_ohm, 'Ω')} ÷ {quantity(result.ohm, 'Ω')} = "
        f"{damping}. The amplifier’s own "
        "damping can only lower it.",
    )


def _drawing(inputs: Inputs, result: Result) -> Drawing:
    size = result.size
    top, bottom = 62.0, 138.0
    half = quantity(1000 * result.ohm / 2, "mΩ", 3)
    parts: list[Children] = [
        box(6, 34, 98, 132),
        label(55, 100, "amplifier"),
        label(92, top, "+", anchor="end"),
        label(92, bottom, "−", anchor="end"),
        level_resistor(104, top, 210, 60),
        level_resistor(104, bottom, 210, 60),
        label(209, top - 24, half),
        label(209, bottom + 24, half),
        label(209, 100, f"{size.words}, {quantity(inputs.length_m, 'm')}", bold=True),
        wire((314, top), (336, top), (336, 90)),
        wire((314, bottom), (336, bottom), (336, 110)),
        loudspeaker(336, 100),
        label(368, 100, quantity(inputs.load_ohm, "Ω"), anchor="start"),
    ]
    return Drawing(
        "The lead as two resistors",
        f"Between the amplifier and the speaker of {quantity(inputs.load_ohm, 'Ω')} lie two "
        f"resistances of {half}, one in each conductor of {quantity(inputs.length_m, 'm')} of "
        f"{size.words}.",
        canvas(WIDEST, 180, parts),
        name="lead",
    )


SPEAKER_LEAD = Calculator(
    name="speaker-lead",
    title="Speaker lead",
    question="Is this lead thick enough for that speaker?",
    inputs=Inputs,
    groups=FORM,
    alternatives=WAYS,
    solve=solve,
    judge=judge,
    present=present,
)
