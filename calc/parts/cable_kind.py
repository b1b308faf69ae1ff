"""Power cable: what it is made of, and what decides its current rating."""

from dataclasses import dataclass
from typing import Annotated

from calc.inputs.fields import Choice, Number, Whole, YesNo
from calc.physics.conductors import Material, Size, System
from calc.physics.permitted_current import MOST_IN_BUNDLE, permitted_current

MATERIAL_OPTIONS: tuple[tuple[Material, str], ...] = (
    ("copper", "copper"),
    ("cca10", "copper-clad aluminium (CCA), 10 % copper"),
    ("cca15", "copper-clad aluminium (CCA), 15 % copper"),
)
ConductorMaterial = Annotated[Material, Choice("Conductor metal", options=MATERIAL_OPTIONS)]
ConductorTemperature = Annotated[
    float,
    Number(
        "Conductor temperature",
        low=-40,
        high=200,
        hint="Warm copper has more resistance: at 50 °C, 12 % more than at 20 °C.",
    ),
]


@dataclass(frozen=True, kw_only=True)
class HeatLimits:
    """What decides a cable's current rating: insulation, air, what lies beside it."""

    insulation_c: Annotated[
        float | None,
        Number(
            "Insulation rating",
            low=60,
            high=300,
            hint="Printed on the cable. We hold current ratings for 105 °C only. No marking: "
            "leave it empty.",
        ),
    ] = 105.0
    engine_space: Annotated[
        bool | None,
        YesNo(
            "Is the battery under the bonnet?",
            empty="not known, and counted as under the bonnet",
            hint="In an engine bay, and wherever the air can reach 50 °C, the current rating drops "
            "to 0.85 of the table; hotter air, lower still.",
        ),
    ] = False
    engine_c: Annotated[
        float,
        Number(
            "Air temperature under the bonnet",
            low=30,
            high=104,
            presets=(50, 70, 85),
            hint="Used only with the battery under the bonnet; 50 to 85 is usual.",
            source="current-ratings",
        ),
    ] = 50.0
    bundle: Annotated[
        int,
        Whole(
            "Current-carrying cables bundled together",
            low=1,
            high=MOST_IN_BUNDLE,
            hint="In one conduit or tie wrap. Three: × 0.7. Four to six: × 0.6.",
        ),
    ] = 1

    @property
    def in_engine_space(self) -> bool:
        """Whether the cable counts as starting in an engine space: also where nobody knows."""
        return self.engine_space is not False

    def permitted_a(self, size: Size, material: Material) -> float | None:
        """Return a cable's current rating under these limits [A]; None where no table says."""
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
        Choice("Cable sizes in", options=(("metric", "mm²"), ("awg", "AWG"))),
    ] = "metric"
    conductor_c: ConductorTemperature = 50.0
