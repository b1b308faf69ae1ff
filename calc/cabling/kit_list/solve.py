"""What a job's runs and leads must be."""

from dataclasses import dataclass

from calc.cabling.kit_list.inputs import Inputs
from calc.cabling.kit_list.job import (
    Job,
    SignalKit,
    SpeakerLead,
    job_of,
    signal_kit,
    speaker_leads,
)
from calc.cabling.kit_list.power import Power, power_of
from calc.cabling.tree import upper_drops


@dataclass(frozen=True, kw_only=True)
class Result:
    """A job worked out.

    power : the runs from the battery; None where there are none to an amplifier
    upper_drops_v : what each amplifier loses as class AB [V], where the class is not known
    signal : how far the kit's signal leads reach
    leads : the speaker leads as they are bought
    """

    job: Job
    power: Power | None
    upper_drops_v: tuple[float, ...] | None
    signal: SignalKit
    leads: tuple[SpeakerLead, ...]


def solve(inputs: Inputs) -> Result:
    """Size the runs and leads of a job."""
    job = job_of(inputs)
    power = power_of(inputs, job)
    upper_drops_v = None
    if power is not None and power.plan is not None:
        upper_drops_v = upper_drops(power.tree, power.plan, job.rules)
    return Result(
        job=job,
        power=power,
        upper_drops_v=upper_drops_v,
        signal=signal_kit(job),
        leads=speaker_leads(job),
    )
