"""Figures of a system and of an amplifier, with where they are from."""

from calc.choosing.layouts.feeds import Job
from calc.choosing.questions.question import Known
from calc.system.amplifier import Amplifier
from calc.system.system import STEP_OF


def from_system(job: Job, key: str) -> Known:
    """Return a field of the system."""
    step = STEP_OF[key]
    label = next(field.label for field in step.fields if field.key == key)
    return Known(job.values[key], f"{step.heading}: {label}", (key,))


def same(job: Job, *keys: str) -> dict[str, Known]:
    """Return fields of the system that a calculator calls by the same names."""
    return {key: from_system(job, key) for key in keys}


def from_amplifier(amplifier: Amplifier, key: str) -> Known:
    """Return a figure of the amplifier."""
    words = f"the amplifier {amplifier.name}"
    return Known(getattr(amplifier, key), words, ("amplifier", 0, key))
