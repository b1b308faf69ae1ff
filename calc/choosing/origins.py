"""Where each figure is from: the reader, the usual figures, or an example that still stands."""

from collections.abc import Iterator, Mapping
from functools import cache

from calc.choosing.candidates import Candidate
from calc.choosing.examples import STARTS
from calc.choosing.layouts.feeds import Job
from calc.choosing.questions.question import Path
from calc.inputs.declared import values_of
from calc.inputs.field_base import Value
from calc.system.amplifier import Amplifier
from calc.system.files.system_file import empty_system
from calc.system.system import SYSTEM_FIELDS, System
from calc.system.usual import Assumed, Origin

_TABLES = ("speakers", "networks", "head_filters", "keep_outs", "entries", "amplifier")


@cache
def _example(name: str) -> Mapping[str, Value]:
    """Return the figures of an example by its name; none of a name that is not one."""
    for start in STARTS:
        if start.texts["example"] == name:
            return {
                field.key: field.read(start.texts[field.key])
                for field in SYSTEM_FIELDS
                if field.key != "example"
            }
    return {}


@cache
def _unsaid() -> Mapping[str, Value]:
    """Return what each figure of a system is that nobody told: the usual one, or not known."""
    empty = empty_system()
    return {field.key: field.read(empty[field.key]) for field in SYSTEM_FIELDS}


def usual_settings(system: System) -> Iterator[Path]:
    """Yield the place of each setting that stands at its usual figure, such as copper cable."""
    values = values_of(system)
    for key, value in _unsaid().items():
        if key not in (*_TABLES, "example") and value is not None and values[key] == value:
            yield (key,)


def example_label(system: System) -> str:
    """Return the example whose figures still stand, in words; empty where there is none."""
    names = {start.texts["example"]: start.label for start in STARTS}
    return names.get(system.example or "", "")


def example_figures(system: System, amplifiers: tuple[Amplifier, ...] = ()) -> Iterator[Path]:
    """Yield the place of each figure that is the example's.

    Its figures stand as long as its name does: what differs from it is the reader's.
    """
    example = _example(system.example or "")
    if not example:
        return
    values = {**values_of(system), "amplifier": amplifiers}
    for key, theirs in example.items():
        if key not in _TABLES:
            if values[key] is not None and values[key] == theirs and theirs != _unsaid()[key]:
                yield (key,)
            continue
        for at, (row, other) in enumerate(zip(values[key], theirs, strict=False)):
            mine, invented = values_of(row), values_of(other)
            for column, value in mine.items():
                if value is not None and value == invented[column]:
                    yield (key, at, column)


def assumed_of(job: Job, candidate: Candidate | None) -> tuple[Assumed, ...]:
    """Return every usual figure that was taken: the amplifier's first, then the system's."""
    own = () if candidate is None else candidate.taken
    return (*own, *job.assumed)


def origin(path: Path | None, assumed: frozenset[Path], examples: frozenset[Path]) -> Origin:
    """Return where a figure is from that stands at this place of the system.

    >>> origin(("power_m",), frozenset(), frozenset({("power_m",)}))
    'example'
    """
    if path is not None and path in assumed:
        return "usual"
    return "example" if path is not None and path in examples else "yours"
