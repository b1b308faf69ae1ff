"""What `wire-facts` asks."""

from dataclasses import dataclass
from typing import Annotated

from calc.answers.calculator import Group
from calc.cabling.lead_fields import CoolConductor, gauge
from calc.inputs.fields import Number, Whole
from calc.parts.cable_kind import ConductorMaterial, HeatLimits

_OTHERWISE = "the size is entered in another way"


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """A cable, given by its AWG number, its area or its strands, and where it runs."""

    awg: Annotated[
        str | None,
        gauge(
            "Size in AWG", start="4", hint="As printed on the cable: 4, or 1/0.", empty=_OTHERWISE
        ),
    ]
    mm2: Annotated[
        float | None,
        Number("Size", low=0.02, high=240, empty=_OTHERWISE, hint="As printed on the cable."),
    ] = None
    strands: Annotated[
        int | None, Whole("Number of strands", low=1, high=20000, empty=_OTHERWISE)
    ] = None
    strand_mm: Annotated[
        float | None,
        Number(
            "Strand diameter",
            low=0.02,
            high=12,
            empty=_OTHERWISE,
            hint="Use a micrometer, or lay ten strands side by side.",
        ),
    ] = None
    material: ConductorMaterial = "copper"
    sold_as_awg: Annotated[str | None, gauge("Sold as, in AWG", empty="no claim to check")] = None
    conductor_c: CoolConductor = 20.0
    limits: HeatLimits


FORM = (
    Group("The cable: enter its size once", ("awg", "mm2", "strands", "strand_mm")),
    Group(
        "What it is made of and where it runs",
        ("material", "sold_as_awg", "engine_space", "insulation_c"),
        more=("engine_c", "conductor_c", "bundle"),
    ),
)
WAYS = (("awg",), ("mm2",), ("strands", "strand_mm"))
