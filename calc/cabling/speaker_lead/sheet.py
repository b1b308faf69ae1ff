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
from calc.cabling.words import CURRENT_RATINGS, RESISTANCE, both_names


def present(inputs: Inputs, result: Result) -> Sheet:
    """Write the answer."""
    return Sheet(
        sentence=(
            f"{quantity(inputs.length_m, 'm')} of {both_names(result.size)} into "
            f"{quantity(inputs.load_ohm, 'Ω')} loses {quantity(result.loss_db, 'dB', 3)}"
            f"{_instead(result)}."
        ),
        verdict=judge(inputs, result),
        results=data(result),
        figures=(
            Figure("Loss", Quantity(result.loss_db, "dB")),
            Figure("Power lost", Quantity(result.loss_percent, "%")),
            Figure("Damping factor, cable alone", Quantity(result.damping)),
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
            "A bridged output is live on both terminals: a short to the vehicle body (chassis) can "
            "destroy it. Keep both conductors off the body.",
            "A stray strand across two terminals can destroy a channel: crimp bootlace ferrules "
            "on. "
            "Don’t tin the ends: solder creeps and the screw works loose.",
            "A chafed cable shorts the channel: keep it off seat rails, hinges and sharp edges, "
            "and "
            "pass it through a door only in the rubber gaiter, away from airbag connectors.",
        ),
        steps=_steps(inputs, result),
        unknowns=(
            "How the speaker’s impedance changes with frequency. Where it rises, less is lost.",
            "Terminals and splices: a good crimp adds next to nothing.",
            "Whether the amplifier’s protection would save a thin cable from a short circuit: "
            "speaker cable has no fuse.",
            *(
                ("The current through it: enter the power to get it.",)
                if result.ampere is None
                else ()
            ),
        ),
        sources=(
            "half-decibel",
            *CURRENT_RATINGS,
            *RESISTANCE,
        ),
    )


def _instead(result: Result) -> str:
    """Say what to use where this cable loses too much and another is enough."""
    if result.keeps_loss or result.enough is None:
        return ""
    return f". Use {both_names(result.enough)}"


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
        f"Damping factor: {quantity(inputs.load_ohm, 'Ω')} ÷ {quantity(result.ohm, 'Ω')} = "
        f"{damping}. The amplifier’s own damping factor can only lower it.",
        "We allow half a decibel.",
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
        "The cable as two resistors",
        f"Between the amplifier and the {quantity(inputs.load_ohm, 'Ω')} speaker are two "
        f"resistances of {half}, one in each conductor of {quantity(inputs.length_m, 'm')} of "
        f"{size.words}.",
        canvas(WIDEST, 180, parts),
        name="lead",
    )


SPEAKER_LEAD = Calculator(
    name="speaker-lead",
    title="Speaker cable",
    question="Is this cable thick enough for that speaker?",
    inputs=Inputs,
    groups=FORM,
    alternatives=WAYS,
    solve=solve,
    judge=judge,
    present=present,
)
