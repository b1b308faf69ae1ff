"""What a reading across the two leads to the amplifier can mean."""

from dataclasses import dataclass

from calc.coils.faults import Suspect, suspects
from calc.coils.meter_check.inputs import Inputs
from calc.coils.meter_check.intended import intended_circuit
from calc.physics.coils import Circuit


@dataclass(frozen=True, kw_only=True)
class Result:
    """The circuit that was meant, and what would explain the reading, likeliest first.

    right : that it is wired as intended
    """

    circuit: Circuit
    likely: tuple[Suspect, ...]
    right: Suspect


def solve(inputs: Inputs) -> Result:
    """Work out what the reading can mean."""
    drivers = inputs.drivers.each
    circuit = intended_circuit(inputs.intended, drivers, min_load_ohm=inputs.min_load_ohm)
    likely = suspects(drivers, circuit, reading_ohm=inputs.reading_ohm, lead_ohm=inputs.lead_ohm)
    return Result(
        circuit=circuit,
        likely=tuple(likely),
        right=next(suspect for suspect in likely if suspect.kind == "right"),
    )
