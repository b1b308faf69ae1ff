"""What `meter-check` asks."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated

from calc.answers.calculator import Group
from calc.coils.meter_check.intended import intended_circuit, is_place
from calc.coils.notation import NotationError, check_spelling
from calc.inputs.fields import Number, Text
from calc.inputs.problems import Problem
from calc.parts.drivers import DriverRow, Drivers, coils_are_not_too_many


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """A reading, and the wiring that it should be of."""

    reading_ohm: Annotated[
        float,
        Number(
            "Meter reading",
            low=0,
            high=1_000_000,
            example=3.4,
            hint="In ohms, across the two leads, amplifier disconnected. For “OL” enter 1000000.",
        ),
    ]
    lead_ohm: Annotated[
        float,
        Number(
            "Meter leads",
            low=0,
            high=5,
            hint="What the meter reads with its probes touched together.",
            source="meter-leads",
        ),
    ] = 0.1
    intended: Annotated[
        str,
        Text(
            "Planned wiring",
            example="(1a+1b)|(2a+2b)",
            longest=60,
            hint="As the voice coil calculator writes it: + is series, | is parallel. Or its place "
            "in that list, counted from 0.",
        ),
    ]
    drivers: Drivers
    min_load_ohm: Annotated[
        float,
        Number(
            "Minimum load of the output",
            low=0.25,
            high=64,
            start=2.0,
            hint="Only needed with a place in the list, which is sorted by it.",
        ),
    ]


def intended_is_spelt(*, intended: str) -> Iterator[Problem]:
    """Yield what is wrong with signs that no notation has."""
    try:
        if not is_place(intended):
            check_spelling(intended)
    except NotationError as error:
        yield _problem(intended, error)


def intended_is_a_circuit(
    *,
    intended: str,
    drivers: int | tuple[DriverRow, ...],
    coils_per_driver: int,
    coil_ohm: float,
    min_load_ohm: float,
) -> Iterator[Problem]:
    """Yield what is wrong with a text, well spelt, that is no circuit of these drivers."""
    described = Drivers(drivers=drivers, coils_per_driver=coils_per_driver, coil_ohm=coil_ohm)
    are_too_many = coils_are_not_too_many(
        drivers=drivers, coils_per_driver=coils_per_driver, coil_ohm=coil_ohm
    )
    if any(are_too_many) or any(intended_is_spelt(intended=intended)):
        return
    try:
        intended_circuit(intended, described.each, min_load_ohm=min_load_ohm)
    except NotationError as error:
        yield _problem(intended, error)


def _problem(intended: str, error: NotationError) -> Problem:
    return Problem(
        field="intended",
        given=intended,
        words=f"{error}. Name every coil once, e.g. (1a+1b)|(2a+2b), or enter a place in the list "
        "of wiring options, 0 to 999.",
    )


CHECKS = (coils_are_not_too_many, intended_is_spelt, intended_is_a_circuit)
FORM = (
    Group("The reading", ("reading_ohm", "lead_ohm")),
    Group(
        "The planned wiring",
        ("intended", "drivers", "coils_per_driver", "coil_ohm"),
        more=("min_load_ohm",),
    ),
)
