"""What may be wrong with readings: no such step, one twice, or not of its kind."""

import re
from collections import Counter
from collections.abc import Iterator

from calc.inputs.errors import shown
from calc.inputs.problems import Problem
from calc.setup.commissioning.inputs import MOST_OUTPUTS, Inputs, OutputRow, ReadingRow
from calc.setup.commissioning.steps import Step, is_open_allowed, steps_of
from calc.setup.ways import Mode

# A sheet that was changed may still hold readings of steps that it had.
_AT = "|".join(str(at) for at in range(1, MOST_OUTPUTS + 1))
_GONE = re.compile(rf"(?:coil|target)_(?:{_AT})_(?:ohm|v)|source_v|clean_v")


def readings_fit_the_steps(
    *,
    outputs: tuple[OutputRow, ...],
    resting_v: float,
    running_v: float,
    drop_v: float,
    loop_mohm: float | None,
    quiescent_a: float | None,
    source_v: float | None,
    factory_v: float | None,
    turned_on_by: Mode | None,
    readings: tuple[ReadingRow, ...],
) -> Iterator[Problem]:
    """Yield what is wrong with readings."""
    system = Inputs(
        outputs=outputs,
        resting_v=resting_v,
        running_v=running_v,
        drop_v=drop_v,
        loop_mohm=loop_mohm,
        quiescent_a=quiescent_a,
        source_v=source_v,
        factory_v=factory_v,
        turned_on_by=turned_on_by,
    )
    steps = {step.key: (at, step) for at, step in enumerate(steps_of(system), 1)}
    for key, count in Counter(row.step for row in readings).items():
        if count > 1:
            yield _problem(key, f"The check {shown(key)} is listed {count} times. Enter it once.")
    for row in readings:
        if row.step in steps:
            yield from _misfit(*steps[row.step], row.reading)
        elif not _GONE.fullmatch(row.step):
            known = ", ".join(steps)
            yield _problem(
                row.step, f"There is no check ‘{shown(row.step)}’. The checks are {known}."
            )


def _misfit(at: int, step: Step, reading: str) -> Iterator[Problem]:
    is_word = reading in ("yes", "no")
    if step.kind == "tick" and not is_word:
        yield _problem(step.key, f"Check {at}: ‘{shown(reading)}’ is not a tick. Enter yes or no.")
    elif step.kind != "tick" and (is_word or (reading == "open" and not is_open_allowed(step))):
        or_open = ", or open" if is_open_allowed(step) else ""
        yield _problem(
            step.key,
            f"Check {at}: ‘{shown(reading)}’ is not a reading. Enter a number in "
            f"{step.unit}{or_open}.",
        )


def _problem(key: str, words: str) -> Problem:
    return Problem(field="readings", given=key, words=words)
