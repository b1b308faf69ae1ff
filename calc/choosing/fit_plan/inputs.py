"""What `fit-plan` asks."""

from dataclasses import dataclass

from calc.answers.calculator import Group
from calc.choosing.candidates import Weights
from calc.inputs.declared import fields_of
from calc.setup.commissioning import ReadingRows
from calc.system.shelf import Shelf
from calc.system.system import GROUPS, Planned


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """A system with its amplifier, or with a stock list to choose one from.

    readings : of the set-up's steps, as far as they have been done
    """

    planned: Planned
    shelf: Shelf = None
    weights: Weights
    readings: ReadingRows = ()


FORM = (
    *GROUPS[:-1],
    Group(GROUPS[-1].heading, ("amplifier", "shelf")),
    Group("What matters most", tuple(fields_of(Weights))),
    Group("What was read", ("readings",)),
)
