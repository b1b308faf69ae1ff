"""Ways on between the pages of the whole job: a system as a link holds it."""

from calc.answers.sheet import Onward
from calc.inputs.declared import fields_of, values_of
from calc.system.amplifier import Amplifier
from calc.system.system import SYSTEM_FIELDS, System

PLAN_PAGE, CHOICE_PAGE = "plan/", "choose/"


def system_texts(system: System) -> dict[str, str]:
    """Return a system without its amplifier as a link holds it: what differs from the defaults."""
    values = values_of(system)
    return {
        key: field.write(values[key])
        for key, field in fields_of(System).items()
        if values[key] != field.read(field.default)
    }


def plan_link(label: str, system: System, amplifier: Amplifier) -> Onward:
    """Return the way to the plan of a system with an amplifier."""
    texts = {**system_texts(system), "amplifier": SYSTEM_FIELDS[-1].write((amplifier,))}
    return Onward(label, PLAN_PAGE, "fit-plan", texts, is_alone=True)


def choice_link(system: System) -> Onward:
    """Return the way to holding a shelf list against a system."""
    label = "Hold a shelf list against this system"
    return Onward(label, CHOICE_PAGE, "amplifier-choice", system_texts(system), is_alone=True)
