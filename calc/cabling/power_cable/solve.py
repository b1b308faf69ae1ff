"""One run from the battery: its currents, its fuse, its least and its bought size."""

from dataclasses import dataclass

from calc.cabling.power_cable.inputs import Inputs
from calc.cabling.sizing import Offer, Rules, RunChoice, choose, rules_of, total_drop
from calc.physics.amplifier_draw import Demand, drop_loss
from calc.physics.main_fuse import MainFuse


@dataclass(frozen=True, kw_only=True)
class Result:
    """A run of power cable.

    ampere : current at the chosen duty, which sets the drop [A]
    upper_a : the class AB current there, where the class is not known [A]
    full_a : current that fuse and cable must carry [A]
    chosen, kit : the least size, and the size in which it is bought
    """

    rules: Rules
    demand: Demand
    ampere: float
    upper_a: float | None
    full_a: float
    length_m: float
    fuse: MainFuse
    chosen: RunChoice
    kit: Offer | None

    @property
    def size_mm2(self) -> float | None:
        """The least cross-section [mm²]; None where no size does it."""
        return None if self.chosen.offer is None else self.chosen.offer.size.area_mm2

    @property
    def drop_v(self) -> float | None:
        """What the least size loses at the chosen duty [V]."""
        return self.drop(self.chosen.offer, self.ampere)

    @property
    def kit_drop_v(self) -> float | None:
        """What the bought cable loses at full power [V]; None where none is bought."""
        return self.drop(self.kit, self.demand.full_a)

    @property
    def required_mm2(self) -> float | None:
        """The cross-section that keeps the drop, whatever is sold [mm²]."""
        return self.rules.required_mm2(
            ampere=self.ampere, length_m=self.length_m, total_a=self.ampere
        )

    @property
    def output_loss_percent(self) -> float | None:
        """The share of an unregulated amplifier's output that the drop costs [%]."""
        return self.loss_percent(self.drop_v)

    def loss_percent(self, drop_v: float | None) -> float | None:
        """Return the share of an unregulated amplifier's output that a drop costs [%]."""
        if drop_v is None:
            return None
        return 100 * drop_loss(drop_v=drop_v, supply_v=self.demand.supply_v)

    def drop(self, offer: Offer | None, ampere: float | None) -> float | None:
        """Return what a size loses at a current [V]; None where either is missing."""
        if offer is None or ampere is None:
            return None
        return total_drop(self.rules, offer, ampere=ampere, length_m=self.length_m)

    def for_current(self, ampere: float) -> RunChoice:
        """Return the least size for the drop at another current, behind the same fuse."""
        return choose(
            self.rules,
            ampere=ampere,
            full_a=self.full_a,
            length_m=self.length_m,
            fuse_a=self.fuse.rating_a,
        )


def solve(inputs: Inputs) -> Result:
    """Size the run and choose its fuse."""
    power_w, supply_v, length_m = inputs.total_power_w, inputs.supply_v, inputs.length_m
    rules = rules_of(inputs.cable, inputs.way)
    demand = inputs.draw.demand(power_w=power_w, supply_v=supply_v)
    full_a = inputs.draw.full_current(power_w=power_w, supply_v=supply_v)
    fuse = inputs.draw.main_fuse(full_a=full_a, widest_a=rules.widest_a)
    ampere = demand.current(inputs.duty)
    chosen = choose(rules, ampere=ampere, full_a=full_a, length_m=length_m, fuse_a=fuse.rating_a)
    return Result(
        rules=rules,
        demand=demand,
        ampere=ampere,
        upper_a=demand.upper_current(inputs.duty),
        full_a=full_a,
        length_m=length_m,
        fuse=fuse,
        chosen=chosen,
        kit=rules.kit_offer(chosen.offer),
    )
