"""What `amplifier-choice` asks."""

from dataclasses import dataclass

from calc.answers.calculator import Group
from calc.choosing.candidates import Weights
from calc.inputs.declared import fields_of
from calc.system.shelf import ExampleShelf
from calc.system.system import GROUPS, System


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """A stock list, what counts, and the system that it is held against."""

    shelf: ExampleShelf = None
    weights: Weights
    system: System


FORM = (
    Group("Stock list", ("shelf",)),
    Group("What matters most", tuple(fields_of(Weights))),
    *GROUPS[:-1],
)
