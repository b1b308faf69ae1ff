"""The fields of a tree of runs, what they come to, and what is wrong with them together."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from calc.cabling.fields import INVENTED
from calc.cabling.given import (
    check_idle,
    check_own_fuses,
    check_regulated,
    demand_of,
    fuse_current,
    fuse_for,
    fuse_note,
    rules_of,
)
from calc.cabling.tree import Load, Run, Tree, tree_problems
from calc.inputs.errors import FieldError, shown
from calc.inputs.fields import Number, Rows, Text
from calc.physics.main_fuse import MainFuse

MOST_RUNS = 16  # more take seconds where many lie in series without a load between them
LONGEST_NAME = 24


def place_field(key: str, label: str, default: str) -> Text:
    """Return a field for the name of a place."""
    return Text(key=key, label=label, default=default, longest=LONGEST_NAME)


RUNS = Rows(
    key="runs", label="Runs", row_name="run", most=MOST_RUNS, source=INVENTED,
    default="battery,distribution,3;distribution,Hazel 4-50,0.5;distribution,Rowan 4-75,0.8",
    hint="A row for each cable; it starts where another ends, the first at the battery.",
    columns=(
        place_field("from", "from", "distribution"),
        place_field("to", "to", "amplifier"),
        Number(key="length_m", label="length", default="1", low=0.01, high=100),
    ),
)  # fmt: skip
LOADS = Rows(
    key="loads", label="Loads", row_name="load", most=12, source=INVENTED,
    default="Hazel 4-50,250;Rowan 4-75,370",
    hint="A row for each amplifier: the place it stands at, and its continuous power.",
    columns=(
        place_field("at", "at", "amplifier"),
        Number(key="power_w", label="power", default="250", low=1, high=20_000),
    ),
)  # fmt: skip


def load_of(given: Mapping[str, Any], at: str, power_w: float) -> Load:
    """Return what an amplifier of a power draws at a place."""
    demand, duty = demand_of(given, power_w), given["duty"]
    return Load(
        at=at,
        ampere=demand.current(duty),
        full_a=fuse_current(given, power_w),
        most_a=demand.upper_current(duty),
        power_a=demand.full_a,
    )


def main_fuse_of(given: Mapping[str, Any], loads: Sequence[Load]) -> MainFuse:
    """Return the fuse of a run that feeds every load."""
    return fuse_for(given, rules_of(given), sum(load.full_a for load in loads))


def settled_fuse_a(given: Mapping[str, Any], loads: Sequence[Load]) -> float | None:
    """Return the main fuse [A] where it is the maker's or bounded by the own fuses."""
    fuse = main_fuse_of(given, loads)
    return fuse.rating_a if fuse.by in ("maker", "own-fuses") else None


def main_fuse_note(given: Mapping[str, Any], tree: Tree) -> str | None:
    """Say what the main fuse follows; None unless one run feeds every load."""
    if len(tree.trunks) != 1 or not tree.loads:
        return None
    full_a = sum(load.full_a for load in tree.loads)
    return fuse_note(given, main_fuse_of(given, tree.loads), full_a)


def tree_of(given: Mapping[str, Any]) -> Tree:
    """Return the tree that the read values describe; raises `NotATree`."""
    loads = tuple(load_of(given, row["at"], row["power_w"]) for row in given["loads"])
    return Tree(
        runs=tuple(
            Run(start=row["from"], end=row["to"], length_m=row["length_m"]) for row in given["runs"]
        ),
        loads=loads,
        main_fuse_a=settled_fuse_a(given, loads),
    )


def battery_is_fed(runs: Iterable[Run]) -> list[str]:
    """Return the runs' mistake of leading to the battery, in words."""
    return [
        f"A run leads to the {run.end}; runs lead away from it. Turn it round."
        for run in runs
        if run.end.casefold() == "battery"
    ]


def check(given: Mapping[str, Any]) -> Iterable[FieldError]:
    """Return what is wrong with inputs together."""
    errors = [*check_regulated(given), *check_own_fuses(given)]
    by_key = {one.key: one for one in (RUNS, LOADS)}
    loads = given.get("loads")
    if loads:
        errors += check_idle(given, min(row["power_w"] for row in loads))
    if given.get("runs"):
        runs = [
            Run(start=row["from"], end=row["to"], length_m=row["length_m"]) for row in given["runs"]
        ]
        wrong = tree_problems(runs, [row["at"] for row in loads or ()])
        wrong += [("runs", message) for message in battery_is_fed(runs)]
        errors += [
            FieldError(key, shown(by_key[key].write(given[key])), f"{by_key[key].label}: {message}")
            for key, message in wrong
        ]
    return errors
