"""What the answer of `level-pad` says."""

from calc.answers.calculator import Calculator
from calc.answers.drawing import (
    canvas,
    joint,
    label,
    level_resistor,
    loudspeaker,
    resistor,
    terminal,
    wire,
)
from calc.answers.figures import quantity, rounded
from calc.answers.markup import Children
from calc.answers.sheet import Column, Drawing, Figure, Quantity, Sheet, Table
from calc.crossovers.level_pad.inputs import FORM, Inputs
from calc.crossovers.level_pad.solve import LossPad, Result, solve
from calc.physics.pads import Pad

_ROOM = 2.0  # our own choice: rate a resistor for twice the power that it takes


def present(inputs: Inputs, result: Result) -> Sheet:
    """Write the answer."""
    pad, ohm = result.pad, inputs.ohm
    exact, bought = pad.exact, pad.bought
    return Sheet(
        sentence=(
            f"{quantity(bought.series_ohm, 'Ω')} in series and {quantity(bought.shunt_ohm, 'Ω')} "
            f"across the speaker make it {rounded(pad.bought_loss_db, 3)} dB quieter; the "
            f"amplifier sees {quantity(pad.bought_load_ohm, 'Ω', 3)}."
        ),
        results=data(result),
        figures=(
            Figure("In series, exact", Quantity(exact.series_ohm, "Ω")),
            Figure("Across the speaker, exact", Quantity(exact.shunt_ohm, "Ω")),
            Figure("Heat in the series resistor", Quantity(pad.series_w, "W")),
            Figure("Heat in the shunt resistor", Quantity(pad.shunt_w, "W")),
            Figure("Left for the speaker", Quantity(pad.speaker_w, "W")),
        ),
        drawings=(_drawing(ohm, bought),),
        tables=(_losses(inputs, result),),
        cautions=(
            "These resistors get hot enough to burn: mount them on metal or ceramic, free of "
            "cloth, carpet and cable, with air around them.",
            "The pad goes after the high-pass, next to the tweeter. It protects nothing: the "
            "tweeter still needs its high-pass.",
            "Choose resistors rated for at least twice the heat shown, flame-proof or in cement.",
        ),
        steps=(
            f"The part of the voltage that is left: 10^(−{rounded(inputs.loss_db)} dB ÷ 20) = "
            f"{rounded(exact.voltage_ratio(ohm))} = k.",
            f"In series R·(1 − k) = {quantity(exact.series_ohm, 'Ω')}; across the speaker "
            f"R·k/(1 − k) = {quantity(exact.shunt_ohm, 'Ω')}: together with the speaker again "
            f"{quantity(ohm, 'Ω')}.",
            f"Of {quantity(inputs.power_w, 'W')} the series resistor takes 1 − k, the shunt "
            "resistor k·(1 − k), the speaker k².",
        ),
        unknowns=(
            "How the speaker’s impedance changes with frequency: the pad is worked out for its "
            "nominal value.",
            "A pad lowers the level on paper; whether the tweeter is then right, the ear decides.",
        ),
        sources=(
            "Voltage divider with constant load: Dickason, Loudspeaker Design Cookbook (from "
            "memory), and Ohm’s law.",
            "Preferred values: IEC 60063 (from memory).",
        ),
    )


def data(result: Result) -> dict[str, object]:
    """Return the results of the contract."""
    pad = result.pad
    return {
        "series_ohm": pad.exact.series_ohm,
        "shunt_ohm": pad.exact.shunt_ohm,
        "series_w": pad.series_w,
        "shunt_w": pad.shunt_w,
        "speaker_w": pad.speaker_w,
        "preferred_series_ohm": pad.bought.series_ohm,
        "preferred_shunt_ohm": pad.bought.shunt_ohm,
        "preferred_loss_db": pad.bought_loss_db,
        "preferred_load_ohm": pad.bought_load_ohm,
    }


def _losses(inputs: Inputs, result: Result) -> Table:
    return Table(
        name="other-losses",
        caption=f"Other losses for {quantity(inputs.ohm, 'Ω')} with parts of {inputs.series}",
        columns=(
            Column("Loss wanted", "dB"),
            Column("In series", "Ω"),
            Column("Across", "Ω"),
            Column("Loss with these parts", "dB", decimals=2),
            Column("Rate the series resistor for", "W"),
            Column("Rate the shunt resistor for", "W"),
        ),
        rows=tuple(_loss_row(pad) for pad in result.others),
        marked=result.others.index(result.pad),
        note="Ratings are twice the heat of a sine of full power in the pad’s band (our own "
        "choice). Music puts far less into a tweeter; a smaller power may be given. A pad "
        "that gets too hot to touch is too small.",
    )


def _loss_row(pad: LossPad) -> tuple[Quantity, ...]:
    return (
        Quantity(pad.loss_db),
        Quantity(pad.bought.series_ohm),
        Quantity(pad.bought.shunt_ohm),
        Quantity(pad.bought_loss_db),
        Quantity(pad.series_w * _ROOM),
        Quantity(pad.shunt_w * _ROOM),
    )


def _drawing(ohm: float, bought: Pad) -> Drawing:
    top, bottom = 60.0, 166.0
    parts: list[Children] = [
        terminal(18, top),
        terminal(18, bottom),
        label(18, top - 18, "+"),
        label(18, bottom + 18, "−"),
        level_resistor(22, top, 100),
        label(72, top - 42, "in series", bold=False),
        label(72, top - 22, quantity(bought.series_ohm, "Ω"), bold=True),
        wire((122, top), (290, top), (290, 103)),
        wire((22, bottom), (290, bottom), (290, 123)),
        joint(160, top),
        joint(160, bottom),
        resistor(160, top, bottom),
        label(178, 103, quantity(bought.shunt_ohm, "Ω"), anchor="start", bold=True),
        label(178, 123, "across", anchor="start"),
        loudspeaker(290, 113),
        label(322, 113, quantity(ohm, "Ω"), anchor="start"),
    ]
    return Drawing(
        "The level pad",
        f"From the network’s + (or the amplifier’s, on a channel with its own high-pass) a "
        f"resistor of {quantity(bought.series_ohm, 'Ω')} in series to the speaker of "
        f"{quantity(ohm, 'Ω')}; a resistor of "
        f"{quantity(bought.shunt_ohm, 'Ω')} across the speaker; the speaker’s − straight to the "
        "− of network or amplifier.",
        canvas(380, 190, parts),
        name="pad",
    )


LEVEL_PAD = Calculator(
    name="level-pad",
    title="A level pad",
    question="The tweeter is too loud: which resistors bring it down?",
    inputs=Inputs,
    groups=FORM,
    solve=solve,
    present=present,
)
