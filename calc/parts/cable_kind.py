"""Power cable: what it is made of, and what decides how much current it may carry."""

from dataclasses import dataclass
from typing import Annotated

from calc.inputs.fields import Choice, Number, Whole, YesNo
from calc.physics.conductors import Material, Size, System
from calc.physics.permitted_current import MOST_IN_BUNDLE, permitted_current

MATERIAL_OPTIONS: tuple[tuple[Material, str], ...] = (
    ("copper", "copper"),
    ("cca10", "copper-clad aluminium, 10 % copper"),
    ("cca15", "copper-clad aluminium, 15 % copper"),
)
ConductorMaterial = Annotated[Material, Choice("Conductor", options=MATERIAL_OPTIONS)]
ConductorTemperature = Annotated[
    float,
    Number(
        "Temperature of the conductor",
        low=-40,
        high=200,
        hint="Warm copper resists more: 12 % at 50 °C against 20 °C.",
    ),
]


@dataclass(frozen=True, kw_only=True)
class HeatLimits:
    """What decides how much current a cable may carry: insulation, air, what lies beside it."""

    insulation_c: Annotated[
        float | None,
        Number(
            "Insulation rated for",
            low=60,
            high=300,
            hint="Printed on the cable; only 105 °C has a table. No marking: not known.",
        ),
    ] = 105.0
    engine_space: Annotated[
        bool | None,
        YesNo(
            "Does it start at a battery under the bonnet?",
            empty="not known: taken as under the bonnet",
            hint="In an engine space, and wherever the air may have 50 °C, a cable may carry 0.85 "
            "of the table, less where it is hotter.",
        ),
    ] = False
    engine_c: Annotated[
        float,
        Number(
            "Air under the bonnet, where it starts",
            low=30,
            high=104,
            presets=(50, 70, 85),
            hint="Counts only with a battery under the bonnet; 50 to 85 is usual.",
            source="the published factor is for 50 °C",
        ),
    ] = 50.0
    bundle: Annotated[
        int,
        Whole(
            "Current-carrying conductors together",
            low=1,
            high=MOST_IN_BUNDLE,
            hint="In one tube or tie: three × 0.7, four to six × 0.6.",
        ),
    ] = 1

    @property
    def in_engine_space(self) -> bool:
        """Whether the cable counts as starting in an engine space: also where nobody knows."""
        return self.engine_space is not False

    def permitted_a(self, size: Size, material: Material) -> float | None:
        """Return what a cable may carry under these limits [A]; None where no table says."""
        return permitted_current(
            size,
            material=material,
            insulation_c=self.insulation_c,
            engine_space=self.in_engine_space,
            engine_c=self.engine_c,
            bundle=self.bundle,
        )


@dataclass(frozen=True, kw_only=True)
class CableKind(HeatLimits):
    """The cable that all runs of an installation are made of."""

    material: ConductorMaterial = "copper"
    sizes: Annotated[
        System,
        Choice("Sizes", options=(("metric", "metric, mm²"), ("awg", "gauges, AWG"))),
    ] = "metric"
    conductor_c: ConductorTemperature = 50.0
