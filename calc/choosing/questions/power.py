"""What a plan asks of the power cable: one run for one amplifier, a tree for several."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from calc.cabling import cable_tree
from calc.choosing.installed import Installed
from calc.choosing.layouts.feeds import Job
from calc.choosing.questions.cabling import (
    LONGEST_M,
    SHARED_CABLE,
    CableQuestion,
    TreeQuestion,
    cable_question,
    place_unsure,
)
from calc.choosing.questions.question import Known, Question, Unsure, together
from calc.choosing.questions.sets import TreeLoad, load_rows, rows_unsure
from calc.choosing.questions.sources import from_system, same
from calc.inputs.field_base import Value
from calc.inputs.rows import Rows
from calc.system.speakers import LONGEST_NAME
from calc.system.usual import BRANCH, EARTH, RUN_RANGE_M, TRIGGER_A, Assumed

PowerQuestion = CableQuestion | TreeQuestion
BATTERY, BLOCK = "battery", "distribution block"
_SHORTEST_M = 0.05  # what the fields of the lengths take at least


def power_question(
    job: Job, loads: Sequence[TreeLoad], run_m: float | None = None
) -> PowerQuestion:
    """Ask for the power cable of one amplifier, or for main run and branches of several.

    run_m : taken where nobody told how far the battery is, to judge by; else that is missing
    """
    if len(loads) == 1 and not loads[0].is_later:
        return cable_question(job, loads[0].total_w, loads[0].amplifier, run_m)
    return branches_question(job, loads, run_m)


def branches_question(
    job: Job, loads: Sequence[TreeLoad], run_m: float | None = None
) -> TreeQuestion:
    """Ask for main run, branches and their fuses: over each way with its earth lead and slack.

    The full-power current of the set is the sum of P/(η·V), each with its own efficiency.
    """
    calculator, leads = cable_tree.CABLE_TREE, job.system.leads
    names = place_names(loads)
    power_m = leads.power_m if leads.power_m is not None else run_m
    rows = load_rows(job, loads, names)
    lacking = [f"the power of {load.name}" for load in loads if load.total_w is None]
    if power_m is None:
        lacking.append("the length of the power cable")
    rows_field = calculator.form.by_key["loads"]
    assert isinstance(rows_field, Rows)
    columns = {column.key: column for column in rows_field.columns}
    asked = Question(
        calculator=calculator,
        figures={
            "runs": Known(
                run_rows(job, names, power_m or 1.0, branch_of(job), leads.earth_m or 0.0),
                "6 Cables: power cable, branches and earth leads, with slack",
            ),
            "loads": Known(tuple(rows), "worked out: all outputs of each amplifier"),
            "supply_v": from_system(job, "running_v"),
            **same(job, "duty", *SHARED_CABLE),
        },
        unknown=tuple(lacking),
        unsure=None
        if lacking
        else together(
            rows_unsure(job, loads, rows, columns, "loads"),
            _lengths_unsure(job, names),
            place_unsure(job),
        ),
    )
    unclassed = [load.name for load in loads if load.amplifier.amplifier_class is None]
    if not unclassed or asked.verdict.state != "not known":
        return asked
    by_ab = _sized_for_ab(asked, unclassed)
    return by_ab if by_ab.verdict.state == "likely" else asked


def place_names(loads: Sequence[TreeLoad]) -> list[str]:
    """Return a name for the place of each amplifier: its own, numbered where two are alike."""
    taken = {BATTERY, BLOCK}
    names = []
    for load in loads:
        name = place_name(load.name)
        tries = (name, *(_numbered(name, number) for number in range(2, 20)))
        name = next(name for name in tries if name.casefold() not in taken)
        taken.add(name.casefold())
        names.append(name)
    return names


def place_name(name: str) -> str:
    """Return an amplifier's name as a place has it: cut, but for a number behind it.

    >>> place_name("Hazel 4-50"), place_name("A very long name of a box (2)")
    ('Hazel 4-50', 'A very long name of  (2)')
    """
    cut, tail = (name[:-4], name[-4:]) if _NUMBERED.search(name) else (name, "")
    return cut[: LONGEST_NAME - len(tail)] + tail


_NUMBERED = re.compile(r" \([2-9]\)$")


def _numbered(name: str, number: int) -> str:
    tail = f" ({number})"
    return name[: LONGEST_NAME - len(tail)] + tail


def branch_of(job: Job) -> float:
    """Return how long a branch is [m]: as told, else the usual."""
    told = job.system.leads.branch_m
    return float(BRANCH.value) if told is None else told


def set_taken(job: Job, together: Installed) -> Iterator[Assumed]:
    """Yield the usual figures that several amplifiers take and one alone does not."""
    if together.is_single:
        return
    if job.given.leads.branch_m is None:
        yield Assumed("cable", BRANCH, ("branch_m",))
    for part in together.parts:
        if part.given.trigger_a is None and part.amplifier.trigger:
            yield Assumed(part.name, TRIGGER_A, ("amplifier", part.at, "trigger_a"))


def run_rows(
    job: Job, names: Sequence[str], power_m: float, branch_m: float, earth_m: float
) -> tuple[Mapping[str, Value], ...]:
    """Return main run and branches as rows, each length with its slack.

    power_m, branch_m, earth_m : as they are laid, one way [m]
    """

    def slack(length_m: float) -> float:
        longer = length_m * (1 + job.system.leads.slack_percent / 100)
        return round(min(max(longer, _SHORTEST_M), LONGEST_M), 6)

    main = {"from": BATTERY, "to": BLOCK, "length_m": slack(power_m), "earth_m": None}
    earth = slack(earth_m) if earth_m else None
    return (
        main,
        *(
            {"from": BLOCK, "to": name, "length_m": slack(branch_m), "earth_m": earth}
            for name in names
        ),
    )


def _lengths_unsure(job: Job, names: Sequence[str]) -> Unsure | None:
    """Return how long the ways may be where battery, branches or earth are not told."""
    given = job.given.leads
    words = {
        "power_m": "how far away the battery is",
        "branch_m": f"the branches (we use {BRANCH.value:g}\u202fm)",
        "earth_m": f"the earth leads (we use {EARTH.value:g}\u202fm)",
    }
    keys = tuple(key for key in words if getattr(given, key) is None)
    if not keys:
        return None

    def end(power_m: float, branch_m: float, earth_m: float) -> dict[str, Value]:
        told = (given.power_m, given.branch_m, given.earth_m)
        lengths = [
            taken if known is None else known
            for known, taken in zip(told, (power_m, branch_m, earth_m), strict=True)
        ]
        return {"runs": run_rows(job, names, *lengths)}

    earth_m = job.system.leads.earth_m or 0.0
    return Unsure(
        tuple(words[key] for key in keys),
        worst=end(LONGEST_M, LONGEST_M, LONGEST_M),
        best=end(_SHORTEST_M, _SHORTEST_M, _SHORTEST_M),
        likely=end(RUN_RANGE_M[1], float(BRANCH.high or BRANCH.value), earth_m),
        keys=keys,
    )


def _sized_for_ab(asked: TreeQuestion, unclassed: Sequence[str]) -> TreeQuestion:
    """Return the question with class AB where no class is told: it draws more of the two."""

    def with_class(value: Value) -> Value:
        return tuple({**row, "amplifier_class": row["amplifier_class"] or "ab"} for row in value)

    def of_end(end: Mapping[str, Value]) -> Mapping[str, Value]:
        return {**end, **({"loads": with_class(end["loads"])} if "loads" in end else {})}

    known = asked.figures["loads"]
    unsure = None if asked.unsure is None else asked.unsure.at_each_end(of_end)
    of_class = Unsure(
        tuple(f"the class of {name} (we use AB)" for name in unclassed),
        worst=None,
        best=None,
        likely={},
    )
    words = "not known: sized for class AB, which draws more"
    loads = replace(known, value=with_class(known.value), words=words)
    return replace(
        asked, figures={**asked.figures, "loads": loads}, unsure=together(unsure, of_class)
    )
