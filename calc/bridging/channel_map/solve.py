"""Which section goes on which outputs."""

from dataclasses import dataclass

from calc.bridging.assigning import plans
from calc.bridging.channel_map.fixed_outputs import outputs_of
from calc.bridging.channel_map.inputs import Inputs
from calc.bridging.mapping import Plan, Section
from calc.physics.channel_power import Channel


@dataclass(frozen=True, kw_only=True)
class Result:
    """Every grouping that carries the sections, best first.

    factor : what the supply makes of rated power [1]
    """

    sections: tuple[Section, ...]
    channel: Channel
    factor: float
    plans: tuple[Plan, ...]

    @property
    def best(self) -> Plan | None:
        """The best of them; None where no grouping carries the sections."""
        return self.plans[0] if self.plans else None


def solve(inputs: Inputs) -> Result:
    """Try every grouping of the channels."""
    fixed = {row.row: outputs_of(row.outputs) for row in inputs.settled}
    sections = tuple(
        Section(
            name=row.section,
            load_ohm=row.load_ohm,
            rated_w=row.rated_w,
            sensitivity_db=row.sensitivity_db,
            speakers=row.speakers,
            settled=fixed.get(number, ()),
        )
        for number, row in enumerate(inputs.sections, start=1)
    )
    channel, factor = inputs.plate.channel, inputs.supply.factor
    return Result(
        sections=sections,
        channel=channel,
        factor=factor,
        plans=plans(sections, channel, channels=inputs.channels, supply_factor=factor),
    )
