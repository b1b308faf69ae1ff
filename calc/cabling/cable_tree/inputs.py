"""What `cable-tree` asks."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated

from calc.answers.calculator import Group
from calc.cabling.groups import CABLE_GROUPS, CABLE_KEYS, DRAW_KEYS
from calc.cabling.tree import Run, tree_problems
from calc.cabling.tree_feed import MOST_RUNS, battery_is_fed, place
from calc.inputs.declared import fields_of
from calc.inputs.fields import Number, YesNo
from calc.inputs.problems import Problem, verbatim
from calc.inputs.rows import Rows
from calc.parts.cable_kind import CableKind
from calc.parts.current_way import ReturnBy, Way
from calc.parts.draw import (
    Draw,
    Duty,
    SupplyVolts,
    lowest_regulated_voltage_is_below_the_supply,
    own_fuses_are_ratings,
)
from calc.parts.own_draw import (
    OwnClass,
    OwnEfficiency,
    OwnFuses,
    OwnIdle,
    OwnLowest,
    idle_is_a_part_of_rows,
    lowest_voltages_are_below,
)


@dataclass(frozen=True, kw_only=True)
class RunRow:
    """A cable from one place to another."""

    start: Annotated[str, place("from", "distribution", as_key="from")]
    end: Annotated[str, place("to", "amplifier", as_key="to")]
    length_m: Annotated[float, Number("length", low=0.01, high=100, start=1.0)]
    earth_m: Annotated[float | None, Number("earth lead", low=0.01, high=100, more=True)] = None

    def run_of(self, return_by: ReturnBy) -> Run:
        """Return the run that the row describes; an earth lead counts where the body returns."""
        earth_m = self.earth_m or 0.0 if return_by == "body" else 0.0
        return Run(start=self.start, end=self.end, length_m=self.length_m, earth_m=earth_m)


@dataclass(frozen=True, kw_only=True)
class LoadRow:
    """An amplifier: where it stands, its power, and how it draws where that is its own.

    later : planned for later; cables, holder and block are made for it, fuses for the others
    """

    at: Annotated[str, place("at", "amplifier")]
    power_w: Annotated[float, Number("power", low=1, high=20_000, start=250.0)]
    efficiency_percent: OwnEfficiency = None
    amplifier_class: OwnClass = None
    idle_w: OwnIdle = None
    own_fuses_a: OwnFuses = None
    regulated_min_v: OwnLowest = None
    later: Annotated[bool, YesNo("planned for later", more=True)] = False


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """Runs that form a tree, and the amplifiers connected to it."""

    runs: Annotated[
        tuple[RunRow, ...],
        Rows(
            "Cable runs",
            row_name="run",
            most=MOST_RUNS,
            example="battery,distribution,3;distribution,Hazel 4-50,0.5;"
            "distribution,Rowan 4-75,0.8",
            hint="A row for each cable. The first starts at the battery, the others where one "
            "before "
            "them ends. Earth lead: the length for the amplifier at the end of the run.",
            added=1,
        ),
    ]
    loads: Annotated[
        tuple[LoadRow, ...],
        Rows(
            "Amplifiers",
            row_name="amplifier",
            most=12,
            example="Hazel 4-50,250;Rowan 4-75,370",
            hint="A row for each amplifier: where it is, named as in the runs, and its RMS power. "
            "Anything else in the row is for that amplifier only.",
            added=6,
        ),
    ]
    supply_v: SupplyVolts = 14.4
    duty: Duty = "full"
    draw: Draw
    cable: CableKind
    way: Way


def idle_is_a_part_of_each(
    *, loads: tuple[LoadRow, ...], idle_w: float, efficiency_percent: float
) -> Iterator[Problem]:
    """Yield what is wrong with the idle power, beside that of the weakest amplifier."""
    powers = [(row, row.power_w) for row in loads]
    yield from idle_is_a_part_of_rows(powers, "loads", idle_w, efficiency_percent)


def lowest_voltages_are_below_the_supply(
    *, loads: tuple[LoadRow, ...], supply_v: float
) -> Iterator[Problem]:
    """Yield what is wrong with the lowest regulated voltage of a load."""
    yield from lowest_voltages_are_below(loads, "loads", supply_v)


def runs_are_a_tree(*, runs: tuple[RunRow, ...]) -> Iterator[Problem]:
    """Yield what keeps the runs from being a tree."""
    for _, words in tree_problems([row.run_of("body") for row in runs], ()):
        yield _of_runs(runs, words)


def loads_hang_on_runs(
    *, runs: tuple[RunRow, ...], loads: tuple[LoadRow, ...]
) -> Iterator[Problem]:
    """Yield which loads no run leads to."""
    text = fields_of(Inputs)["loads"].write(loads)
    at, made = [row.at for row in loads], [row.run_of("body") for row in runs]
    for field, words in tree_problems(made, at):
        if field == "loads":
            yield Problem(field="loads", given=text, words=verbatim(words))


def no_run_leads_to_the_battery(*, runs: tuple[RunRow, ...]) -> Iterator[Problem]:
    """Yield the runs that lead the wrong way."""
    for words in battery_is_fed(row.run_of("body") for row in runs):
        yield _of_runs(runs, words)


def _of_runs(runs: tuple[RunRow, ...], words: str) -> Problem:
    return Problem(field="runs", given=fields_of(Inputs)["runs"].write(runs), words=verbatim(words))


FORM = (
    Group("The cable runs", ("runs", "loads")),
    Group("The amplifiers", ("efficiency_percent", "supply_v", "duty"), more=DRAW_KEYS),
    *CABLE_GROUPS,
)
ORDER = ("runs", "loads", "efficiency_percent", "supply_v", "duty", *DRAW_KEYS, *CABLE_KEYS)
CHECKS = (
    lowest_regulated_voltage_is_below_the_supply,
    own_fuses_are_ratings,
    idle_is_a_part_of_each,
    lowest_voltages_are_below_the_supply,
    runs_are_a_tree,
    loads_hang_on_runs,
    no_run_leads_to_the_battery,
)
