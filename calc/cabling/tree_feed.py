"""What a tree of runs is told by, and what feeds its loads."""

from collections.abc import Iterable, Sequence
from typing import Protocol

from calc.cabling.sizing import Rules
from calc.cabling.tree import Load, Run
from calc.inputs.fields import Text
from calc.parts.draw import Draw
from calc.physics.amplifier_draw import Duty
from calc.physics.main_fuse import MainFuse

MOST_RUNS = 16  # more take seconds where many lie in series without a load between them
LONGEST_NAME = 24


class Fed(Protocol):
    """Inputs that say how amplifiers draw."""

    @property
    def supply_v(self) -> float:
        """The voltage at the battery [V]."""

    @property
    def duty(self) -> Duty:
        """The duty that the drop is worked out for."""

    @property
    def draw(self) -> Draw:
        """What the amplifiers draw."""


def place(label: str, start: str, *, as_key: str = "") -> Text:
    """Return a field for the name of a place."""
    return Text(label, start=start, longest=LONGEST_NAME, as_key=as_key)


def load_of(inputs: Fed, *, at: str, power_w: float) -> Load:
    """Return what an amplifier of a power [W] draws at a place."""
    demand = inputs.draw.demand(power_w=power_w, supply_v=inputs.supply_v)
    return Load(
        at=at,
        ampere=demand.current(inputs.duty),
        full_a=inputs.draw.full_current(power_w=power_w, supply_v=inputs.supply_v),
        most_a=demand.upper_current(inputs.duty),
        power_a=demand.full_a,
    )


def main_fuse_of(draw: Draw, rules: Rules, loads: Sequence[Load]) -> MainFuse:
    """Return the fuse of a run that feeds every load."""
    return draw.main_fuse(full_a=sum(load.full_a for load in loads), widest_a=rules.widest_a)


def bound_fuse_a(fuse: MainFuse) -> float | None:
    """Return the main fuse [A] where it is the maker's or bounded by the own fuses."""
    return fuse.rating_a if fuse.by in ("maker", "own-fuses") else None


def battery_is_fed(runs: Iterable[Run]) -> list[str]:
    """Return the runs' mistake of leading to the battery, in words."""
    return [
        f"A run leads to the {run.end}; runs lead away from it. Turn it round."
        for run in runs
        if run.end.casefold() == "battery"
    ]
