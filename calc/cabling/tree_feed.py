"""What a tree of runs is told by, and what feeds its loads."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Protocol

from calc.cabling.sizing import Rules
from calc.cabling.tree import Load, Run
from calc.inputs.fields import Text
from calc.parts.draw import Draw
from calc.parts.own_draw import OwnDraw, draw_of
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


class FedRow(OwnDraw, Protocol):
    """A row that tells how one of the amplifiers draws."""

    @property
    def own_fuses_a(self) -> float | None:
        """The sum of its own fuses [A]."""

    @property
    def later(self) -> bool:
        """Whether it is planned for later."""


def load_of(inputs: Fed, row: FedRow, *, at: str, power_w: float) -> Load:
    """Return what an amplifier of a power [W] draws at a place: by its row, else as all of them."""
    draw = draw_of(inputs.draw, row)
    demand = draw.demand(power_w=power_w, supply_v=inputs.supply_v)
    return Load(
        at=at,
        ampere=demand.current(inputs.duty),
        full_a=draw.full_current(power_w=power_w, supply_v=inputs.supply_v),
        most_a=demand.upper_current(inputs.duty),
        power_a=demand.full_a,
        own_fuses_a=row.own_fuses_a,
        is_later=row.later,
    )


def fuses_total_a(draw: Draw, loads: Sequence[Load]) -> float | None:
    """Return the sum of the loads' own fuses [A]; None where one is not known."""
    own = [load.own_fuses_a for load in loads if load.own_fuses_a is not None]
    return sum(own) if own and len(own) == len(loads) else draw.by_fuses_a


def main_fuse_of(draw: Draw, rules: Rules, loads: Sequence[Load]) -> MainFuse:
    """Return the fuse of a run that feeds every load: by the sum of their full-power currents."""
    total = fuses_total_a(draw, loads)
    bounded = replace(draw, amp_fuses_a=None if total is None else (total,))
    full_a = sum(load.full_a for load in loads)
    return bounded.main_fuse(full_a=full_a, widest_a=rules.widest_a)


def today_fuse_a(draw: Draw, rules: Rules, loads: Sequence[Load]) -> float | None:
    """Return the main fuse [A] without what is planned for later, where it is bound as above."""
    there = [load for load in loads if not load.is_later]
    if not there or len(there) == len(loads):
        return None
    # The list of all the fuses in a car says nothing of those that are there today.
    known = all(load.own_fuses_a is not None for load in there)
    own = draw if known else replace(draw, amp_fuses_a=None)
    return bound_fuse_a(main_fuse_of(own, rules, there))


def bound_fuse_a(fuse: MainFuse) -> float | None:
    """Return the main fuse [A] where it is the maker's or bounded by the own fuses."""
    return fuse.rating_a if fuse.by in ("maker", "own-fuses") else None


def battery_is_fed(runs: Iterable[Run]) -> list[str]:
    """Return the runs' mistake of leading to the battery, in words."""
    return [
        f"A run ends at the {run.end}. Runs start there: swap “from” and “to”."
        for run in runs
        if run.end.casefold() == "battery"
    ]
