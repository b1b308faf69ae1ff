"""One run from the battery, worked out: its currents, its fuse, its least and its bought size."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from calc.cabling.given import demand_of, fuse_current, fuse_for, rules_of
from calc.cabling.sizing import Offer, Rules, RunChoice, choose, total_drop
from calc.physics.amplifier_draw import Demand
from calc.physics.main_fuse import MainFuse


@dataclass(frozen=True, kw_only=True)
class OneRun:
    """A run of power cable.

    ampere : current at the chosen duty, which sets the drop [A]
    full_a : current that fuse and cable must carry [A]
    chosen, kit : the least size, and the size in which it is bought
    """

    rules: Rules
    demand: Demand
    ampere: float
    full_a: float
    length_m: float
    fuse: MainFuse
    chosen: RunChoice
    kit: Offer | None

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


def one_run(given: Mapping[str, Any]) -> OneRun:
    """Return the run that the read values of `power-cable` describe."""
    rules, power = rules_of(given), given["total_power_w"]
    demand, full = demand_of(given, power), fuse_current(given, power)
    fuse = fuse_for(given, rules, full)
    ampere, length = demand.current(given["duty"]), given["length_m"]
    chosen = choose(rules, ampere=ampere, full_a=full, length_m=length, fuse_a=fuse.rating_a)
    return OneRun(
        rules=rules,
        demand=demand,
        ampere=ampere,
        full_a=full,
        length_m=length,
        fuse=fuse,
        chosen=chosen,
        kit=rules.kit_offer(chosen.offer),
    )
