"""The steps of this system, and what the readings say of it."""

from collections.abc import Mapping
from dataclasses import dataclass

from calc.setup.commissioning.inputs import Inputs
from calc.setup.commissioning.steps import Finding, Step, finding_of, steps_of


@dataclass(frozen=True, kw_only=True)
class Result:
    """The steps, in their order, and the readings that were taken.

    readings : what was read, by the step's key; those of steps that this system has not as well
    findings : where each reading lies beside what is expected, by the step's key
    """

    steps: tuple[Step, ...]
    readings: Mapping[str, str]
    findings: Mapping[str, Finding]

    @property
    def within(self) -> tuple[Step, ...]:
        """The steps whose reading is as expected."""
        return tuple(step for step in self.steps if self.findings.get(step.key) == "within")

    @property
    def out(self) -> tuple[Step, ...]:
        """The steps whose reading is not as expected."""
        wrong = ("below", "above", "opened")
        return tuple(step for step in self.steps if self.findings.get(step.key) in wrong)

    @property
    def left_out(self) -> tuple[str, ...]:
        """The keys of readings of steps that this system has not."""
        return tuple(key for key in self.readings if key not in self.findings)


def solve(inputs: Inputs) -> Result:
    """Judge what was read."""
    steps = steps_of(inputs)
    readings = {row.step: row.reading for row in inputs.readings}
    return Result(
        steps=steps,
        readings=readings,
        findings={
            step.key: finding_of(step, readings[step.key]) for step in steps if step.key in readings
        },
    )
