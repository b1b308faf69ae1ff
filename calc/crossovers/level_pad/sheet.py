"""What the answer of `level-pad` says: the two resistors of an L-pad."""

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
            f"To take {quantity(pad.loss_db, 'dB')} off the tweeter, fit "
            f"{quantity(bought.series_ohm, 'Ω')} in series and {quantity(bought.shunt_ohm, 'Ω')} "
            f"across it. The amplifier then sees {quantity(pad.bought_load_ohm, 'Ω', 3)}."
        ),
        results=data(result),
        figures=(
            Figure("Reduction with these values", Quantity(pad.bought_loss_db, "dB"), 2),
            Figure("Heat in the series resistor", Quantity(pad.series_w, "W")),
            Figure("Heat in the resistor across", Quantity(pad.shunt_w, "W")),
            Figure("Power left for the tweeter", Quantity(pad.speaker_w, "W")),
        ),
        drawings=(_drawing(ohm, bought),),
        tables=(_losses(inputs, result),),
        cautions=(
            "These resistors get hot enough to burn: mount them on metal or ceramic, with air "
            "around "
            "them, away from cloth, carpet and cables.",
            "An overloaded resistor can catch fire: fit flame-proof or cement types rated for at "
            "least twice the heat shown.",
            "An L-pad does not protect the tweeter: keep its high-pass, and fit the pad after it.",
        ),
        steps=(
            f"Share of the voltage that is left: k = 10^(−{rounded(inputs.loss_db)} dB ÷ 20) = "
            f"{rounded(exact.voltage_ratio(ohm))}.",
            f"Exact values: in series R·(1 − k) = {quantity(exact.series_ohm, 'Ω')}; across the "
            f"speaker R·k/(1 − k) = {quantity(exact.shunt_ohm, 'Ω')}. With the speaker they make "
            f"{quantity(ohm, 'Ω')} again.",
            f"Of {quantity(inputs.power_w, 'W')} the series resistor takes 1 − k, the resistor "
            "across k·(1 − k), the speaker k².",
            "We rate each resistor for twice the heat of full power; that factor is our choice.",
        ),
        unknowns=(
            "How the speaker’s impedance changes with frequency: the values are for the nominal "
            "impedance.",
            "Whether the tweeter is then loud enough: that is for your ears to say.",
        ),
        sources=("stock-values",),
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
        caption=f"L-pads for {quantity(inputs.ohm, 'Ω')} from {inputs.series} stock values",
        columns=(
            Column("Reduction", "dB"),
            Column("In series", "Ω"),
            Column("Across the speaker", "Ω"),
            Column("Reduction with these values", "dB", decimals=2),
            Column("Rating, in series", "W"),
            Column("Rating, across", "W"),
        ),
        rows=tuple(_loss_row(pad) for pad in result.others),
        marked=result.others.index(result.pad),
        note="Each rating is twice the heat of a full-power test tone. Music puts far less into a "
        "tweeter, so you can enter less power. A resistor that gets too hot to touch is too small.",
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
        "The L-pad",
        f"From + of the passive crossover (or of the amplifier, on a channel with its own "
        f"high-pass) a {quantity(bought.series_ohm, 'Ω')} resistor in series to the "
        f"{quantity(ohm, 'Ω')} speaker; a {quantity(bought.shunt_ohm, 'Ω')} resistor across the "
        "speaker; the speaker’s − goes straight to − of the crossover or amplifier.",
        canvas(380, 190, parts),
        name="pad",
    )


LEVEL_PAD = Calculator(
    name="level-pad",
    title="L-pad",
    question="The tweeter is too loud: which two resistors bring it down?",
    inputs=Inputs,
    groups=FORM,
    solve=solve,
    present=present,
)
