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
    """A reading, and the circuit that it should be of."""

    reading_ohm: Annotated[
        float,
        Number(
            "Reading of the meter",
            low=0,
            high=1_000_000,
            example=3.4,
            hint="Ohms, amplifier disconnected. For “no reading” or “OL” give 1000000.",
        ),
    ]
    lead_ohm: Annotated[
        float,
        Number(
            "Leads",
            low=0,
            high=5,
            hint="Touch the probes together and read; add the cable to the free ends.",
            source="common practice, no source",
        ),
    ] = 0.1
    intended: Annotated[
        str,
        Text(
            "Intended circuit",
            example="(1a+1b)|(2a+2b)",
            longest=60,
            hint="As the coil wiring calculator writes it, or its place in that list from 0. + "
            "is series, | is parallel.",
        ),
    ]
    drivers: Drivers
    min_load_ohm: Annotated[
        float,
        Number(
            "Lowest load of the output",
            low=0.25,
            high=64,
            start=2.0,
            hint="Only orders the list that a place is counted in.",
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
        words=f"{error}. Give something like (1a+1b)|(2a+2b), or a place in the list of "
        "coil-wiring, from 0 to 999.",
    )


CHECKS = (coils_are_not_too_many, intended_is_spelt, intended_is_a_circuit)
FORM = (
    Group("The reading", ("reading_ohm", "lead_ohm")),
    Group(
        "What was meant",
        ("intended", "drivers", "coils_per_driver", "coil_ohm"),
        more=("min_load_ohm",),
    ),
)
