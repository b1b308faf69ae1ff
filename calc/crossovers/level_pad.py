"""The calculator `level-pad`: two resistors that make a speaker quieter."""

from collections.abc import Mapping
from typing import Any

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
from calc.answers.sheet import Column, Drawing, Figure, Quantity, Sheet, Table
from calc.crossovers.fields import INVENTED
from calc.inputs.fields import Choice, Number
from calc.physics.filters import level_db
from calc.physics.pads import Pad, level_pad
from calc.physics.preferred_values import nearest

_OTHER_LOSSES_DB = (1.0, 2.0, 3.0, 4.0, 6.0, 8.0, 10.0, 12.0)
_ROOM = 2.0  # our own choice: rate a resistor for twice the power that it takes


def pad(given: Mapping[str, Any]) -> Sheet:
    """Compute `level-pad`."""
    ohm, loss, power = given["ohm"], given["loss_db"], given["power_w"]
    exact = level_pad(ohm=ohm, loss_db=loss)
    bought = _bought(exact, given["series"])
    shares = exact.power_shares(ohm)
    series_w, shunt_w, speaker_w = (share * power for share in shares)
    loss_bought = -level_db(bought.voltage_ratio(ohm))
    return Sheet(
        sentence=(
            f"{quantity(bought.series_ohm, 'Ω')} in series and {quantity(bought.shunt_ohm, 'Ω')} "
            f"across the speaker make it {rounded(loss_bought, 3)} dB quieter; the amplifier "
            f"sees {quantity(bought.load_ohm(ohm), 'Ω', 3)}."
        ),
        results={
            "series_ohm": exact.series_ohm,
            "shunt_ohm": exact.shunt_ohm,
            "series_w": series_w,
            "shunt_w": shunt_w,
            "speaker_w": speaker_w,
            "preferred_series_ohm": bought.series_ohm,
            "preferred_shunt_ohm": bought.shunt_ohm,
            "preferred_loss_db": loss_bought,
            "preferred_load_ohm": bought.load_ohm(ohm),
        },
        figures=(
            Figure("In series, exact", Quantity(exact.series_ohm, "Ω")),
            Figure("Across the speaker, exact", Quantity(exact.shunt_ohm, "Ω")),
            Figure("Heat in the series resistor", Quantity(series_w, "W")),
            Figure("Heat in the shunt resistor", Quantity(shunt_w, "W")),
            Figure("Left for the speaker", Quantity(speaker_w, "W")),
        ),
        drawings=(_drawing(given, bought),),
        tables=(_losses(given),),
        cautions=(
            "These resistors get hot enough to burn: mount them on metal or ceramic, free of "
            "cloth, carpet and cable, with air around them.",
            "The pad goes after the high-pass, next to the tweeter. It protects nothing: the "
            "tweeter still needs its high-pass.",
            "Choose resistors rated for at least twice the heat shown, flame-proof or in cement.",
        ),
        steps=(
            f"The part of the voltage that is left: 10^(−{rounded(loss)} dB ÷ 20) = "
            f"{rounded(exact.voltage_ratio(ohm))} = k.",
            f"In series R·(1 − k) = {quantity(exact.series_ohm, 'Ω')}; across the speaker "
            f"R·k/(1 − k) = {quantity(exact.shunt_ohm, 'Ω')}: together with the speaker again "
            f"{quantity(ohm, 'Ω')}.",
            f"Of {quantity(power, 'W')} the series resistor takes 1 − k, the shunt resistor "
            "k·(1 − k), the speaker k².",
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


def _bought(exact: Pad, series: Any) -> Pad:
    return Pad(
        series_ohm=nearest(exact.series_ohm, series),
        shunt_ohm=None if exact.shunt_ohm is None else nearest(exact.shunt_ohm, series),
    )


def _losses(given: Mapping[str, Any]) -> Table:
    ohm, power = given["ohm"], given["power_w"]
    losses = sorted({*_OTHER_LOSSES_DB, given["loss_db"]})
    rows = []
    for loss in losses:
        exact = level_pad(ohm=ohm, loss_db=loss)
        bought = _bought(exact, given["series"])
        shares = exact.power_shares(ohm)
        rows.append(
            (
                Quantity(loss),
                Quantity(bought.series_ohm),
                Quantity(bought.shunt_ohm),
                Quantity(-level_db(bought.voltage_ratio(ohm))),
                Quantity(shares[0] * power * _ROOM),
                Quantity(shares[1] * power * _ROOM),
            )
        )
    return Table(
        caption=f"Other losses for {quantity(ohm, 'Ω')} with parts of {given['series']}",
        columns=(
            Column("Loss wanted", "dB"),
            Column("In series", "Ω"),
            Column("Across", "Ω"),
            Column("Loss with these parts", "dB", decimals=2),
            Column("Rate the series resistor for", "W"),
            Column("Rate the shunt resistor for", "W"),
        ),
        rows=tuple(rows),
        marked=losses.index(given["loss_db"]),
        note="Ratings are twice the heat of a sine of full power in the pad’s band (our own "
        "choice). Music puts far less into a tweeter; a smaller power may be given. A pad "
        "that gets too hot to touch is too small.",
    )


def _drawing(given: Mapping[str, Any], bought: Pad) -> Drawing:
    top, bottom = 60.0, 166.0
    parts = [
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
        label(322, 113, quantity(given["ohm"], "Ω"), anchor="start"),
    ]
    return Drawing(
        "The level pad",
        f"From the network’s + (or the amplifier’s, on a channel with its own high-pass) a "
        f"resistor of {quantity(bought.series_ohm, 'Ω')} in series to the speaker of "
        f"{quantity(given['ohm'], 'Ω')}; a resistor of "
        f"{quantity(bought.shunt_ohm, 'Ω')} across the speaker; the speaker’s − straight to the "
        "− of network or amplifier.",
        canvas(380, 190, parts),
    )


LEVEL_PAD = Calculator(
    name="level-pad",
    title="A level pad",
    question="The tweeter is too loud: which resistors bring it down?",
    fields=(
        Number(
            key="ohm", label="Impedance of the speaker", default="4", low=0.5, high=64,
            presets=(2, 4, 8), source=INVENTED,
        ),
        Number(
            key="loss_db", label="How much quieter", default="3", low=0.1, high=30,
            presets=(1, 2, 3, 6),
        ),
        Number(
            key="power_w", label="Amplifier’s power into pad and speaker together", default="50",
            low=0.1, high=5000, source=INVENTED,
        ),
        Choice(
            key="series", label="Series of preferred values", default="E24",
            options=(("E6", "E6"), ("E12", "E12"), ("E24", "E24")), more=True,
            source="IEC 60063 (from memory)",
        ),
    ),
    groups=(("Speaker and pad", ("ohm", "loss_db", "power_w", "series")),),
    compute=pad,
)  # fmt: skip
