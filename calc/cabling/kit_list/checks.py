"""What is wrong with several fields of `kit-list` together."""

from collections.abc import Iterator, Sequence

from calc.cabling.kit_list.power import power_runs
from calc.cabling.kit_list.rows import Amplifier, DifferingLoad, Route
from calc.cabling.tree import Run, tree_problems
from calc.cabling.tree_feed import MOST_RUNS, battery_is_fed
from calc.inputs.problems import Problem, verbatim
from calc.parts.draw import (
    lowest_regulated_voltage_is_below_the_supply,
    own_fuses_are_ratings,
)
from calc.parts.own_draw import idle_is_a_part_of_rows, lowest_voltages_are_below


def idle_is_a_part_of_each(
    *, amplifiers: tuple[Amplifier, ...], idle_w: float, efficiency_percent: float
) -> Iterator[Problem]:
    """Yield what is wrong with the idle power, beside that of the weakest amplifier."""
    known = [(row, row.total_power_w) for row in amplifiers if row.total_power_w is not None]
    yield from idle_is_a_part_of_rows(known, "amplifiers", idle_w, efficiency_percent)


def lowest_voltages_are_below_the_supply(
    *, amplifiers: tuple[Amplifier, ...], supply_v: float
) -> Iterator[Problem]:
    """Yield what is wrong with the lowest regulated voltage of an amplifier."""
    yield from lowest_voltages_are_below(amplifiers, "amplifiers", supply_v)


def amplifiers_have_names_of_their_own(*, amplifiers: tuple[Amplifier, ...]) -> Iterator[Problem]:
    """Yield the names that appear twice."""
    names = [row.name for row in amplifiers]
    for name in dict.fromkeys(names):
        if names.count(name) > 1:
            yield Problem(
                field="amplifiers",
                given=name,
                words="{given} appears twice. Give each amplifier its own name.",
            )


def loads_are_at_ends_of_leads(
    *, routes: tuple[Route, ...], loads: tuple[DifferingLoad, ...]
) -> Iterator[Problem]:
    """Yield the loads at which no speaker lead ends."""
    ends = {route.end for route in routes if route.what == "speaker"}
    for row in loads:
        if row.end not in ends:
            yield Problem(
                field="loads",
                label="Speakers that differ",
                given=row.end,
                words="no speaker cable ends at ‘{given}’. Enter an end as it is named in the "
                "routes.",
            )


def power_runs_are_a_tree(*, routes: tuple[Route, ...]) -> Iterator[Problem]:
    """Yield what keeps the power routes from being a tree that begins at the battery."""
    runs = power_runs(routes)
    wrong = [words for _, words in tree_problems(runs, ())] if runs else []
    wrong += battery_is_fed(runs)
    if len(runs) > MOST_RUNS:
        wrong.append(f"{len(runs)} power runs. Enter up to {MOST_RUNS}.")
    for words in wrong:
        yield _of_power(runs, words)


def amplifiers_feed_nothing(
    *, routes: tuple[Route, ...], amplifiers: tuple[Amplifier, ...]
) -> Iterator[Problem]:
    """Yield the amplifiers at which power routes begin."""
    runs = power_runs(routes)
    roots = {run.start for run in runs} - {run.end for run in runs}
    for row in amplifiers:
        if row.name in roots:
            words = f"No run feeds {row.name}. The first run must start at the battery."
            yield _of_power(runs, words)


def _of_power(runs: Sequence[Run], words: str) -> Problem:
    ways = ", ".join(f"{run.start} to {run.end}" for run in runs)
    return Problem(field="routes", label="Routes, power", given=ways, words=verbatim(words))


CHECKS = (
    lowest_regulated_voltage_is_below_the_supply,
    own_fuses_are_ratings,
    idle_is_a_part_of_each,
    lowest_voltages_are_below_the_supply,
    amplifiers_have_names_of_their_own,
    loads_are_at_ends_of_leads,
    power_runs_are_a_tree,
    amplifiers_feed_nothing,
)
