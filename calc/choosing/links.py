"""Ways on between the pages of the whole job: a system as a link holds it."""

from collections.abc import Sequence
from dataclasses import replace

from calc.answers.sheet import Onward
from calc.inputs.declared import fields_of, values_of
from calc.inputs.links import LINK_VERSION, VERSION_KEY
from calc.system.amplifier import Amplifier
from calc.system.files.system_file import empty_system
from calc.system.system import SYSTEM_FIELDS, System


def system_texts(system: System) -> dict[str, str]:
    """Return a system without its amplifier as a link holds it: what differs from nothing told."""
    values, empty = values_of(system), empty_system()
    changed = {
        key: field.write(values[key])
        for key, field in fields_of(System).items()
        if values[key] != field.read(empty[key])
    }
    return {VERSION_KEY: LINK_VERSION, **changed}


def plan_link(label: str, system: System, amplifiers: Sequence[Amplifier]) -> Onward:
    """Return the way to the plan of a system with one amplifier, or several together."""
    planned = tuple(replace(amplifier, role="planned") for amplifier in amplifiers)
    texts = {**system_texts(system), "amplifier": SYSTEM_FIELDS[-1].write(planned)}
    return Onward(label, "fit-plan", texts)


def choice_link(system: System) -> Onward:
    """Return the way to holding a stock list against a system."""
    label = "Compare a stock list for this system"
    return Onward(label, "amplifier-choice", system_texts(system))
