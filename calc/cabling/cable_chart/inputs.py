"""What `cable-chart` asks."""

from dataclasses import dataclass
from typing import Annotated, Literal

from calc.answers.calculator import Group
from calc.inputs.declared import like
from calc.inputs.fields import Choice, Number, Numbers
from calc.parts.cable_kind import ConductorTemperature, HeatLimits
from calc.parts.current_way import Way
from calc.parts.draw import Consumption, Duty, SupplyVolts
from calc.physics.amplifier_draw import AmplifierClass

Clad = Literal["cca10", "cca15"]
CLAD_OPTIONS: tuple[tuple[Clad, str], ...] = (
    ("cca10", "CCA, 10 % copper"),
    ("cca15", "CCA, 15 % copper"),
)
MOST_POWERS, MOST_LENGTHS = 14, 8


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """Amplifiers of several powers at several distances, and what their cables have alike."""

    efficiency_percent: Annotated[float, like(Consumption, "efficiency_percent")] = 60.0
    amplifier_class: Annotated[AmplifierClass, like(Consumption, "amplifier_class")] = "ab"
    duty: Duty = "full"
    supply_v: SupplyVolts = 14.4
    clad: Annotated[Clad, Choice("Grade of copper-clad aluminium (CCA)", options=CLAD_OPTIONS)] = (
        "cca15"
    )
    conductor_c: ConductorTemperature = 50.0
    limits: HeatLimits
    way: Way
    powers_w: Annotated[
        tuple[float, ...],
        Numbers(
            "RMS powers, down the side",
            most=MOST_POWERS,
            each=Number(key="power_w", label="Power", default="200", low=1, high=20_000),
        ),
    ] = (100.0, 150.0, 200.0, 250.0, 300.0, 400.0, 500.0, 600.0, 800.0, 1000.0, 1200.0, 1500.0)
    lengths_m: Annotated[
        tuple[float, ...],
        Numbers(
            "Cable lengths, along the top",
            most=MOST_LENGTHS,
            each=Number(key="length_m", label="Length", default="5", low=0.05, high=100),
        ),
    ] = (1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0)


FORM = (
    Group(
        "What the chart is for",
        ("max_drop_v", "duty", "efficiency_percent", "amplifier_class", "return"),
        more=("supply_v", "body_mohm", "connections_mohm", "powers_w", "lengths_m"),
    ),
    Group(
        "The cable",
        ("engine_space", "insulation_c"),
        more=("engine_c", "clad", "conductor_c", "bundle"),
    ),
)
ORDER = (
    "max_drop_v", "efficiency_percent", "amplifier_class", "duty", "supply_v", "return", "clad",
    "engine_space", "engine_c", "conductor_c", "insulation_c", "bundle", "body_mohm",
    "connections_mohm", "powers_w", "lengths_m",
)  # fmt: skip
