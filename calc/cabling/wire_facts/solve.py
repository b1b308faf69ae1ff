"""What a cable is, and what it may carry."""

from dataclasses import dataclass

from calc.cabling.wire_facts.inputs import Inputs
from calc.physics.conductors import (
    RESISTIVITY_RATIO,
    Material,
    Size,
    awg_area_mm2,
    awg_size,
    metric_size,
    nearest_awg,
    round_diameter_mm,
    stranded,
    strands_area_mm2,
)
from calc.physics.permitted_current import PERMITTED_A, largest_fuse


@dataclass(frozen=True, kw_only=True)
class Result:
    """A cable.

    ohm_per_m : its resistance in its material, at the conductor's temperature [Ω/m]
    permitted_a, fuse_a : what it may carry, and its largest fuse [A]; None where no table says
    gauge : the gauge that is nearest; None where none is near
    same_as_copper_mm2 : the copper that resists no more [mm²]
    share_of_sold_percent : its area over that of the gauge that it is sold as [%]
    """

    size: Size
    ohm_per_m: float
    permitted_a: float | None
    fuse_a: float | None
    gauge: str | None
    same_as_copper_mm2: float
    share_of_sold_percent: float | None

    @property
    def diameter_mm(self) -> float:
        """The diameter of the solid wire of its area [mm]."""
        return round_diameter_mm(area_mm2=self.size.area_mm2)


def solve(inputs: Inputs) -> Result:
    """Find out what the cable is."""
    size, share = _size_of(inputs), None
    if inputs.sold_as_awg:
        share = 100 * size.area_mm2 / awg_area_mm2(inputs.sold_as_awg)
    may_carry_a = permitted_a(inputs, size, inputs.material)
    return Result(
        size=size,
        ohm_per_m=size.ohm_per_m(material=inputs.material, conductor_c=inputs.conductor_c),
        permitted_a=may_carry_a,
        fuse_a=largest_fuse(may_carry_a),
        gauge=nearest_awg(area_mm2=size.area_mm2),
        same_as_copper_mm2=size.area_mm2 / RESISTIVITY_RATIO[inputs.material],
        share_of_sold_percent=share,
    )


def _size_of(inputs: Inputs) -> Size:
    """Return the cable: by gauge, area, or strands."""
    if inputs.awg:
        return awg_size(inputs.awg)
    if inputs.mm2:
        return metric_size(inputs.mm2)
    if inputs.strands is None or inputs.strand_mm is None:
        raise ValueError("a cable is given by its AWG, its area, or its strands")
    area_mm2 = strands_area_mm2(strands=inputs.strands, strand_mm=inputs.strand_mm)
    return stranded("the cable", area_mm2)


def permitted_a(inputs: Inputs, size: Size, material: Material) -> float | None:
    """Return the permitted current [A]; a gauge that the table lacks has none."""
    if inputs.awg and inputs.awg not in PERMITTED_A:
        return None
    return inputs.limits.permitted_a(size, material)
